#include "solver/fe/shape_functions.hpp"
#include "solver/heat/thermal_state.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

struct Hottest {
  Vec3 place;
  double value = -1e300;
};

Hottest hottest_of(const Surface& face, const std::vector<Vec3>& at,
                   const std::vector<double>& values)
{
  Hottest hottest;
  for (const auto& piece : face.pieces)
    for (const int n : piece)
      if (values[n] > hottest.value)
        hottest = {at[n], values[n]};
  return hottest;
}

Layer value_layer(const Surface& surface, const std::vector<Vec3>& at,
                  const std::vector<double>& values, const ValueScale& scale)
{
  Layer layer;
  layer.surface = &surface;
  layer.at = at;
  layer.values = values;
  layer.scale = scale;
  layer.lit = false;
  return layer;
}

void put_value_mark(Page& page, Spot at, const std::string& text, double right_end)
{
  circle(page, at, 0.9, Colour{1.0, 1.0, 1.0}, Stroke{ink(), 0.35, Dash::solid});
  const bool right = at.x + 2.0 + text_width(text, letters) < right_end;
  page.words.push_back({{right ? at.x + 1.8 : at.x - 1.8, at.y - 1.4},
                        text,
                        letters,
                        right ? Side::left : Side::right,
                        true,
                        0.0,
                        ink(),
                        true});
}

// The door from one of its sides with contour lines on its skin, `face`; the limit counts for the
// room side only.
void put_skin(Page& page, const Window& window, const Surface& all, const Surface& face,
              const BodyMesh& body, const std::vector<double>& values, const ValueScale& scale,
              bool limited, const FigureForm& form, const FigureWords& words)
{
  const std::vector<Vec3> at = places(all, body);
  put_layers(page, window, {value_layer(all, at, values, scale)}, form.dots);
  std::vector<double> levels = band_ends(scale);
  if (limited && scale.limit)
    levels.push_back(*scale.limit);
  put_chains(page, window, level_chains(face, at, values, levels), scale);
  const Hottest most = hottest_of(face, at, values);
  put_value_mark(page, on_page(window, most.place),
                 fmt::format("{:.0f} {}", most.value, words.temperature_unit),
                 window.at.x + window.width);
}

// A cut square to the hinge axis through the rim of the latch edge, where nothing but the rim
// bridges the insulation.
void put_cut(Page& page, Spot at, double width, double height, const Door& door, const Mesh& mesh,
             const std::vector<double>& nodes, const ValueScale& scale, const FigureForm& form)
{
  const double d = depth(door);
  const double mm = height / (1.25 * d);
  const double length = std::min(width / mm / 1.04, door.panel.width);
  const Vec3 middle{door.panel.width - 0.5 * length, 0.5 * d, 0.5 * door.panel.height};
  const auto wanted = [&](const Hex& cell) {
    return std::any_of(cell.node.begin(), cell.node.end(),
                       [&](int n) { return mesh.door.nodes[n].x >= door.panel.width - length; });
  };
  const Surface cut = cut_of(mesh.door, wanted, middle, {0.0, 0.0, 1.0});
  Window window{at, width, height, {{-1.0, 0.0, 0.0}, {0.0, -1.0, 0.0}, middle, width / mm}};
  const std::vector<Vec3> where = places(cut, mesh.door);
  const std::vector<double> values = values_at(cut, nodes);
  put_layers(page, window, {value_layer(cut, where, values, scale)}, form.dots);
  put_chains(page, window, level_chains(cut, where, values, band_ends(scale)), scale);
}

} // namespace

Figure temperature_figure(const Door& door, const Mesh& mesh, const Deflection& d,
                          const std::vector<double>& at, std::optional<double> touch,
                          const FigureWords& words, const FigureForm& form)
{
  Figure figure;
  figure.name = "temperature";
  Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const Warmth& warmth = d.warmth;
  const double top =
      put_heading(page,
                  {"Temperatures", fmt::format("{}, {}; gas {}", door.name, state_label(d.state),
                                               words.temperature(warmth.gas))}) +
      4.0;
  std::vector<double> nodes;
  for (const double t : at)
    nodes.push_back(words.temperature_number(t));
  const Surface all = surface_of(mesh.door, is_steel);
  const std::vector<double> values = values_at(all, nodes);
  std::optional<double> limit;
  if (touch)
    limit = words.temperature_number(*touch);
  const ValueScale scale = value_scale(values, 14, words.temperature_unit, limit);

  constexpr double key_wide = 34.0;
  const double each = 0.5 * (page.width - key_wide - 10.0);
  const double cut_high = 0.24 * (page.height - top);
  const double skin_high = page.height - top - cut_high - 12.0;
  const Vec3 up{0.0, 0.0, 1.0};
  const std::vector<Vec3> corners = box_corners(places(all, mesh.door));
  const Window inside = fitted({4.0, top}, each, skin_high, {1.0, 0.0, 0.0}, up, corners, 0.03);
  const Window outside =
      fitted({6.0 + each, top}, each, skin_high, {-1.0, 0.0, 0.0}, up, corners, 0.03);
  put_skin(page, inside, all, face_at(all, mesh.door, 0.0), mesh.door, values, scale, false, form,
           words);
  put_skin(page, outside, all, bare_face(door, all, mesh.door), mesh.door, values, scale, true,
           form, words);
  put_value_mark(page, on_page(outside, {0.5 * door.panel.width, 0.0, 0.5 * door.panel.height}),
                 words.temperature(warmth.outside_middle), outside.at.x + outside.width);
  for (const auto& [window, text] : {std::pair{inside, "fire side, hinges at the left"},
                                     std::pair{outside, "room side, hinges at the right"}})
    page.words.push_back(
        {{window.at.x + 0.5 * window.width, top - 0.8}, text, letters, Side::middle});

  const double cut_top = top + skin_high + 5.0;
  put_cut(page, {4.0, cut_top}, 2.0 * each + 2.0, cut_high, door, mesh, nodes, scale, form);
  page.words.push_back({{4.0 + each, cut_top - 1.0},
                        "cut across at mid height, latch edge at the left: fire above, room below",
                        letters,
                        Side::middle});
  page.words.push_back(
      {{4.0 + each, page.height - 2.0},
       "the rim tube carries heat past the insulation; outside it is hottest over the rim",
       letters,
       Side::middle});
  put_key(page, {page.width - key_wide + 3.0, top + 2.0}, page.height - top - 8.0, scale,
          limit ? "temperature, limit outside" : "temperature");
  figure.caption = fmt::format(
      "Temperatures, {} (gas {}): the skin on the fire side, the skin on the room side, and a cut "
      "through the rim of the latch edge at mid height. Outside {} in the middle and {} at most. "
      "Thin lines are where the colour changes{}.",
      state_label(d.state), words.temperature(warmth.gas), words.temperature(warmth.outside_middle),
      words.temperature(warmth.outside_hottest),
      limit ? ", a heavy line on the room side is the limit there" : "");
  return figure;
}

} // namespace hangtrue
