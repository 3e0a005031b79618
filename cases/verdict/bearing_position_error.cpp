// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/bearing_position_error.hpp"

#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/strength_formulas.hpp"

#include <algorithm>

namespace hangtrue::verdict
{

namespace
{

double length_of(const door::Door& door, const strength::KnuckleForce& k)
{
  return door.hinges[k.hinge].knuckles[k.knuckle].length;
}

// Moment of the greatest force on a knuckle of that hinge with the length of that knuckle, N m.
double pin_lever(const HingeState& d, int hinge)
{
  double maximum = 0.0;
  for (const auto& k : d.knuckles)
    if (k.hinge == hinge)
      maximum = std::max(maximum, norm(k.pin_force) * length_of(d.door, k));
  return maximum;
}

// The greatest shear lies within a knuckle, where its line load changes sign, and a section between
// two planes of nodes has less: by up to a tenth with two cells along a knuckle, as observed
// (docs/mesh-error.md). As a fraction of it, with the length of a knuckle for its hundredth.
constexpr double missed_shear = 10.0;

// Of the pin with the greatest stress, by bending alone and with its shear: the derivatives of the
// von Mises stress s = sqrt(b^2 + 3 t^2) are b / s by that of bending and 3 t / s by that of shear.
void add_pin_levers(const HingeState& d, std::vector<QuantityOfInterest>& all)
{
  double bending = 0.0;
  double combined = 0.0;
  double by_bending = 0.0;
  double by_combined = 0.0;
  for (const auto& pin : d.pins) {
    const double diameter = d.door.hinges[pin.hinge].pin_diameter;
    const double lever = strength::pin_bending_stress(pin_lever(d, pin.hinge), diameter);
    const double bent = strength::pin_bending_stress(pin.greatest_bending, diameter);
    const double both =
        strength::pin_combined_stress(pin.greatest_bending, pin.greatest_shear, diameter);
    if (bent > bending) {
      bending = bent;
      by_bending = lever;
    }
    if (both > combined) {
      combined = both;
      const double shear = strength::pin_shear_stress(pin.greatest_shear, diameter);
      by_combined = (bent * lever + 3.0 * shear * missed_shear * shear) / both;
    }
  }
  for (auto& q : all) {
    if (q.id.quantity == qoi::Quantity::pin_shear)
      q.per_knuckle_length = missed_shear * q.value;
    if (q.id.quantity == qoi::Quantity::pin_bending)
      q.per_knuckle_length = by_bending;
    if (q.id.quantity == qoi::Quantity::pin_combined)
      q.per_knuckle_length = by_combined;
  }
}

// What the knuckles of a leaf transfer from one to another when all bear off by their own length,
// as a fraction of the greatest force on one of them.
double share_lever(const HingeState& d, const strength::KnuckleForce& of)
{
  double moment = 0.0;
  double greatest = 0.0;
  double first = of.middle.z;
  double last = of.middle.z;
  for (const auto& k : d.knuckles)
    if (k.hinge == of.hinge && k.owner == of.owner) {
      moment += norm(k.pin_force) * length_of(d.door, k);
      greatest = std::max(greatest, norm(k.pin_force));
      first = std::min(first, k.middle.z);
      last = std::max(last, k.middle.z);
    }
  return last > first && greatest > 0.0 ? moment / ((last - first) * greatest) : 0.0;
}

// Of the knuckle where its leaf or lug has the greatest stress; none for a whole leaf.
double leaf_lever(const HingeState& d, double (*stress_of)(const strength::PlateSection&))
{
  double worst = 0.0;
  double result = 0.0;
  const auto look = [&](const strength::PlateSection& section, const strength::KnuckleForce* k) {
    const double stress = stress_of(section);
    if (stress <= worst)
      return;
    worst = stress;
    result = k != nullptr ? stress * share_lever(d, *k) : 0.0;
  };
  for (const auto& leaf : d.leaves) {
    const auto k =
        std::find_if(d.knuckles.begin(), d.knuckles.end(), [&](const strength::KnuckleForce& f) {
          return f.hinge == leaf.hinge && f.knuckle == leaf.knuckle; // of a lug
        });
    look(strength::leaf_section(d.door.hinges[leaf.hinge], leaf),
         k != d.knuckles.end() ? &*k : nullptr);
  }
  for (const auto& k : d.knuckles)
    if (d.door.hinges[k.hinge].kind == door::HingeKind::barrels)
      look(strength::neck_section(d.door, k), &k);
  return result;
}

} // namespace

void add_bearing_position_error(const HingeState& hinges, std::vector<QuantityOfInterest>& all)
{
  add_pin_levers(hinges, all);
  for (auto& q : all) {
    if (q.id.quantity == qoi::Quantity::leaf_bending)
      q.per_knuckle_length = leaf_lever(hinges, strength::bending_stress);
    if (q.id.quantity == qoi::Quantity::leaf_combined)
      q.per_knuckle_length = leaf_lever(hinges, strength::combined_stress);
  }
}

} // namespace hangtrue::verdict
