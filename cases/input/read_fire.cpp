// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/read_fire.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace hangtrue::input
{

namespace
{

door::MeasuredSkins measured_from(const SectionValues& s, std::vector<FileFault>& faults)
{
  const std::vector<std::string> names{"measured_inner", "measured_outer", "measured_over_rim"};
  const auto given =
      std::count_if(names.begin(), names.end(), [&](const auto& n) { return s.at(n).given; });
  if (given == 0)
    return {};
  for (const auto& name : names)
    if (!s.at(name).given)
      faults.push_back({s.place, s.section + "." + name,
                        "it is missing; allowed are all three measured temperatures or none; "
                        "measure it, or take the others out"});
  if (s.at("schedule").given)
    faults.push_back({s.at("schedule").place, s.section + ".schedule",
                      "found a schedule beside measured skins; allowed is one of the two; take the "
                      "schedule out"});
  return {true, s.number(names[0]), s.number(names[1]), s.number(names[2])};
}

door::HotSpot hot_spot_from(const SectionValues& s, const door::Panel& panel,
                            std::vector<FileFault>& faults)
{
  if (!s.at("hot_spot").given)
    return {};
  door::HotSpot spot;
  spot.gas = s.number("hot_spot");
  spot.x = s.at("hot_spot_x").given ? s.number("hot_spot_x") : panel.width;
  spot.z = s.at("hot_spot_z").given ? s.number("hot_spot_z") : panel.height;
  spot.reach = s.at("hot_spot_reach").given ? s.number("hot_spot_reach") : panel.width / 3.0;
  double maximum = -1e9;
  for (const auto& [time, gas] : s.at("schedule").pairs)
    maximum = std::max(maximum, gas);
  if (!(spot.gas > maximum))
    faults.push_back({s.at("hot_spot").place, s.section + ".hot_spot",
                      "found a hot spot that is not hotter than the schedule; allowed is more than "
                      "its hottest gas; raise it or take it out"});
  return spot;
}

} // namespace

door::Fire fire_from(const SectionValues& s, const door::Panel& panel,
                     std::vector<FileFault>& faults)
{
  door::Fire fire;
  for (const auto& [time, gas] : s.at("schedule").pairs)
    fire.schedule.push_back({time, gas});
  fire.film = s.number("film");
  fire.emissivity_inside = s.number("emissivity_inside");
  fire.emissivity_outside = s.number("emissivity_outside");
  fire.ambient = s.number("ambient");
  fire.outside_film = s.number("outside_film");
  if (s.at("frame").given)
    fire.frame = s.number("frame");
  fire.gasket_inset = s.number("gasket_inset");
  fire.hot_spot = hot_spot_from(s, panel, faults);
  fire.measured = measured_from(s, faults);
  fire.instants = s.at("instants").list;
  std::sort(fire.instants.begin(), fire.instants.end());
  const double end = fire.schedule.empty() ? 0.0 : fire.schedule.back().time;
  if (!fire.instants.empty() && fire.instants.back() > end)
    faults.push_back({s.at("instants").place, s.section + ".instants",
                      fmt::format("found {:.0f} min; allowed is up to {:.0f} min, where the "
                                  "schedule ends; lengthen the schedule or take the time out",
                                  fire.instants.back() / unit::minute, end / unit::minute)});
  return fire;
}

} // namespace hangtrue::input
