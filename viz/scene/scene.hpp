// Facets in space drawn by parallel projection, and values on them as bands of colour.
#pragma once

#include "meshing/common/vec3.hpp"
#include "viz/page/page.hpp"
#include "viz/scene/surface_extraction.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// Values as bands with round ends, in the unit of the text.
struct ValueScale {
  double from = 0.0; ///< the least of data and limit
  double to = 1.0;   ///< the greatest of data and limit
  double step = 0.1; ///< of the bands
  int places = 1;    ///< decimals of the band ends
  bool two_sided = false;
  bool dark_low = false; ///< of a sequential scale: where low values are what counts
  double middle = 0.0;   ///< of a two-sided scale
  std::optional<double> limit;
  std::string unit;
};

/// Scale that just contains the values and the limit, in about `bands` bands.
ValueScale value_scale(const std::vector<double>& values, int bands, const std::string& unit,
                       std::optional<double> limit = {});

/// The same around `middle`, with equal reach to both sides.
ValueScale two_sided_scale(const std::vector<double>& values, int bands, const std::string& unit,
                           double middle, std::optional<double> limit = {});

/// Ends of the bands inside the scale, rising.
std::vector<double> band_ends(const ValueScale& scale);

/// Colour of the band of a value.
Colour band_colour(const ValueScale& scale, double value);

/// Draws the key, upright, with the least and greatest value, band ends and the limit.
void put_key(Page& page, Spot at, double height, const ValueScale& scale, const std::string& title);

/// A contour line through the facets.
struct LevelChain {
  double value = 0.0;
  std::vector<Vec3> at;
};
/// Chains on a surface whose points stand at `at`, m, with `values` at them.
std::vector<LevelChain> level_chains(const Surface& surface, const std::vector<Vec3>& at,
                                     const std::vector<double>& values,
                                     const std::vector<double>& levels);

/// Something to draw. `surface` must outlive the layer.
struct Layer {
  const Surface* surface = nullptr;
  std::vector<Vec3> at;        ///< m, one place per point
  std::vector<double> values;  ///< per point; empty for plain colours
  ValueScale scale;            ///< of the values
  std::vector<Colour> colours; ///< per facet where there are no values
  bool pieces = true;
  bool lit = true;    ///< shaded by the angle to the eye
  double line = 0.25; ///< mm, of the edges; 0 for none
  Colour line_colour = ink();
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
  Spot at; ///< upper left, mm
  double width = 100.0;
  double height = 100.0;
  View view;
};

/// Position of a point, m, on the page.
Spot on_page(const Window& window, const Vec3& place);

/// A view that shows all of the points with a border of the window's fraction `border`.
Window fitted(Spot at, double width, double height, const Vec3& right, const Vec3& up,
              const std::vector<Vec3>& places, double border);

/// Draws the layers into the window with `dots` per mm. Throws ComputeError when nothing can be
/// drawn. A Display must be ready.
void put_layers(Page& page, const Window& window, const std::vector<Layer>& layers, double dots);

/// Thin lines on the page along level chains; those at negative values are dashed, that at the
/// limit is heavy.
void put_chains(Page& page, const Window& window, const std::vector<LevelChain>& chains,
                const ValueScale& scale);

} // namespace hangtrue
