// SPDX-License-Identifier: GPL-3.0-or-later
// The finite elements of one body: deal.II's triangulation, mapping and degrees of freedom.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

namespace dealii
{
template <int dim, int spacedim>
class DoFHandler;
template <int dim, int spacedim>
class FEValues;
template <int dim, int spacedim>
class Mapping;
template <int dim, int spacedim>
class Triangulation;
template <typename number>
class AffineConstraints;
} // namespace dealii

namespace hangtrue::fe
{

/// Polynomial degree of displacement, temperature and geometry: the 27 nodes of a cell are the
/// support points of FE_Q(2).
inline constexpr int degree = 2;

/// Node of Hex27 (i + 3 j + 9 k) that each shape function of FE_Q(2) belongs to.
const std::array<int, 27>& node_of_shape_function();

/// The body's node of each shape function of a cell.
std::array<int, 27> nodes_of(const mesh::Hex27& cell);

/// A body with its finite elements; copies share them. The 27 nodes of a cell are its geometry,
/// so round parts stay round.
///
/// The triangulation has the cells of the body in their order; material ids are parts (mesh::Part).
/// Groups of cells that welds join (mesh::joint_groups) have vertices of their own, since a weld
/// may join the corners of a side and not its middle: several dofs may then stand for one node of
/// the body. Loops name nodes (`nodes_of`), not dofs, so that sums go into the rows of the nodes.
class Discretization
{
public:
  /// Not explicit: what asks for a body's finite elements takes its mesh as well. Throws
  /// ComputeError when two cells of a group share a side and not its nodes.
  Discretization(const mesh::BodyMesh& body); // NOLINT(google-explicit-constructor)
  /// The same with the joint group of every cell in place of those of the body.
  Discretization(const mesh::BodyMesh& body, const std::vector<int>& groups);

  [[nodiscard]] const mesh::BodyMesh& body() const;
  [[nodiscard]] const dealii::Triangulation<3, 3>& triangulation() const;
  [[nodiscard]] const dealii::Mapping<3, 3>& mapping() const;
  /// Degrees of freedom of FE_Q(2).
  [[nodiscard]] const dealii::DoFHandler<3, 3>& dofs() const;
  /// The body's node of each of them.
  [[nodiscard]] const std::vector<int>& node_of_dof() const;
  /// Memory that it takes, byte.
  [[nodiscard]] std::size_t bytes() const;

private:
  struct Parts;
  std::shared_ptr<const Parts> parts_;
};

} // namespace hangtrue::fe
