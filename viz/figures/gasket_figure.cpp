// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/fe/cell_values.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::figures
{

namespace
{

constexpr double ribbon = 3.0; // mm wide on paper

// Each length of gasket as a length of ribbon, from half-way before to half-way after.
void put_ribbon(page::Page& page, const scene::Window& window,
                const std::vector<contact::GasketPoint>& line, const std::vector<double>& values,
                const scene::ColourScale& scale)
{
  const std::size_t n = line.size();
  for (std::size_t i = 0; i < n; ++i) {
    const page::PagePoint here = scene::on_page(window, line[i].place);
    const page::PagePoint before = scene::on_page(window, line[(i + n - 1) % n].place);
    const page::PagePoint after = scene::on_page(window, line[(i + 1) % n].place);
    page::PathShape piece;
    piece.spots = {{0.5 * (before.x + here.x), 0.5 * (before.y + here.y)},
                   here,
                   {0.5 * (here.x + after.x), 0.5 * (here.y + after.y)}};
    piece.stroke = page::Stroke{scene::band_colour(scale, values[i]), ribbon, page::Dash::solid};
    page.shapes.push_back(piece);
  }
}

void put_latches(page::Page& page, const scene::Window& window,
                 const analysis::ClosedDoorResult& closed, const UnitFormatter& words)
{
  for (const auto& latch : closed.latches) {
    const page::PagePoint position = scene::on_page(window, latch.place);
    page::box(page, {position.x - 1.5, position.y - 1.5}, 3.0, 3.0, page::loads(),
              page::Stroke{page::ink(), 0.25, page::Dash::solid});
    const bool right = position.x < window.position.x + 0.5 * window.width;
    page.labels.push_back(
        {{right ? position.x + 4.5 : position.x - 4.5, position.y + 0.5 * page::letters},
         "latch " + words.force(latch.force),
         page::letters,
         right ? page::TextAnchor::left : page::TextAnchor::right,
         false,
         0.0,
         page::loads(),
         true});
  }
}

} // namespace

Figure gasket_figure(const door::Door& door, const mesh::Mesh& mesh,
                     const analysis::ClosedDoorResult& closed, const UnitFormatter& words,
                     const FigureOptions& form)
{
  Figure figure;
  figure.name = "gasket-ribbon";
  page::Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const double top =
      plots::draw_heading(page, {"Squeeze of the gasket on the door",
                                 fmt::format("{}, {}; seen from the fire, hinges at the left",
                                             door.name, system::state_label(closed.state))});
  std::vector<double> values;
  for (const auto& at : closed.gasket)
    values.push_back(words.length_number(at.squeeze));
  const double sealing = words.length_number(contact::sealing_squeeze(door.gasket));
  const scene::ColourScale scale =
      scene::two_sided_scale(values, 10, words.length_unit, sealing, sealing);
  const scene::Surface all = scene::surface_of(mesh.door, fe::is_steel);
  scene::Layer layer = plain_layer(all, mesh.door);
  const scene::Window window =
      scene::fitted({4.0, top}, 0.66 * page.width, page.height - top - 3.0, {1.0, 0.0, 0.0},
                    {0.0, 0.0, 1.0}, layer.positions, 0.03);
  scene::draw_layers(page, window, {layer}, form.dots);
  put_ribbon(page, window, closed.gasket, values, scale);
  put_latches(page, window, closed, words);
  for (const auto& stop : closed.stops)
    page::circle(page, scene::on_page(window, stop), 1.2, {},
                 page::Stroke{page::ink(), 0.5, page::Dash::solid});
  const double x = 0.66 * page.width + 12.0;
  scene::draw_key(page, {x, top + 3.0}, 0.6 * (page.height - top), scale, "squeeze, limit: seals");
  draw_text_lines(page, {x, top + 0.6 * (page.height - top) + 10.0},
                  {fmt::format("{:.0f} % of the line seals",
                               100.0 * (1.0 - closed.gasket_summary.below_sealing)),
                   "open over " + words.size(closed.gasket_summary.open_length),
                   "largest gap " + words.length(closed.gasket_summary.largest_gap),
                   "gasket presses " + words.force(closed.gasket_summary.total)},
                  page::small_letters);
  figure.caption = fmt::format(
      "Squeeze of the gasket round the door, {}, the closed state in which it presses least: "
      "colours "
      "part at the squeeze that just seals, {}. Squares: latches with their force; rings: steel on "
      "steel. {:.0f} % of the line is below sealing.",
      system::state_label(closed.state), words.length(contact::sealing_squeeze(door.gasket)),
      100.0 * closed.gasket_summary.below_sealing);
  return figure;
}

} // namespace hangtrue::figures
