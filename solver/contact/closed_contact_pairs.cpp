#include "solver/contact/closed_contact_pairs.hpp"

#include "meshing/mesh/node_sets.hpp"
#include "solver/contact/latch_model.hpp"
#include "solver/contact/skin_contact.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue
{

double stands_back(const Door& door, const Vec3& place)
{
  const double u = 2.0 * place.x / door.panel.width - 1.0;
  const double v = 2.0 * place.z / door.panel.height - 1.0;
  return door.opening.warp * 0.5 * (u * u + v * v);
}

namespace
{

ContactPoint pressed(ContactKind kind, const Vec3& place, double gap,
                     std::vector<WeightedNode> nodes)
{
  ContactPoint point; // its contact force acts outwards on the door
  point.kind = kind;
  point.hinge = not_at_hinge;
  point.knuckle = not_at_hinge;
  point.place = place;
  point.normal = {0.0, 1.0, 0.0};
  point.gap = gap;
  point.outer = {door_body, std::move(nodes)};
  point.inner = {ground, {}};
  return point;
}

ContactPoint pulled(const Door& door, const Latch& latch, const SkinFace& outer)
{
  ContactPoint point; // its contact force acts inwards on the door
  point.kind = ContactKind::latch;
  point.hinge = not_at_hinge;
  point.knuckle = not_at_hinge;
  point.place = latch_place(door, latch);
  point.normal = {0.0, 1.0, 0.0};
  point.gap = inactive_gap;
  point.compliance = 1.0 / latch.stiffness;
  point.outer = {ground, {}};
  point.inner = {door_body, outer.at(point.place.x, point.place.z)};
  return point;
}

// Corners and quarter points of the inner skin's edges, where steel can meet the frame face.
std::vector<Vec3> stop_places(const Door& door)
{
  const double inset = 0.5 * door.fire.gasket_inset;
  const double w = door.panel.width - 2.0 * inset;
  const double h = door.panel.height - 2.0 * inset;
  std::vector<Vec3> places;
  constexpr int cuts = 4;
  for (int i = 0; i < cuts; ++i) {
    const double s = static_cast<double>(i) / cuts;
    places.push_back({inset + s * w, 0.0, inset});
    places.push_back({inset + w, 0.0, inset + s * h});
    places.push_back({inset + (1.0 - s) * w, 0.0, inset + h});
    places.push_back({inset, 0.0, inset + (1.0 - s) * h});
  }
  return places;
}

} // namespace

ShutPoints add_shut_points(const Door& door, const BodyMesh& body,
                           const std::vector<GasketPiece>& gasket,
                           const std::vector<Latch>& latches, std::vector<ContactPoint>& points)
{
  const SkinFace inner(body, Part::inner_skin, 0.0);
  const SkinFace outer(body, Part::outer_skin, depth(door));
  ShutPoints at;
  at.first_gasket = points.size();
  for (const auto& g : gasket)
    points.push_back(pressed(ContactKind::gasket, g.place, 0.0, inner.at(g.place.x, g.place.z)));
  at.first_latch = points.size();
  for (const auto& latch : latches)
    points.push_back(pulled(door, latch, outer));
  at.first_stop = points.size();
  for (const auto& p : stop_places(door))
    points.push_back(pressed(ContactKind::stop, p, inactive_gap, inner.at(p.x, p.z)));
  return at;
}

std::vector<GasketPiece> shut_line(const Door& door)
{
  constexpr int least = 64;
  return gasket_line(door, least);
}

std::vector<Latch> foreseen_latches(const Door& door)
{
  std::vector<Latch> latches = door.latches;
  auto add = [&](Latch added, FreeEdge edge, double at) {
    added.edge = edge;
    added.at = at;
    const Vec3 place = latch_place(door, added);
    if (std::none_of(latches.begin(), latches.end(), [&](const Latch& other) {
          return norm(latch_place(door, other) - place) < same_latch_place;
        }))
      latches.push_back(added);
  };
  if (latches.empty())
    return latches;
  const double h = door.panel.height;
  const double w = door.panel.width;
  std::vector<Latch> on_edge;
  for (const auto& latch : door.latches)
    if (latch.edge == FreeEdge::latch)
      on_edge.push_back(latch);
  if (!on_edge.empty()) {
    add(on_edge.front(), FreeEdge::latch, even_split * h);
    add(on_edge.back(), FreeEdge::latch, (1.0 - even_split) * h);
  }
  add(door.latches.front(), FreeEdge::latch, 0.5 * h);
  add(door.latches.front(), FreeEdge::lower, 0.5 * w);
  add(door.latches.front(), FreeEdge::upper, 0.5 * w);
  return latches;
}

std::vector<int> edge_nodes(const Door& door, const BodyMesh& body)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  std::vector<Vec3> places;
  constexpr int cuts = 4;
  for (const double y : {0.0, depth(door)})
    for (int i = 0; i < cuts; ++i) {
      const double s = static_cast<double>(i) / cuts;
      places.push_back({s * w, y, 0.0});
      places.push_back({w, y, s * h});
      places.push_back({(1.0 - s) * w, y, h});
      places.push_back({0.0, y, (1.0 - s) * h});
    }
  const std::vector<int> skin = skin_nodes(body);
  std::vector<int> nodes;
  for (const auto& place : places)
    nodes.push_back(*std::min_element(skin.begin(), skin.end(), [&](int a, int b) {
      return norm(body.nodes[a] - place) < norm(body.nodes[b] - place);
    }));
  return nodes;
}

std::vector<HeldUnknown> seats_of(const Door& door, const BodyMesh& body)
{
  std::vector<ContactPoint> points;
  add_skin_points(door, body, points);
  const bool shuts = can_shut(door);
  if (shuts)
    add_shut_points(door, body, shut_line(door), foreseen_latches(door), points);
  std::vector<std::pair<int, int>> unknowns; // node, component
  for (const auto& point : points)
    for (const auto* side : {&point.outer, &point.inner})
      if (side->body == door_body)
        for (const auto& node : side->nodes)
          unknowns.emplace_back(node.node, 1); // their contact forces are all normal to the door
  if (shuts)
    for (const int n : edge_nodes(door, body)) {
      unknowns.emplace_back(n, 0);
      unknowns.emplace_back(n, 2);
    }
  std::sort(unknowns.begin(), unknowns.end());
  unknowns.erase(std::unique(unknowns.begin(), unknowns.end()), unknowns.end());
  std::vector<HeldUnknown> seats;
  seats.reserve(unknowns.size());
  for (const auto& [node, component] : unknowns)
    seats.push_back({node, component});
  return seats;
}

} // namespace hangtrue
