// SPDX-License-Identifier: GPL-3.0-or-later
// Drawings of a door: surfaces and cuts, scales and keys, views, and pictures that show it.
#define BOOST_TEST_MODULE scene
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/fe/cell_values.hpp"
#include "tests/support/test_doors.hpp"
#include "tests/support/test_meshes.hpp"
#include "viz/figures/figures.hpp"
#include "viz/scene/scene.hpp"
#include "viz/scene/surface_extraction.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

using namespace hangtrue;

namespace
{

const scene::CellFilter all_cells = [](const mesh::Hex27&) { return true; };

mesh::BodyMesh box_mesh() // 2 x 1 x 1 m, two by one by one cells
{
  return test::block(test::equal_cells(2.0, 2), test::equal_cells(1.0, 1),
                     test::equal_cells(1.0, 1));
}

double area_of(const scene::Surface& s, const std::vector<Vec3>& positions)
{
  double sum = 0.0;
  for (const auto& p : s.pieces)
    for (std::size_t i = 2; i < p.size(); ++i)
      sum += 0.5 *
             norm(cross(positions[p[i - 1]] - positions[p[0]], positions[p[i]] - positions[p[0]]));
  return sum;
}

double length_of(const scene::Surface& s, const std::vector<Vec3>& positions)
{
  double sum = 0.0;
  for (const auto& e : s.edges)
    sum += norm(positions[e[1]] - positions[e[0]]);
  return sum;
}

bool says(const page::Page& page, const std::string& text)
{
  return std::any_of(page.labels.begin(), page.labels.end(), [&](const page::TextLabel& w) {
    return w.text.find(text) != std::string::npos;
  });
}

} // namespace

BOOST_AUTO_TEST_CASE(surface_of_a_box_has_its_area_and_its_edges)
{
  const mesh::BodyMesh box = box_mesh();
  const scene::Surface s = scene::surface_of(box, all_cells);
  const auto positions = scene::point_positions(s, box);
  BOOST_TEST(std::abs(area_of(s, positions) - 10.0) < 1e-12); // 2 (2 + 2 + 1) m^2
  BOOST_TEST(std::abs(length_of(s, positions) - 16.0) <
             1e-12);                  // 4 (2 + 1 + 1) m; none between the cells
  BOOST_TEST(s.pieces.size() == 40U); // ten sides of four facets
}

BOOST_AUTO_TEST_CASE(a_cut_has_the_area_of_the_section)
{
  const mesh::BodyMesh box = box_mesh();
  for (const double z : {0.3, 0.5}) { // between the nodes, and on them
    const scene::Surface s = scene::plane_cut(box, all_cells, {0.0, 0.0, z}, {0.0, 0.0, 1.0});
    BOOST_TEST(std::abs(area_of(s, scene::point_positions(s, box)) - 2.0) < 1e-6);
  }
  const double slant = std::sqrt(0.5); // along the diagonal of an end face
  const scene::Surface s = scene::plane_cut(box, all_cells, {0.0, 0.5, 0.5}, {0.0, slant, -slant});
  BOOST_TEST(std::abs(area_of(s, scene::point_positions(s, box)) - 2.0 * std::sqrt(2.0)) < 1e-6);
}

BOOST_AUTO_TEST_CASE(values_are_interpolated_to_the_cut)
{
  const mesh::BodyMesh box = box_mesh();
  std::vector<double> nodes;
  for (const auto& p : box.nodes)
    nodes.push_back(3.0 * p.x - p.y);
  const scene::Surface s = scene::plane_cut(box, all_cells, {0.7, 0.0, 0.0}, {1.0, 0.0, 0.0});
  const auto positions = scene::point_positions(s, box);
  const auto values = scene::values_at(s, nodes);
  for (std::size_t i = 0; i < positions.size(); ++i)
    BOOST_TEST(std::abs(values[i] - (2.1 - positions[i].y)) < 1e-9);
}

