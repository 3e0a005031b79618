#include "solver/kept_hang.hpp"

#include "meshing/kept_meshes.hpp"

#include <algorithm>
#include <mutex>
#include <utility>

namespace hangtrue
{

namespace
{

std::vector<const BodyMesh*> bodies_of(const Mesh& mesh)
{
  std::vector<const BodyMesh*> bodies{&mesh.door, &mesh.frame};
  for (const auto& pin : mesh.pins)
    bodies.push_back(&pin);
  return bodies;
}

} // namespace

std::shared_ptr<KeptHang> take_hang(const Door& door, const Mesh& mesh, FactoredBodies& kept)
{
  Door drawn = as_drawn(door);
  const auto bodies = bodies_of(mesh);
  const auto same = [&](const auto& hang) {
    return hang->drawn == drawn &&
           std::equal(
               hang->nodes.begin(), hang->nodes.end(), bodies.begin(), bodies.end(),
               [](const auto& nodes, const auto* body) { return same_field(nodes, body->nodes); });
  };
  {
    const std::lock_guard<std::mutex> alone(*kept.alone);
    const auto found = std::find_if(kept.hangs.begin(), kept.hangs.end(), same);
    if (found != kept.hangs.end()) {
      auto hang = std::move(*found);
      kept.hangs.erase(found);
      return hang;
    }
  }
  auto hang = std::make_shared<KeptHang>();
  hang->drawn = std::move(drawn);
  for (const auto* body : bodies)
    hang->nodes.push_back(body->nodes);
  return hang;
}

void keep_hang(std::shared_ptr<KeptHang> hang, FactoredBodies& kept)
{
  constexpr std::size_t most = 2; // the two levels of a check
  const std::lock_guard<std::mutex> alone(*kept.alone);
  if (kept.hangs.size() == most)
    kept.hangs.erase(kept.hangs.begin());
  kept.hangs.push_back(std::move(hang));
}

} // namespace hangtrue
