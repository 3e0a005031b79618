// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/cell_values.hpp"
#include "solver/strength/plate_checks.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::figures
{

namespace
{

const page::Colour not_taken = page::tone(0.80, 0.0, 0.0);

bool is_plate(mesh::Part part)
{
  return part == mesh::Part::inner_skin || part == mesh::Part::outer_skin ||
         part == mesh::Part::rim;
}

// Uses in per cent, of all plates, for the scale.
std::vector<double> shown_uses(const std::vector<double>& of_cell)
{
  std::vector<double> shown;
  for (const double use : of_cell)
    if (use >= 0.0)
      shown.push_back(100.0 * use);
  return shown;
}

// Every facet in the colour of its cell's use; other parts in plain colours.
scene::Layer use_layer(const scene::Surface& surface, const mesh::BodyMesh& body,
                       const std::vector<double>& of_cell, const scene::ColourScale& scale)
{
  scene::Layer layer = plain_layer(surface, body);
  layer.lit = false;
  for (std::size_t p = 0; p < surface.pieces.size(); ++p) {
    if (!is_plate(surface.part[p]))
      continue;
    const double use = of_cell[surface.cell[p]];
    layer.colours[p] = use >= 0.0 ? scene::band_colour(scale, 100.0 * use) : not_taken;
  }
  return layer;
}

// View direction of the worst point of the rim: the wall of the tube that it is in decides the
// side.
Vec3 towards_eye(const door::Door& door, const strength::PlateUtilisation& use)
{
  const Vec3& p = use.place;
  const double from_x = std::min(p.x, door.panel.width - p.x);
  const double from_z = std::min(p.z, door.panel.height - p.z);
  const double middle = door::rim_start(door) + 0.5 * door.rim.depth;
  const bool inner_wall = std::min(from_x, from_z) > 0.5 * door.rim.width;
  double x = p.x > 0.5 * door.panel.width ? 1.0 : -1.0;
  double z = p.z > 0.5 * door.panel.height ? 1.0 : -1.0;
  if (inner_wall)
    (from_x < from_z ? x : z) *= -1.0;
  const Vec3 e{0.5 * x, p.y > middle ? 1.0 : -1.0, 0.45 * z};
  return (1.0 / norm(e)) * e;
}

struct Sight {
  Vec3 right;
  Vec3 up;
  std::string words;
};

Sight rim_sight(const door::Door& door, const std::vector<strength::PlateUtilisation>& uses)
{
  const auto rim = std::find_if(uses.begin(), uses.end(), [](const strength::PlateUtilisation& u) {
    return u.plate == mesh::Part::rim;
  });
  const Vec3 eye = rim == uses.end() ? Vec3{0.0, -1.0, 0.0} : towards_eye(door, *rim);
  const Vec3 z{0.0, 0.0, 1.0};
  Vec3 up = z - dot(z, eye) * eye;
  up = (1.0 / norm(up)) * up;
  return {cross(up, eye), up,
          fmt::format("rim alone, from {}", eye.y < 0.0 ? "the fire side" : "the room side")};
}

// The point of the largest use of one plate with its text, inside the window.
void put_use(page::Page& page, const scene::Window& window,
             const std::vector<strength::PlateUtilisation>& uses, mesh::Part plate)
{
  for (const auto& use : uses) {
    if (use.plate != plate)
      continue;
    const page::PagePoint position = scene::on_page(window, use.place);
    page::circle(page, position, 1.6, {},
                 page::Stroke{page::Colour{1.0, 1.0, 1.0}, 1.0, page::Dash::solid});
    page::circle(page, position, 1.6, {}, page::Stroke{page::ink(), 0.5, page::Dash::solid});
    const std::string text =
        fmt::format("{} {:.0f} %", strength::plate_label(use.plate), 100.0 * use.utilisation);
    const double half = 0.5 * page::text_width(text, page::letters, true);
    const bool low = position.y > window.position.y + 0.5 * window.height;
    const page::PagePoint words{
        std::clamp(position.x, window.position.x + half, window.position.x + window.width - half),
        low ? position.y - 3.0 : position.y + 3.0 + page::letters};
    page.labels.push_back(
        {words, text, page::letters, page::TextAnchor::middle, true, 0.0, page::ink(), true});
  }
}

void put_rows(page::Page& page, page::PagePoint position,
              const std::vector<strength::PlateUtilisation>& uses, const UnitFormatter& words)
{
  std::vector<std::string> lines{"Largest use, of what stays elastic:"};
  for (const auto& u : uses)
    lines.push_back(fmt::format("   {}: {} of {} ({:.0f} %) at {}, {} from the hinge edge, {} up",
                                strength::plate_label(u.plate), words.stress(u.stress),
                                words.stress(u.proof), 100.0 * u.utilisation,
                                words.temperature(u.temperature), words.size(u.place.x),
                                words.size(u.place.z)));
  draw_text_lines(page, position, lines, 2.2);
}

std::string caption_of(const analysis::OpenDoorResult& d, const UnitFormatter& words)
{
  std::string text = fmt::format(
      "Stress of both skins and of the rim (von Mises) as a share of what stays elastic at the "
      "temperature of the place (k_p f_y, EN 1993-1-2 Table 3.1), {}. Every value is a mean over a "
      "piece of plate as wide as the rim, made linear through the plate, and the worse face "
      "counts: right at a weld corner elastic stress has no limit. None is taken where two walls "
      "of a tube meet (grey). Above 100 % some bow stays after cooling.",
      system::state_label(d.state));
  const auto worst = std::max_element(
      d.plates.begin(), d.plates.end(),
      [](const strength::PlateUtilisation& a, const strength::PlateUtilisation& b) {
        return a.utilisation < b.utilisation;
      });
  if (worst != d.plates.end())
    text += fmt::format(" Largest: {}, {} of {}, {:.0f} %.", strength::plate_label(worst->plate),
                        words.stress(worst->stress), words.stress(worst->proof),
                        100.0 * worst->utilisation);
  return text;
}

} // namespace

Figure stress_figure(const door::Door& door, const mesh::Mesh& mesh,
                     const analysis::OpenDoorResult& d, const UnitFormatter& words,
                     const FigureOptions& form)
{
  Figure figure;
  figure.name = "stress";
  page::Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const double top =
      plots::draw_heading(page, {"Stress of skins and rim, of what stays elastic when hot",
                                 fmt::format("{}, {}", door.name, system::state_label(d.state))}) +
      4.0;
  const scene::ColourScale scale =
      scene::colour_scale(shown_uses(d.plate_utilisation), 11, "%", 100.0);
  constexpr double key_wide = 27.0;
  const double rows = 1.75 * 2.2 * static_cast<double>(d.plates.size() + 1) + 4.0;
  const double each = (page.width - key_wide - 10.0) / 3.0;
  const double high = page.height - top - rows;
  const scene::Surface all = scene::surface_of(mesh.door, fe::is_steel);
  const scene::Surface rim = scene::surface_of(
      mesh.door, [](const mesh::Hex27& cell) { return cell.part == mesh::Part::rim; });
  const Vec3 up{0.0, 0.0, 1.0};
  scene::Window window{{4.0, top}, each, high, {}};
  const auto put_plate = [&](const scene::Surface& surface, const Sight& sight, mesh::Part plate) {
    const scene::Layer layer = use_layer(surface, mesh.door, d.plate_utilisation, scale);
    window = scene::fitted(window.position, each, high, sight.right, sight.up,
                           box_corners(layer.positions), 0.03);
    scene::draw_layers(page, window, {layer}, form.dots);
    put_use(page, window, d.plates, plate);
    const page::PagePoint middle{window.position.x + 0.5 * each, top - 0.8};
    page.labels.push_back(
        {middle, page::truncated(sight.words, each + 1.5, 2.2), 2.2, page::TextAnchor::middle});
    window.position.x += each + 1.5;
  };
  put_plate(all, {{1.0, 0.0, 0.0}, up, "fire side, hinges at the left"}, mesh::Part::inner_skin);
  put_plate(all, {{-1.0, 0.0, 0.0}, up, "room side, hinges at the right"}, mesh::Part::outer_skin);
  put_plate(rim, rim_sight(door, d.plates), mesh::Part::rim);
  const double key_left = page.width - key_wide + 1.0;
  const double key_high = high - 12.0;
  scene::draw_key(page, {key_left, top + 2.0}, key_high, scale, "of what stays elastic");
  page::box(page, {key_left, top + key_high + 4.0}, 5.0, 3.0, not_taken,
            page::Stroke{page::ink(), 0.18, page::Dash::solid});
  page.labels.push_back({{key_left + 6.8, top + key_high + 6.4},
                         "not taken",
                         page::small_letters,
                         page::TextAnchor::left});
  put_rows(page, {4.0, page.height - rows + 5.0}, d.plates, words);
  figure.caption = caption_of(d, words);
  return figure;
}

} // namespace hangtrue::figures
