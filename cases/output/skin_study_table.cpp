// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/skin_study_table.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::output
{

namespace
{

double greatest_use(const analysis::SkinVariant& way, mesh::Part plate)
{
  double use = 0.0;
  for (const auto& p : way.plates)
    if (p.plate == plate)
      use = std::max(use, p.utilisation);
  return use;
}

// Edges simply supported; a dash where it is not evaluated.
std::string buckling_use(const analysis::SkinVariant& way)
{
  for (const auto& skin : way.buckling)
    if (skin.skin == mesh::Part::inner_skin && skin.no_verdict.empty())
      return fmt::format("{:.0f} %", 100.0 * skin.supported.utilisation);
  return "-";
}

std::string row(const input::DoorCase& c, const analysis::SkinVariant& way)
{
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, c.units);
  };
  const auto degrees = [&](double v) {
    return input::format_short(v, input::Dimension::temperature, c.units);
  };
  return fmt::format("{} {:<24}{:>12}{:>11}{:>11}{:>9.0f} %{:>8.0f} %{:>12}{:>13}\n",
                     way.is_own ? ">" : " ", way.name, length(std::abs(way.bow.outer_corners)),
                     degrees(way.temperatures.rim), degrees(way.temperatures.outside_hottest),
                     100.0 * greatest_use(way, mesh::Part::inner_skin),
                     100.0 * greatest_use(way, mesh::Part::rim), buckling_use(way),
                     length(std::max(way.slip.slide, way.slip.closing)));
}

} // namespace

std::string skin_table(const input::DoorCase& door_case,
                       const std::vector<analysis::SkinVariant>& ways)
{
  std::string text =
      fmt::format("{}: the bare panel, hot and steady, coarse mesh\n\n", door_case.door.name);
  text += fmt::format("  {:<24}{:>12}{:>11}{:>11}{:>11}{:>10}{:>12}{:>13}\n", "inner skin", "bow",
                      "rim", "outside", "inner skin", "rim", "buckling,", "slides or");
  text += fmt::format("  {:<24}{:>12}{:>11}{:>11}{:>11}{:>10}{:>12}{:>13}\n", "", "(corners)",
                      "mean", "hottest", "use", "use", "supported", "closes by");
  for (const auto& way : ways)
    text += row(door_case, way);
  text +=
      "\n> is the door as drawn. Use: stress against the stress up to which steel stays elastic "
      "(k_p f_y).\nNo way helps alone: a skin that can slide bows the door less, but its own "
      "middle is still hotter\nthan its edge; a strip cools rim and outside, and makes the skin "
      "that it lets grow grow more.\n";
  return text;
}

} // namespace hangtrue::output
