// Parts of bodies that were factored once, kept by the caller for the next door or state.
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

/// What a part is made of, in its own frame (origin at its first node, turned back by the swing).
/// Two parts of equal content are the same to the solver, wherever they stand.
struct PartContent {
  std::vector<Vec3> nodes;                ///< m
  std::vector<std::array<int, 27>> cells; ///< node numbers
  std::vector<Elasticity> elasticity;     ///< per cell
  std::vector<HeldUnknown> held;          ///< at zero
  std::vector<int> joint;                 ///< nodes that it shares with other parts
  std::vector<HeldUnknown> seats;         ///< of a carrier: free unknowns that forces come to
  bool piece = false;                     ///< near the pin; a carrier holds it at its joints
  Vec3 axis;                              ///< m, a place on the pin axis, for radial directions
};

/// True when both have the same numbers.
bool same_content(const PartContent& a, const PartContent& b);

class FactoredPart;
struct KeptHang;
struct KeptHeat;

/// What is kept of a door, the part used last at the end. Drop it, or let it go on to the next
/// door. Two threads may look for all of it at once.
struct FactoredBodies {
  std::vector<std::shared_ptr<FactoredPart>> parts;
  std::vector<std::shared_ptr<KeptHang>> hangs; ///< of parts, brought together and in contact
  std::size_t (*bytes_of_hang)(const KeptHang&) = nullptr; ///< set by who leaves one in `hangs`
  std::vector<std::shared_ptr<KeptHeat>> heats;
  KeptMeshes meshes;
  std::size_t most_bytes = std::size_t{2400} << 20; ///< the least recently used go first
  bool for_one_door = false; ///< no other comes: what heat made goes when it has answered
  bool two_threads = false;  ///< may work for the door in hand
  int made = 0;              ///< parts factored so far
  int reused = 0;            ///< parts found again
  std::shared_ptr<std::mutex> alone = std::make_shared<std::mutex>(); ///< held while looking
};

/// The part of that content, its places rounded to a tenth of a nanometre (a part that stands
/// elsewhere along the axis differs by rounding only): found, or factored now and kept; both give
/// the same answers to the last bit. Throws ComputeError when it cannot be factored.
std::shared_ptr<FactoredPart> factored(PartContent content, FactoredBodies& kept);

/// Of all parts only the order of their unknowns stays, for the next of the same cells. No body may
/// stand on them any more.
void keep_orders_only(FactoredBodies& kept);

/// Takes a part out of the kept ones.
void forget(const FactoredPart& part, FactoredBodies& kept);

} // namespace hangtrue
