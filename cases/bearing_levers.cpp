#include "cases/bearing_levers.hpp"

#include "solver/hinge_results.hpp"
#include "solver/strength.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace hangtrue
{

namespace
{

double length_of(const Door& door, const KnuckleForce& k)
{
  return door.hinges[k.hinge].knuckles[k.knuckle].length;
}

// Moment of the greatest force on a knuckle of that hinge with the length of that knuckle, N m.
double pin_lever(const Door& door, const Deflection& d, int hinge)
{
  double most = 0.0;
  for (const auto& k : d.knuckles)
    if (k.hinge == hinge)
      most = std::max(most, norm(k.pin_force) * length_of(door, k));
  return most;
}

// Of the pin that is bent most. Its use in bending and shear grows with the square of the moment
// (EN 1993-1-8 Table 3.10).
void add_pin_levers(const Door& door, const Deflection& d, std::vector<Answer>& all)
{
  const auto stress = [&](const PinForces& pin, double moment) {
    return pin_bending_stress(moment, door.hinges[pin.hinge].pin_diameter);
  };
  const auto worst =
      std::max_element(d.pins.begin(), d.pins.end(), [&](const PinForces& a, const PinForces& b) {
        return stress(a, a.greatest_bending) < stress(b, b.greatest_bending);
      });
  if (worst == d.pins.end() || !(worst->greatest_bending > 0.0))
    return;
  const double moment = pin_lever(door, d, worst->hinge);
  for (auto& answer : all) {
    if (answer.name == "pin bending")
      answer.by_lever = stress(*worst, moment);
    if (answer.name == "pin bending and shear together")
      answer.by_lever = 2.0 * moment / worst->greatest_bending * answer.value;
  }
}

// What a knuckle's force changes, N, when all knuckles of its leaf bear their own length off.
Vec3 moved_share(const Door& door, const Deflection& d, const KnuckleForce& of)
{
  double moment = 0.0;
  double first = of.middle.z;
  double last = of.middle.z;
  Vec3 greatest;
  for (const auto& k : d.knuckles)
    if (k.hinge == of.hinge && k.owner == of.owner) {
      moment += norm(k.pin_force) * length_of(door, k);
      first = std::min(first, k.middle.z);
      last = std::max(last, k.middle.z);
      if (norm(k.pin_force) > norm(greatest))
        greatest = k.pin_force;
    }
  if (!(last > first) || !(norm(greatest) > 0.0))
    return {};
  return (moment / (last - first) / norm(greatest)) * greatest;
}

// Where a knuckle stands on its leaf, or at the foot of its lug.
double stress_under(const Door& door, const KnuckleForce& k)
{
  const Hinge& hinge = door.hinges[k.hinge];
  if (hinge.kind == HingeKind::barrels)
    return neck_bending_stress(door, k);
  const auto lugs = leaf_forces(door, {k});
  return lugs.empty() ? 0.0 : leaf_bending_stress(hinge, lugs.front());
}

// Of the knuckle where its leaf or lug is bent most; a whole leaf owes nothing to shares.
double leaf_lever(const Door& door, const Deflection& d)
{
  constexpr double share = 0.01; // stress is linear in the force but for the signs of its parts
  double worst = 0.0;
  double made = 0.0;
  for (const auto& leaf : d.leaves)
    if (leaf.knuckle < 0)
      worst = std::max(worst, leaf_bending_stress(door.hinges[leaf.hinge], leaf));
  for (const auto& k : d.knuckles) {
    const double stress = stress_under(door, k);
    if (stress <= worst)
      continue;
    worst = stress;
    made = 0.0;
    for (const double way : {-share, share}) {
      KnuckleForce moved = k;
      moved.pin_force += way * moved_share(door, d, k);
      made = std::max(made, std::abs(stress_under(door, moved) - stress) / share);
    }
  }
  return made;
}

} // namespace

void add_levers(const Door& door, const Deflection& deflection, std::vector<Answer>& answers)
{
  add_pin_levers(door, deflection, answers);
  for (auto& answer : answers)
    if (answer.name == "leaf bending")
      answer.by_lever = leaf_lever(door, deflection);
}

} // namespace hangtrue
