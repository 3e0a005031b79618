#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/fe/shape_functions.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

constexpr double ribbon = 3.0; // mm wide on paper

// Each length of gasket as a length of ribbon, from half-way before to half-way after.
void put_ribbon(Page& page, const Window& window, const std::vector<GasketAt>& line,
                const std::vector<double>& values, const ValueScale& scale)
{
  const std::size_t n = line.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Spot here = on_page(window, line[i].place);
    const Spot before = on_page(window, line[(i + n - 1) % n].place);
    const Spot after = on_page(window, line[(i + 1) % n].place);
    Shape piece;
    piece.spots = {{0.5 * (before.x + here.x), 0.5 * (before.y + here.y)},
                   here,
                   {0.5 * (here.x + after.x), 0.5 * (here.y + after.y)}};
    piece.stroke = Stroke{band_colour(scale, values[i]), ribbon, Dash::solid};
    page.shapes.push_back(piece);
  }
}

void put_latches(Page& page, const Window& window, const ClosedDoor& closed,
                 const FigureWords& words)
{
  for (const auto& latch : closed.latches) {
    const Spot at = on_page(window, latch.place);
    box(page, {at.x - 1.5, at.y - 1.5}, 3.0, 3.0, loads(), Stroke{ink(), 0.25, Dash::solid});
    const bool right = at.x < window.at.x + 0.5 * window.width;
    page.words.push_back({{right ? at.x + 4.5 : at.x - 4.5, at.y + 0.5 * letters},
                          "latch " + words.force(latch.force),
                          letters,
                          right ? Side::left : Side::right,
                          false,
                          0.0,
                          loads(),
                          true});
  }
}

} // namespace

Figure gasket_figure(const Door& door, const Mesh& mesh, const ClosedDoor& closed,
                     const FigureWords& words, const FigureForm& form)
{
  Figure figure;
  figure.name = "gasket-ribbon";
  Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const double top =
      put_heading(page, {"Squeeze of the gasket on the door",
                         fmt::format("{}, {}; seen from the fire, hinges at the left", door.name,
                                     state_label(closed.state))});
  std::vector<double> values;
  for (const auto& at : closed.gasket)
    values.push_back(words.length_number(at.squeeze));
  const double sealing = words.length_number(sealing_squeeze(door.gasket));
  const ValueScale scale = two_sided_scale(values, 10, words.length_unit, sealing, sealing);
  const Surface all = surface_of(mesh.door, is_steel);
  Layer layer = plain_layer(all, mesh.door);
  const Window window = fitted({4.0, top}, 0.66 * page.width, page.height - top - 3.0,
                               {1.0, 0.0, 0.0}, {0.0, 0.0, 1.0}, layer.at, 0.03);
  put_layers(page, window, {layer}, form.dots);
  put_ribbon(page, window, closed.gasket, values, scale);
  put_latches(page, window, closed, words);
  for (const auto& stop : closed.stops)
    circle(page, on_page(window, stop), 1.2, {}, Stroke{ink(), 0.5, Dash::solid});
  const double x = 0.66 * page.width + 12.0;
  put_key(page, {x, top + 3.0}, 0.6 * (page.height - top), scale, "squeeze, limit: seals");
  put_lines(page, {x, top + 0.6 * (page.height - top) + 10.0},
            {fmt::format("{:.0f} % of the line seals", 100.0 * (1.0 - closed.sum.below_sealing)),
             "open over " + words.size(closed.sum.open_length),
             "largest gap " + words.length(closed.sum.largest_gap),
             "gasket presses " + words.force(closed.sum.total)},
            small_letters);
  figure.caption = fmt::format(
      "Squeeze of the gasket round the door, {}, the closed state in which it presses least: "
      "colours "
      "part at the squeeze that just seals, {}. Squares: latches with their force; rings: steel on "
      "steel. {:.0f} % of the line is below sealing.",
      state_label(closed.state), words.length(sealing_squeeze(door.gasket)),
      100.0 * closed.sum.below_sealing);
  return figure;
}

} // namespace hangtrue
