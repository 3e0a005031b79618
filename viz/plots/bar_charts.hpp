// SPDX-License-Identifier: GPL-3.0-or-later
// Charts from plain numbers, in the units of their labels: bars of use, stacked parts, curves.
#pragma once

#include "viz/page/page.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue::plots
{

/// Size of a figure on paper, mm.
struct FigureSize {
  double width = 180.0;
  double height = 120.0;
};

/// The heading of a figure.
struct Heading {
  std::string title;
  std::string below; ///< second line, smaller; may be empty
};

/// Writes the heading and returns the height, mm, at which the figure may begin.
double draw_heading(page::Page& page, const Heading& heading);

/// A scale with round steps (1, 2 or 5 times a power of ten) that contains both ends.
struct Scale {
  double from = 0.0;
  double to = 1.0;
  double step = 0.2;
  int places = 1; ///< decimals that its numbers need
};
/// A scale from `minimum` to `greatest` with at most `most_steps` steps.
Scale round_scale(double minimum, double greatest, int max_steps);

/// "0.2", with the decimals of the scale and a true minus sign.
std::string scale_number(const Scale& scale, double value);

/// How much of one limit is used.
struct UtilisationBar {
  std::string name;
  std::string where;        ///< state
  std::string found;        ///< in words: "0.031 in of 0.063 in"
  double utilisation = 0.0; ///< found / limit
  double error = 0.0;       ///< of the use
  std::string verdict;
  int rank = 0; ///< 0 holds, 1 close, 2 fails
};

/// Bars of use, the largest on top, with the line of the limit; only as many as fit, and how many
/// were left out is said.
page::Page utilisation_chart(const Heading& heading, std::vector<UtilisationBar> bars,
                             const FigureSize& size);

/// One row of parts that add up.
struct StackedBar {
  std::string name;
  std::vector<double> parts;
  std::string total;   ///< in words, at the end of the bar
  std::string verdict; ///< in words below the total, with its colour; or empty
  int rank = 0;        ///< of the verdict: 0 holds, 1 close, 2 fails
};
/// Bars of parts that add up, one below the other.
struct StackedChart {
  Heading heading;
  std::string axis;               ///< "drop, in"
  std::vector<std::string> parts; ///< names, for the key
  std::vector<StackedBar> bars;
  std::optional<double> limit;
  std::string limit_words;
};

/// Stacked horizontal bars; parts below zero are to the left of zero.
page::Page stacked_chart(const StackedChart& chart, const FigureSize& size);

/// A curve, in the units of the axes.
struct Curve {
  std::string name;
  std::vector<page::PagePoint> points;
  page::Colour colour = page::series_colour(0);
  page::Dash dash = page::Dash::solid;
  bool dots = false; ///< every point is marked: straight lines between them
};
/// A straight line across a panel at one value.
struct ReferenceLine {
  double value = 0.0;
  std::string words;
};
/// A marked point of a panel with its label.
struct CurveMark {
  page::PagePoint position;
  std::string words;
};
/// Curves with one upright axis.
struct ChartPanel {
  std::string axis;
  std::vector<Curve> curves;
  std::vector<ReferenceLine> limits; ///< drawn heavy, always within the scale
  std::vector<CurveMark> marks;
  bool from_zero = false; ///< whether the scale must contain zero
};
/// Panels one below the other over one level axis.
struct CurveChart {
  Heading heading;
  std::string axis;
  double step = 0.0; ///< whole steps of the level axis where round ones do not suit (minutes)
  std::vector<ChartPanel> panes;
  std::vector<ReferenceLine> dividers; ///< upright lines over all panels: corners, instants
};
/// The page of such a chart.
page::Page curve_chart(const CurveChart& chart, const FigureSize& size);

/// Scale of one panel: what it draws and its limits.
Scale panel_scale(const ChartPanel& panel);

} // namespace hangtrue::plots
