#include "solver/system/system_cache.hpp"

#include "meshing/quality/mesh_cache.hpp"

#include <algorithm>
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

bool SameSystem::operator()(const std::shared_ptr<const SystemKey>& a,
                            const std::shared_ptr<const SystemKey>& b) const
{
  return a->drawn == b->drawn && a->standing == b->standing && a->at == b->at &&
         a->jamb == b->jamb && a->pins == b->pins &&
         std::equal(a->nodes.begin(), a->nodes.end(), b->nodes.begin(), b->nodes.end(), same_field);
}

SystemCache::SystemCache()
    : systems({.count = 24}, [](const auto&, const auto& hang) { return bytes_of(*hang); })
{
}

std::shared_ptr<KeptHang> take_hang(const Door& door, const Mesh& mesh, SystemCache& kept,
                                    Standing standing, const WarmDoor* warm)
{
  const auto key = std::make_shared<SystemKey>();
  key->drawn = as_drawn(door);
  key->standing = standing;
  if (warm != nullptr) {
    key->at = warm->at;
    key->jamb = warm->warmth.jamb;
    key->pins = warm->warmth.pins;
  }
  for (const auto* body : bodies_of(mesh))
    key->nodes.push_back(body->nodes);
  if (auto found = kept.systems.take(key))
    return *std::move(found);
  auto hang = std::make_shared<KeptHang>();
  hang->key = key;
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
  std::size_t values = hang.key->at.size();
  const auto count = [&](const std::vector<NodeField>& fields) {
    for (const auto& field : fields)
      values += 3 * field.size();
  };
  count(hang.key->nodes);
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

// Drawn alike but for how far they stand open.
bool same_but_swing(const SystemKey& a, const SystemKey& b)
{
  Door turned = a.drawn;
  turned.swing = b.drawn.swing;
  return turned == b.drawn;
}

} // namespace

// The next door mostly is drawn as this one or as none before.
void keep_hang(std::shared_ptr<KeptHang> hang, SystemCache& kept)
{
  const auto key = hang->key;
  kept.systems.erase_if(
      [&](const auto& other, const auto&) { return !same_but_swing(*other, *key); });
  kept.systems.insert(key, std::move(hang));
}

} // namespace hangtrue
