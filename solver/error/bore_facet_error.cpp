// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/error/bore_facet_error.hpp"

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

namespace hangtrue::error
{

namespace
{

using Positions = std::vector<int>;

// Active pairs of one bore, those on one side apart from those on the other (a pin that is askew).
std::vector<Positions> touching_sides(const qoi::ContactStateData& solved)
{
  std::map<std::pair<int, int>, std::vector<Positions>> bores;
  for (std::size_t p = 0; p < solved.points.size(); ++p) {
    const contact::ContactPair& pair = solved.points[p];
    if (pair.kind != contact::ContactKind::bore || !(solved.state.contact_force[p] > 0.0))
      continue;
    auto& sides = bores[{pair.hinge, pair.knuckle}];
    const auto side = std::find_if(sides.begin(), sides.end(), [&](const Positions& s) {
      return dot(solved.points[s.front()].normal, pair.normal) > 0.0;
    });
    if (side != sides.end())
      side->push_back(static_cast<int>(p));
    else
      sides.push_back({static_cast<int>(p)});
  }
  std::vector<Positions> result;
  for (const auto& [bore, sides] : bores)
    result.insert(result.end(), sides.begin(), sides.end());
  return result;
}

// Distinct directions of these pairs.
std::vector<Vec3> directions_of(const qoi::ContactStateData& solved, const Positions& places)
{
  constexpr double same = 1e-6;
  std::vector<Vec3> result;
  for (const int p : places)
    if (std::none_of(result.begin(), result.end(),
                     [&](const Vec3& d) { return norm(d - solved.points[p].normal) < same; }))
      result.push_back(solved.points[p].normal);
  return result;
}

// Where a pin rests in the corner between two directions, against the round bore; 0 without a
// corner.
double corner_less_arc(const qoi::ContactStateData& solved, const contact::AdjointSolution& adjoint,
                       const Positions& places)
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
    force += solved.state.contact_force[p] * solved.points[p].normal;
    unit += adjoint.contact_force[p] * solved.points[p].normal;
  }
  const double gap = solved.points[places.front()].gap;
  return dot(unit, (gap / (cosine * cosine)) * between - (gap / norm(force)) * force);
}

std::vector<Positions> circles_of(const qoi::ContactStateData& solved, const Positions& side)
{
  std::map<int, Positions> circles;
  for (const int p : side)
    circles[solved.points[p].round].push_back(p);
  std::vector<Positions> result;
  for (auto& [round, places] : circles)
    result.push_back(std::move(places));
  return result;
}

} // namespace

double bore_facet_error(const qoi::ContactStateData& solved,
                        const contact::AdjointSolution& adjoint)
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

} // namespace hangtrue::error
