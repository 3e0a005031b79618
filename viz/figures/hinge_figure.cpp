// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/cell_values.hpp"
#include "viz/figures/figure_parts.hpp"
#include "viz/figures/pin_strips.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace hangtrue::figures
{

namespace
{

// The hinge with the greatest end pressure of a pin on a knuckle, and the direction of that.
struct Worked {
  int hinge = 0;
  Vec3 along{1.0, 0.0, 0.0}; ///< unit, square to the axis
  double force = 0.0;        ///< N, the greatest on a knuckle of it
  double line_load = 0.0;    ///< N/m
};

Worked hardest_worked(const analysis::OpenDoorResult& d)
{
  Worked worked;
  for (const auto& k : d.knuckles)
    for (const auto& load : k.line_load)
      if (norm(load) > worked.line_load)
        worked = {k.hinge, (1.0 / norm(load)) * load, 0.0, norm(load)};
  for (const auto& k : d.knuckles)
    if (k.hinge == worked.hinge)
      worked.force = std::max(worked.force, k.greatest_force);
  if (worked.along.x > 0.0) // seen as from outside: the latch edge at the left
    worked.along = -worked.along;
  return worked;
}

// Mean displacement of the frame's knuckles, so that only the difference to it is magnified.
Vec3 frame_shift(const mesh::Mesh& mesh, const analysis::OpenDoorResult& d, int hinge)
{
  Vec3 sum;
  double count = 0.0;
  for (const auto& cell : mesh.frame.cells)
    if (cell.hinge == hinge && cell.part == mesh::Part::ring)
      for (const int n : cell.node) {
        sum += d.frame_displacement[n];
        count += 1.0;
      }
  return count > 0.0 ? (1.0 / count) * sum : sum;
}

// One body's cut with gaps and displacements magnified by one factor: bores are widened by the rest
// of the gap, so what is in contact in the solution is in contact on paper.
struct CutBody {
  const mesh::BodyMesh* body;
  const std::vector<Vec3>* moves;
  door::KnuckleOwner owner;
};

std::vector<Vec3> drawn_places(const scene::Surface& cut, const CutBody& of,
                               const mesh::HingeMesh& mesh, const door::Hinge& hinge,
                               const Vec3& shift, double factor)
{
  std::vector<Vec3> positions = scene::point_positions(cut, *of.body);
  std::vector<char> bored(positions.size(), 0);
  for (std::size_t p = 0; p < cut.pieces.size(); ++p)
    if (cut.part[p] == mesh::Part::ring && cut.knuckle[p] >= 0 &&
        !mesh.knuckles[cut.knuckle[p]].bore.z.empty())
      for (const int n : cut.pieces[p])
        bored[n] = 1;
  const std::vector<Vec3> moved = scene::point_positions(cut, *of.body, of.moves, 1.0);
  const double outside = door::outside_radius(hinge);
  const double bore = door::bore_radius(hinge);
  for (std::size_t n = 0; n < positions.size(); ++n) {
    const Vec3 drawn = positions[n];
    positions[n] += factor * (moved[n] - drawn - shift);
    const Vec3 out{drawn.x - mesh.axis.x, drawn.y - mesh.axis.y, 0.0};
    const double r = norm(out);
    if (bored[n] == 0 || r < 1e-9)
      continue;
    const double share = std::clamp((outside - r) / (outside - bore), 0.0, 1.0);
    positions[n] += ((factor - 1.0) * 0.5 * hinge.clearance * share / r) * out;
  }
  return positions;
}

// The largest factor that leaves half of every knuckle's wall and keeps displacements within it.
double hinge_factor(const mesh::Mesh& mesh, const analysis::OpenDoorResult& d,
                    const door::Hinge& hinge, int index, const Vec3& shift)
{
  const double wall = door::outside_radius(hinge) - door::bore_radius(hinge);
  double maximum = 1e-9;
  for (const auto& cell : mesh.door.cells)
    if (cell.hinge == index && cell.part == mesh::Part::ring)
      for (const int n : cell.node)
        maximum = std::max(maximum, norm(d.door_displacement[n] - shift));
  return round_factor(std::min(wall / std::max(1e-9, hinge.clearance), 1.2 * wall / maximum));
}

void put_force(page::Page& page, page::PagePoint position, double sign, double length,
               const std::string& text)
{
  const page::Stroke force{page::loads(), 0.6, page::Dash::solid};
  const page::PagePoint to{position.x + sign * length, position.y};
  page::arrow(page, position, to, force, 3.0);
  page.labels.push_back({{to.x + sign * 1.2, to.y + 0.5 * page::letters},
                         text,
                         page::letters,
                         sign > 0.0 ? page::TextAnchor::left : page::TextAnchor::right,
                         false,
                         0.0,
                         page::loads(),
                         true});
}

// Forces beside the knuckles, clear of everything between `left` and `right`, mm.
void put_forces(page::Page& page, const scene::Window& window, const analysis::OpenDoorResult& d,
                const Worked& worked, double left, double right, const UnitFormatter& words)
{
  for (const auto& k : d.knuckles) {
    if (k.hinge != worked.hinge)
      continue;
    const double f = dot(k.pin_force, worked.along);
    const double y = scene::on_page(window, k.middle).y;
    const double sign = f >= 0.0 ? 1.0 : -1.0;
    const page::TextAnchor away = sign > 0.0 ? page::TextAnchor::right : page::TextAnchor::left;
    if (std::abs(f) > 0.02 * worked.force)
      put_force(page, {sign > 0.0 ? right + 1.5 : left - 1.5, y}, sign,
                4.0 + 6.0 * std::abs(f) / worked.force, words.force(std::abs(f)));
    const double other = sign > 0.0 ? left : right;
    page.labels.push_back({{other - sign * 2.0, y + 0.5 * page::letters},
                           k.owner == door::KnuckleOwner::door ? "door" : "frame",
                           page::letters,
                           away});
    if (std::abs(k.thrust) < 0.02 * worked.force)
      continue;
    const double x = other - sign * 4.0;
    const double way = k.thrust > 0.0 ? -1.0 : 1.0;
    page::arrow(page, {x, y + way * 3.5}, {x, y + way * 10.0},
                {page::loads(), 0.6, page::Dash::solid}, 3.0);
    page.labels.push_back({{x - sign * 1.5, y + way * 8.0 + 0.5 * page::letters},
                           words.force(std::abs(k.thrust)),
                           page::letters,
                           away,
                           false,
                           0.0,
                           page::loads(),
                           true});
  }
}

// Content of the figure, and the factor on gaps and displacements.
struct HingeView {
  const door::Door& door;
  const mesh::Mesh& mesh;
  const analysis::OpenDoorResult& d;
  Worked worked;
  const door::Hinge& hinge;
  const mesh::HingeMesh& hinge_mesh;
  Vec3 shift;
  double factor;
};

HingeView view_of(const door::Door& door, const mesh::Mesh& mesh, const analysis::OpenDoorResult& d)
{
  const Worked worked = hardest_worked(d);
  const door::Hinge& hinge = door.hinges[worked.hinge];
  const Vec3 shift = frame_shift(mesh, d, worked.hinge);
  return {door,  mesh,
          d,     worked,
          hinge, mesh.hinges[worked.hinge],
          shift, hinge_factor(mesh, d, hinge, worked.hinge, shift)};
}

std::vector<CutBody> cut_bodies(const HingeView& view)
{
  std::vector<CutBody> bodies{
      {&view.mesh.door, &view.d.door_displacement, door::KnuckleOwner::door},
      {&view.mesh.frame, &view.d.frame_displacement, door::KnuckleOwner::frame}};
  if (const int pin = view.hinge_mesh.pin_body; pin >= 0)
    bodies.push_back(
        {&view.mesh.pins[pin], &view.d.pin_displacements[pin], door::KnuckleOwner::frame});
  return bodies;
}

scene::Layer cut_layer(const HingeView& view, const scene::Surface& cut, const CutBody& body)
{
  scene::Layer layer;
  layer.surface = &cut;
  layer.positions = drawn_places(cut, body, view.hinge_mesh, view.hinge, view.shift, view.factor);
  for (const mesh::Part p : cut.part)
    layer.colours.push_back(p == mesh::Part::pin ? part_colour(mesh::Part::pin)
                            : body.owner == door::KnuckleOwner::door
                                ? part_colour(mesh::Part::outer_skin)
                                : part_colour(mesh::Part::jamb));
  layer.lit = false;
  layer.line = 0.35;
  return layer;
}

// Position and extent of the cut on the page, mm.
struct CutPlace {
  scene::Window window;
  double left = 1e9;
  double right = -1e9;
};

CutPlace put_cut(page::Page& page, const HingeView& view, double top, double wide, double dots)
{
  const Vec3 axis{view.hinge_mesh.axis.x, view.hinge_mesh.axis.y, view.hinge.position};
  const Vec3 up{0.0, 0.0, 1.0};
  const auto wanted = [&](const mesh::Hex27& cell) {
    return cell.hinge == view.worked.hinge &&
           (cell.part == mesh::Part::ring || cell.part == mesh::Part::pin);
  };
  const std::vector<CutBody> bodies = cut_bodies(view);
  std::vector<scene::Surface> cuts;
  for (const auto& b : bodies)
    cuts.push_back(scene::plane_cut(*b.body, wanted, axis, cross(view.worked.along, up)));
  std::vector<scene::Layer> layers;
  std::vector<Vec3> shown;
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    layers.push_back(cut_layer(view, cuts[b], bodies[b]));
    shown.insert(shown.end(), layers.back().positions.begin(), layers.back().positions.end());
  }
  CutPlace place{scene::fitted({4.0, top}, wide, page.height - top - 12.0, view.worked.along, up,
                               box_corners(shown), 0.08)};
  scene::draw_layers(page, place.window, layers, dots);
  for (const auto& p : shown) {
    place.left = std::min(place.left, scene::on_page(place.window, p).x);
    place.right = std::max(place.right, scene::on_page(place.window, p).x);
  }
  return place;
}

// Curves along the pin, right of the cut, from `x` on.
void put_strips(page::Page& page, const scene::Window& window, double x, double room,
                const std::vector<Strip>& strips)
{
  const double each = room / static_cast<double>(std::max<std::size_t>(1, strips.size()));
  for (std::size_t i = 0; i < strips.size(); ++i)
    draw_strip(page, window, x + static_cast<double>(i) * each, 0.7 * each, strips[i]);
}

void put_notes(page::Page& page, const door::Hinge& hinge, const UnitFormatter& words)
{
  const auto notes = page::wrapped(
      fmt::format(
          "Pin {}, play in the bore {}. Forces: of the pin on the knuckles, in the plane of "
          "the cut. Grey: frame, blue: door, brown: pin. The end float is not drawn. "
          "Curves along the pin: each to its own scale; the greatest shear lies where "
          "facing edges press.",
          words.size(hinge.pin_diameter), words.length(hinge.clearance)),
      page.width - 8.0, page::small_letters);
  draw_text_lines(
      page,
      {4.0, page.height - 1.0 - 1.75 * page::small_letters * static_cast<double>(notes.size() - 1)},
      notes, page::small_letters);
}

std::string caption_of(const HingeView& view, const UnitFormatter& words)
{
  return fmt::format(
      "Hinge {} ({}), the one that works hardest, cut through its pin in the plane of the greatest "
      "force, {}. Gaps and movements are {} alike, so what touches on paper touches in the "
      "numbers; "
      "the frame's own shift is taken away. Play in the bore {}.",
      view.worked.hinge + 1, system::state_label(view.d.state), words.force(view.worked.force),
      magnification_text(view.factor), words.length(view.hinge.clearance));
}

} // namespace

Figure hinge_figure(const door::Door& door, const mesh::Mesh& mesh,
                    const analysis::OpenDoorResult& d, const UnitFormatter& words,
                    const FigureOptions& form)
{
  Figure figure;
  figure.name = "hinge";
  page::Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const HingeView view = view_of(door, mesh, d);
  const double top =
      plots::draw_heading(page, {"The hardest worked hinge, cut through its pin",
                                 fmt::format("{}, hinge {}, {}; gaps and movements {}", door.name,
                                             view.worked.hinge + 1, system::state_label(d.state),
                                             magnification_text(view.factor))}) +
      6.0;
  const double wide = 0.58 * page.width;
  const CutPlace cut = put_cut(page, view, top, wide, form.dots);
  put_forces(page, cut.window, d, view.worked, cut.left, cut.right, words);
  put_strips(
      page, cut.window, wide + 6.0, page.width - wide - 10.0,
      pin_strips(mesh, d,
                 {view.worked.hinge, view.worked.along, view.worked.force, view.hinge.pin_diameter},
                 words));
  put_notes(page, view.hinge, words);
  figure.caption = caption_of(view, words);
  return figure;
}

} // namespace hangtrue::figures
