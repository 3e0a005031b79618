#include "solver/cell_shapes.hpp"
#include "solver/steel.hpp"
#include "viz/figure_pieces.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace hangtrue
{

namespace
{

// k_p f_y at every point of the surface, in the user's unit. Steels with one table have one value
// at one temperature, so each whole degree is looked up once.
std::vector<double> proof_at(const Door& door, const std::vector<double>& temperatures,
                             const FigureWords& words)
{
  std::map<int, double> known;
  std::vector<double> proof;
  for (const double t : temperatures) {
    const int degree = static_cast<int>(t);
    const auto [found, fresh] = known.try_emplace(degree, 0.0);
    if (fresh)
      found->second =
          words.stress_number(door.steel.yield * reduction(door.steel, degree).proportional);
    proof.push_back(found->second);
  }
  return proof;
}

// Places of the largest use; the rim lies behind the skin, which a ring of dashes tells. Words that
// would lie on others go farther away.
void put_uses(Page& page, const Window& window, const std::vector<PlateUse>& uses)
{
  std::vector<Spot> written;
  for (const auto& use : uses) {
    const Spot at = on_page(window, use.place);
    const bool hidden = use.plate == "rim";
    circle(page, at, hidden ? 2.2 : 1.4, hidden ? std::optional<Colour>() : Colour{1.0, 1.0, 1.0},
           Stroke{ink(), 0.5, hidden ? Dash::dashed : Dash::solid});
    const std::string text = fmt::format("{} {:.0f} %", use.plate, 100.0 * use.use);
    const double half = 0.5 * text_width(text, letters, true);
    const bool low = at.y > window.at.y + 0.5 * window.height;
    Spot words{std::clamp(at.x, window.at.x + half, window.at.x + window.width - half),
               low ? at.y - 3.5 : at.y + 3.5 + letters};
    for (const auto& w : written)
      if (std::abs(w.x - words.x) < 2.0 * half && std::abs(w.y - words.y) < 1.7 * letters)
        words.y += low ? -1.8 * letters : 1.8 * letters;
    written.push_back(words);
    page.words.push_back({words, text, letters, Side::middle, true, 0.0, ink(), true});
  }
}

void put_rows(Page& page, Spot at, const std::vector<PlateUse>& uses, const FigureWords& words)
{
  std::vector<std::string> lines{"Largest use, of what stays elastic:"};
  for (const auto& u : uses)
    lines.push_back(fmt::format("   {}: {} of {} ({:.0f} %) at {}, {} from the hinge edge, {} up",
                                u.plate, words.stress(u.stress), words.stress(u.proof),
                                100.0 * u.use, words.temperature(u.temperature),
                                words.size(u.place.x), words.size(u.place.z)));
  put_lines(page, at, lines, 2.2);
}

} // namespace

Figure stress_figure(const Door& door, const Mesh& mesh, const Deflection& d,
                     const std::vector<double>& at, const FigureWords& words,
                     const FigureForm& form)
{
  Figure figure;
  figure.name = "stress";
  Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const double top = put_heading(page, {"Stress of skins and rim against what they bear when hot",
                                        fmt::format("{}, {}", door.name, d.state)}) +
                     4.0;
  const Surface all = surface_of(mesh.door, is_steel);
  const std::vector<double> values = proof_at(door, values_at(all, at), words);
  ValueScale scale = value_scale(values, 8, words.stress_unit);
  scale.dark_low = true; // weak steel is what counts
  constexpr double key_wide = 34.0;
  const double rows = 1.75 * 2.2 * static_cast<double>(d.plates.size() + 1) + 4.0;
  const double each = 0.5 * (page.width - key_wide - 10.0);
  const double high = page.height - top - rows;
  const std::vector<Vec3> where = places(all, mesh.door);
  const auto corners = box_corners(where);
  const Vec3 up{0.0, 0.0, 1.0};
  const Window inside = fitted({4.0, top}, each, high, {1.0, 0.0, 0.0}, up, corners, 0.03);
  const Window outside = fitted({6.0 + each, top}, each, high, {-1.0, 0.0, 0.0}, up, corners, 0.03);
  Layer layer;
  layer.surface = &all;
  layer.at = where;
  layer.values = values;
  layer.scale = scale;
  layer.lit = false;
  for (const auto* window : {&inside, &outside})
    put_layers(page, *window, {layer}, form.dots);
  std::vector<PlateUse> seen_outside;
  std::vector<PlateUse> seen_inside;
  for (const auto& use : d.plates)
    (use.plate == "outer skin" ? seen_outside : seen_inside).push_back(use);
  put_uses(page, inside, seen_inside);
  put_uses(page, outside, seen_outside);
  page.words.push_back(
      {{4.0 + 0.5 * each, top - 0.8}, "fire side, hinges at the left", letters, Side::middle});
  page.words.push_back(
      {{6.0 + 1.5 * each, top - 0.8}, "room side, hinges at the right", letters, Side::middle});
  put_key(page, {page.width - key_wide + 3.0, top + 2.0}, high - 4.0, scale, "stays elastic up to");
  put_rows(page, {4.0, page.height - rows + 5.0}, d.plates, words);
  const auto worst =
      std::max_element(d.plates.begin(), d.plates.end(),
                       [](const PlateUse& a, const PlateUse& b) { return a.use < b.use; });
  figure.caption = fmt::format("What the steel bears elastically at its temperature, {} (k_p f_y, "
                               "EN 1993-1-2 Table 3.1), and "
                               "where skins and rim use most of it; the rim lies behind the skin. "
                               "Above 100 % some bow stays "
                               "after cooling.{}",
                               d.state,
                               worst == d.plates.end()
                                   ? std::string()
                                   : fmt::format(" Largest: {}, {} of {}, {:.0f} %.", worst->plate,
                                                 words.stress(worst->stress),
                                                 words.stress(worst->proof), 100.0 * worst->use));
  return figure;
}

} // namespace hangtrue
