// SPDX-License-Identifier: GPL-3.0-or-later
// Buckling of a skin whose membrane stress differs from place to place, against finite differences.
//
// A hot skin is compressed in the middle and in tension along its cold edges: uniform compression
// s_m in both directions plus the field of Airy's function A (1 - x^2)^2 (1 - z^2)^2, which is in
// equilibrium by itself, has no mean, and here makes the middle 2.5 times the mean. Differences on
// two grids, the h^2 term eliminated; they share no line with the program.
#define BOOST_TEST_MODULE buckling_by_differences
#include <boost/test/unit_test.hpp>

#include "solver/strength/plate_stress_average.hpp"
#include "solver/strength/skin_buckling.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <Eigen/Dense>
#include <Eigen/Eigenvalues>

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

// Forces at a point, -1..1 in both directions, of mean compression 1: x, z and shear, tension
// positive.
std::array<double, 3> forces_at(double x, double z)
{
  const double a = 0.375; // middle: -1 - 4 a = -2.5
  const double px = 1.0 - x * x;
  const double pz = 1.0 - z * z;
  return {-1.0 + a * px * px * (12.0 * z * z - 4.0), -1.0 + a * pz * pz * (12.0 * x * x - 4.0),
          -16.0 * a * x * z * px * pz};
}

// Greatest eigenvalue of work against bending, side 2, stiffness 1, on n x n inner points.
double by_differences(int n, bool clamped)
{
  const double h = 2.0 / (n + 1);
  const int size = n * n;
  const auto at = [&](int i, int j) {
    return i < 1 || j < 1 || i > n || j > n ? -1 : i - 1 + n * (j - 1);
  };
  const auto place = [&](double i) { return -1.0 + h * i; };
  Eigen::MatrixXd laplace = Eigen::MatrixXd::Zero(size, size);
  Eigen::MatrixXd work = Eigen::MatrixXd::Zero(size, size);
  Eigen::MatrixXd bending = Eigen::MatrixXd::Zero(size, size);
  // Adds value * (sum of wa w)(sum of wb w), in both directions.
  using Row = std::vector<std::pair<int, double>>;
  const auto add = [&](double value, const Row& a, const Row& b) {
    for (const auto& [p, u] : a)
      for (const auto& [q, v] : b)
        if (p >= 0 && q >= 0) {
          work(p, q) += 0.5 * value * u * v;
          work(q, p) += 0.5 * value * u * v;
        }
  };
  for (int j = 1; j <= n; ++j)
    for (int i = 1; i <= n; ++i) {
      const int p = at(i, j);
      laplace(p, p) = -4.0 / (h * h);
      for (const auto& [di, dj] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}})
        if (const int q = at(i + di, j + dj); q >= 0)
          laplace(p, q) = 1.0 / (h * h);
        else if (clamped) // mirror point beyond a clamped edge: same sign
          bending(p, p) += 2.0 * h * h / std::pow(h, 4.0);
    }
  bending += h * h * laplace * laplace;
  for (int j = 0; j <= n; ++j)
    for (int i = 0; i <= n; ++i) {
      const double mid_x = place(i + 0.5);
      const double mid_z = place(j + 0.5);
      const Row across{{at(i + 1, j), 1.0 / h}, {at(i, j), -1.0 / h}};
      const Row along{{at(i, j + 1), 1.0 / h}, {at(i, j), -1.0 / h}};
      add(-h * h * forces_at(mid_x, place(j))[0], across, across);
      add(-h * h * forces_at(place(i), mid_z)[1], along, along);
      const double half = 0.5 / h;
      const Row x{
          {at(i + 1, j), half}, {at(i + 1, j + 1), half}, {at(i, j), -half}, {at(i, j + 1), -half}};
      const Row z{
          {at(i, j + 1), half}, {at(i + 1, j + 1), half}, {at(i, j), -half}, {at(i + 1, j), -half}};
      add(-2.0 * h * h * forces_at(mid_x, mid_z)[2], x, z);
    }
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> modes(work, bending,
                                                                        Eigen::EigenvaluesOnly);
  return modes.eigenvalues()[size - 1];
}

// What both grids tend to.
double by_differences(bool clamped)
{
  const double coarse = by_differences(11, clamped);
  const double fine = by_differences(23, clamped);
  return fine + (fine - coarse) / 3.0;
}

