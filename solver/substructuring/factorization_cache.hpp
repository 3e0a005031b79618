// Cache of condensed substructures, owned by the caller for the next door or state.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/quality/mesh_cache.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <mutex>
#include <vector>

namespace hangtrue
{

/// Content of a substructure, in its own frame (origin at its first node, turned back by the
/// swing). Two substructures of equal content are the same to the solver, wherever they are.
struct PartContent {
  std::vector<Vec3> nodes;                ///< m
  std::vector<std::array<int, 27>> cells; ///< node numbers
  std::vector<Elasticity> elasticity;     ///< per cell
  std::vector<HeldUnknown> held;          ///< at zero
  std::vector<int> joint;                 ///< interface nodes
  std::vector<HeldUnknown> seats;         ///< of a base: retained unknowns
  bool piece = false;                     ///< hinge substructure, supported by a base
  Vec3 axis;                              ///< m, a place on the pin axis, for radial directions
};

/// True when both have the same numbers.
bool same_content(const PartContent& a, const PartContent& b);

class FactoredPart;
struct KeptHang;
struct KeptHeat;

/// What is cached of a door, the substructure used last at the end. Drop it, or pass it on to the
/// next door. Two threads may search it at once.
struct FactoredBodies {
  std::vector<std::shared_ptr<FactoredPart>> parts;
  std::vector<std::shared_ptr<KeptHang>> hangs;            ///< assembled systems with their contact
  std::size_t (*bytes_of_hang)(const KeptHang&) = nullptr; ///< set with the first of `hangs`
  std::vector<std::shared_ptr<KeptHeat>> heats;
  KeptMeshes meshes;
  std::size_t most_bytes = std::size_t{2400} << 20; ///< the least recently used are evicted first
  bool for_one_door = false; ///< no other follows: thermal results are released when it is solved
  bool two_threads = false;  ///< may work on the current door
  int made = 0;              ///< substructures factorized so far
  int reused = 0;            ///< substructures found in the cache
  std::shared_ptr<std::mutex> alone = std::make_shared<std::mutex>(); ///< locked during a look-up
};

/// The substructure of that content, its coordinates rounded to about a hundredth of a nanometre
/// (one that is elsewhere along the axis differs by rounding only): from the cache, or factorized
/// and stored; both give bit-identical results. Throws ComputeError when it cannot be factorized.
std::shared_ptr<FactoredPart> factored(PartContent content, FactoredBodies& kept);

/// Releases all of every substructure but its ordering, for the next of the same cells. No body may
/// use them any more.
void keep_orders_only(FactoredBodies& kept);

/// Removes a substructure from the cache.
void forget(const FactoredPart& part, FactoredBodies& kept);

} // namespace hangtrue
