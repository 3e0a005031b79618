#include "solver/contact/skin_contact.hpp"

#include "meshing/sweep/skin_separation.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// Outwards (+y) is from the skin towards what lies behind it.
ContactPoint skin_point(const BodyMesh& body, int outer, int inner, double gap)
{
  ContactPoint point;
  point.kind = ContactKind::skin;
  point.hinge = not_at_hinge;
  point.knuckle = not_at_hinge;
  point.place = body.nodes[outer];
  point.normal = {0.0, 1.0, 0.0};
  point.gap = gap;
  point.outer = {door_body, {{outer, 1.0}}};
  point.inner = {door_body, {{inner, 1.0}}};
  return point;
}

} // namespace

void add_skin_points(const Door& door, const BodyMesh& body, std::vector<ContactPoint>& points)
{
  for (const int t : resting_twins(door, body))
    points.push_back(skin_point(body, body.twins[t].other, body.twins[t].skin, 0.0));
  for (const int t : kept_twins(door, body))
    points.push_back(
        skin_point(body, body.twins[t].skin, body.twins[t].other, door.inner_hold.lift));
}

SkinPlay skin_play(const BodyMesh& body, const std::vector<Vec3>& moves)
{
  SkinPlay play;
  for (const auto& twin : body.twins) {
    const Vec3 apart = moves[twin.skin] - moves[twin.other];
    if (twin.cut) {
      play.closing = std::max(play.closing, -apart.x);
      continue;
    }
    play.slide = std::max(play.slide, std::hypot(apart.x, apart.z));
    play.lift = std::max(play.lift, -apart.y);
  }
  return play;
}

} // namespace hangtrue
