// Cache of the assembled system of a door in one state, for the next one with the same geometry
// key.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/substructuring/factorization_cache.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/error_by_region.hpp"

#include <memory>
#include <vector>

namespace hangtrue
{

/// A door on its hinges without its loads, the play along its pins and its wear.
struct KeptHang {
  Door drawn; ///< as_drawn
  Standing standing = Standing::open;
  std::vector<double> at;                           ///< degC, at the door's nodes; empty when cold
  double jamb = 0.0;                                ///< degC, when heated
  double pins = 0.0;                                ///< degC, when heated
  std::vector<std::vector<Vec3>> nodes;             ///< m, of door, frame and pins
  std::vector<std::shared_ptr<JoinedBody>> elastic; ///< the same bodies
  std::vector<NodeField> weight;                    ///< N, of each
  std::vector<NodeField> heat;                      ///< N, of each, when heated
  std::vector<ContactPoint> points;                 ///< that the columns are of
  KeptColumns columns;                              ///< of their contact
  KnownError error;                                 ///< of the last door
};

/// The cached system of this door on this mesh in this state, taken out of `kept`; an empty one of
/// the same door where there is none. Throws nothing.
std::shared_ptr<KeptHang> take_hang(const Door& door, const Mesh& mesh, FactoredBodies& kept,
                                    Standing standing = Standing::open,
                                    const WarmDoor* warm = nullptr);

/// Lets the columns go unless they are of these points, whatever the gaps.
void be_of_points(const std::vector<ContactPoint>& points, KeptHang& hang);

/// Memory, byte, besides the substructures of its bodies.
std::size_t bytes_of(const KeptHang& hang);

/// Stores a system for the next door; those of doors with another geometry key are evicted.
void keep_hang(std::shared_ptr<KeptHang> hang, FactoredBodies& kept);

} // namespace hangtrue
