// SPDX-License-Identifier: GPL-3.0-or-later
// The assembled system of a door: stiffness, loads, heat, rigid displacements, contact pairs.
#pragma once

#include "meshing/common/progress.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/substructuring/factorization_cache.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/system_cache.hpp"

#include <memory>
#include <vector>

namespace hangtrue::system
{

/// Everything that the contact needs, in one object because bodies point at their factors.
struct DoorSystem {
  std::vector<std::shared_ptr<substructuring::SubstructuredBody>> elastic;
  std::vector<fe::Discretization> spaces;    ///< like the bodies
  std::vector<elasticity::NodeField> weight; ///< N, likewise
  std::vector<contact::BodyResponse> bodies; ///< door, frame, floating pins
  std::vector<contact::RigidMode> modes;
  std::vector<contact::ContactPair> pairs;
  elasticity::CellElasticity of_frame; ///< of frame and pins
  elasticity::CellElasticity of_door;
};

/// Assembles and factorizes all bodies and applies weight, handle load and, with `thermal`, heat.
/// `points` are all contact pairs; without any, those of the hinges and of a loose skin. The mesh
/// must outlive the assembly. Substructures that `cache` has are not factorized again; bodies,
/// their weight and heat are taken from `hang`, where there is one, or stored there when it is
/// empty. Throws ComputeError when a body cannot be factorized.
DoorSystem assemble_door_system(const door::Door& door, const mesh::Mesh& mesh,
                                const Progress& report, const heat::ThermalState* thermal,
                                substructuring::FactorizationCache& cache,
                                CachedDoorSystem* cached = nullptr,
                                DoorPosition position = DoorPosition::open,
                                std::vector<contact::ContactPair> pairs = {});

/// Displacement, m, of the free cold door under forces, N, that balance each other; its body is
/// that of the open door on this mesh, where `systems` have it. Throws ComputeError like
/// `assemble_door_system`.
elasticity::NodeField solve_free_body(const door::Door& door, const mesh::Mesh& mesh,
                                      const elasticity::NodeField& forces,
                                      substructuring::FactorizationCache& cache,
                                      SystemCache& systems);

/// Finite elements of every body, in the order of DoorSystem::bodies.
std::vector<fe::Discretization> body_spaces(const mesh::Mesh& mesh);

/// Weight of every body as nodal forces, N, in the order of DoorSystem::bodies.
std::vector<elasticity::NodeField> body_weights(const door::Door& door,
                                                const std::vector<fe::Discretization>& spaces);

/// The weights with handle load and the support of a lid, as nodal forces, N; floating pins hang
/// from the frame.
std::vector<elasticity::NodeField> body_loads(const door::Door& door, const mesh::Mesh& mesh,
                                              DoorPosition position,
                                              std::vector<elasticity::NodeField> weights);

/// Free strain of the nodes of every body in a thermal state, m/m, relative to that of the jamb;
/// empty for a body that strains as the jamb does.
std::vector<std::vector<double>> body_strains(const door::Door& door, const mesh::Mesh& mesh,
                                              const heat::ThermalState& thermal);

/// Elasticity of a body at one temperature, degC, pins at their own. A temperature that is the same
/// everywhere makes all parts grow by one factor, without relative displacement: only the stiffness
/// falls.
elasticity::CellElasticity elasticity_of(const door::Door& door, double temperature, double pins);

/// Elasticity of a door whose every cell has the stiffness of its own mean temperature. `at`, degC
/// per node, must outlive it.
elasticity::CellElasticity elasticity_at(const door::Door& door,
                                         const std::vector<double>& temperature);

/// Elasticity of a whole door in one state.
struct DoorElasticity {
  elasticity::CellElasticity of_frame; ///< and of pins
  elasticity::CellElasticity of_door;
};

/// Cold (`thermal` null) at the one temperature of the door, warm at those of the state, which must
/// outlive it.
DoorElasticity door_elasticity(const door::Door& door, const heat::ThermalState* thermal);

/// Free strain of the door's nodes against that of a reference temperature, degC.
std::vector<double> free_strains(const door::Door& door, const std::vector<double>& temperature,
                                 double reference);

} // namespace hangtrue::system
