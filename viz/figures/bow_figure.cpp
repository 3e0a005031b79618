#include "solver/fe/shape_functions.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue
{

namespace
{

// Height of the outer face over the plane that fits its four corners best, m, per point.
std::vector<double> off_plane(const Door& door, const Surface& face, const BodyMesh& body,
                              const std::vector<Vec3>& moves)
{
  const std::vector<Vec3> at = places(face, body);
  const std::vector<Vec3> moved = places(face, body, &moves, 1.0);
  const double w = door.panel.width;
  const double h = door.panel.height;
  double mean = 0.0;
  double across = 0.0;
  double along = 0.0;
  for (const double x : {0.0, w})
    for (const double z : {0.0, h}) {
      int nearest = face.pieces.front().front();
      auto away = [&](int n) { return std::hypot(at[n].x - x, at[n].z - z); };
      for (const auto& piece : face.pieces)
        for (const int n : piece)
          if (away(n) < away(nearest))
            nearest = n;
      const double y = moved[nearest].y - at[nearest].y;
      mean += 0.25 * y;
      across += (x > 0.0 ? 0.5 : -0.5) * y / w;
      along += (z > 0.0 ? 0.5 : -0.5) * y / h;
    }
  std::vector<double> off;
  for (std::size_t n = 0; n < at.size(); ++n)
    off.push_back(moved[n].y - at[n].y - mean - across * (at[n].x - 0.5 * w) -
                  along * (at[n].z - 0.5 * h));
  return off;
}

void put_straightedges(Page& page, const Window& window, const Door& door, const BowReadings& bow,
                       const FigureWords& words)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  const auto at = [&](double x, double z) { return on_page(window, {x, 0.0, z}); };
  const Stroke edge{tone(0.35, 0.05, 230.0), 0.35, Dash::chain};
  struct Reading {
    Spot from;
    Spot to;
    double share; // position of the text on the line
    std::string words;
  };
  const std::array<Reading, 3> readings{
      {{at(0.0, 0.5 * h), at(w, 0.5 * h), 0.78, "across " + words.length(bow.outer_across)},
       {at(0.5 * w, 0.0), at(0.5 * w, h), 0.14, "along " + words.length(bow.outer_along)},
       {at(0.0, 0.0), at(w, h), 0.74, "diagonal " + words.length(bow.outer_diagonal)}}};
  for (const auto& r : readings) {
    line(page, r.from, r.to, edge);
    const double half = 0.5 * text_width(r.words, letters, true) + 1.0;
    const double x = r.from.x + r.share * (r.to.x - r.from.x);
    const double left = std::min(at(0.0, 0.0).x, at(w, 0.0).x) + half;
    const double right = std::max(at(0.0, 0.0).x, at(w, 0.0).x) - half;
    const Spot middle{std::clamp(x, std::min(left, right), std::max(left, right)),
                      r.from.y + r.share * (r.to.y - r.from.y) - 1.2};
    page.words.push_back({middle, r.words, letters, Side::middle, true, 0.0, ink(), true});
  }
}

} // namespace

Figure bow_figure(const Door& door, const Mesh& mesh, const Deflection& d, const FigureWords& words,
                  const FigureForm& form)
{
  Figure figure;
  figure.name = "bow";
  Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const double top =
      put_heading(page, {"The bow, as a straightedge reads it on the outer skin",
                         fmt::format("{}, {}; + stands outwards, \u2212 towards the fire",
                                     door.name, state_label(d.state))});
  const Surface all = surface_of(mesh.door, is_steel);
  const Surface face = bare_face(door, all, mesh.door);
  std::vector<double> values = off_plane(door, face, mesh.door, d.door_move);
  std::vector<double> shown; // of the face alone, for the scale
  for (auto& v : values)
    v = words.length_number(v);
  for (const auto& piece : face.pieces)
    for (const int n : piece)
      shown.push_back(values[n]);
  const ValueScale scale = two_sided_scale(shown, 10, words.length_unit, 0.0);
  Layer layer;
  layer.surface = &face;
  layer.at = places(face, mesh.door);
  layer.values = values;
  layer.scale = scale;
  layer.lit = false;
  layer.line = 0.0;
  const double wide = 0.60 * page.width;
  const Window window = fitted({4.0, top}, wide, page.height - top - 2.0, {-1.0, 0.0, 0.0},
                               {0.0, 0.0, 1.0}, places(all, mesh.door), 0.03);
  Layer hinges = plain_layer(all, mesh.door); // leaves are in front of the face, edges all round
  put_layers(page, window, {hinges, layer}, form.dots);
  std::vector<double> levels = band_ends(scale);
  put_chains(page, window, level_chains(face, layer.at, values, levels), scale);
  put_straightedges(page, window, door, d.bow, words);
  const double x = wide + 10.0;
  put_key(page, {x, top + 3.0}, 0.55 * (page.height - top), scale, "off the plane of the corners");
  const BowReadings& b = d.bow;
  const double lines_top = top + 0.55 * (page.height - top) + 8.0;
  put_lines(page, {x, lines_top},
            {"Inner skin", "   across " + words.length(b.inner_across),
             "   along " + words.length(b.inner_along),
             "   diagonal " + words.length(b.inner_diagonal),
             "Middle against corners " + words.length(std::abs(b.outer_corners)),
             "   by hand " + words.length(d.warmth.hand_bow),
             "Grown in width " + words.length(b.width_growth),
             "   in height " + words.length(b.height_growth)},
            small_letters);
  figure.caption = fmt::format(
      "How the outer skin stands off the plane of its corners, {}: level lines every {:g} {}, "
      "dashed towards the fire. A straightedge laid across reads {}, along the hinge axis {}, from "
      "corner to corner {}. Two-skin formula by hand: {}.",
      state_label(d.state), scale.step, words.length_unit, words.length(b.outer_across),
      words.length(b.outer_along), words.length(b.outer_diagonal), words.length(d.warmth.hand_bow));
  return figure;
}

} // namespace hangtrue
