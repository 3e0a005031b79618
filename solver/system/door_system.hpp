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

namespace hangtrue
{

/// Everything that the contact needs, in one object because bodies point at their factors.
struct Assembly {
  std::vector<std::shared_ptr<JoinedBody>> elastic;
  std::vector<NodeField> weight;  ///< N, like the bodies
  std::vector<LoadedBody> bodies; ///< door, frame, floating pins
  std::vector<RigidMode> modes;
  std::vector<ContactPoint> points;
  ElasticityOf of_frame; ///< of frame and pins
  ElasticityOf of_door;
};

/// Assembles and factorizes all bodies and applies weight, handle load and, with `warm`, heat.
/// `points` are all contact pairs; without any, those of the hinges and of a loose skin. The mesh
/// must outlive the assembly. Substructures that `kept` has are not factorized again; bodies, their
/// weight and heat are taken from `hang`, where there is one, or stored there when it is empty.
/// Throws ComputeError when a body cannot be factorized.
Assembly assemble(const Door& door, const Mesh& mesh, const Progress& tell, const WarmDoor* warm,
                  FactoredBodies& kept, KeptHang* hang = nullptr,
                  Standing standing = Standing::open, std::vector<ContactPoint> points = {});

/// Movement, m, of the free cold door under forces, N, that balance each other; its body is that of
/// the open door on this mesh, where `systems` have it. Throws ComputeError like `assemble`.
NodeField free_moves(const Door& door, const Mesh& mesh, const NodeField& forces,
                     FactoredBodies& kept, SystemCache& systems);

/// Weight of every body as nodal forces, N, in the order of Assembly::bodies.
std::vector<NodeField> body_weights(const Door& door, const Mesh& mesh);

/// The weights with handle load and the support of a lid, as nodal forces, N; floating pins hang
/// from the frame.
std::vector<NodeField> body_loads(const Door& door, const Mesh& mesh, Standing standing,
                                  std::vector<NodeField> weights);

/// Free strain of the nodes of every body in a thermal state, m/m, relative to that of the jamb;
/// empty for a body that strains as the jamb does.
std::vector<std::vector<double>> body_strains(const Door& door, const Mesh& mesh,
                                              const WarmDoor& warm);

/// Elasticity of a body at one temperature, degC, pins at their own. A temperature that is the same
/// everywhere makes all parts grow by one factor, without relative displacement: only the stiffness
/// falls.
ElasticityOf elasticity_of(const Door& door, double temperature, double pins);

/// Elasticity of a door whose every cell has the stiffness of its own mean temperature. `at`, degC
/// per node, must outlive it.
ElasticityOf elasticity_at(const Door& door, const std::vector<double>& at);

/// Free strain of the door's nodes against that of a reference temperature, degC.
std::vector<double> free_strains(const Door& door, const std::vector<double>& at, double reference);

} // namespace hangtrue
