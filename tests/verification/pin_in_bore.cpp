// SPDX-License-Identifier: GPL-3.0-or-later
// Pin in a bore with clearance, plane strain, same material, frictionless.
//
// Source: see persson.hpp. With eps the half angle of contact and b = tan(eps / 2):
//   E' dR / Q = (2 - ln(1 + b^2) - 2 b^4) / (pi b^2 (1 + b^2)),
//   p0 R / Q = 2 b / (pi sqrt(1 + b^2)) + ln((sqrt(1+b^2)+b)/(sqrt(1+b^2)-b)) / (2 pi b^2 (1+b^2)).
//
// Band: 3 % on the peak pressure; the half angle to one node spacing (1 degree), since contact ends
// at a node. The plate is 20 pin radii wide; its edge shifts the results by less than 1 %.
#define BOOST_TEST_MODULE pin_in_bore
#include <boost/test/unit_test.hpp>

#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/verification/persson.hpp"

#include <cmath>
#include <numbers>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source persson{
    "Pin in bore",
    "Persson, On the stress distribution of cylindrical elastic bodies in contact, dissertation, "
    "Chalmers, "
    "1964; Ciavarella and Decuzzi, Int. J. Solids and Structures 38 (2001); pressure formula from "
    "memory, "
    "load formula fitted to an own integration of the Michell series that closes to 4e-10."};

constexpr double pi = std::numbers::pi;
constexpr double radius = 0.0127; // m
constexpr double youngs = 200.0e9;
constexpr double poisson = 0.3;
constexpr double thick = 0.001; // m, one layer
constexpr int around = 180;     // cells: a node every degree

// A ring of cells between radii, one layer thick; node (i along the radius, j round, k up).
struct Ring {
  mesh::BodyMesh mesh;
  int radial = 0; // node circles
  [[nodiscard]] int node(int i, int j, int k) const
  {
    return (i * 2 * around + (j % (2 * around))) * 3 + k;
  }
};

Ring make_ring(const std::vector<double>& cell_radii)
{
  Ring ring;
  ring.radial = 2 * static_cast<int>(cell_radii.size()) - 1;
  for (int i = 0; i < ring.radial; ++i) {
    const double r =
        i % 2 == 0 ? cell_radii[i / 2] : 0.5 * (cell_radii[i / 2] + cell_radii[i / 2 + 1]);
    for (int j = 0; j < 2 * around; ++j)
      for (int k = 0; k < 3; ++k) {
        const double a = pi * j / around;
        ring.mesh.nodes.push_back({r * std::cos(a), r * std::sin(a), 0.5 * thick * k});
      }
  }
  for (int i = 0; i + 2 < ring.radial; i += 2)
    for (int j = 0; j < 2 * around; j += 2) {
      mesh::Hex27 hex;
      hex.part = mesh::Part::ring;
      for (int n = 0; n < 27; ++n)
        hex.node[n] = ring.node(i + n % 3, j + (n / 3) % 3, n / 9);
      ring.mesh.cells.push_back(hex);
    }
  return ring;
}

std::vector<double> graded(double from, double to, double first)
{
  std::vector<double> radii{from};
  double step = first;
  while (radii.back() + 1.3 * step < to) {
    radii.push_back(radii.back() + step);
    step *= 1.35;
  }
  radii.push_back(to);
  return radii;
}

std::vector<elasticity::FixedDof> plane_strain(const mesh::BodyMesh& mesh)
{
  std::vector<elasticity::FixedDof> fixed;
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
    fixed.push_back({static_cast<int>(n), 2});
  return fixed;
}

struct Answer {
  double half_angle = 0.0; // rad
  double peak = 0.0;       // p0 R / Q
};

// Nodal weights of the arc and of the thickness: 1/3 and 2/3 of a cell, 1/6, 4/6, 1/6 of a layer.
double node_area(int j, int k)
{
  const double arc = 2.0 * pi * radius / around * (j % 2 == 0 ? 1.0 / 3.0 : 2.0 / 3.0);
  return arc * thick * (k == 1 ? 4.0 / 6.0 : 1.0 / 6.0);
}

