// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/wear_analysis.hpp"

#include "solver/strength/hinge_forces.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::analysis
{

namespace
{

constexpr double days_in_year = 365.25;
constexpr double both_ways = 2.0; // open, and closed again
constexpr double max_worn_fraction =
    0.1; // fraction of its diameter; beyond, the bore has another shape

// Fraction of the rotation that slides in a knuckle.
double sliding_share(const door::Hinge& hinge, door::KnuckleOwner owner)
{
  if (hinge.fixity == door::PinFixity::floating)
    return 0.5;
  return owner == door::KnuckleOwner::door ? 1.0 : 0.0;
}

// Depth per line load, m^2/N, by unit of coefficient times swings.
double depth_rate(const door::Door& door, const door::Hinge& hinge, door::KnuckleOwner owner)
{
  return sliding_share(hinge, owner) * worn_depth(1.0, 1.0, both_ways * door.swing, 1.0);
}

// Depths that the planes of a knuckle have while they wear by `wearing`, m, at equal distances
// along it.
std::vector<double> worn_more(const door::Knuckle& knuckle, const strength::KnuckleForce& force)
{
  constexpr int places = 33;
  const auto& planes = force.planes;
  std::vector<double> result(places, 0.0);
  for (int i = 0; i < places; ++i) {
    const double share = static_cast<double>(i) / (places - 1);
    const double z = planes.front().z + share * (planes.back().z - planes.front().z);
    std::size_t p = 0;
    while (p + 2 < planes.size() && z > planes[p + 1].z)
      ++p;
    const auto depth = [&](const strength::BorePlane& plane) {
      return knuckle.wearing * norm(plane.force) / plane.length;
    };
    const double beyond = (z - planes[p].z) / (planes[p + 1].z - planes[p].z);
    result[i] = (1.0 - beyond) * depth(planes[p]) + beyond * depth(planes[p + 1]);
    if (!knuckle.worn.empty())
      result[i] += knuckle.worn[i];
  }
  return result;
}

// The door after it has worn by `step` more, coefficient times swings.
struct Worn {
  door::Door door;
  OpenDoorResult state;
  double deepest = 0.0; // m
};

Worn wear_by(const door::Door& door, const mesh::Mesh& mesh, double step,
             const std::vector<contact::ActiveContact>& active_contacts, AnalysisCache& cache)
{
  Worn result{door, {}, 0.0};
  for (auto& hinge : result.door.hinges)
    for (auto& knuckle : hinge.knuckles)
      knuckle.wearing = step * depth_rate(door, hinge, knuckle.owner);
  result.state = solve_open_door({.door = result.door,
                                  .mesh = mesh,
                                  .cache = &cache,
                                  .detail = ResultDetail::basic,
                                  .warm_start = active_contacts});
  for (const auto& force : result.state.knuckles) {
    door::Knuckle& knuckle = result.door.hinges[force.hinge].knuckles[force.knuckle];
    if (!force.planes.empty())
      knuckle.worn = worn_more(knuckle, force);
    for (const double depth : knuckle.worn)
      result.deepest = std::max(result.deepest, depth);
  }
  return result;
}

// The step after which the deepest bore has reached `depth`: false position, the retained end
// halved (Illinois; Dowell and Jarratt, BIT 11, 1971).
Worn wear_down_to(const door::Door& door, const mesh::Mesh& mesh, double depth, double before,
                  Worn beyond, double& step,
                  const std::vector<contact::ActiveContact>& active_contacts, AnalysisCache& cache)
{
  double low = 0.0;
  double low_off = before - depth;
  double high = step;
  double high_off = beyond.deepest - depth;
  int side = 0;
  constexpr int maximum = 20; // depth goes nearly as the step once all of a knuckle bears
  for (int i = 0; i < maximum && std::abs(beyond.deepest / depth - 1.0) > 1e-7; ++i) {
    step = (low * high_off - high * low_off) / (high_off - low_off);
    beyond = wear_by(door, mesh, step, active_contacts, cache);
    const double off = beyond.deepest - depth;
    if (off > 0.0) {
      high = step;
      high_off = off;
      low_off *= side > 0 ? 0.5 : 1.0;
      side = 1;
    } else {
      low = step;
      low_off = off;
      high_off *= side < 0 ? 0.5 : 1.0;
      side = -1;
    }
  }
  return beyond;
}

} // namespace

WearCoefficient wear_coefficient(bool greased)
{
  return greased ? WearCoefficient{1e-6, 1e-5, 1e-4} : WearCoefficient{7e-3 / 3.0, 7e-3, 21e-3};
}

double worn_depth(double coefficient, double force, double angle, double length)
{
  return coefficient * force * angle / (2.0 * mild_steel_hardness * length);
}

double drop_at(const std::vector<WearPoint>& points, double worn)
{
  for (std::size_t i = 1; i < points.size(); ++i)
    if (worn <= points[i].worn) {
      const auto& a = points[i - 1];
      const auto& b = points[i];
      return a.drop + (b.drop - a.drop) * (worn - a.worn) / (b.worn - a.worn);
    }
  return points.back().drop;
}

WearCurve integrate_wear(const door::Door& door, const mesh::Mesh& mesh, const Usage& use,
                         const OpenDoorResult& fresh, AnalysisCache& cache,
                         const Progress& progress)
{
  const WearCoefficient k = wear_coefficient(use.greased);
  const double swings = use.swings_per_day * days_in_year * use.years;
  WearCurve curve;
  curve.points.push_back({0.0, fresh.drop, 0.0});
  Worn worn{door, {}, 0.0};
  double pin = door.hinges.front().pin_diameter;
  for (const auto& hinge : door.hinges)
    pin = std::min(pin, hinge.pin_diameter);
  // Ends of the steps, in coefficient times swings.
  std::vector<double> ends{k.low * swings, k.usual * swings, 0.5 * (k.usual + k.high) * swings,
                           k.high * swings};
  for (std::size_t s = 0; s < ends.size(); ++s) {
    if (progress)
      progress("wear", static_cast<double>(s) / static_cast<double>(ends.size()));
    double step = ends[s] - curve.points.back().worn;
    Worn next = wear_by(worn.door, mesh, step, fresh.active_contacts, cache);
    if (next.deepest > max_worn_fraction * pin) {
      next = wear_down_to(worn.door, mesh, max_worn_fraction * pin, worn.deepest, std::move(next),
                          step, fresh.active_contacts, cache);
      curve.worn_through = true;
    }
    worn = std::move(next);
    curve.points.push_back({curve.points.back().worn + step, worn.state.drop, worn.deepest});
    if (curve.worn_through)
      break;
  }
  constexpr int reported = 10;
  for (int y = 0; y <= reported; ++y) {
    const double share = static_cast<double>(y) / reported;
    curve.years.push_back({share * use.years, drop_at(curve.points, k.low * swings * share),
                           drop_at(curve.points, k.usual * swings * share),
                           drop_at(curve.points, k.high * swings * share)});
  }
  const double usual = k.usual * swings;
  for (std::size_t i = 1; i < curve.points.size(); ++i) {
    const auto& a = curve.points[i - 1];
    const auto& b = curve.points[i];
    if (usual > a.worn)
      curve.depth =
          a.depth + (b.depth - a.depth) * std::min(1.0, (usual - a.worn) / (b.worn - a.worn));
  }
  return curve;
}

} // namespace hangtrue::analysis
