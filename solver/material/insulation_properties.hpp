// SPDX-License-Identifier: GPL-3.0-or-later
// Insulation for heat: conductivity over temperature, and what it stores.
#pragma once

#include "meshing/door/door.hpp"

#include <string>
#include <utility>
#include <vector>

namespace hangtrue::material
{

/// Conductivity over mean temperature, degC and W/(m K), rising in temperature, and where it is
/// from.
struct InsulationTable {
  std::string kind;
  std::vector<std::pair<double, double>> conductivity;
  double specific_heat = 0.0; ///< J/(kg K)
  std::string origin;
};

/// The table of a kind of the door file; still air between the skins for "none".
/// Throws ComputeError for a kind without a table.
const InsulationTable& insulation_table(const std::string& kind);

/// The table of a filling: its own where the door file has one, else that of its kind.
InsulationTable insulation_of(const door::Insulation& insulation);

/// Conductivity at a temperature, degC, linear between rows and constant beyond, W/(m K).
double conductivity_of(const InsulationTable& table, double temperature);

} // namespace hangtrue::material
