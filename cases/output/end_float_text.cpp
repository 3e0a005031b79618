// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/end_float_text.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/check_result.hpp"
#include "viz/plots/bar_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace hangtrue::output
{

namespace
{

struct StatePlay {
  system::StateId state;
  const contact::AxialPlay* axial;
};

std::vector<StatePlay> plays_of(const check::CheckRun& run)
{
  std::vector<StatePlay> plays{{run.open_cold.state, &run.open_cold.axial}};
  for (const auto& d : run.open_thermal)
    plays.push_back({d.state, &d.axial});
  for (const auto& d : run.closed)
    plays.push_back({d.state, &d.axial});
  return plays;
}

double use_of(const contact::HingeEndFloat& at)
{
  constexpr double most_use = 9.99; // of a play of zero
  if (at.room > 0.0)
    return at.taken / at.room;
  return at.taken > 0.0 ? most_use : 0.0;
}

} // namespace

std::string end_float_table(const input::DoorCase& c, const check::CheckRun& run)
{
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, c.units);
  };
  const auto force = [&](double v) {
    return input::format_short(v, input::Dimension::force, c.units);
  };
  std::string text = "\nEnd float (free: what is left under the door's knuckles and over them)\n";
  text += fmt::format("  {:<7}{:>13}{:>13}{:>13}{:>13}{:>13}{:>13}\n", "hinge", "drawn", "needed",
                      "free under", "free over", "lifts door", "holds down");
  for (const auto& play : plays_of(run)) {
    if (run.open_thermal.size() + run.closed.size() > 0)
      text += fmt::format("  -- {} --\n", system::state_label(play.state));
    for (const auto& at : play.axial->hinges)
      text += fmt::format("  {:<7}{:>13}{:>13}{:>13}{:>13}{:>13}{:>13}\n", at.hinge + 1,
                          length(c.door.hinges[at.hinge].end_float), length(at.required),
                          at.has_rest ? length(at.below) : "-",
                          at.has_hold ? length(at.above) : "-", force(at.rests), force(at.held));
  }
  return text;
}

figures::Figure end_float_chart(const input::DoorCase& c, const check::CheckRun& run,
                                const plots::FigureSize& size)
{
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, c.units);
  };
  std::vector<plots::UtilisationBar> bars;
  for (const auto& play : plays_of(run))
    for (const auto& at : play.axial->hinges) {
      const verdict::Verdict verdict = verdict::verdict_of_value(use_of(at), 1.0, 0.0);
      bars.push_back(
          {fmt::format("hinge {}", at.hinge + 1), system::state_label(play.state),
           fmt::format("{} of {}", length(at.required), length(c.door.hinges[at.hinge].end_float)),
           use_of(at), 0.0, verdict::verdict_text(verdict), static_cast<int>(verdict)});
    }
  figures::Figure figure{
      "end-float", plots::utilisation_chart({"Use of the end float", c.door.name}, bars, size), ""};
  figure.caption =
      "Use of the end float at every hinge: what the door takes of the tighter side. At the right "
      "the end float that the hinge needs so that the weight stays where it is drawn to rest, of "
      "the one that it has.";
  return figure;
}

} // namespace hangtrue::output
