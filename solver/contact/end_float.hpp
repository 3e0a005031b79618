// SPDX-License-Identifier: GPL-3.0-or-later
// End float along the pins: what a contact solution leaves of it, and what a door needs.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/contact/axial_play.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/heat/thermal_state.hpp"

#include <utility>
#include <vector>

namespace hangtrue::contact
{

/// Nominal end floats of the door, in the order of its hinges.
std::vector<EndFloatSetting> end_floats_of(const door::Door& door);

/// The door with other end floats, one for each hinge.
door::Door with_end_floats(door::Door door, const std::vector<EndFloatSetting>& floats);

/// More end float than any door of this program can use up, m; the same hinges carry.
std::vector<EndFloatSetting> ample_end_floats(const door::Door& door);

/// The same, the weight on the lowest of the hinges that carry it as drawn, or of all where none is
/// drawn so.
std::vector<EndFloatSetting> with_one_bearing_hinge(const door::Door& door);

/// Nominal gaps, m, of the thrust faces among `points` with these end floats, as indices into
/// `points` and gaps.
std::vector<std::pair<int, double>> thrust_gaps(const door::Door& door,
                                                const std::vector<EndFloatSetting>& floats,
                                                const std::vector<ContactPair>& pairs);

/// One contact solution with gaps and forces at all pairs; `floats` are those it was solved with.
struct AxialSolution {
  const std::vector<ContactPair>& points;
  const std::vector<double>& gap;           ///< m
  const std::vector<double>& contact_force; ///< N
  std::vector<EndFloatSetting> floats;
};

/// True when a hinge uses up more than its play: the weight leaves the hinge that is drawn to carry
/// it, or hinges bind.
bool exceeds_end_float(const AxialPlay& play);

/// True when thrust faces press only where the door is drawn to rest, so that ample end float would
/// change nothing.
bool rests_as_drawn(const door::Door& door, const AxialSolution& solution);

/// Free play, forces and pressed faces of a solution; `taken`, `room` and `needed` are zero.
AxialPlay axial_play(const door::Door& door, const AxialSolution& solution);

/// Fills in what `door` uses up and needs from `free`, a solution with ample end float. With a
/// level hinge axis, or where no hinge is drawn to carry, two hinges share the play between them
/// and each is assigned the worse of its pairs.
void add_required_end_float(const door::Door& door, const AxialSolution& free, AxialPlay& play);

/// Strain of the door at the pin axis of a hinge against that of the jamb, m/m, from the mean
/// temperatures of both skins, linear across the door and extrapolated beyond it: curvature is the
/// difference over the distance of the skins' middle planes, and the axis lies a standoff outside
/// the outer face. Times a distance along the axis it is how far hinges approach (below zero) or
/// part.
double strain_at_pin(const door::Door& door, const door::Hinge& hinge,
                     const heat::TemperatureSummary& summary);

/// Fills in the hand check: strain at the pin axis x distance from the nearest hinge that carries.
void add_hand_check(const door::Door& door, const heat::TemperatureSummary& summary,
                    AxialPlay& play);

/// Torque, N m, that friction on pressed thrust faces opposes a swing with.
double friction_torque(const AxialPlay& play, double friction);

} // namespace hangtrue::contact
