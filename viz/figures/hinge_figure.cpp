#include "solver/fe/shape_functions.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <utility>

namespace hangtrue
{

namespace
{

// The hinge whose knuckle is pressed most at an end by its pin, and the direction of that.
struct Worked {
  int hinge = 0;
  Vec3 along{1.0, 0.0, 0.0}; ///< unit, square to the axis
  double force = 0.0;        ///< N, the greatest on a knuckle of it
  double line_load = 0.0;    ///< N/m
};

Worked hardest_worked(const Deflection& d)
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

// Mean movement of the frame's knuckles, so that only what is left of it is drawn larger.
Vec3 frame_shift(const Mesh& mesh, const Deflection& d, int hinge)
{
  Vec3 sum;
  double count = 0.0;
  for (const auto& cell : mesh.frame.cells)
    if (cell.hinge == hinge && cell.part == Part::ring)
      for (const int n : cell.node) {
        sum += d.frame_move[n];
        count += 1.0;
      }
  return count > 0.0 ? (1.0 / count) * sum : sum;
}

// One body's cut with gaps and movements drawn larger alike: bores are widened by the missing
// part of the gap, so what touches in the numbers touches on paper.
struct CutBody {
  const BodyMesh* body;
  const std::vector<Vec3>* moves;
  Owner owner;
};

std::vector<Vec3> drawn_places(const Surface& cut, const CutBody& of, const HingeMesh& mesh,
                               const Hinge& hinge, const Vec3& shift, double factor)
{
  std::vector<Vec3> at = places(cut, *of.body);
  std::vector<char> bored(at.size(), 0);
  for (std::size_t p = 0; p < cut.pieces.size(); ++p)
    if (cut.part[p] == Part::ring && cut.knuckle[p] >= 0 &&
        !mesh.knuckles[cut.knuckle[p]].bore.z.empty())
      for (const int n : cut.pieces[p])
        bored[n] = 1;
  const std::vector<Vec3> moved = places(cut, *of.body, of.moves, 1.0);
  const double outside = outside_radius(hinge);
  const double bore = bore_radius(hinge);
  for (std::size_t n = 0; n < at.size(); ++n) {
    const Vec3 drawn = at[n];
    at[n] += factor * (moved[n] - drawn - shift);
    const Vec3 out{drawn.x - mesh.axis.x, drawn.y - mesh.axis.y, 0.0};
    const double r = norm(out);
    if (bored[n] == 0 || r < 1e-9)
      continue;
    const double share = std::clamp((outside - r) / (outside - bore), 0.0, 1.0);
    at[n] += ((factor - 1.0) * 0.5 * hinge.clearance * share / r) * out;
  }
  return at;
}

// The largest factor that leaves half of every knuckle's wall and keeps movements within it.
double hinge_factor(const Mesh& mesh, const Deflection& d, const Hinge& hinge, int index,
                    const Vec3& shift)
{
  const double wall = outside_radius(hinge) - bore_radius(hinge);
  double most = 1e-9;
  for (const auto& cell : mesh.door.cells)
    if (cell.hinge == index && cell.part == Part::ring)
      for (const int n : cell.node)
        most = std::max(most, norm(d.door_move[n] - shift));
  return round_factor(std::min(wall / std::max(1e-9, hinge.clearance), 1.2 * wall / most));
}

void put_force(Page& page, Spot at, double sign, double length, const std::string& text)
{
  const Stroke force{loads(), 0.6, Dash::solid};
  const Spot to{at.x + sign * length, at.y};
  arrow(page, at, to, force, 3.0);
  page.words.push_back({{to.x + sign * 1.2, to.y + 0.5 * letters},
                        text,
                        letters,
                        sign > 0.0 ? Side::left : Side::right,
                        false,
                        0.0,
                        loads(),
                        true});
}

// Forces beside the knuckles, clear of everything drawn between `left` and `right`, mm.
void put_forces(Page& page, const Window& window, const Deflection& d, const Worked& worked,
                double left, double right, const FigureWords& words)
{
  for (const auto& k : d.knuckles) {
    if (k.hinge != worked.hinge)
      continue;
    const double f = dot(k.pin_force, worked.along);
    const double y = on_page(window, k.middle).y;
    const double sign = f >= 0.0 ? 1.0 : -1.0;
    const Side away = sign > 0.0 ? Side::right : Side::left;
    if (std::abs(f) > 0.02 * worked.force)
      put_force(page, {sign > 0.0 ? right + 1.5 : left - 1.5, y}, sign,
                4.0 + 6.0 * std::abs(f) / worked.force, words.force(std::abs(f)));
    const double other = sign > 0.0 ? left : right;
    page.words.push_back({{other - sign * 2.0, y + 0.5 * letters},
                          k.owner == Owner::door ? "door" : "frame",
                          letters,
                          away});
    if (std::abs(k.thrust) < 0.02 * worked.force)
      continue;
    const double x = other - sign * 4.0;
    const double way = k.thrust > 0.0 ? -1.0 : 1.0;
    arrow(page, {x, y + way * 3.5}, {x, y + way * 10.0}, {loads(), 0.6, Dash::solid}, 3.0);
    page.words.push_back({{x - sign * 1.5, y + way * 8.0 + 0.5 * letters},
                          words.force(std::abs(k.thrust)),
                          letters,
                          away,
                          false,
                          0.0,
                          loads(),
                          true});
  }
}

// One quantity along the pin, beside the cut and to its height.
struct Strip {
  std::string title;
  std::string greatest;
  double most = 0.0; ///< value that fills the strip; 0: too little to be drawn
  std::vector<double> z;
  std::vector<double> value;
};

void put_strip_words(Page& page, const Window& window, double x, double wide, const Strip& strip)
{
  double y = window.at.y - 5.0;
  std::vector<std::string> lines = broken(strip.title, 1.35 * wide, small_letters);
  for (const auto& l : broken(strip.greatest, 1.35 * wide, small_letters))
    lines.push_back(l);
  for (const auto& l : lines) {
    page.words.push_back({{x, y}, l, small_letters, Side::left, &l == &lines.back()});
    y += 1.7 * small_letters;
  }
}

void put_strip(Page& page, const Window& window, double x, double wide, const Strip& strip)
{
  put_strip_words(page, window, x, wide, strip);
  const double most = strip.most;
  if (most <= 0.0)
    return;
  std::size_t peak = 0;
  for (std::size_t i = 0; i < strip.value.size(); ++i)
    if (std::abs(strip.value[i]) > std::abs(strip.value[peak]))
      peak = i;
  bool both = false;
  for (const double v : strip.value)
    both = both || v * strip.value[peak] < -1e-3 * most * most;
  const double zero = both ? x + 0.5 * wide : x;
  const double mm = (both ? 0.5 : 1.0) * wide / most * (strip.value[peak] < 0.0 ? -1.0 : 1.0);
  const auto y_of = [&](double z) { return on_page(window, {0.0, 0.0, z}).y; };
  Shape area;
  area.spots.push_back({zero, y_of(strip.z.front())});
  for (std::size_t i = 0; i < strip.z.size(); ++i)
    area.spots.push_back({zero + mm * strip.value[i], y_of(strip.z[i])});
  area.spots.push_back({zero, y_of(strip.z.back())});
  area.closed = true;
  area.fill = tone(0.88, 0.04, 75.0);
  area.stroke = Stroke{ink(), 0.25, Dash::solid};
  page.shapes.push_back(area);
  line(page, {zero, y_of(strip.z.front())}, {zero, y_of(strip.z.back())},
       {ink(), 0.35, Dash::solid});
  const Spot at{zero + mm * strip.value[peak], y_of(strip.z[peak])};
  circle(page, at, 0.6, ink(), {});
}

// How far the pin's axis leaves the line between its ends, along a direction: means of its nodes
// at every height.
Strip bent_axis(const Mesh& mesh, const Deflection& d, int hinge, const Vec3& along)
{
  const int body = mesh.hinges[hinge].pin_body;
  const BodyMesh& of = body >= 0 ? mesh.pins[body] : mesh.frame;
  const std::vector<Vec3>& moves = body >= 0 ? d.pin_moves[body] : d.frame_move;
  std::map<long, std::pair<double, double>> sums; // by height in micrometres
  for (const auto& cell : of.cells)
    if (cell.hinge == hinge && cell.part == Part::pin)
      for (const int n : cell.node) {
        auto& [sum, count] = sums[std::lround(1e6 * of.nodes[n].z)];
        sum += dot(moves[n], along);
        count += 1.0;
      }
  Strip strip;
  for (const auto& [z, sum] : sums) {
    strip.z.push_back(1e-6 * static_cast<double>(z));
    strip.value.push_back(sum.first / sum.second);
  }
  if (strip.z.size() < 3)
    return {};
  const double first = strip.value.front();
  const double slope = (strip.value.back() - first) / (strip.z.back() - strip.z.front());
  for (std::size_t i = 0; i < strip.z.size(); ++i)
    strip.value[i] -= first + slope * (strip.z[i] - strip.z.front());
  return strip;
}

// A strip whose greatest value is below what tells has words only.
Strip strip_of(const std::string& title, double greatest, double tells,
               const std::function<std::string(double)>& words, std::vector<double> z,
               std::vector<double> value)
{
  if (greatest < tells)
    return {title, "less than " + words(tells), 0.0, {}, {}};
  return {title, words(greatest), greatest, std::move(z), std::move(value)};
}

// Shear stays from one pushed place to the next: a value at every station becomes one between each
// two.
Strip in_steps(const Strip& strip)
{
  Strip made{strip.title, strip.greatest, strip.most, {}, {}};
  for (std::size_t i = 0; i + 1 < strip.z.size(); ++i) {
    made.z.insert(made.z.end(), {strip.z[i], strip.z[i + 1]});
    made.value.insert(made.value.end(), 2, strip.value[i]);
  }
  return made;
}

std::vector<Strip> strips_of(const Mesh& mesh, const Deflection& d, const Worked& worked,
                             double diameter, const FigureWords& words)
{
  std::vector<Strip> strips;
  for (const auto& pin : d.pins)
    if (pin.hinge == worked.hinge && pin.z.size() > 1) {
      strips.push_back(strip_of("moment in the pin, most", pin.greatest_bending,
                                1e-3 * worked.force * diameter, words.moment, pin.z, pin.bending));
      strips.push_back(in_steps(strip_of("shear in the pin, most", pin.greatest_shear,
                                         1e-3 * worked.force, words.force, pin.z, pin.shear)));
    }
  Strip bent = bent_axis(mesh, d, worked.hinge, worked.along);
  if (!bent.z.empty()) {
    double most = 0.0;
    for (const double v : bent.value)
      most = std::max(most, std::abs(v));
    constexpr double nothing = 1e-6; // m, less than a fortieth of a thousandth of an inch
    strips.push_back(strip_of(
        "bend of its axis, most", most, nothing,
        [&words](double v) {
          return fmt::format("{:.5f} {}", words.length_number(v), words.length_unit);
        },
        bent.z, bent.value));
  }
  return strips;
}

} // namespace

Figure hinge_figure(const Door& door, const Mesh& mesh, const Deflection& d,
                    const FigureWords& words, const FigureForm& form)
{
  Figure figure;
  figure.name = "hinge";
  Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const Worked worked = hardest_worked(d);
  const Hinge& hinge = door.hinges[worked.hinge];
  const HingeMesh& hinge_mesh = mesh.hinges[worked.hinge];
  const Vec3 shift = frame_shift(mesh, d, worked.hinge);
  const double factor = hinge_factor(mesh, d, hinge, worked.hinge, shift);
  const double top =
      put_heading(page, {"The hardest worked hinge, cut through its pin",
                         fmt::format("{}, hinge {}, {}; gaps and movements {}", door.name,
                                     worked.hinge + 1, state_label(d.state), larger(factor))}) +
      6.0;

  std::vector<CutBody> bodies{{&mesh.door, &d.door_move, Owner::door},
                              {&mesh.frame, &d.frame_move, Owner::frame}};
  if (hinge_mesh.pin_body >= 0)
    bodies.push_back(
        {&mesh.pins[hinge_mesh.pin_body], &d.pin_moves[hinge_mesh.pin_body], Owner::frame});
  const Vec3 axis{hinge_mesh.axis.x, hinge_mesh.axis.y, hinge.at};
  const Vec3 up{0.0, 0.0, 1.0};
  const auto wanted = [&](const Hex& cell) {
    return cell.hinge == worked.hinge && (cell.part == Part::ring || cell.part == Part::pin);
  };
  std::vector<Surface> cuts;
  for (const auto& b : bodies)
    cuts.push_back(cut_of(*b.body, wanted, axis, cross(worked.along, up)));
  std::vector<Layer> layers;
  std::vector<Vec3> shown;
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    Layer layer;
    layer.surface = &cuts[b];
    layer.at = drawn_places(cuts[b], bodies[b], hinge_mesh, hinge, shift, factor);
    for (const Part p : cuts[b].part)
      layer.colours.push_back(p == Part::pin                   ? part_colour(Part::pin)
                              : bodies[b].owner == Owner::door ? part_colour(Part::outer_skin)
                                                               : part_colour(Part::jamb));
    layer.lit = false;
    layer.line = 0.35;
    shown.insert(shown.end(), layer.at.begin(), layer.at.end());
    layers.push_back(layer);
  }
  const double wide = 0.58 * page.width;
  const Window window = fitted({4.0, top}, wide, page.height - top - 12.0, worked.along, up,
                               box_corners(shown), 0.08);
  put_layers(page, window, layers, form.dots);
  double left = 1e9;
  double right = -1e9;
  for (const auto& p : shown) {
    left = std::min(left, on_page(window, p).x);
    right = std::max(right, on_page(window, p).x);
  }
  put_forces(page, window, d, worked, left, right, words);

