#include "cases/bearing_levers.hpp"

#include "solver/strength.hpp"

#include <algorithm>
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

// What the knuckles of a leaf shift from one to another when all bear their own length off, as a
// share of the greatest force on one of them.
double share_lever(const Door& door, const Deflection& d, const KnuckleForce& of)
{
  double moment = 0.0;
  double greatest = 0.0;
  double first = of.middle.z;
  double last = of.middle.z;
  for (const auto& k : d.knuckles)
    if (k.hinge == of.hinge && k.owner == of.owner) {
      moment += norm(k.pin_force) * length_of(door, k);
      greatest = std::max(greatest, norm(k.pin_force));
      first = std::min(first, k.middle.z);
      last = std::max(last, k.middle.z);
    }
  return last > first && greatest > 0.0 ? moment / ((last - first) * greatest) : 0.0;
}

// Of the knuckle where its leaf or lug is bent most; a whole leaf owes nothing to shares.
double leaf_lever(const Door& door, const Deflection& d)
{
  double worst = 0.0;
  double made = 0.0;
  const auto look = [&](double stress, const KnuckleForce* k) {
    if (stress <= worst)
      return;
    worst = stress;
    made = k != nullptr ? stress * share_lever(door, d, *k) : 0.0;
  };
  for (const auto& leaf : d.leaves) {
    const auto k = std::find_if(d.knuckles.begin(), d.knuckles.end(), [&](const KnuckleForce& f) {
      return f.hinge == leaf.hinge && f.knuckle == leaf.knuckle; // of a lug
    });
    look(leaf_bending_stress(door.hinges[leaf.hinge], leaf), k != d.knuckles.end() ? &*k : nullptr);
  }
  for (const auto& k : d.knuckles)
    if (door.hinges[k.hinge].kind == HingeKind::barrels)
      look(neck_bending_stress(door, k), &k);
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
