// SPDX-License-Identifier: GPL-3.0-or-later
// Loads on faces, and stress at a corner, for tests of the elastic kernel.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/stress.hpp"

#include <functional>
#include <vector>

namespace hangtrue::test
{

/// Which nodes lie on a surface.
using OnSurface = std::function<bool(const Vec3&)>;

/// Traction, Pa, at a place with an outward unit normal.
using Traction = std::function<Vec3(const Vec3& place, const Vec3& normal)>;

/// Adds the consistent nodal forces, N, of a traction on all cell faces whose nine nodes lie on the
/// surface (3 x 3 Gauss points, biquadratic faces). A mesh's inner faces must not lie on it.
void add_traction(const mesh::BodyMesh& mesh, const OnSurface& on, const Traction& traction,
                  elasticity::NodeField& load);

/// Stress, Pa, of one cell at one of its corners: the triquadratic through
/// the 27 Gauss points, extrapolated to the corner; `i`, `j`, `k` are 0 or 2. `free_strain` (m/m
/// per node, isotropic) may be empty.
elasticity::Stress corner_stress(const mesh::BodyMesh& mesh, std::size_t cell, int i, int j, int k,
                                 const elasticity::Elasticity& e,
                                 const elasticity::NodeField& displacements,
                                 const std::vector<double>& free_strain = {});

/// Maps every node of a block to its position in another shape.
void bend_to(mesh::BodyMesh& mesh, const std::function<Vec3(const Vec3&)>& place);

/// Node nearest to a place.
int nearest_node(const mesh::BodyMesh& mesh, const Vec3& place);

/// Fixed unknowns of all nodes on a surface: component 0, 1, 2.
void hold(std::vector<elasticity::FixedDof>& fixed, const mesh::BodyMesh& mesh, const OnSurface& on,
          int component);

} // namespace hangtrue::test
