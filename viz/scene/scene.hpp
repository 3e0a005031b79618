// SPDX-License-Identifier: GPL-3.0-or-later
// Facets in space drawn by parallel projection, and values on them as bands of colour.
#pragma once

#include "meshing/common/vec3.hpp"
#include "viz/page/page.hpp"
#include "viz/scene/surface_extraction.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue::scene
{

/// Values as bands with round ends, in the unit of the text.
struct ColourScale {
  double from = 0.0;       ///< the least of data and limit
  double to = 1.0;         ///< the greatest of data and limit
  double step = 0.1;       ///< of the bands
  int point_positions = 1; ///< decimals of the band ends
  bool two_sided = false;
  bool dark_low = false; ///< of a sequential scale: where low values are what counts
  double middle = 0.0;   ///< of a two-sided scale
  std::optional<double> limit;
  std::string unit;
};

/// Scale that just contains the values and the limit, in about `bands` bands.
ColourScale colour_scale(const std::vector<double>& values, int bands, const std::string& unit,
                         std::optional<double> limit = {});

/// The same around `middle`, with equal reach to both sides.
ColourScale two_sided_scale(const std::vector<double>& values, int bands, const std::string& unit,
                            double middle, std::optional<double> limit = {});

/// Ends of the bands inside the scale, rising.
std::vector<double> band_ends(const ColourScale& scale);

/// Colour of the band of a value.
page::Colour band_colour(const ColourScale& scale, double value);

/// Draws the key, upright, with the least and greatest value, band ends and the limit.
void draw_key(page::Page& page, page::PagePoint position, double height, const ColourScale& scale,
              const std::string& title);

/// A contour line through the facets.
struct ContourLine {
  double value = 0.0;
  std::vector<Vec3> points;
};
/// Contour lines on a surface with points at `positions`, m, and `values` at them.
std::vector<ContourLine> contour_lines(const Surface& surface, const std::vector<Vec3>& positions,
                                       const std::vector<double>& values,
                                       const std::vector<double>& levels);

/// Something to draw. `surface` must outlive the layer.
struct Layer {
  const Surface* surface = nullptr;
  std::vector<Vec3> positions;       ///< m, one place per point
  std::vector<double> values;        ///< per point; empty for plain colours
  ColourScale scale;                 ///< of the values
  std::vector<page::Colour> colours; ///< per facet where there are no values
  bool pieces = true;
  bool lit = true;    ///< shaded by the angle to the eye
  double line = 0.25; ///< mm, of the edges; 0 for none
  page::Colour line_colour = page::ink();
};

/// View direction: `right` and `up` are orthogonal unit vectors.
struct View {
  Vec3 right{1.0, 0.0, 0.0};
  Vec3 up{0.0, 0.0, 1.0};
  Vec3 centre;       ///< m, in the middle of the picture
  double span = 1.0; ///< m that the picture's width shows
};

/// A rectangle of the page that shows a view.
struct Window {
  page::PagePoint position; ///< upper left, mm
  double width = 100.0;
  double height = 100.0;
  View view;
};

/// Position of a point, m, on the page.
page::PagePoint on_page(const Window& window, const Vec3& place);

/// A view that shows all of the points with a border of the window's fraction `border`.
Window fitted(page::PagePoint position, double width, double height, const Vec3& right,
              const Vec3& up, const std::vector<Vec3>& places, double border);

/// Draws the layers into the window with `dots` per mm. Throws ComputeError when nothing can be
/// drawn. A Display must be ready.
void draw_layers(page::Page& page, const Window& window, const std::vector<Layer>& layers,
                 double dots);

/// Thin lines on the page along contour lines; those at negative values are dashed, that at the
/// limit is heavy.
void draw_contours(page::Page& page, const Window& window, const std::vector<ContourLine>& chains,
                   const ColourScale& scale);

} // namespace hangtrue::scene
