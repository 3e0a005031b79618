// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/material/insulation_properties.hpp"

#include "meshing/common/errors.hpp"

#include <algorithm>

namespace hangtrue::material
{

const InsulationTable& insulation_table(const std::string& kind)
{
  // Specific heats from memory: fibres and silicates 0.8 to 1.1 kJ/(kg K).
  static const std::vector<InsulationTable> tables{
      {"mineral wool",
       {{10.0, 0.033}, {50.0, 0.037}, {93.0, 0.05}, {200.0, 0.064}, {315.0, 0.09}, {500.0, 0.135}},
       840.0,
       "TIASA Thermal Insulation Handbook (2001), 100 kg/m^3, to 200 degC; above from memory"},
      {"ceramic fibre",
       {{100.0, 0.04},
        {200.0, 0.06},
        {400.0, 0.095},
        {600.0, 0.145},
        {800.0, 0.20},
        {1000.0, 0.275}},
       1050.0,
       "typical maker values, 128 kg/m^3, from memory"},
      {"calcium silicate",
       {{100.0, 0.054}, {200.0, 0.063}, {300.0, 0.074}, {350.0, 0.082}},
       1000.0,
       "TIASA Thermal Insulation Handbook (2001), 240 kg/m^3"},
      {"perlite", {{40.0, 0.055}, {430.0, 0.14}}, 840.0, "common practice, no source"},
      {"none",
       {{20.0, 0.3}, {300.0, 1.2}},
       1000.0,
       "still air with radiation between the skins, a rough value; common practice, no source"}};
  for (const auto& table : tables)
    if (table.kind == kind)
      return table;
  throw ComputeError("heat: there is no conductivity for insulation \"" + kind + "\"");
}

InsulationTable insulation_of(const door::Insulation& insulation)
{
  InsulationTable table = insulation_table(insulation.kind);
  if (!insulation.conductivity.empty()) {
    table.conductivity = insulation.conductivity;
    table.origin = "given in the door file";
  }
  return table;
}

double conductivity_of(const InsulationTable& table, double temperature)
{
  const auto& rows = table.conductivity;
  if (temperature <= rows.front().first)
    return rows.front().second;
  if (temperature >= rows.back().first)
    return rows.back().second;
  const auto above = std::lower_bound(rows.begin(), rows.end(), temperature,
                                      [](const auto& row, double t) { return row.first < t; });
  const auto& b = *above;
  const auto& a = *(above - 1);
  return a.second + (b.second - a.second) * (temperature - a.first) / (b.first - a.first);
}

} // namespace hangtrue::material