Answer press(double eps)
{
  const double e_plane = youngs / (1.0 - poisson * poisson);
  const double line_load = 1.0e6; // N/m
  const double clearance = persson_load(eps) * line_load / e_plane;

  std::vector<double> pin_radii = graded(0.0, 0.97 * radius, 0.02 * radius);
  for (double& r : pin_radii) // fine at the surface, a small hole in the middle
    r = radius - r;
  std::vector<double> rising(pin_radii.rbegin(), pin_radii.rend());
  const Ring pin = make_ring(rising);
  const Ring plate = make_ring(graded(radius + clearance, 20.0 * radius, 0.02 * radius));

  const elasticity::CellElasticity steel = [](const mesh::Hex27&) {
    return elasticity::elasticity(youngs, poisson);
  };
  auto pin_held = plane_strain(pin.mesh);
  for (const auto& h :
       {elasticity::FixedDof{pin.node(0, 0, 0), 0}, elasticity::FixedDof{pin.node(0, 0, 0), 1},
        elasticity::FixedDof{pin.node(0, around, 0), 1}})
    pin_held.push_back(h);
  auto plate_held = plane_strain(plate.mesh);
  for (int j = 0; j < 2 * around; ++j)
    for (int k = 0; k < 3; ++k)
      for (int c = 0; c < 2; ++c)
        plate_held.push_back({plate.node(plate.radial - 1, j, k), c});
  substructuring::FactorizationCache cache;
  const substructuring::SubstructuredBody elastic_plate(plate.mesh, steel, plate_held, {}, cache);
  const substructuring::SubstructuredBody elastic_pin(pin.mesh, steel, pin_held, {}, cache);

  // The pin is loaded towards +x, uniformly over the edge of its small hole.
  std::vector<contact::BodyResponse> bodies(2);
  bodies[0].mesh = &plate.mesh;
  bodies[0].elastic = &elastic_plate;
  bodies[0].load.resize(plate.mesh.nodes.size());
  bodies[1].mesh = &pin.mesh;
  bodies[1].elastic = &elastic_pin;
  bodies[1].load.resize(pin.mesh.nodes.size());
  const double hole = 2.0 * pi * radius * thick; // sum of the nodal areas
  for (int j = 0; j < 2 * around; ++j)
    for (int k = 0; k < 3; ++k)
      bodies[1].load[pin.node(0, j, k)].x += line_load * thick * node_area(j, k) / hole;
  for (auto& body : bodies)
    body.load_displacement = body.elastic->solve(body.load);

  std::vector<contact::ContactPair> pairs;
  for (int k = 0; k < 3; ++k)
    for (int j = 0; j < 2 * around; ++j) {
      const double a = pi * j / around;
      contact::ContactPair pair;
      pair.round = k;
      pair.normal = {std::cos(a), std::sin(a), 0.0};
      pair.gap = clearance;
      pair.outer = {0, {{plate.node(0, j, k), 1.0}}};
      pair.inner = {1, {{pin.node(pin.radial - 1, j, k), 1.0}}};
      pairs.push_back(pair);
    }
  const std::vector<contact::RigidMode> modes{{1, {1.0, 0.0, 0.0}, {}, {}},
                                              {1, {0.0, 1.0, 0.0}, {}, {}}};
  const contact::ContactResult contact = contact::solve_contact(bodies, modes, pairs, {});

  Answer answer;
  double sum = 0.0;
  for (std::size_t p = 0; p < pairs.size(); ++p) {
    sum += contact.state.contact_force[p] * pairs[p].normal.x;
    const int j = static_cast<int>(p) % (2 * around);
    const double a = j > around ? 2.0 * pi - pi * j / around : pi * j / around;
    if (contact.state.contact_force[p] > 0.0)
      answer.half_angle = std::max(answer.half_angle, a);
  }
  BOOST_TEST(std::abs(sum / (line_load * thick) - 1.0) < 1e-9);
  double front = 0.0;
  double area = 0.0;
  for (const int j : {0, 1, 2 * around - 1}) // the cell face round the middle
    for (int k = 0; k < 3; ++k) {
      front += contact.state.contact_force[static_cast<std::size_t>(k) * 2 * around + j];
      area += node_area(j, k);
    }
  answer.peak = front / area * radius / line_load;
  return answer;
}

} // namespace

BOOST_AUTO_TEST_CASE(half_angle_and_peak_pressure)
{
  for (const double degrees : {15.0, 30.0, 50.0}) {
    const double eps = degrees * pi / 180.0;
    const Answer answer = press(eps);
    const std::string id = std::to_string(static_cast<int>(degrees));
    check_row(persson, {"pin-half-angle-" + id, "half angle of contact", "deg"},
              within(degrees, 1.01 * 180.0 / around + 0.01 * degrees,
                     "contact ends at a node; plate of 20 radii"),
              answer.half_angle * 180.0 / pi);
    check_row(persson, {"pin-peak-" + id, "peak pressure p0 R / Q at " + id + " deg", ""},
              near(persson_peak(eps), 0.03, "nodes every degree; plate of 20 radii"), answer.peak);
  }
}

// The table that was computed beside the source, against the formulas used above. Band: the table's
// rounding.
BOOST_AUTO_TEST_CASE(formula_meets_its_table)
{
  struct Row {
    double degrees;
    double load;
    double peak;
  };
  for (const Row& row :
       {Row{5, 333.0056, 7.3021}, Row{10, 82.2206, 3.6616}, Row{15, 35.7833, 2.4529},
        Row{20, 19.5353, 1.8524}, Row{30, 7.9435, 1.2603}, Row{40, 3.9050, .9739},
        Row{45, 2.8231, .8821}, Row{50, 2.0546, .8112}, Row{60, 1.0672, .7117},
        Row{70, .4880, .6496}, Row{80, .1261, .6116}}) {
    const double eps = row.degrees * pi / 180.0;
    BOOST_TEST(std::abs(persson_load(eps) - row.load) < 5.1e-5);
    BOOST_TEST(std::abs(persson_peak(eps) - row.peak) < 5.1e-5);
  }
  // The inverse, and the limit of no clearance.
  for (const auto& [load, degrees] : {std::pair{100.0, 9.081},
                                      {30.0, 16.325},
                                      {10.0, 27.138},
                                      {5.0, 36.342},
                                      {1.0, 60.933},
                                      {0.5, 69.735},
                                      {0.0, 84.83}})
    BOOST_TEST(std::abs(persson_half_angle(load) * 180.0 / pi - degrees) < 0.0051);
  BOOST_TEST(std::abs(persson_peak(persson_half_angle(0.0)) - 0.5996) < 1e-4);
  // Loose fits become Hertz: E' dR / Q -> 8 / (pi eps^2).
  BOOST_TEST(std::abs(persson_load(0.01) / (8.0 / (pi * 1e-4)) - 1.0) < 1e-3);
}
