// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/material/steel_properties.hpp"

#include "meshing/common/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace hangtrue::material
{

namespace
{

struct Row {
  double temperature;
  SteelReduction k;
};

// EN 1993-1-2:2005 Table 3.1.
constexpr std::array<Row, 13> table_3_1{{{20.0, {1.0, 1.0, 1.0}},
                                         {100.0, {1.0, 1.0, 1.0}},
                                         {200.0, {1.0, 0.807, 0.900}},
                                         {300.0, {1.0, 0.613, 0.800}},
                                         {400.0, {1.0, 0.420, 0.700}},
                                         {500.0, {0.780, 0.360, 0.600}},
                                         {600.0, {0.470, 0.180, 0.310}},
                                         {700.0, {0.230, 0.075, 0.130}},
                                         {800.0, {0.110, 0.050, 0.090}},
                                         {900.0, {0.060, 0.0375, 0.0675}},
                                         {1000.0, {0.040, 0.0250, 0.0450}},
                                         {1100.0, {0.020, 0.0125, 0.0225}},
                                         {1200.0, {0.0, 0.0, 0.0}}}};

void within(double t)
{
  constexpr double coldest = -50.0; // degC; a winter's day is taken as room temperature
  if (!(t >= coldest && t <= hottest_steel))
    throw ComputeError(
        fmt::format("steel at {:.0f} degC: the tables of EN 1993-1-2 end at {:.0f} degC; "
                    "such a door needs another material or more insulation",
                    t, hottest_steel));
}

} // namespace

SteelReduction reduction(double temperature)
{
  within(temperature);
  if (temperature <= table_3_1.front().temperature)
    return {};
  const auto above = std::lower_bound(table_3_1.begin(), table_3_1.end(), temperature,
                                      [](const Row& row, double t) { return row.temperature < t; });
  const Row& b = *above;
  const Row& a = *(above - 1);
  const double s = (temperature - a.temperature) / (b.temperature - a.temperature);
  auto between = [s](double from, double to) { return from + s * (to - from); };
  return {between(a.k.yield, b.k.yield), between(a.k.proportional, b.k.proportional),
          between(a.k.modulus, b.k.modulus)};
}

double elongation(double t)
{
  within(t);
  if (t < 750.0)
    return 1.2e-5 * t + 0.4e-8 * t * t - 2.416e-4;
  if (t <= 860.0)
    return 1.1e-2;
  return 2.0e-5 * t - 6.2e-3;
}

double specific_heat(double t)
{
  within(t);
  if (t < 600.0)
    return 425.0 + 0.773 * t - 1.69e-3 * t * t + 2.22e-6 * t * t * t;
  if (t < 735.0)
    return 666.0 + 13002.0 / (738.0 - t);
  if (t < 900.0)
    return 545.0 + 17820.0 / (t - 731.0);
  return 650.0;
}

double conductivity(double t)
{
  within(t);
  return t < 800.0 ? 54.0 - 3.33e-2 * t : 27.3;
}

namespace
{

// Linear between the rows of the user's own table.
double from_table(const door::Steel& steel, double door::SteelRow::*column, double t)
{
  const auto& rows = steel.table;
  if (t > rows.back().temperature)
    throw ComputeError(
        fmt::format("steel at {:.0f} degC: its table in the door file ends at {:.0f} "
                    "degC; add rows, or more insulation",
                    t, rows.back().temperature));
  if (t <= rows.front().temperature)
    return rows.front().*column;
  const auto above =
      std::lower_bound(rows.begin(), rows.end(), t,
                       [](const door::SteelRow& row, double x) { return row.temperature < x; });
  const door::SteelRow& b = *above;
  const door::SteelRow& a = *(above - 1);
  return a.*column +
         (b.*column - a.*column) * (t - a.temperature) / (b.temperature - a.temperature);
}

} // namespace

SteelReduction reduction(const door::Steel& steel, double t)
{
  if (steel.table.empty())
    return reduction(t);
  return {from_table(steel, &door::SteelRow::yield, t) / steel.yield,
          from_table(steel, &door::SteelRow::proof, t) / steel.yield,
          from_table(steel, &door::SteelRow::modulus, t) / steel.youngs_modulus};
}

double elongation(const door::Steel& steel, double t)
{
  return steel.table.empty() ? elongation(t) : from_table(steel, &door::SteelRow::elongation, t);
}

double specific_heat(const door::Steel& steel, double t)
{
  return steel.table.empty() ? specific_heat(t)
                             : from_table(steel, &door::SteelRow::specific_heat, t);
}

double conductivity(const door::Steel& steel, double t)
{
  return steel.table.empty() ? conductivity(t)
                             : from_table(steel, &door::SteelRow::conductivity, t);
}

double ultimate_at(const door::Steel& steel, double t)
{
  constexpr double hardens_to = 300.0; // degC
  constexpr double none_from = 400.0;
  const double hardening = std::clamp((none_from - t) / (none_from - hardens_to), 0.0, 1.0) *
                           std::max(0.0, steel.ultimate - steel.yield);
  return steel.yield * reduction(steel, t).yield + hardening;
}

double weld_reduction(double t)
{
  within(t);
  // EN 1993-1-2:2005 Table D.1, from memory.
  constexpr std::array<std::pair<double, double>, 9> table{{{300.0, 1.0},
                                                            {400.0, 0.876},
                                                            {500.0, 0.627},
                                                            {600.0, 0.378},
                                                            {700.0, 0.130},
                                                            {800.0, 0.074},
                                                            {900.0, 0.018},
                                                            {1000.0, 0.0},
                                                            {hottest_steel, 0.0}}};
  if (t <= table.front().first)
    return table.front().second;
  const auto above = std::lower_bound(table.begin(), table.end(), t,
                                      [](const auto& row, double x) { return row.first < x; });
  const auto below = above - 1;
  return below->second +
         (above->second - below->second) * (t - below->first) / (above->first - below->first);
}

double hottest(const door::Steel& steel)
{
  return steel.table.empty() ? hottest_steel : steel.table.back().temperature;
}

} // namespace hangtrue::material
