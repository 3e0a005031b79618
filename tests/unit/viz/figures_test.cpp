// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of a door with invented results: what each has to say and to show.
#define BOOST_TEST_MODULE figures
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/fe/cell_values.hpp"
#include "tests/support/test_doors.hpp"
#include "viz/figures/figures.hpp"
#include "viz/scene/offscreen_display.hpp"
#include "viz/scene/scene.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

using namespace hangtrue;

namespace
{

bool says(const page::Page& page, const std::string& text)
{
  return std::any_of(page.labels.begin(), page.labels.end(), [&](const page::TextLabel& w) {
    return w.text.find(text) != std::string::npos;
  });
}

// Fraction of pixels that are not white.
double inked(const page::Raster& raster)
{
  std::size_t count = 0;
  for (std::size_t i = 0; i < raster.rgb.size(); i += 3)
    count += raster.rgb[i] + raster.rgb[i + 1] + raster.rgb[i + 2] < 3 * 250 ? 1 : 0;
  return 3.0 * static_cast<double>(count) / static_cast<double>(raster.rgb.size());
}

// Displacements as if the door had been shifted and bowed: enough for figures, no solution needed.
analysis::OpenDoorResult invented_result(const door::Door& door, const mesh::Mesh& mesh)
{
  analysis::OpenDoorResult d;
  d.weight = 500.0;
  d.centre_of_gravity = {0.4, 0.03, 0.38};
  d.drop = 0.0015;
  d.elastic_drop = 0.0005;
  for (const double z : {0.0, 1.0})
    for (const double x : {0.0, 1.0})
      d.corners.push_back(
          {z > 0.5 ? (x > 0.5 ? qoi::DoorCorner::upper_latch : qoi::DoorCorner::upper_hinge)
                   : (x > 0.5 ? qoi::DoorCorner::lower_latch : qoi::DoorCorner::lower_hinge),
           {0.001 * (z - 0.5), 0.0, -0.0015 * x}});
  for (const auto& p : mesh.door.nodes)
    d.door_displacement.push_back(
        {0.0, 0.001 * std::sin(4.0 * p.x / door.panel.width), -0.001 * p.x});
  d.frame_displacement.assign(mesh.frame.nodes.size(), {});
  for (const auto& pin : mesh.pins)
    d.pin_displacements.emplace_back(pin.nodes.size(), Vec3{0.0001, 0.0, 0.0});
  for (int h = 0; h < 2; ++h) {
    for (int k = 0; k < 3; ++k)
      d.knuckles.push_back({h,
                            k,
                            k == 1 ? door::KnuckleOwner::door : door::KnuckleOwner::frame,
                            {mesh.hinges[h].axis.x, mesh.hinges[h].axis.y,
                             door::knuckle_start(door.hinges[h], k) + 0.019},
                            {(k == 1 ? 300.0 : -150.0) * (h == 0 ? -1.0 : 1.0), 0.0, 0.0},
                            k == 1 && h == 0 ? 500.0 : 0.0,
                            {},
                            1e6});
    for (auto& k : d.knuckles) { // uniform along the knuckle
      k.line_load.fill((1.0 / 0.038) * k.pin_force);
      k.worst_line_load = norm(k.pin_force) / 0.038;
      k.greatest_force = norm(k.pin_force);
    }
    d.pins.push_back({h, {0.1, 0.2, 0.3}, {0.0, 150.0, 0.0}, {0.0, 4.0, 0.0}, 150.0, 4.0, 0.0});
  }
  return d;
}

figures::UnitFormatter plain_units()
{
  figures::UnitFormatter w;
  w.length = [](double m) { return fmt::format("{:.2f} mm", 1e3 * m); };
  w.size = [](double m) { return fmt::format("{:.0f} mm", 1e3 * m); };
  w.force = [](double n) { return fmt::format("{:.0f} N", n); };
  w.moment = [](double n) { return fmt::format("{:.1f} N m", n); };
  w.temperature = [](double t) { return fmt::format("{:.0f} degC", t); };
  w.length_number = [](double m) { return 1e3 * m; };
  w.temperature_number = [](double t) { return t; };
  w.stress = [](double pa) { return fmt::format("{:.0f} MPa", 1e-6 * pa); };
  w.stress_number = [](double pa) { return 1e-6 * pa; };
  w.stress_unit = "MPa";
  w.length_unit = "mm";
  w.temperature_unit = "degC";
  return w;
}

struct Drawn {
  door::Door door = test::barrel_door();
  mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  analysis::OpenDoorResult d = invented_result(door, mesh);
};

Drawn& drawn() // one mesh for all figures
{
  static Drawn result;
  return result;
}

constexpr figures::FigureOptions small{{180.0, 110.0}, 4.0};

} // namespace

