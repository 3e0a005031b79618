// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/closed_contact_pairs.hpp"

#include "meshing/mesh/node_sets.hpp"
#include "solver/contact/latch_model.hpp"
#include "solver/contact/skin_contact.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::contact
{

double face_setback(const door::Door& door, const Vec3& place)
{
  const double u = 2.0 * place.x / door.panel.width - 1.0;
  const double v = 2.0 * place.z / door.panel.height - 1.0;
  return door.opening.warp * 0.5 * (u * u + v * v);
}

namespace
{

ContactPair pressed(ContactKind kind, const Vec3& place, double gap, std::vector<NodeWeight> nodes)
{
  ContactPair pair; // its contact force acts outwards on the door
  pair.kind = kind;
  pair.hinge = not_at_hinge;
  pair.knuckle = not_at_hinge;
  pair.place = place;
  pair.normal = {0.0, 1.0, 0.0};
  pair.gap = gap;
  pair.outer = {door_body, std::move(nodes)};
  pair.inner = {ground, {}};
  return pair;
}

ContactPair pulled(const door::Door& door, const door::Latch& latch, const SkinFace& outer)
{
  ContactPair pair; // its contact force acts inwards on the door
  pair.kind = ContactKind::latch;
  pair.hinge = not_at_hinge;
  pair.knuckle = not_at_hinge;
  pair.place = latch_place(door, latch);
  pair.normal = {0.0, 1.0, 0.0};
  pair.gap = inactive_gap;
  pair.compliance = 1.0 / latch.stiffness;
  pair.outer = {ground, {}};
  pair.inner = {door_body, outer.at(pair.place.x, pair.place.z)};
  return pair;
}

// Corners and quarter points of the inner skin's edges, where steel can meet the frame face.
std::vector<Vec3> stop_places(const door::Door& door)
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

ClosedPairOffsets add_closed_pairs(const door::Door& door, const mesh::BodyMesh& body,
                                   const std::vector<GasketSegment>& gasket,
                                   const std::vector<door::Latch>& latches,
                                   std::vector<ContactPair>& pairs)
{
  const fe::Discretization space(body);
  const SkinFace inner(space, mesh::Part::inner_skin, 0.0);
  const SkinFace outer(space, mesh::Part::outer_skin, door::depth(door));
  ClosedPairOffsets at;
  at.first_gasket = pairs.size();
  for (const auto& g : gasket)
    pairs.push_back(pressed(ContactKind::gasket, g.place, 0.0, inner.at(g.place.x, g.place.z)));
  at.first_latch = pairs.size();
  for (const auto& latch : latches)
    pairs.push_back(pulled(door, latch, outer));
  at.first_stop = pairs.size();
  for (const auto& p : stop_places(door))
    pairs.push_back(pressed(ContactKind::stop, p, inactive_gap, inner.at(p.x, p.z)));
  return at;
}

std::vector<GasketSegment> closed_gasket_line(const door::Door& door)
{
  constexpr int minimum = 64;
  return gasket_line(door, minimum);
}

std::vector<door::Latch> candidate_latches(const door::Door& door)
{
  std::vector<door::Latch> latches = door.latches;
  auto add = [&](door::Latch added, door::FreeEdge edge, double position) {
    added.edge = edge;
    added.position = position;
    const Vec3 place = latch_place(door, added);
    if (std::none_of(latches.begin(), latches.end(), [&](const door::Latch& other) {
          return norm(latch_place(door, other) - place) < same_latch_place;
        }))
      latches.push_back(added);
  };
  if (latches.empty())
    return latches;
  const double h = door.panel.height;
  const double w = door.panel.width;
  std::vector<door::Latch> on_edge;
  for (const auto& latch : door.latches)
    if (latch.edge == door::FreeEdge::latch)
      on_edge.push_back(latch);
  if (!on_edge.empty()) {
    add(on_edge.front(), door::FreeEdge::latch, balanced_latch_fraction * h);
    add(on_edge.back(), door::FreeEdge::latch, (1.0 - balanced_latch_fraction) * h);
  }
  add(door.latches.front(), door::FreeEdge::latch, 0.5 * h);
  add(door.latches.front(), door::FreeEdge::lower, 0.5 * w);
  add(door.latches.front(), door::FreeEdge::upper, 0.5 * w);
  return latches;
}

std::vector<int> edge_nodes(const door::Door& door, const mesh::BodyMesh& body)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  std::vector<Vec3> places;
  constexpr int cuts = 4;
  for (const double y : {0.0, door::depth(door)})
    for (int i = 0; i < cuts; ++i) {
      const double s = static_cast<double>(i) / cuts;
      places.push_back({s * w, y, 0.0});
      places.push_back({w, y, s * h});
      places.push_back({(1.0 - s) * w, y, h});
      places.push_back({0.0, y, (1.0 - s) * h});
    }
  const std::vector<int> skin = mesh::skin_nodes(body);
  std::vector<int> nodes;
  for (const auto& place : places)
    nodes.push_back(*std::min_element(skin.begin(), skin.end(), [&](int a, int b) {
      return norm(body.nodes[a] - place) < norm(body.nodes[b] - place);
    }));
  return nodes;
}

std::vector<elasticity::FixedDof> retained_dofs(const door::Door& door, const mesh::BodyMesh& body)
{
  std::vector<ContactPair> pairs;
  add_skin_pairs(door, body, pairs);
  const bool closes = door::can_close(door);
  if (closes)
    add_closed_pairs(door, body, closed_gasket_line(door), candidate_latches(door), pairs);
  std::vector<std::pair<int, int>> unknowns; // node, component
  for (const auto& pair : pairs)
    for (const auto* side : {&pair.outer, &pair.inner})
      if (side->body == door_body)
        for (const auto& node : side->nodes)
          unknowns.emplace_back(node.node, 1); // their contact forces are all normal to the door
  if (closes)
    for (const int n : edge_nodes(door, body)) {
      unknowns.emplace_back(n, 0);
      unknowns.emplace_back(n, 2);
    }
  std::sort(unknowns.begin(), unknowns.end());
  unknowns.erase(std::unique(unknowns.begin(), unknowns.end()), unknowns.end());
  std::vector<elasticity::FixedDof> retained;
  retained.reserve(unknowns.size());
  for (const auto& [node, component] : unknowns)
    retained.push_back({node, component});
  return retained;
}

} // namespace hangtrue::contact
