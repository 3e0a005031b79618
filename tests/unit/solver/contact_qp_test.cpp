// SPDX-License-Identifier: GPL-3.0-or-later
// The dual quadratic programme against what can be worked out by hand and against brute force.
#define BOOST_TEST_MODULE contact_qp
#include <boost/test/unit_test.hpp>

#include "meshing/common/errors.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_qp.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace hangtrue;

namespace
{

contact::ContactQP two_springs(double load)
{
  // Two supports of flexibility 1 and 3 carry a weight that may sink (one rigid displacement, up).
  contact::ContactQP program;
  program.compliance = linear_algebra::DenseMatrix(2, 2);
  program.compliance(0, 0) = 1.0;
  program.compliance(1, 1) = 3.0;
  program.rigid = linear_algebra::DenseMatrix(2, 1);
  program.rigid(0, 0) = 1.0;
  program.rigid(1, 0) = 1.0;
  program.gap = {0.0, 2.0};
  program.load = {load};
  return program;
}

} // namespace

BOOST_AUTO_TEST_CASE(second_support_takes_part_only_when_reached)
{
  // Below a load of 2 the first spring is alone; its sinking is the load.
  const contact::ContactQPSolution light = contact::solve_contact_qp(two_springs(1.5));
  BOOST_TEST(light.contact_force[0] == 1.5, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(light.contact_force[1] == 0.0);
  BOOST_TEST(light.amplitude[0] == -1.5, boost::test_tools::tolerance(1e-12));
  // Above: equal sinking s = p1 = 2 + 3 p2, p1 + p2 = 6 gives p2 = 1, p1 = 5.
  const contact::ContactQPSolution heavy = contact::solve_contact_qp(two_springs(6.0));
  BOOST_TEST(heavy.contact_force[0] == 5.0, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(heavy.contact_force[1] == 1.0, boost::test_tools::tolerance(1e-12));
  BOOST_TEST(heavy.amplitude[0] == -5.0, boost::test_tools::tolerance(1e-12));
}

BOOST_AUTO_TEST_CASE(nothing_pulls)
{
  BOOST_CHECK_THROW(contact::solve_contact_qp(two_springs(-1.0)), ComputeError);
}

// Against every possible carried set, on small random programmes: the one that fulfils all
// conditions is the solution, and it is unique since F is positive definite.
BOOST_AUTO_TEST_CASE(agrees_with_trying_every_set)
{
  std::mt19937 random(7);
  std::uniform_real_distribution<double> number(-1.0, 1.0);
  int compared = 0;
  for (int trial = 0; trial < 40; ++trial) {
    constexpr int n = 7;
    contact::ContactQP program;
    program.compliance = linear_algebra::DenseMatrix(n, n);
    double factor[n][n];
    for (auto& row : factor)
      for (double& v : row)
        v = number(random);
    for (int i = 0; i < n; ++i)
      for (int j = 0; j < n; ++j) {
        for (int k = 0; k < n; ++k)
          program.compliance(i, j) += factor[i][k] * factor[j][k];
        program.compliance(i, j) += i == j ? 0.1 : 0.0;
      }
    program.rigid = linear_algebra::DenseMatrix(n, 2);
    for (int i = 0; i < n; ++i) {
      const double angle = 0.9 * i;
      program.rigid(i, 0) = std::cos(angle);
      program.rigid(i, 1) = std::sin(angle);
      program.gap.push_back(0.5 + 0.5 * number(random));
    }
    program.load = {number(random), number(random)};
    const contact::ContactQPSolution found = contact::solve_contact_qp(program);
    // The result does not depend on the starting set.
    for (int set = 1; set < (1 << n); set += 5) {
      std::vector<int> initial_active_set;
      for (int i = 0; i < n; ++i)
        if ((set >> i) & 1)
          initial_active_set.push_back(i);
      const contact::ContactQPSolution again =
          contact::solve_contact_qp(program, initial_active_set);
      for (int i = 0; i < n; ++i)
        BOOST_TEST(std::abs(found.contact_force[i] - again.contact_force[i]) < 1e-7);
    }

    for (int set = 1; set < (1 << n); ++set) {
      std::vector<int> active_set;
      for (int i = 0; i < n; ++i)
        if ((set >> i) & 1)
          active_set.push_back(i);
      const contact::ContactQPSolution tried =
          contact::solve_fixed_active_set(program, active_set, program.gap, program.load);
      bool right = true;
      for (int r = 0; r < 2; ++r) {
        double balance = -program.load[r];
        for (int i = 0; i < n; ++i)
          balance += program.rigid(i, r) * tried.contact_force[i];
        right = right && std::abs(balance) < 1e-9;
      }
      for (int i = 0; i < n; ++i) {
        double gap = program.gap[i];
        for (int j = 0; j < n; ++j)
          gap += program.compliance(i, j) * tried.contact_force[j];
        for (int r = 0; r < 2; ++r)
          gap += program.rigid(i, r) * tried.amplitude[r];
        right = right && gap > -1e-9 && tried.contact_force[i] > -1e-9 &&
                std::abs(gap * tried.contact_force[i]) < 1e-9;
      }
      if (!right)
        continue;
      ++compared;
      for (int i = 0; i < n; ++i)
        BOOST_TEST(std::abs(found.contact_force[i] - tried.contact_force[i]) < 1e-7);
    }
  }
  BOOST_TEST(compared >= 40);
}

// A plate on springs, started from three of them that are in a row but for rounding: they cannot
// constrain rotation about the row, and their solution must not be accepted.
BOOST_AUTO_TEST_CASE(a_subset_that_barely_constrains_is_rejected)
{
  for (const double off : {1e-10, 1e-9, 1e-8, 1e-7, 1e-6}) {
    constexpr int side = 6;
    contact::ContactQP program;
    program.compliance = linear_algebra::DenseMatrix(side * side, side * side);
    program.rigid = linear_algebra::DenseMatrix(side * side, 3);
    for (int i = 0; i < side * side; ++i) {
      const double x = i % side;
      const double y = i / side + (i == 1 ? off : 0.0);
      program.compliance(i, i) = 1.0 + 0.01 * i;
      program.rigid(i, 0) = 1.0;
      program.rigid(i, 1) = x;
      program.rigid(i, 2) = y;
      program.gap.push_back(0.001 * ((7 * i) % 11));
    }
    program.load = {10.0, 11.0, 4.0 * off};
    const contact::ContactQPSolution cold = contact::solve_contact_qp(program);
    const contact::ContactQPSolution started = contact::solve_contact_qp(program, {0, 1, 2});
    for (int i = 0; i < side * side; ++i)
      BOOST_TEST(std::abs(cold.contact_force[i] - started.contact_force[i]) < 1e-7,
                 "off by " << off << ", " << i);
  }
}

BOOST_AUTO_TEST_CASE(a_contact_pair_is_described_by_its_position)
{
  contact::ContactPair pair;
  pair.kind = contact::ContactKind::bore;
  pair.hinge = 0;
  pair.knuckle = 1;
  BOOST_TEST(contact::pair_label(pair) == "in the bore of hinge 1, knuckle 2");
  pair.kind = contact::ContactKind::gasket;
  pair.place = {0.25, 0.0, 0.1};
  BOOST_TEST(contact::pair_label(pair) ==
             "at the gasket, 0.25 m from the hinge edge and 0.10 m up");
}

// A beam on two springs of 1 and 2 (m/N), and a rigid stop on it half-way, whose displacement is
// the mean of the others and so adds nothing to what is free: its row of F is theirs. The beam
// sinks uniformly (one rigid displacement), the stop is reached last. By hand: for a load of 3 at
// no gap the sinking s has p1 + p2 + p3 = 3 and every gap zero; of all such forces the smallest are
// taken.
BOOST_AUTO_TEST_CASE(a_stop_that_depends_on_others)
{
  contact::ContactQP program;
  program.compliance = linear_algebra::DenseMatrix(3, 3);
  const double rows[3][3] = {{1.0, 0.0, 0.5}, {0.0, 2.0, 1.0}, {0.5, 1.0, 0.75}};
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j)
      program.compliance(i, j) = rows[i][j];
  program.rigid = linear_algebra::DenseMatrix(3, 1);
  for (int i = 0; i < 3; ++i)
    program.rigid(i, 0) = 1.0;
  program.gap = {0.0, 0.0, 0.0};
  program.load = {3.0};
  const contact::ContactQPSolution found = contact::solve_contact_qp(program);
  double sum = 0.0;
  for (int i = 0; i < 3; ++i) {
    BOOST_TEST(found.contact_force[i] >= -1e-9);
    sum += found.contact_force[i];
    double gap = found.amplitude[0];
    for (int j = 0; j < 3; ++j)
      gap += rows[i][j] * found.contact_force[j];
    BOOST_TEST(std::abs(gap) < 1e-8); // two springs side by side: 3 N x 2/3 m/N
  }
  BOOST_TEST(sum == 3.0, boost::test_tools::tolerance(1e-9));
  BOOST_TEST(found.amplitude[0] == -2.0, boost::test_tools::tolerance(1e-8));
}
