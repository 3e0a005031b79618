#include "solver/error/bore_facet_error.hpp"

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

namespace hangtrue
{

namespace
{

using Places = std::vector<int>;

// Active pairs of one bore, those on one side apart from those on the other (a pin that is askew).
std::vector<Places> touching_sides(const SolvedContact& solved)
{
  std::map<std::pair<int, int>, std::vector<Places>> bores;
  for (std::size_t p = 0; p < solved.points.size(); ++p) {
    const ContactPoint& point = solved.points[p];
    if (point.kind != ContactKind::bore || !(solved.state.push[p] > 0.0))
      continue;
    auto& sides = bores[{point.hinge, point.knuckle}];
    const auto side = std::find_if(sides.begin(), sides.end(), [&](const Places& s) {
      return dot(solved.points[s.front()].normal, point.normal) > 0.0;
    });
    if (side != sides.end())
      side->push_back(static_cast<int>(p));
    else
      sides.push_back({static_cast<int>(p)});
  }
  std::vector<Places> made;
  for (const auto& [bore, sides] : bores)
    made.insert(made.end(), sides.begin(), sides.end());
  return made;
}

// Distinct directions of these pairs.
std::vector<Vec3> directions_of(const SolvedContact& solved, const Places& places)
{
  constexpr double same = 1e-6;
  std::vector<Vec3> made;
  for (const int p : places)
    if (std::none_of(made.begin(), made.end(),
                     [&](const Vec3& d) { return norm(d - solved.points[p].normal) < same; }))
      made.push_back(solved.points[p].normal);
  return made;
}

// Where a pin rests in the corner between two directions, against the round bore; 0 without a
// corner.
double corner_less_arc(const SolvedContact& solved, const UnitAnswer& adjoint, const Places& places)
{
  constexpr double neighbours = 0.99; // cosine of half the angle between pairs: 16 degrees apart
  const std::vector<Vec3> sides = directions_of(solved, places);
  if (sides.size() != 2)
    return 0.0;
  const Vec3 between = 0.5 * (sides[0] + sides[1]); // as long as the cosine of half the angle
  const double cosine = norm(between);
  if (cosine < neighbours)
    return 0.0;
  Vec3 force;
  Vec3 unit;
  for (const int p : places) {
    force += solved.state.push[p] * solved.points[p].normal;
    unit += adjoint.push[p] * solved.points[p].normal;
  }
  const double gap = solved.points[places.front()].gap;
  return dot(unit, (gap / (cosine * cosine)) * between - (gap / norm(force)) * force);
}

std::vector<Places> circles_of(const SolvedContact& solved, const Places& side)
{
  std::map<int, Places> circles;
  for (const int p : side)
    circles[solved.points[p].round].push_back(p);
  std::vector<Places> made;
  for (auto& [round, places] : circles)
    made.push_back(std::move(places));
  return made;
}

} // namespace

double flat_bores(const SolvedContact& solved, const UnitAnswer& adjoint)
{
  double missing = 0.0;
  for (const auto& side : touching_sides(solved)) {
    if (directions_of(solved, side).size() == 2) // the whole pin rests in one corner
      missing -= corner_less_arc(solved, adjoint, side);
    else
      for (const auto& circle : circles_of(solved, side))
        missing -= corner_less_arc(solved, adjoint, circle);
  }
  return missing;
}

} // namespace hangtrue
