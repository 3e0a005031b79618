#include "cases/figures/closed_charts.hpp"

#include "cases/output/unit_formatter.hpp"
#include "solver/contact/gasket_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// Where along the line the corners lie.
std::vector<LevelLine> corners_of(const Door& door, const ClosedDoor& closed,
                                  const FigureWords& words)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  struct Corner {
    double x;
    double z;
    const char* words;
  };
  std::vector<LevelLine> dividers;
  for (const Corner& c : {Corner{w, 0.0, "lower latch corner"}, Corner{w, h, "upper latch corner"},
                          Corner{0.0, h, "upper hinge corner"}}) {
    const auto nearest = std::min_element(closed.gasket.begin(), closed.gasket.end(),
                                          [&](const GasketAt& a, const GasketAt& b) {
                                            return std::hypot(a.place.x - c.x, a.place.z - c.z) <
                                                   std::hypot(b.place.x - c.x, b.place.z - c.z);
                                          });
    dividers.push_back({words.length_number(nearest->arc), c.words});
  }
  return dividers;
}

} // namespace

const ClosedDoor& least_sealed(const CheckRun& run)
{
  return *std::min_element(
      run.closed.begin(), run.closed.end(),
      [](const ClosedDoor& a, const ClosedDoor& b) { return a.sum.least_load < b.sum.least_load; });
}

Figure gasket_chart(const DoorCase& c, const CheckRun& run, const FigureSize& size)
{
  const FigureWords words = figure_words(c.units);
  const Gasket& gasket = c.door.gasket;
  Pane pane{"squeeze, " + words.length_unit, {}, {}, {}, true};
  int index = 0;
  for (const auto& closed : run.closed) {
    // All curves are of the closed door.
    Curve curve{thermal_label(closed.state.thermal),
                {},
                series_colour(index),
                index >= 4 ? Dash::dashed : Dash::solid};
    for (const auto& at : closed.gasket)
      curve.points.push_back({words.length_number(at.arc), words.length_number(at.squeeze)});
    pane.curves.push_back(curve);
    ++index;
  }
  const double sealing = sealing_squeeze(gasket);
  pane.limits.push_back({words.length_number(sealing), "seals from here"});
  pane.limits.push_back({words.length_number(gasket.crushing), "crushed from here"});
  CurveChart chart{{"The gasket round the door", c.door.name + "; below zero it stands off"},
                   "along the gasket, from the lower hinge corner, " + words.length_unit,
                   0.0,
                   {pane},
                   corners_of(c.door, run.closed.front(), words)};
  Figure figure{"gasket", curve_chart(chart, size), ""};
  const ClosedDoor& worst = least_sealed(run);
  figure.caption = fmt::format("Squeeze of the gasket all round, from the lower hinge corner along "
                               "the lower edge, the latch "
                               "edge, the upper edge and back. It seals from {} and is crushed "
                               "from {} ({}). Least sealed: {}, "
                               "{:.0f} % of the line below sealing.",
                               words.length(sealing), words.length(gasket.crushing), gasket.kind,
                               state_label(worst.state), 100.0 * worst.sum.below_sealing);
  return figure;
}

Figure wear_chart(const DoorCase& c, const CheckRun& run, const FigureSize& size)
{
  const FigureWords words = figure_words(c.units);
  Pane pane{"drop, " + words.length_unit, {}, {}, {}, true};
  Curve low{"low", {}, series_colour(2)};
  Curve usual{"usual", {}, series_colour(0)};
  Curve high{"high", {}, series_colour(1)};
  for (const auto& y : run.wear.years) {
    low.points.push_back({y.year, words.length_number(y.low)});
    usual.points.push_back({y.year, words.length_number(y.usual)});
    high.points.push_back({y.year, words.length_number(y.high)});
  }
  pane.curves = {low, usual, high};
  pane.limits.push_back({words.length_number(c.limits.drop.value), "limit of the drop"});
  CurveChart chart{{"The drop over the years", c.door.name + "; wear of pins and bores"},
                   "years of use",
                   0.0,
                   {pane},
                   {}};
  Figure figure{"wear", curve_chart(chart, size), ""};
  figure.caption =
      fmt::format("Drop of the latch corner as pins and bores wear at {:.0f} swings a day, {}, for "
                  "a low, a usual "
                  "and a high wear coefficient: it is known to an order of magnitude at best.",
                  c.use.swings_per_day, c.use.greased ? "greased" : "dry");
  return figure;
}

} // namespace hangtrue
