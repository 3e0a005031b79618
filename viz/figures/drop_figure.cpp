#include "solver/elasticity/nodal_loads.hpp"
#include "solver/fe/shape_functions.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// The latch corner that drops more, and its nominal position.
struct Corner {
  Vec3 place;
  Vec3 move;
};

Corner dropped_corner(const Door& door, const Deflection& d, const Vec3& down)
{
  Corner found;
  bool any = false;
  for (const auto& c : d.corners) {
    const bool latch = c.corner == DoorCorner::lower_latch || c.corner == DoorCorner::upper_latch;
    if (!latch || (any && dot(c.move, down) <= dot(found.move, down)))
      continue;
    const double z = c.corner == DoorCorner::upper_latch ? door.panel.height : 0.0;
    found = {{door.panel.width, depth(door), z}, c.move};
    any = true;
  }
  return found;
}

double drawn_factor(const Door& door, const Deflection& d)
{
  double greatest = 1e-9;
  for (const auto& c : d.corners)
    greatest = std::max(greatest, norm(c.move));
  return round_factor(std::max(door.panel.width, door.panel.height) / 14.0 / greatest);
}

// Dimension of the drop beside the corner, in the plane of the picture, on the side away from the
// door: -1 at the left, 1 at the right.
void dimension_drop(Page& page, const Window& window, const Corner& corner, double factor,
                    const Vec3& down, double side, const std::string& text)
{
  const Vec3 moved = corner.place + factor * corner.move;
  const Spot from = on_page(window, corner.place);
  const Spot lowest = on_page(window, corner.place + dot(moved - corner.place, down) * down);
  const Spot to = on_page(window, moved);
  const double x = side * (std::max(side * from.x, side * to.x) + 7.0);
  const Stroke thin{ink(), 0.18, Dash::solid};
  line(page, {from.x + side * 0.8, from.y}, {x + side * 1.5, from.y}, thin);
  line(page, {to.x + side * 0.8, lowest.y}, {x + side * 1.5, lowest.y}, thin);
  if (std::abs(lowest.y - from.y) > 6.0) {
    const double middle = 0.5 * (from.y + lowest.y);
    arrow(page, {x, middle}, {x, from.y}, thin, 2.2);
    arrow(page, {x, middle}, {x, lowest.y}, thin, 2.2);
  } else {
    const double way = lowest.y > from.y ? 6.0 : -6.0;
    arrow(page, {x, from.y - way}, {x, from.y}, thin, 2.2);
    arrow(page, {x, lowest.y + way}, {x, lowest.y}, thin, 2.2);
  }
  const double base = 0.5 * (from.y + lowest.y);
  const Side anchor = side < 0.0 ? Side::right : Side::left;
  const double room = (side < 0.0 ? x : page.width - x) - 6.0;
  page.words.push_back({{x + side * 2.5, base - 1.0}, "drop", letters, anchor, true});
  double y = base + letters + 0.6;
  for (const auto& l : broken(text, room, letters)) {
    page.words.push_back({{x + side * 2.5, y}, l, letters, anchor, true});
    y += 1.7 * letters;
  }
}

// The undeformed panel: its twelve edges, which coincide where the view is square to it.
void put_outline(Page& page, const Window& window, const Door& door)
{
  const Stroke thin{tone(0.45, 0.02, 230.0), 0.18, Dash::dashed};
  const auto c = box_corners({{0.0, 0.0, 0.0}, {door.panel.width, depth(door), door.panel.height}});
  for (std::size_t a = 0; a < c.size(); ++a)
    for (const std::size_t bit : {1U, 2U, 4U})
      if ((a & bit) == 0) {
        const Spot from = on_page(window, c[a]);
        const Spot to = on_page(window, c[a | bit]);
        if (std::hypot(to.x - from.x, to.y - from.y) > 0.1)
          line(page, from, to, thin);
      }
}

} // namespace

Figure drop_figure(const Door& door, const Mesh& mesh, const Deflection& d, double drop_error,
                   const FigureWords& words, const FigureForm& form)
{
  Figure figure;
  figure.name = "drop";
  Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const Vec3 down = gravity_direction(door);
  const double factor = drawn_factor(door, d);
  const double top =
      put_heading(page, {"The drop of the open door",
                         fmt::format("{}, {}; movement {}, dashed: as drawn", door.name,
                                     state_label(d.state), larger(factor))}) +
      6.0;
  const Surface door_side = surface_of(mesh.door, is_steel);
  const Surface frame_side = surface_of(mesh.frame, is_steel);
  std::vector<Surface> pin_sides;
  for (const auto& pin : mesh.pins)
    pin_sides.push_back(surface_of(pin, is_steel));
  std::vector<Layer> layers{plain_layer(door_side, mesh.door, &d.door_move, factor),
                            plain_layer(frame_side, mesh.frame, &d.frame_move, factor)};
  for (std::size_t p = 0; p < mesh.pins.size(); ++p)
    layers.push_back(plain_layer(pin_sides[p], mesh.pins[p], &d.pin_moves[p], factor));

  // An upright door is seen square to its face, a flap along its axis: so the drop lies in the
  // picture.
  const bool upright = door.hanging == Hanging::side;
  const Vec3 up = -down;
  const Vec3 into = upright ? Vec3{0.0, -1.0, 0.0} : Vec3{0.0, 0.0, -1.0};
  std::vector<Vec3> shown;
  for (const auto& l : layers)
    shown.insert(shown.end(), l.at.begin(), l.at.end());
  const Corner corner = dropped_corner(door, d, down);
  const Vec3 right = cross(into, up);
  const double side = dot(corner.place - d.centre_of_gravity, right) < 0.0 ? -1.0 : 1.0;
  constexpr double notes = 40.0; // mm beside the corner, for the dimension
  constexpr double list = 34.0;  // mm on the other side
  const Window window = fitted({side < 0.0 ? notes : list, top}, page.width - notes - list,
                               page.height - top - 4.0, right, up, box_corners(shown), 0.02);
  put_layers(page, window, layers, form.dots);
  put_outline(page, window, door);
  dimension_drop(page, window, corner, factor, down, side, words.length(d.drop));
  const Vec3 g = d.centre_of_gravity;
  const Spot mark = on_page(window, g);
  put_gravity_mark(page, mark);
  const Stroke force{loads(), 0.5, Dash::solid};
  arrow(page, {mark.x, mark.y + 2.0}, {mark.x, mark.y + 16.0}, force, 3.0);
  page.words.push_back({{mark.x + 2.0, mark.y + 13.0},
                        "weight " + words.force(d.weight),
                        letters,
                        Side::left,
                        false,
                        0.0,
                        loads(),
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
  put_lines(page, {x, top + 6.0}, lines, small_letters);
  figure.caption = fmt::format(
      "The door as it hangs ({}), {}, over a thin dashed outline of the door as drawn. The latch "
      "corner drops {}: {} of it is play in the bores, {} is steel{}.",
      state_label(d.state), "movement " + larger(factor), words.length(d.drop), words.length(play),
      words.length(d.elastic_drop),
      d.warm ? ", " + words.length(d.heat_drop) + " is heat" : std::string());
  return figure;
}

} // namespace hangtrue
