// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/frame_temperature.hpp"

#include "solver/heat/fire_schedule.hpp"
#include "solver/heat/surface_flux.hpp"
#include "solver/material/steel_properties.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::heat
{

double vertical_height(const door::Door& door)
{
  return door.hanging == door::HingeEdge::side ? door.panel.height : door.panel.width;
}

namespace
{

// Door and frame are never flatter than this over their length; 0 would be perfect contact.
constexpr double min_gap = 0.5e-3; // m

} // namespace

std::array<double, 4> edge_gaps(const door::Door& door)
{
  const door::Opening& o = door.opening;
  return {std::max(min_gap, door.reveal), std::max(min_gap, o.latch), std::max(min_gap, o.lower),
          std::max(min_gap, o.upper)};
}

double face_gap(const door::Door& door)
{
  return std::max(min_gap, door.gasket.curve.empty() ? door.reveal : door.gasket.set_gap);
}

double mouth_fraction(double from_mouth, double width)
{
  return 0.5 * (1.0 - from_mouth / std::hypot(from_mouth, width));
}

FrameFace::FrameFace(const door::Door& door)
    : fire_(door.fire), height_(vertical_height(door)), room_(door.fire.ambient)
{
  if (fire_.measured.given || fire_.schedule.empty()) {
    const double halfway = 0.5 * (fire_.measured.inner + fire_.measured.outer_rim);
    measured_ = room_ + fire_.frame_excess *
                            (fire_.frame.value_or(fire_.measured.given ? halfway : room_) - room_);
    return;
  }
  scale_ = fire_.frame_excess;
  hottest_ = settled_plate(gas_at(fire_, hottest_time(fire_)));
  if (fire_.frame && std::abs(hottest_ - room_) > 1.0)
    scale_ *= (*fire_.frame - room_) / (hottest_ - room_);
  warm_plate(door);
}

SurfaceFlux FrameFace::into_plate(double temperature, double gas) const
{
  constexpr double reached = 0.5; // of the inner face, by the gas
  const SurfaceFlux inside = exchange(temperature, gas, fire_.film, fire_.emissivity_inside);
  const SurfaceFlux outside =
      exchange(temperature, room_,
               fire_.outside_film * natural_convection_coefficient(temperature, room_, height_),
               fire_.emissivity_outside);
  return {reached * inside.into + outside.into, reached * inside.slope + outside.slope};
}

double FrameFace::settled_plate(double gas) const
{
  double low = std::min(gas, room_);
  double high = std::max(gas, room_);
  for (int i = 0; i < 60; ++i) { // to rounding: the flux falls with the plate's temperature
    const double middle = 0.5 * (low + high);
    (into_plate(middle, gas).into > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// Backward Euler in equal steps, each by Newton: stable however thin the plate.
void FrameFace::warm_plate(const door::Door& door)
{
  constexpr int steps = 2000;
  start_ = fire_.schedule.front().time;
  step_ = (fire_.schedule.back().time - start_) / steps;
  double t = room_;
  temperature_.push_back(t);
  if (!(step_ > 0.0)) { // one instant only
    step_ = 1.0;
    temperature_.push_back(t);
    return;
  }
  for (int i = 1; i <= steps; ++i) {
    const double gas = gas_at(fire_, start_ + i * step_);
    const double before = t;
    for (int round = 0; round < 20; ++round) {
      const double known = std::clamp(t, -50.0, material::hottest(door.steel));
      const double per_step = door.steel.density * material::specific_heat(door.steel, known) *
                              door.jamb.thickness / step_; // W/(m^2 K)
      const SurfaceFlux flux = into_plate(t, gas);
      const double change =
          (flux.into - per_step * (t - before)) / (per_step - std::min(0.0, flux.slope));
      t += change;
      if (std::abs(change) < 1e-6)
        break;
    }
    temperature_.push_back(t);
  }
}

double FrameFace::temperature_at(double time) const
{
  if (temperature_.empty())
    return measured_;
  const double steps =
      std::clamp((time - start_) / step_, 0.0, static_cast<double>(temperature_.size() - 1));
  const auto i = std::min(static_cast<std::size_t>(steps), temperature_.size() - 2);
  return scaled(temperature_[i] +
                (steps - static_cast<double>(i)) * (temperature_[i + 1] - temperature_[i]));
}

double FrameFace::settled() const
{
  return temperature_.empty() ? measured_ : scaled(hottest_);
}

} // namespace hangtrue::heat
