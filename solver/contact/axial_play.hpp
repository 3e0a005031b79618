// SPDX-License-Identifier: GPL-3.0-or-later
// What a solution of the door leaves of the play along its pins, in numbers.
#pragma once

#include <vector>

namespace hangtrue::contact
{

/// End float of one hinge as set, and whether its thrust faces touch as drawn.
struct EndFloatSetting {
  double end_float = 0.0; ///< m
  bool bears_weight = false;

  bool operator==(const EndFloatSetting&) const = default;
};

/// Play along the pin at one hinge. The door *rests* on faces that support it towards z = 0 and is
/// *held down* by faces that prevent it from rising.
struct HingeEndFloat {
  int hinge = 0;
  bool has_rest = false;
  bool has_hold = false;
  double below = 0.0;    ///< m, free under the door: least gap of the faces that it rests on
  double above = 0.0;    ///< m, free over it: least gap of the faces that hold it down
  double taken = 0.0;    ///< m, used up on the tighter side while every other hinge has ample float
  double room = 0.0;     ///< m, nominal play on that side
  double required = 0.0; ///< m, least end float of this hinge with which the weight rests where it
                         ///< is drawn to and nothing holds the door down
  double hand_estimate = 0.0; ///< m, hand check of `taken`: strain at the pin axis x distance
  double rests = 0.0;         ///< N, on the door, upwards
  double held = 0.0;          ///< N, on the door, downwards
};

/// How one pair of thrust faces is pressed.
struct ThrustFace {
  int hinge = 0;
  int knuckle = 0;            ///< of the upper one
  bool holds = false;         ///< it holds the door down; else the door rests on it
  double contact_force = 0.0; ///< N
  double off = 0.0;           ///< m, centre of the contact force from the pin axis
  double arm = 0.0;  ///< m, mean radius of the contact force: friction torque / (friction x force)
  double tilt = 0.0; ///< rad, of one face against the other
};

/// Play along the pins of all hinges in one solution.
struct AxialPlay {
  std::vector<HingeEndFloat> hinges;
  std::vector<ThrustFace> faces; ///< those that press
  double locked = 0.0; ///< N, by which thrust faces press against each other: the lesser of what
                       ///< lifts the door and what holds it down
};

} // namespace hangtrue::contact
