// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/fe/cell_values.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::figures
{

namespace
{

// The latch corner that drops more, and its nominal position.
struct Corner {
  Vec3 place;
  Vec3 move;
};

Corner dropped_corner(const door::Door& door, const analysis::OpenDoorResult& d, const Vec3& down)
{
  Corner found;
  bool any = false;
  for (const auto& c : d.corners) {
    const bool latch =
        c.corner == qoi::DoorCorner::lower_latch || c.corner == qoi::DoorCorner::upper_latch;
    if (!latch || (any && dot(c.move, down) <= dot(found.move, down)))
      continue;
    const double z = c.corner == qoi::DoorCorner::upper_latch ? door.panel.height : 0.0;
    found = {{door.panel.width, door::depth(door), z}, c.move};
    any = true;
  }
  return found;
}

double drawn_factor(const door::Door& door, const analysis::OpenDoorResult& d)
{
  double greatest = 1e-9;
  for (const auto& c : d.corners)
    greatest = std::max(greatest, norm(c.move));
  return round_factor(std::max(door.panel.width, door.panel.height) / 14.0 / greatest);
}

// Dimension of the drop beside the corner, in the plane of the picture, on the side away from the
// door: -1 at the left, 1 at the right.
void dimension_drop(page::Page& page, const scene::Window& window, const Corner& corner,
                    double factor, const Vec3& down, double side, const std::string& text)
{
  const Vec3 moved = corner.place + factor * corner.move;
  const page::PagePoint from = scene::on_page(window, corner.place);
  const page::PagePoint lowest =
      scene::on_page(window, corner.place + dot(moved - corner.place, down) * down);
  const page::PagePoint to = scene::on_page(window, moved);
  const double x = side * (std::max(side * from.x, side * to.x) + 7.0);
  const page::Stroke thin{page::ink(), 0.18, page::Dash::solid};
  page::line(page, {from.x + side * 0.8, from.y}, {x + side * 1.5, from.y}, thin);
  page::line(page, {to.x + side * 0.8, lowest.y}, {x + side * 1.5, lowest.y}, thin);
  if (std::abs(lowest.y - from.y) > 6.0) {
    const double middle = 0.5 * (from.y + lowest.y);
    page::arrow(page, {x, middle}, {x, from.y}, thin, 2.2);
    page::arrow(page, {x, middle}, {x, lowest.y}, thin, 2.2);
  } else {
    const double way = lowest.y > from.y ? 6.0 : -6.0;
    page::arrow(page, {x, from.y - way}, {x, from.y}, thin, 2.2);
    page::arrow(page, {x, lowest.y + way}, {x, lowest.y}, thin, 2.2);
  }
  const double base = 0.5 * (from.y + lowest.y);
  const page::TextAnchor anchor = side < 0.0 ? page::TextAnchor::right : page::TextAnchor::left;
  const double room = (side < 0.0 ? x : page.width - x) - 6.0;
  page.labels.push_back({{x + side * 2.5, base - 1.0}, "drop", page::letters, anchor, true});
  double y = base + page::letters + 0.6;
  for (const auto& l : page::wrapped(text, room, page::letters)) {
    page.labels.push_back({{x + side * 2.5, y}, l, page::letters, anchor, true});
    y += 1.7 * page::letters;
  }
}

// The undeformed panel: its twelve edges, which coincide where the view is square to it.
void put_outline(page::Page& page, const scene::Window& window, const door::Door& door)
{
  const page::Stroke thin{page::tone(0.45, 0.02, 230.0), 0.18, page::Dash::dashed};
  const auto c =
      box_corners({{0.0, 0.0, 0.0}, {door.panel.width, door::depth(door), door.panel.height}});
  for (std::size_t a = 0; a < c.size(); ++a)
    for (const std::size_t bit : {1U, 2U, 4U})
      if ((a & bit) == 0) {
        const page::PagePoint from = scene::on_page(window, c[a]);
        const page::PagePoint to = scene::on_page(window, c[a | bit]);
        if (std::hypot(to.x - from.x, to.y - from.y) > 0.1)
          page::line(page, from, to, thin);
      }
}

} // namespace

Figure drop_figure(const door::Door& door, const mesh::Mesh& mesh,
                   const analysis::OpenDoorResult& d, double drop_error, const UnitFormatter& words,
                   const FigureOptions& form)
{
  Figure figure;
  figure.name = "drop";
  page::Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const Vec3 down = elasticity::gravity_direction(door);
  const double factor = drawn_factor(door, d);
  const double top = plots::draw_heading(page, {"The drop of the open door",
                                                fmt::format("{}, {}; movement {}, dashed: as drawn",
                                                            door.name, system::state_label(d.state),
                                                            magnification_text(factor))}) +
                     6.0;
  const scene::Surface door_side = scene::surface_of(mesh.door, fe::is_steel);
  const scene::Surface frame_side = scene::surface_of(mesh.frame, fe::is_steel);
  std::vector<scene::Surface> pin_sides;
  for (const auto& pin : mesh.pins)
    pin_sides.push_back(scene::surface_of(pin, fe::is_steel));
  std::vector<scene::Layer> layers{
      plain_layer(door_side, mesh.door, &d.door_displacement, factor),
      plain_layer(frame_side, mesh.frame, &d.frame_displacement, factor)};
  for (std::size_t p = 0; p < mesh.pins.size(); ++p)
    layers.push_back(plain_layer(pin_sides[p], mesh.pins[p], &d.pin_displacements[p], factor));

  // An upright door is seen square to its face, a flap along its axis: so the drop lies in the
  // picture.
  const bool upright = door.hanging == door::HingeEdge::side;
  const Vec3 up = -down;
  const Vec3 into = upright ? Vec3{0.0, -1.0, 0.0} : Vec3{0.0, 0.0, -1.0};
  std::vector<Vec3> shown;
  for (const auto& l : layers)
    shown.insert(shown.end(), l.positions.begin(), l.positions.end());
  const Corner corner = dropped_corner(door, d, down);
  const Vec3 right = cross(into, up);
  const double side = dot(corner.place - d.centre_of_gravity, right) < 0.0 ? -1.0 : 1.0;
  constexpr double notes = 40.0; // mm beside the corner, for the dimension
  constexpr double list = 34.0;  // mm on the other side
  const scene::Window window =
      scene::fitted({side < 0.0 ? notes : list, top}, page.width - notes - list,
                    page.height - top - 4.0, right, up, box_corners(shown), 0.02);
  scene::draw_layers(page, window, layers, form.dots);
  put_outline(page, window, door);
  dimension_drop(page, window, corner, factor, down, side, words.length(d.drop));
  const Vec3 g = d.centre_of_gravity;
  const page::PagePoint mark = scene::on_page(window, g);
  draw_gravity_mark(page, mark);
  const page::Stroke force{page::loads(), 0.5, page::Dash::solid};
  page::arrow(page, {mark.x, mark.y + 2.0}, {mark.x, mark.y + 16.0}, force, 3.0);
  page.labels.push_back({{mark.x + 2.0, mark.y + 13.0},
                         "weight " + words.force(d.weight),
                         page::letters,
                         page::TextAnchor::left,
                         false,
                         0.0,
                         page::loads(),
                         true});
  const double x = side < 0.0 ? page.width - list + 2.0 : 4.0;
  std::vector<std::string> lines;
  const double play = d.drop - d.elastic_drop - d.heat_drop;
  lines = {"Of the drop", "   play " + words.length(play),
           "   steel " + words.length(d.elastic_drop)};
  if (d.warm)
    lines.push_back("   heat " + words.length(d.heat_drop));
  lines.insert(lines.end(),
               {"Lean", "   " + words.length(d.lean), "Set-back", "   " + words.length(d.set_back),
                "Mesh error", "   " + words.length(drop_error)});
  draw_text_lines(page, {x, top + 6.0}, lines, page::small_letters);
  figure.caption = fmt::format(
      "The door as it hangs ({}), {}, over a thin dashed outline of the door as drawn. The latch "
      "corner drops {}: {} of it is play in the bores, {} is steel{}.",
      system::state_label(d.state), "movement " + magnification_text(factor), words.length(d.drop),
      words.length(play), words.length(d.elastic_drop),
      d.warm ? ", " + words.length(d.heat_drop) + " is heat" : std::string());
  return figure;
}

} // namespace hangtrue::figures