BOOST_AUTO_TEST_CASE(round_factors)
{
  BOOST_TEST(figures::round_factor(0.3) == 1.0);
  BOOST_TEST(figures::round_factor(49.9) == 20.0);
  BOOST_TEST(figures::round_factor(50.0) == 50.0);
}

BOOST_AUTO_TEST_CASE(the_door_is_drawn_with_its_sizes)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  const figures::Figure f =
      figures::door_figure(drawn().door, drawn().mesh, drawn().d, plain_units(), small);
  BOOST_TEST(f.page.pictures.size() == 3U);
  for (const auto& p : f.page.pictures)
    BOOST_TEST(inked(p.raster) > 0.03);
  BOOST_TEST(says(f.page, "762 mm")); // 30 in
  BOOST_TEST(says(f.page, "133 mm")); // 5.25 in, the lower hinge
  BOOST_TEST(says(f.page, "500 N"));
}

BOOST_AUTO_TEST_CASE(the_drop_says_its_factor_and_its_parts)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  const figures::Figure f =
      figures::drop_figure(drawn().door, drawn().mesh, drawn().d, 0.0, plain_units(), small);
  BOOST_TEST(inked(f.page.pictures.at(0).raster) > 0.2);
  BOOST_TEST(says(f.page, "times larger"));
  BOOST_TEST(says(f.page, "1.50 mm"));
  BOOST_TEST(says(f.page, "play 1.00 mm"));
  BOOST_TEST(f.caption.find("0.50 mm is steel") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(the_hinge_shows_every_force)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  const figures::Figure f =
      figures::hinge_figure(drawn().door, drawn().mesh, drawn().d, plain_units(), small);
  BOOST_TEST(inked(f.page.pictures.at(0).raster) > 0.05);
  int forces = 0;
  for (const auto& w : f.page.labels)
    forces += w.text == "300 N" || w.text == "150 N" ? 1 : 0;
  BOOST_TEST(forces == 4); // three knuckles, and the greatest shear over its curve
  BOOST_TEST(says(f.page, "500 N"));
  BOOST_TEST(says(f.page, "4.0 N m"));
}

// Between two contact forces shear is constant; a moment is linear from one to the other.
BOOST_AUTO_TEST_CASE(shear_is_drawn_in_steps_and_a_moment_is_not)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  const figures::Figure f =
      figures::hinge_figure(drawn().door, drawn().mesh, drawn().d, plain_units(), small);
  int stepped = 0;
  int slanted = 0;
  for (const auto& shape : f.page.shapes) {
    if (!shape.closed || !shape.fill || shape.spots.size() < 5)
      continue;
    const bool slants =
        shape.spots.end() != std::ranges::adjacent_find(shape.spots, [](auto& a, auto& b) {
          return std::abs(a.x - b.x) > 1e-9 && std::abs(a.y - b.y) > 1e-9;
        });
    ++(slants ? slanted : stepped);
  }
  BOOST_TEST(stepped == 1);
  BOOST_TEST(slanted >= 1);
}

