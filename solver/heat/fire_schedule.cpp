// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/fire_schedule.hpp"

#include <algorithm>

namespace hangtrue::heat
{

double gas_at(const door::Fire& fire, double time)
{
  const auto& s = fire.schedule;
  if (time <= s.front().time)
    return s.front().gas;
  for (std::size_t i = 0; i + 1 < s.size(); ++i)
    if (time <= s[i + 1].time)
      return s[i].gas +
             (s[i + 1].gas - s[i].gas) * (time - s[i].time) / (s[i + 1].time - s[i].time);
  return s.back().gas;
}

double hottest_time(const door::Fire& fire)
{
  const auto maximum = std::max_element(
      fire.schedule.begin(), fire.schedule.end(),
      [](const door::FirePoint& a, const door::FirePoint& b) { return a.gas < b.gas; });
  return maximum->time;
}

} // namespace hangtrue::heat
