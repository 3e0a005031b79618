// SPDX-License-Identifier: GPL-3.0-or-later
// Plates under uniform pressure, as skins between rims are.
//
// Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells; Roark's Formulas for
// Stress and Strain, table 11.4, cases 1a and 8a: deflection y = alpha q b^4 / (E t^3), stress in
// the middle s = beta q b^2 / t^2, nu = 0.3, b the short side. The simply supported alpha column is
// rounded in the table (0.1110 at a/b = 2 where the series gives 0.1106), so the series,
// recomputed, is the target; clamped values agree with a 36-term Ritz solution. Band 1 %: b/t =
// 100, where shear adds some thousandths.
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <fmt/format.h>

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source plates{"Plates under pressure", "Timoshenko and Woinowsky-Krieger, Theory of Plates "
                                             "and Shells; Roark's Formulas for Stress and "
                                             "Strain, table 11.4, cases 1a and 8a (clamped: from "
                                             "memory); series and a Ritz solution recomputed."};

enum class Edge { supported, clamped };

struct Bent {
  double alpha = 0.0;
  double beta = 0.0;
};

// A quarter of the plate, middle at the origin, one cell through the thickness; cells three to six
// times as wide as thick (twice as wide still leaves a clamped plate 2 % too stiff).
Bent press(double a_over_b, Edge edge)
{
  const double b = 1.0;
  const double a = a_over_b * b;
  const double t = b / 100.0;
  const int cells = 16;
  const mesh::BodyMesh mesh =
      block(equal_cells(0.5 * a, cells), equal_cells(0.5 * b, cells), {0.0, t});
  const OnSurface at_a = [a](const Vec3& p) { return p.x > 0.5 * a - 1e-9; };
  const OnSurface at_b = [b](const Vec3& p) { return p.y > 0.5 * b - 1e-9; };
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.y < 1e-9; }, 1);
  for (const auto& side : {at_a, at_b})
    hold(fixed, mesh, side, 2);
  // A supported edge may turn about itself but not shear along itself.
  hold(fixed, mesh, at_a, 1);
  hold(fixed, mesh, at_b, 0);
  if (edge == Edge::clamped) {
    hold(fixed, mesh, at_a, 0);
    hold(fixed, mesh, at_b, 1);
  }
  const double e = 200e9;
  const elasticity::Elasticity steel = elasticity::elasticity(e, 0.3);
  const elasticity::ElasticBody plate(
      mesh, [&](const mesh::Hex27&) { return steel; }, fixed);
  elasticity::NodeField load(mesh.nodes.size());
  const double q = 1000.0;
  add_traction(
      mesh, [t](const Vec3& p) { return p.z > t - 1e-9; },
      [q](const Vec3&, const Vec3& normal) { return -q * normal; }, load);
  const elasticity::NodeField displacements = plate.solve(load);
  const double down = -displacements[nearest_node(mesh, {0.0, 0.0, 0.5 * t})].z;
  // Across the short side: yy at the lower face.
  const double stress = corner_stress(mesh, 0, 0, 0, 0, steel, displacements)[1][1];
  return {down * e * t * t * t / (q * std::pow(b, 4)), stress * t * t / (q * b * b)};
}

} // namespace

BOOST_AUTO_TEST_SUITE(pressed_plates)

BOOST_AUTO_TEST_CASE(supported_and_clamped)
{
  struct Row {
    double a_over_b;
    Edge edge;
    double alpha;
    double beta;
  };
  for (const Row& row :
       {Row{1.0, Edge::supported, 0.0444, 0.2873}, Row{1.4, Edge::supported, 0.0774, 0.4533},
        Row{2.0, Edge::supported, 0.1106, 0.6101}, Row{3.0, Edge::supported, 0.1336, 0.7132},
        Row{1.0, Edge::clamped, 0.0138, 0.1374}, Row{1.4, Edge::clamped, 0.0226, 0.2098},
        Row{2.0, Edge::clamped, 0.0277, 0.2469}}) {
    const Bent bent = press(row.a_over_b, row.edge);
    const std::string edge = row.edge == Edge::clamped ? "clamped" : "supported";
    const std::string ratio = fmt::format("{:.1f}", row.a_over_b);
    const std::string why = "b/t = 100: shear adds some thousandths";
    check_row(plates,
              {"plate-" + edge + "-" + ratio + "-alpha",
               edge + " plate, a/b " + ratio + ": alpha of the deflection", ""},
              near(row.alpha, 0.01, why), bent.alpha);
    check_row(plates,
              {"plate-" + edge + "-" + ratio + "-beta",
               edge + " plate, a/b " + ratio + ": beta of the stress in the middle", ""},
              near(row.beta, 0.01, why), bent.beta);
  }
}

BOOST_AUTO_TEST_SUITE_END()
