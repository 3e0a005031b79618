// Cache of the assembled system of a door in one state, for the next one with the same geometry
// key.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/error_by_region.hpp"

#include <memory>
#include <vector>

namespace hangtrue
{

/// By what an assembled door is found again.
struct SystemKey {
  Door drawn; ///< as_drawn
  Standing standing = Standing::open;
  std::vector<double> at;               ///< degC, at the door's nodes; empty when cold
  double jamb = 0.0;                    ///< degC, when warm
  double pins = 0.0;                    ///< degC, when warm
  std::vector<std::vector<Vec3>> nodes; ///< m, of door, frame and pins
};

/// Of one door, standing, heat and mesh.
struct SameSystem {
  bool operator()(const std::shared_ptr<const SystemKey>& a,
                  const std::shared_ptr<const SystemKey>& b) const;
};

/// A door on its hinges without its loads, the play along its pins and its wear.
struct KeptHang {
  std::shared_ptr<const SystemKey> key;
  std::vector<std::shared_ptr<JoinedBody>> elastic; ///< door, frame and pins
  std::vector<NodeField> weight;                    ///< N, of each
  std::vector<NodeField> heat;                      ///< N, of each, when heated
  std::vector<ContactPoint> points;                 ///< that the columns are of
  KeptColumns columns;                              ///< of their contact
  KnownError error;                                 ///< of the last door
};

/// Assembled doors of two levels at most: open and shut, cold and in some five states.
struct SystemCache {
  SystemCache();
  LruCache<std::shared_ptr<const SystemKey>, std::shared_ptr<KeptHang>, SameSystem> systems;
};

/// The kept hang of this door on this mesh in this state, taken out of `kept`; an empty one of the
/// same door where there is none. Throws nothing.
std::shared_ptr<KeptHang> take_hang(const Door& door, const Mesh& mesh, SystemCache& kept,
                                    Standing standing = Standing::open,
                                    const WarmDoor* warm = nullptr);

/// Lets the columns go unless they are of these points, whatever the gaps.
void be_of_points(const std::vector<ContactPoint>& points, KeptHang& hang);

/// Memory, byte, besides the substructures of its bodies.
std::size_t bytes_of(const KeptHang& hang);

/// Puts a hang back for the next door; those of doors that are drawn otherwise go.
void keep_hang(std::shared_ptr<KeptHang> hang, SystemCache& kept);

} // namespace hangtrue