// A gradient in x: contour lines are straight across, joined to one chain each.
BOOST_AUTO_TEST_CASE(contour_lines_lie_where_the_value_is)
{
  const mesh::BodyMesh box = box_mesh();
  const scene::Surface s = scene::plane_cut(box, all_cells, {0.0, 0.0, 0.3}, {0.0, 0.0, 1.0});
  const auto positions = scene::point_positions(s, box);
  std::vector<double> values;
  for (const auto& p : positions)
    values.push_back(p.x);
  const auto chains = scene::contour_lines(s, positions, values, {0.25, 1.3});
  BOOST_TEST(chains.size() == 2U);
  for (const auto& c : chains) {
    double length = 0.0;
    for (std::size_t i = 1; i < c.points.size(); ++i)
      length += norm(c.points[i] - c.points[i - 1]);
    BOOST_TEST(std::abs(length - 1.0) < 1e-9);
    for (const auto& p : c.points)
      BOOST_TEST(std::abs(p.x - c.value) < 1e-9);
  }
}

BOOST_AUTO_TEST_CASE(the_key_ends_at_the_data_and_shows_the_limit)
{
  const std::vector<double> values{71.3, 212.0, 398.6};
  const scene::ColourScale scale = scene::colour_scale(values, 10, "degF", 140.0);
  BOOST_TEST(scale.from == 71.3);
  BOOST_TEST(scale.to == 398.6);
  const scene::ColourScale beyond = scene::colour_scale(values, 10, "degF", 450.0);
  BOOST_TEST(beyond.to == 450.0); // a limit is never off the scale
  for (const double e : scene::band_ends(scale))
    BOOST_TEST(std::abs(e / scale.step - std::round(e / scale.step)) < 1e-9);
  double before = 2.0;
  for (const double e : scene::band_ends(scale)) {
    const double now = page::to_oklab(scene::band_colour(scale, e - 0.5 * scale.step)).lightness;
    BOOST_TEST(now < before); // darker from band to band
    before = now;
  }
  page::Page page;
  scene::draw_key(page, {10.0, 10.0}, 80.0, scale, "temperature");
  BOOST_TEST(says(page, "71 degF"));
  BOOST_TEST(says(page, "399 degF"));
  BOOST_TEST(says(page, "limit 140"));
}

BOOST_AUTO_TEST_CASE(two_sides_are_as_dark_at_the_same_distance)
{
  const scene::ColourScale scale = scene::two_sided_scale({-0.08, 0.08}, 8, "in", 0.0);
  const page::OklabColour below = page::to_oklab(scene::band_colour(scale, -0.05));
  const page::OklabColour above = page::to_oklab(scene::band_colour(scale, 0.05));
  BOOST_TEST(std::abs(below.lightness - above.lightness) < 1e-3);
  BOOST_TEST(std::hypot(below.a - above.a, below.b - above.b) > 0.05);
}

BOOST_AUTO_TEST_CASE(a_view_keeps_directions_and_sizes)
{
  const std::vector<Vec3> places{{0.0, 0.0, 0.0}, {2.0, 0.0, 1.0}};
  const scene::Window w =
      scene::fitted({10.0, 20.0}, 100.0, 80.0, {-1.0, 0.0, 0.0}, {0.0, 0.0, 1.0}, places, 0.1);
  const page::PagePoint low = scene::on_page(w, places[0]);
  const page::PagePoint high = scene::on_page(w, places[1]);
  BOOST_TEST(std::abs(low.x - high.x - 80.0) < 1e-9); // x runs to the left, border 10 % each side
  BOOST_TEST(std::abs(low.y - high.y - 40.0) < 1e-9); // to the same scale, upwards
  BOOST_TEST(std::abs(0.5 * (low.x + high.x) - 60.0) < 1e-9);
  BOOST_TEST(std::abs(0.5 * (low.y + high.y) - 60.0) < 1e-9);
}
