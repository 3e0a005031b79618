#include "solver/wear.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

constexpr double days_in_year = 365.25;
constexpr double shutting_too = 2.0; // open, and shut again
constexpr double most_of_pin = 0.1;  // share of its diameter; beyond, the bore is another shape

// Share of the turning that slides in a knuckle.
double sliding_share(const Hinge& hinge, Owner owner)
{
  if (hinge.pin == PinHold::floating)
    return 0.5;
  return owner == Owner::door ? 1.0 : 0.0;
}

// Depth by unit of coefficient times swings, per knuckle in the order of the forces.
std::vector<double> rates(const Door& door, const std::vector<KnuckleForce>& knuckles)
{
  std::vector<double> made;
  for (const auto& k : knuckles) {
    const Hinge& hinge = door.hinges[k.hinge];
    made.push_back(sliding_share(hinge, k.owner) *
                   worn_depth(1.0, std::hypot(k.pin_force.x, k.pin_force.y),
                              shutting_too * door.swing, hinge.knuckles[k.knuckle].length));
  }
  return made;
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

double drop_at(const std::vector<WornPoint>& points, double worn)
{
  for (std::size_t i = 1; i < points.size(); ++i)
    if (worn <= points[i].worn) {
      const auto& a = points[i - 1];
      const auto& b = points[i];
      return a.drop + (b.drop - a.drop) * (worn - a.worn) / (b.worn - a.worn);
    }
  return points.back().drop;
}

WearCurve wear_out(const Door& door, const Mesh& mesh, const Use& use, const Deflection& fresh,
                   FactoredBodies& kept, const Progress& progress)
{
  const WearCoefficient k = wear_coefficient(use.greased);
  const double swings = use.swings_per_day * days_in_year * use.years;
  WearCurve curve;
  curve.points.push_back({0.0, fresh.drop, 0.0});
  Door worn = door;
  std::vector<KnuckleForce> forces = fresh.knuckles;
  double pin = door.hinges.front().pin_diameter;
  for (const auto& hinge : door.hinges)
    pin = std::min(pin, hinge.pin_diameter);
  // Ends of the steps, in coefficient times swings.
  std::vector<double> ends{k.low * swings, k.usual * swings, 0.5 * (k.usual + k.high) * swings,
                           k.high * swings};
  for (std::size_t s = 0; s < ends.size(); ++s) {
    if (progress)
      progress("wear", static_cast<double>(s) / static_cast<double>(ends.size()));
    const std::vector<double> rate = rates(worn, forces);
    const double fastest = *std::max_element(rate.begin(), rate.end());
    double step = ends[s] - curve.points.back().worn;
    const double left = most_of_pin * pin - curve.points.back().depth;
    if (fastest * step > left) {
      step = left / fastest;
      curve.worn_through = true;
    }
    double deepest = 0.0;
    for (std::size_t i = 0; i < forces.size(); ++i) {
      Knuckle& knuckle = worn.hinges[forces[i].hinge].knuckles[forces[i].knuckle];
      knuckle.worn += rate[i] * step;
      deepest = std::max(deepest, knuckle.worn);
    }
    const Deflection now =
        deflect_open(worn, mesh, {}, nullptr, &kept, OpenDetail::answers, fresh.touches);
    forces = now.knuckles;
    curve.points.push_back({curve.points.back().worn + step, now.drop, deepest});
    if (curve.worn_through)
      break;
  }
  constexpr int told = 10;
  for (int y = 0; y <= told; ++y) {
    const double share = static_cast<double>(y) / told;
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

} // namespace hangtrue
