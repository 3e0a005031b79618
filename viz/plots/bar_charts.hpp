// Charts from plain numbers, in the units of their labels: bars of use, stacked parts, curves.
#pragma once

#include "viz/page/page.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue
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
double put_heading(Page& page, const Heading& heading);

/// A scale with round steps (1, 2 or 5 times a power of ten) that contains both ends.
struct Scale {
  double from = 0.0;
  double to = 1.0;
  double step = 0.2;
  int places = 1; ///< decimals that its numbers need
};
/// A scale from `least` to `greatest` with at most `most_steps` steps.
Scale round_scale(double least, double greatest, int most_steps);

/// "0.2", with the decimals of the scale and a true minus sign.
std::string scale_number(const Scale& scale, double value);

/// How much of one limit is used.
struct UseBar {
  std::string name;
  std::string where;  ///< state
  std::string found;  ///< in words: "0.031 in of 0.063 in"
  double use = 0.0;   ///< found / limit
  double error = 0.0; ///< of the use
  std::string verdict;
  int rank = 0; ///< 0 holds, 1 close, 2 fails
};

/// Bars of use, the largest on top, with the line of the limit; only as many as fit, and how many
/// were left out is said.
Page use_chart(const Heading& heading, std::vector<UseBar> bars, const FigureSize& size);

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
Page stacked_chart(const StackedChart& chart, const FigureSize& size);

/// A curve, in the units of the axes.
struct Curve {
  std::string name;
  std::vector<Spot> points;
  Colour colour = series_colour(0);
  Dash dash = Dash::solid;
  bool dots = false; ///< every point is marked: straight lines between them
};
/// A straight line across a panel at one value.
struct LevelLine {
  double value = 0.0;
  std::string words;
};
/// A marked point of a panel with its label.
struct CurveMark {
  Spot at;
  std::string words;
};
/// Curves with one upright axis.
struct Pane {
  std::string axis;
  std::vector<Curve> curves;
  std::vector<LevelLine> limits; ///< drawn heavy, always within the scale
  std::vector<CurveMark> marks;
  bool from_zero = false; ///< whether the scale must contain zero
};
/// Panels one below the other over one level axis.
struct CurveChart {
  Heading heading;
  std::string axis;
  double step = 0.0; ///< whole steps of the level axis where round ones do not suit (minutes)
  std::vector<Pane> panes;
  std::vector<LevelLine> dividers; ///< upright lines over all panels: corners, instants
};
/// The page of such a chart.
Page curve_chart(const CurveChart& chart, const FigureSize& size);

/// Scale of one panel: what it draws and its limits.
Scale pane_scale(const Pane& panel);

} // namespace hangtrue
