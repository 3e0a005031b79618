// SPDX-License-Identifier: GPL-3.0-or-later
// Doors that close, for tests: invented.
#pragma once

#include "solver/analysis/open_analysis.hpp"
#include "solver/heat/thermal_state.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <numbers>
#include <vector>

namespace hangtrue::test
{

inline constexpr double pound_per_inch = pound / inch;

/// A soft bulb whose curve has two kinks.
inline door::Gasket bulb()
{
  door::Gasket g;
  g.kind = "own";
  g.height = 0.75 * inch;
  g.set_gap = 0.525 * inch;
  g.corner = 1.0 * inch;
  g.curve = {{0.0, 0.0},
             {0.15 * inch, 5.0 * pound_per_inch},
             {0.30 * inch, 20.0 * pound_per_inch},
             {0.45 * inch, 100.0 * pound_per_inch}};
  g.sealing = 5.0 * pound_per_inch;
  g.crushing = 0.30 * inch;
  g.permanent_set = 0.4;
  g.hottest = 540.0;
  return g;
}

/// A wedge on a stout rod, m up the latch edge.
inline door::Latch wedge(double position)
{
  door::Latch l;
  l.position = position;
  l.inset = 0.75 * inch;
  l.stiffness = 10000.0 * pound_per_inch;
  l.lead = 7.0 * std::numbers::pi / 180.0;
  l.arm = 1.0 * inch;
  l.lever = 6.0 * inch;
  return l;
}

/// The 30 x 30 in door closed on that gasket by wedges at these heights, m.
inline door::Door smoke_door(const std::vector<double>& latches)
{
  door::Door door = barrel_door();
  door.swing = 0.0;
  door.fire.gasket_inset = 1.0 * inch;
  door.fire.schedule = {{0.0, 20.0}, {1800.0, 205.0}};
  door.gasket = bulb();
  for (const double position : latches)
    door.latches.push_back(wedge(position));
  door.opening = {door.reveal, door.reveal, door.reveal, 0.0};
  return door;
}

/// Temperatures linear through the depth, hot at the fire: a bow without stress.
inline heat::ThermalState bowed(const door::Door& door, const mesh::Mesh& mesh, double difference)
{
  heat::ThermalState thermal;
  thermal.state = {heat::ThermalCase::steady};
  for (const auto& n : mesh.door.nodes)
    thermal.temperature.push_back(20.0 + difference * std::max(0.0, 1.0 - n.y / door::depth(door)));
  thermal.summary.jamb = 20.0;
  thermal.summary.pins = 20.0;
  thermal.summary.knuckles = 20.0;
  return thermal;
}

} // namespace hangtrue::test
