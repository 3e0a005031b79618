// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/figures/closed_charts.hpp"

#include "cases/output/unit_formatter.hpp"
#include "solver/contact/gasket_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::case_figures
{

namespace
{

// Where along the line the corners lie.
std::vector<plots::ReferenceLine> corners_of(const door::Door& door,
                                             const analysis::ClosedDoorResult& closed,
                                             const figures::UnitFormatter& words)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  struct Corner {
    double x;
    double z;
    const char* words;
  };
  std::vector<plots::ReferenceLine> dividers;
  for (const Corner& c : {Corner{w, 0.0, "lower latch corner"}, Corner{w, h, "upper latch corner"},
                          Corner{0.0, h, "upper hinge corner"}}) {
    const auto nearest =
        std::min_element(closed.gasket.begin(), closed.gasket.end(),
                         [&](const contact::GasketPoint& a, const contact::GasketPoint& b) {
                           return std::hypot(a.place.x - c.x, a.place.z - c.z) <
                                  std::hypot(b.place.x - c.x, b.place.z - c.z);
                         });
    dividers.push_back({words.length_number(nearest->arc), c.words});
  }
  return dividers;
}

} // namespace

const analysis::ClosedDoorResult& least_sealed(const check::CheckRun& run)
{
  return *std::min_element(
      run.closed.begin(), run.closed.end(),
      [](const analysis::ClosedDoorResult& a, const analysis::ClosedDoorResult& b) {
        return a.gasket_summary.min_load < b.gasket_summary.min_load;
      });
}

figures::Figure gasket_chart(const input::DoorCase& c, const check::CheckRun& run,
                             const plots::FigureSize& size)
{
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  const door::Gasket& gasket = c.door.gasket;
  plots::ChartPanel panel{"squeeze, " + words.length_unit, {}, {}, {}, true};
  int index = 0;
  for (const auto& closed : run.closed) {
    // All curves are of the closed door.
    plots::Curve curve{system::thermal_label(closed.state.thermal),
                       {},
                       page::series_colour(index),
                       index >= 4 ? page::Dash::dashed : page::Dash::solid};
    for (const auto& at : closed.gasket)
      curve.points.push_back({words.length_number(at.arc), words.length_number(at.squeeze)});
    panel.curves.push_back(curve);
    ++index;
  }
  const double sealing = contact::sealing_squeeze(gasket);
  panel.limits.push_back({words.length_number(sealing), "seals from here"});
  panel.limits.push_back({words.length_number(gasket.crushing), "crushed from here"});
  plots::CurveChart chart{{"The gasket round the door", c.door.name + "; below zero it stands off"},
                          "along the gasket, from the lower hinge corner, " + words.length_unit,
                          0.0,
                          {panel},
                          corners_of(c.door, run.closed.front(), words)};
  figures::Figure figure{"gasket", plots::curve_chart(chart, size), ""};
  const analysis::ClosedDoorResult& worst = least_sealed(run);
  figure.caption =
      fmt::format("Squeeze of the gasket all round, from the lower hinge corner along "
                  "the lower edge, the latch "
                  "edge, the upper edge and back. It seals from {} and is crushed "
                  "from {} ({}). Least sealed: {}, "
                  "{:.0f} % of the line below sealing.",
                  words.length(sealing), words.length(gasket.crushing), gasket.kind,
                  system::state_label(worst.state), 100.0 * worst.gasket_summary.below_sealing);
  return figure;
}

figures::Figure wear_chart(const input::DoorCase& c, const check::CheckRun& run,
                           const plots::FigureSize& size)
{
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  plots::ChartPanel panel{"drop, " + words.length_unit, {}, {}, {}, true};
  plots::Curve low{"low", {}, page::series_colour(2)};
  plots::Curve usual{"usual", {}, page::series_colour(0)};
  plots::Curve high{"high", {}, page::series_colour(1)};
  for (const auto& y : run.wear.years) {
    low.points.push_back({y.year, words.length_number(y.low)});
    usual.points.push_back({y.year, words.length_number(y.usual)});
    high.points.push_back({y.year, words.length_number(y.high)});
  }
  panel.curves = {low, usual, high};
  panel.limits.push_back({words.length_number(c.limits.drop.value), "limit of the drop"});
  plots::CurveChart chart{{"The drop over the years", c.door.name + "; wear of pins and bores"},
                          "years of use",
                          0.0,
                          {panel},
                          {}};
  figures::Figure figure{"wear", plots::curve_chart(chart, size), ""};
  figure.caption =
      fmt::format("Drop of the latch corner as pins and bores wear at {:.0f} swings a day, {}, for "
                  "a low, a usual "
                  "and a high wear coefficient: it is known to an order of magnitude at best.",
                  c.use.swings_per_day, c.use.greased ? "greased" : "dry");
  return figure;
}

} // namespace hangtrue::case_figures