// The columns of such a skin on the field of a door, `cells` x `cells`, mean compression `mean`,
// Pa.
std::vector<strength::PlateSample> columns_of(const door::Door& door, int cells, double mean)
{
  const double from = door.rim.width;
  const double h = (door.panel.width - 2.0 * from) / cells;
  std::vector<strength::PlateSample> columns;
  for (int j = 0; j < cells; ++j)
    for (int i = 0; i < cells; ++i) {
      strength::PlateSample column;
      column.part = mesh::Part::inner_skin;
      column.thickness = door.panel.inner_skin;
      column.low = {from + h * j, from + h * i};
      column.high = {from + h * (j + 1), from + h * (i + 1)};
      column.middle = {from + h * (i + 0.5), 0.5 * column.thickness, from + h * (j + 0.5)};
      column.volume = h * h * column.thickness;
      column.temperature = 20.0;
      const auto n = forces_at(2.0 * (i + 0.5) / cells - 1.0, 2.0 * (j + 0.5) / cells - 1.0);
      column.mean[0][0] = mean * n[0];
      column.mean[2][2] = mean * n[1];
      column.mean[0][2] = mean * n[2];
      columns.push_back(column);
    }
  return columns;
}

} // namespace

// The mean against the simply supported closed form gives 108 % here, which would count as the safe
// side: supported edges are far above, clamped ones below.
BOOST_AUTO_TEST_CASE(compressed_in_the_middle)
{
  const door::Door door = barrel_door(); // a square field
  const double side = door.panel.width - 2.0 * door.rim.width;
  const double t = door.panel.inner_skin;
  const double nu = door.steel.poisson;
  const double stiffness = door.steel.youngs_modulus * t * t * t / (12.0 * (1.0 - nu * nu));
  const double by_mean = 1.08;
  const double mean =
      by_mean * 2.0 * std::numbers::pi * std::numbers::pi * stiffness / (side * side * t);
  const auto skins = strength::skin_buckling(door, columns_of(door, 48, mean));
  BOOST_REQUIRE(skins.size() == 2U);
  const strength::SkinBuckling& inner = skins.front();
  BOOST_TEST((inner.skin == mesh::Part::inner_skin));
  BOOST_REQUIRE(inner.no_verdict.empty());
  const double scale = mean * t * 0.25 * side * side / stiffness; // of forces 1, side 2
  const Source differences{"Buckling by differences",
                           "Finite differences of second order on two grids, in the test itself."};
  const std::string both = "what h^4 leaves of the differences, 48 x 48 pieces";
  check_row(differences,
            {"buckling-middle-supported",
             "skin pressed 2.5 times its mean in the middle, supported: 1 / factor where the mean "
             "alone would say 1.08",
             ""},
            near(scale * by_differences(false), 5e-3, both), inner.supported.utilisation);
  check_row(differences, {"buckling-middle-clamped", "the same, clamped: 1 / factor", ""},
            near(scale * by_differences(true), 1e-2, both), inner.clamped.utilisation);
  BOOST_TEST(inner.supported.utilisation > 1.4 * by_mean);
  BOOST_TEST(inner.clamped.utilisation < by_mean);
  BOOST_TEST(std::abs(inner.supported.crest.x - 0.5 * door.panel.width) < 0.02 * side);
  BOOST_TEST(std::abs(inner.supported.crest.z - 0.5 * door.panel.height) < 0.02 * side);
  BOOST_TEST(inner.supported.stress > 1.5 * mean); // at the greatest compression
  BOOST_TEST(inner.supported.stress < 2.5 * mean);
  BOOST_TEST(inner.supported.width == side, boost::test_tools::tolerance(1e-9));
  BOOST_TEST(skins.back().supported.utilisation == 0.0); // no columns of the outer skin
}

// Sampled on a coarser mesh it is nearly the same: 8, 16 and 24 columns each way.
BOOST_AUTO_TEST_CASE(coarser_columns)
{
  const door::Door door = barrel_door();
  const double fine =
      strength::skin_buckling(door, columns_of(door, 48, 1e7)).front().supported.utilisation;
  double before = 1.0;
  for (const int cells : {8, 16, 24}) {
    const double found =
        strength::skin_buckling(door, columns_of(door, cells, 1e7)).front().supported.utilisation;
    const double missed = std::abs(found / fine - 1.0);
    BOOST_TEST_MESSAGE(cells << " columns each way: " << missed << " off");
    BOOST_TEST(missed < 0.6 * before);
    before = missed;
  }
  BOOST_TEST(before < 0.005);
}
