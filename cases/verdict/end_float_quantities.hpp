// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities of interest along the pins: end float, hinges bound against each other, thrust faces,
// pin heads.
#pragma once

#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/contact/axial_play.hpp"
#include "solver/system/state_id.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// What one state, open or closed, says of the play along the pins.
struct EndFloatState {
  system::StateId state;
  const contact::AxialPlay& axial;
  double hinge_temperature = 20.0; ///< degC
  double weight = 0.0;             ///< N, door with its hinge halves
  bool is_thermal = false;
};

/// Friction of steel on steel at thrust faces, greased and dry: common practice, no source.
inline constexpr double greased_friction = 0.1;
/// Friction of dry steel on steel at thrust faces: common practice, no source.
inline constexpr double dry_friction = 0.5;

/// Greatest pressure, Pa, of a contact force, N, on a thrust face, whose centre is `off`, m, from
/// the pin: linear over the ring between bore and outside, F / A (1 + off / core) with the core
/// (R^2 + r^2) / (4 R); beyond the core only one side presses, and half the ring is taken for it,
/// at uniform pressure: the same number as at the edge of the core. Statics of an eccentric load.
double face_pressure(const door::Hinge& hinge, double contact_force, double off);

/// How deep, m, the edge of a tilted face, rad, must flatten until a segment of it carries the
/// contact force at a uniform `pressure`, Pa: segment 4/3 sqrt(2 R) c^(3/2) of depth c (plane
/// geometry, c small against R), flattened by tilt x c.
double edge_flattening(const door::Hinge& hinge, double contact_force, double tilt,
                       double pressure);

/// Shear, N, that a cotter of three sixteenths of the pin carries in two planes at 0.40 of yield.
double cotter_shear(const door::Hinge& hinge, double yield);

/// The hinge that uses most of its play, or none where nothing is known of the play.
const contact::HingeEndFloat* tightest(const contact::AxialPlay& axial);

/// Adds those of one state; none where nothing is known of the play.
void add_end_float(const input::DoorCase& door_case, const EndFloatState& state,
                   std::vector<QuantityOfInterest>& all);

/// True for a quantity that depends on end float and carrying hinge.
bool is_of_end_float(qoi::Quantity quantity);

} // namespace hangtrue::verdict