// A pin that hardly bends leaves no empty curves: the text gives the upper bound.
BOOST_AUTO_TEST_CASE(a_stiff_pin_has_no_curves)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  const figures::Figure bends =
      figures::hinge_figure(drawn().door, drawn().mesh, drawn().d, plain_units(), small);
  analysis::OpenDoorResult d = drawn().d;
  for (auto& pin : d.pins) {
    pin.bending = {0.0, 1e-6, 0.0};
    pin.greatest_bending = 1e-6; // N m, of 500 N on a pin of an inch
  }
  const figures::Figure stiff =
      figures::hinge_figure(drawn().door, drawn().mesh, d, plain_units(), small);
  const auto less = [](const figures::Figure& f) {
    return std::count_if(f.page.labels.begin(), f.page.labels.end(),
                         [](const auto& w) { return w.text.rfind("less than", 0) == 0; });
  };
  BOOST_TEST(less(bends) == 1); // its axis is displaced rigidly
  BOOST_TEST(less(stiff) == 2);
  BOOST_TEST(stiff.page.shapes.size() < bends.page.shapes.size());
}

BOOST_AUTO_TEST_CASE(temperatures_fill_the_scale)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  analysis::OpenDoorResult d = drawn().d;
  d.warm = true;
  std::vector<double> position;
  for (const auto& p : drawn().mesh.door.nodes)
    position.push_back(200.0 - 3000.0 * p.y);
  const figures::Figure f = figures::temperature_figure(drawn().door, drawn().mesh, d, position,
                                                        60.0, plain_units(), small);
  BOOST_TEST(f.page.pictures.size() == 3U);
  for (const auto& p : f.page.pictures)
    BOOST_TEST(inked(p.raster) > 0.2);
  BOOST_TEST(says(f.page, "200 degC")); // the fire face, the hottest
  BOOST_TEST(says(f.page, "limit 60"));
}

// At 400 degC k_p is 0.420 (EN 1993-1-2 Table 3.1): 105 MPa remain of 250; at 20 degC all. The
// field is invented: the inner skin at 76 %, the outer at 8 %, the rim at 40 % or not included.
BOOST_AUTO_TEST_CASE(stress_is_shown_against_what_is_left_of_the_yield)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  analysis::OpenDoorResult d = drawn().d;
  d.warm = true;
  for (const auto& cell : drawn().mesh.door.cells) {
    const bool taken = d.plate_utilisation.size() % 2 == 0;
    d.plate_utilisation.push_back(cell.part == mesh::Part::inner_skin     ? 0.76
                                  : cell.part == mesh::Part::outer_skin   ? 0.08
                                  : cell.part == mesh::Part::rim && taken ? 0.40
                                                                          : -1.0);
  }
  d.plates = {
      {mesh::Part::inner_skin, {0.3, 0.0, 0.3}, 80e6, 105e6, 400.0, 80.0 / 105.0},
      {mesh::Part::outer_skin, {0.3, door::depth(drawn().door), 0.4}, 20e6, 250e6, 20.0, 0.08}};
  const figures::Figure f =
      figures::stress_figure(drawn().door, drawn().mesh, d, plain_units(), small);
  BOOST_TEST(f.page.pictures.size() == 3U);
  for (const auto& p : f.page.pictures)
    BOOST_TEST(inked(p.raster) > 0.1);
  BOOST_TEST(says(f.page, "105 MPa"));
  BOOST_TEST(says(f.page, "250 MPa"));
  BOOST_TEST(says(f.page, "76 %"));
  BOOST_TEST(f.caption.find("inner skin") != std::string::npos);
  // The scale goes from the least of the data to the limit; each skin has the colour of its band.
  BOOST_TEST(says(f.page, "8 %"));
  BOOST_TEST(says(f.page, "100 %"));
  BOOST_TEST(says(f.page, "limit"));
  const scene::ColourScale scale = scene::colour_scale({8.0, 40.0, 76.0}, 11, "%", 100.0);
  const auto share_of = [](const page::Raster& raster, const page::Colour& colour) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < raster.rgb.size(); i += 3)
      count += std::abs(raster.rgb[i] - 255.0 * colour.red) < 3.0 &&
                       std::abs(raster.rgb[i + 1] - 255.0 * colour.green) < 3.0 &&
                       std::abs(raster.rgb[i + 2] - 255.0 * colour.blue) < 3.0
                   ? 1
                   : 0;
    return 3.0 * static_cast<double>(count) / static_cast<double>(raster.rgb.size());
  };
  BOOST_TEST(share_of(f.page.pictures[0].raster, scene::band_colour(scale, 76.0)) > 0.3);
  BOOST_TEST(share_of(f.page.pictures[1].raster, scene::band_colour(scale, 8.0)) > 0.3);
  BOOST_TEST(share_of(f.page.pictures[2].raster, scene::band_colour(scale, 40.0)) > 0.02);
  BOOST_TEST(share_of(f.page.pictures[2].raster, page::tone(0.80, 0.0, 0.0)) > 0.02);
}

