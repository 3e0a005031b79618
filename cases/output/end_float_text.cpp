#include "cases/output/end_float_text.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/check_result.hpp"
#include "viz/plots/bar_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace hangtrue
{

namespace
{

struct StatePlay {
  StateId state;
  const AxialPlay* axial;
};

std::vector<StatePlay> plays_of(const CheckRun& run)
{
  std::vector<StatePlay> plays{{run.deflection.state, &run.deflection.axial}};
  for (const auto& d : run.warm)
    plays.push_back({d.state, &d.axial});
  for (const auto& d : run.closed)
    plays.push_back({d.state, &d.axial});
  return plays;
}

double use_of(const HingeFloat& at)
{
  constexpr double most_use = 9.99; // of a play of zero
  if (at.room > 0.0)
    return at.taken / at.room;
  return at.taken > 0.0 ? most_use : 0.0;
}

} // namespace

std::string float_table(const DoorCase& c, const CheckRun& run)
{
  const auto length = [&](double v) { return format_short(v, Kind::length, c.units); };
  const auto force = [&](double v) { return format_short(v, Kind::force, c.units); };
  std::string text = "\nEnd float (free: what is left under the door's knuckles and over them)\n";
  text += fmt::format("  {:<7}{:>13}{:>13}{:>13}{:>13}{:>13}{:>13}\n", "hinge", "drawn", "needed",
                      "free under", "free over", "lifts door", "holds down");
  for (const auto& play : plays_of(run)) {
    if (run.warm.size() + run.closed.size() > 0)
      text += fmt::format("  -- {} --\n", state_label(play.state));
    for (const auto& at : play.axial->hinges)
      text += fmt::format("  {:<7}{:>13}{:>13}{:>13}{:>13}{:>13}{:>13}\n", at.hinge + 1,
                          length(c.door.hinges[at.hinge].end_float), length(at.needed),
                          at.has_rest ? length(at.below) : "-",
                          at.has_hold ? length(at.above) : "-", force(at.rests), force(at.held));
  }
  return text;
}

Figure float_chart(const DoorCase& c, const CheckRun& run, const FigureSize& size)
{
  const auto length = [&](double v) { return format_short(v, Kind::length, c.units); };
  std::vector<UseBar> bars;
  for (const auto& play : plays_of(run))
    for (const auto& at : play.axial->hinges) {
      const Verdict verdict = judge_value(use_of(at), 1.0, 0.0);
      bars.push_back(
          {fmt::format("hinge {}", at.hinge + 1), state_label(play.state),
           fmt::format("{} of {}", length(at.needed), length(c.door.hinges[at.hinge].end_float)),
           use_of(at), 0.0, verdict_word(verdict), static_cast<int>(verdict)});
    }
  Figure figure{"end-float", use_chart({"Use of the end float", c.door.name}, bars, size), ""};
  figure.caption =
      "Use of the end float at every hinge: what the door takes of the tighter side. At the right "
      "the end float that the hinge needs so that the weight stays where it is drawn to rest, of "
      "the one that it has.";
  return figure;
}

} // namespace hangtrue
