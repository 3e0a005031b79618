// SPDX-License-Identifier: GPL-3.0-or-later
// The frame round the closed door in the heat problem: the temperature of its face, and the
// exchange with the door's edges.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/heat/heat_equation.hpp"

#include <array>
#include <vector>

namespace hangtrue::heat
{

/// Height of the closed door, m: upright for every position of the hinges.
double vertical_height(const door::Door& door);

/// Widths, m, of the slots between the door's edges and the opening: hinge, latch, lower, upper
/// edge.
std::array<double, 4> edge_gaps(const door::Door& door);

/// Width, m, of the slot between the frame face and the inner skin outside the gasket line: the set
/// gap; without a gasket the reveal, which is the only gap that the file gives.
double face_gap(const door::Door& door);

/// Temperature of the frame face opposite the closed door, degC.
///
/// Without `Fire::frame` it is that of a steel plate of the jamb's thickness whose inner face the
/// gas reaches over a half (the rest is lined or covered) and whose outer face loses heat to the
/// room:
///
///   rho c t dT/dt = 1/2 [h_gas (T_gas - T) + eps_in sigma (T_gas^4 - T^4)]
///                   + h_room (T_room - T) + eps_out sigma (T_room^4 - T^4)
///
/// A given one is that at the hottest gas; before, it follows the plate in proportion. With
/// measured skins it is half-way between the inner skin and the outer skin over the rim.
class FrameFace
{
public:
  explicit FrameFace(const door::Door& door);
  /// At a time of the firing, s, linear between steps.
  [[nodiscard]] double temperature_at(double time) const;
  /// Steady under the hottest gas of the schedule, or as with measured skins.
  [[nodiscard]] double settled() const;

private:
  door::Fire fire_;
  double height_;
  double room_;                     // degC
  double scale_ = 1.0;              // on the plate's excess over the room
  double measured_ = 0.0;           // degC, with measured skins
  double hottest_ = 0.0;            // degC, of the plate, steady under the hottest gas
  double start_ = 0.0;              // s
  double step_ = 1.0;               // s
  std::vector<double> temperature_; // degC, of the plate, step by step

  [[nodiscard]] SurfaceFlux into_plate(double temperature, double gas) const;
  [[nodiscard]] double settled_plate(double gas) const;
  [[nodiscard]] double scaled(double plate) const { return room_ + scale_ * (plate - room_); }
  void warm_plate(const door::Door& door);
};

/// View factor from a point in a slot to the room, and fraction of room air in the air there: half
/// of what an infinitely long slot of a width, m, opens to at a distance, m, from its mouth, (1 - s
/// / sqrt(s^2 + b^2)) / 2 (crossed strings; Hottel, from memory).
double mouth_fraction(double from_mouth, double width);

} // namespace hangtrue::heat