// A prescribed bow: the reading of the contour lines is that of the displacement.
BOOST_AUTO_TEST_CASE(the_bow_is_measured_off_the_plane_of_the_corners)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  analysis::OpenDoorResult d = drawn().d;
  const door::Panel& panel = drawn().door.panel;
  d.door_displacement.clear();
  for (const auto& p : drawn().mesh.door.nodes) { // 2 mm towards the fire in the middle, on a slope
    const double x = 2.0 * p.x / panel.width - 1.0;
    const double z = 2.0 * p.z / panel.height - 1.0;
    d.door_displacement.push_back({0.0, -0.001 * (2.0 - x * x - z * z) + 0.01 * p.x, 0.0});
  }
  const figures::Figure f =
      figures::bow_figure(drawn().door, drawn().mesh, d, plain_units(), small);
  BOOST_TEST(inked(f.page.pictures.at(0).raster) > 0.2);
  BOOST_TEST(says(f.page, "\u22122.00 mm"));
  BOOST_TEST(says(f.page, "0.00 mm"));
}

// A line of forty lengths, half of it squeezed less than seals: one length of ribbon each, in
// colours of both sides.
BOOST_AUTO_TEST_CASE(the_gasket_lies_on_the_door_as_a_ribbon)
{
  const scene::Display display;
  BOOST_REQUIRE(display.ready());
  door::Door door = drawn().door;
  door.gasket.curve = {{0.0, 0.0}, {0.004, 4000.0}};
  door.gasket.sealing = 2000.0; // N/m: at 2 mm
  door.gasket.crushing = 0.006;
  analysis::ClosedDoorResult closed;
  constexpr int pieces = 40;
  for (int i = 0; i < pieces; ++i) {
    const double angle = 2.0 * 3.14159265358979 * i / pieces;
    contact::GasketPoint at;
    at.place = {0.38 + 0.35 * std::cos(angle), 0.0, 0.38 + 0.35 * std::sin(angle)};
    at.squeeze = i < pieces / 2 ? 0.001 : 0.0035;
    closed.gasket.push_back(at);
  }
  closed.gasket_summary.below_sealing = 0.5;
  analysis::LatchResult latch;
  latch.place = {0.73, 0.0, 0.38};
  latch.force = 700.0;
  closed.latches.push_back(latch);
  const figures::Figure f =
      figures::gasket_figure(door, drawn().mesh, closed, plain_units(), small);
  int below = 0;
  int above = 0;
  for (const auto& s : f.page.shapes)
    if (s.stroke && s.stroke->width > 2.5)
      ++(page::to_oklab(s.stroke->colour).b < 0.0 ? below : above);
  BOOST_TEST(below == pieces / 2);
  BOOST_TEST(above == pieces / 2);
  BOOST_TEST(says(f.page, "latch 700 N"));
  BOOST_TEST(says(f.page, "limit 2.0"));
  BOOST_TEST(says(f.page, "50 % of the line seals"));
}