  const auto strips = strips_of(mesh, d, worked, hinge.pin_diameter, words);
  const double room = page.width - wide - 10.0;
  const double each = room / static_cast<double>(std::max<std::size_t>(1, strips.size()));
  for (std::size_t i = 0; i < strips.size(); ++i)
    put_strip(page, window, wide + 6.0 + static_cast<double>(i) * each, 0.7 * each, strips[i]);
  const auto notes =
      broken(fmt::format(
                 "Pin {}, play in the bore {}. Forces: of the pin on the knuckles, in the plane of "
                 "the cut. Grey: frame, blue: door, brown: pin. The end float is not drawn. "
                 "Curves along the pin: each to its own scale; the greatest shear lies where "
                 "facing edges press.",
                 words.size(hinge.pin_diameter), words.length(hinge.clearance)),
             page.width - 8.0, small_letters);
  put_lines(page,
            {4.0, page.height - 1.0 - 1.75 * small_letters * static_cast<double>(notes.size() - 1)},
            notes, small_letters);
  figure.caption = fmt::format(
      "Hinge {} ({}), the one that works hardest, cut through its pin in the plane of the greatest "
      "force, {}. Gaps and movements are {} alike, so what touches on paper touches in the "
      "numbers; "
      "the frame's own shift is taken away. Play in the bore {}.",
      worked.hinge + 1, state_label(d.state), words.force(worked.force), larger(factor),
      words.length(hinge.clearance));
  return figure;
}

} // namespace hangtrue
