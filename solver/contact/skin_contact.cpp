// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/skin_contact.hpp"

#include "meshing/sweep/skin_separation.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::contact
{

namespace
{

// Outwards (+y) is from the skin towards what lies behind it.
ContactPair skin_point(const mesh::BodyMesh& body, int outer, int inner, double gap)
{
  ContactPair pair;
  pair.kind = ContactKind::skin;
  pair.hinge = not_at_hinge;
  pair.knuckle = not_at_hinge;
  pair.place = body.nodes[outer];
  pair.normal = {0.0, 1.0, 0.0};
  pair.gap = gap;
  pair.outer = {door_body, {{outer, 1.0}}};
  pair.inner = {door_body, {{inner, 1.0}}};
  return pair;
}

} // namespace

void add_skin_pairs(const door::Door& door, const mesh::BodyMesh& body,
                    std::vector<ContactPair>& pairs)
{
  for (const int t : sweep::bearing_pairs(door, body))
    pairs.push_back(skin_point(body, body.twins[t].other, body.twins[t].skin, 0.0));
  for (const int t : sweep::clipped_pairs(door, body))
    pairs.push_back(
        skin_point(body, body.twins[t].skin, body.twins[t].other, door.inner_hold.lift));
}

SkinSlip skin_slip(const mesh::BodyMesh& body, const std::vector<Vec3>& displacements)
{
  SkinSlip play;
  for (const auto& twin : body.twins) {
    const Vec3 apart = displacements[twin.skin] - displacements[twin.other];
    if (twin.cut) {
      play.closing = std::max(play.closing, -apart.x);
      continue;
    }
    play.slide = std::max(play.slide, std::hypot(apart.x, apart.z));
    play.lift = std::max(play.lift, -apart.y);
  }
  return play;
}

} // namespace hangtrue::contact
