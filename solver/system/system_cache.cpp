#include "solver/system/system_cache.hpp"

#include "meshing/quality/mesh_cache.hpp"

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

bool same_heat(const KeptHang& hang, const WarmDoor* warm)
{
  if (warm == nullptr)
    return hang.at.empty();
  return hang.at == warm->at && hang.jamb == warm->warmth.jamb && hang.pins == warm->warmth.pins;
}

bool same_side(const ContactSide& a, const ContactSide& b)
{
  return a.body == b.body && std::equal(a.nodes.begin(), a.nodes.end(), b.nodes.begin(),
                                        b.nodes.end(), [](const auto& x, const auto& y) {
                                          return x.node == y.node && x.weight == y.weight;
                                        });
}

bool same_push(const ContactPoint& a, const ContactPoint& b)
{
  return a.normal.x == b.normal.x && a.normal.y == b.normal.y && a.normal.z == b.normal.z &&
         same_side(a.outer, b.outer) && same_side(a.inner, b.inner);
}

} // namespace

std::shared_ptr<KeptHang> take_hang(const Door& door, const Mesh& mesh, FactoredBodies& kept,
                                    Standing standing, const WarmDoor* warm)
{
  Door drawn = as_drawn(door);
  const auto bodies = bodies_of(mesh);
  const auto same = [&](const auto& hang) {
    return hang->drawn == drawn && hang->standing == standing && same_heat(*hang, warm) &&
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
  hang->standing = standing;
  if (warm != nullptr) {
    hang->at = warm->at;
    hang->jamb = warm->warmth.jamb;
    hang->pins = warm->warmth.pins;
  }
  for (const auto* body : bodies)
    hang->nodes.push_back(body->nodes);
  return hang;
}

void be_of_points(const std::vector<ContactPoint>& points, KeptHang& hang)
{
  if (!std::equal(points.begin(), points.end(), hang.points.begin(), hang.points.end(), same_push))
    hang.columns.batches.clear();
  hang.points = points;
}

std::size_t bytes_of(const KeptHang& hang)
{
  std::size_t values = hang.at.size();
  const auto count = [&](const std::vector<NodeField>& fields) {
    for (const auto& field : fields)
      values += 3 * field.size();
  };
  count(hang.nodes);
  count(hang.weight);
  count(hang.heat);
  count(hang.error.real);
  count(hang.error.dual);
  for (const auto& batch : hang.columns.batches)
    for (const auto& column : batch.column)
      values += column.size();
  std::size_t bytes = sizeof(double) * values;
  for (const auto& body : hang.elastic)
    bytes += body->bytes();
  return bytes;
}

namespace
{

// Same geometry key but for the swing.
bool same_but_swing(const KeptHang& a, const KeptHang& b)
{
  Door turned = a.drawn;
  turned.swing = b.drawn.swing;
  return turned == b.drawn;
}

} // namespace

// The next door mostly has the geometry key of this one, or one of its own.
void keep_hang(std::shared_ptr<KeptHang> hang, FactoredBodies& kept)
{
  constexpr std::size_t most = 24; // of two levels: open and closed, cold and some five thermal
  const std::lock_guard<std::mutex> alone(*kept.alone);
  std::erase_if(kept.hangs, [&](const auto& other) { return !same_but_swing(*other, *hang); });
  if (kept.hangs.size() >= most)
    kept.hangs.erase(kept.hangs.begin());
  kept.bytes_of_hang = bytes_of;
  kept.hangs.push_back(std::move(hang));
}

} // namespace hangtrue
