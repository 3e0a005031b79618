// SPDX-License-Identifier: GPL-3.0-or-later
// Elastic buckling of plates: k of N_cr = k pi^2 D / b^2 (Timoshenko and Gere, Theory of Elastic
// Stability, chapter 9, from memory). Where the book has a closed form or a number of its own the
// values stand for themselves; those of clamped plates and of shear are from a Ritz series of 81
// terms, since the book's are approximate there (10.07, 7.88, 7.37, 5.31; shear 9.34 and 14.71).
#define BOOST_TEST_MODULE plate_buckling
#include <boost/test/unit_test.hpp>

#include "solver/strength/plate_buckling.hpp"
#include "tests/support/book.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source timoshenko{"Buckling", "Timoshenko and Gere, Theory of Elastic Stability, 2nd edition "
                                    "1961, chapter 9 (from memory, recomputed by series)."};
const std::string polynomials = "polynomials that bend as sines do: digits printed";

constexpr strength::EdgeSupport pinned = strength::EdgeSupport::supported;
constexpr strength::EdgeSupport clamped = strength::EdgeSupport::clamped;
constexpr strength::FieldEdges all_pinned{};
constexpr strength::FieldEdges all_clamped{clamped, clamped, clamped, clamped};

// A plate a x 1 of stiffness 1 under forces that are the same all over.
strength::PlateField even_field(double a, const strength::PlateCell& forces)
{
  strength::PlateField field;
  field.x = {0.0, a};
  field.z = {0.0, 1.0};
  field.pieces = {forces};
  return field;
}

constexpr strength::PlateCell one_way{1.0, -1.0, 0.0, 0.0};
constexpr strength::PlateCell both_ways{1.0, -1.0, -1.0, 0.0};
constexpr strength::PlateCell sheared{1.0, 0.0, 0.0, 1.0};

double k_of(const strength::PlateField& field, const strength::FieldEdges& edges)
{
  const strength::BucklingMode mode = strength::buckling_mode(field, edges);
  BOOST_TEST(mode.settled);
  BOOST_TEST(mode.inverse_factor <= (1.0 + 1e-9) * strength::greatest_inverse_factor(field, edges));
  return 1.0 / (mode.inverse_factor * std::numbers::pi * std::numbers::pi);
}

} // namespace

BOOST_AUTO_TEST_CASE(supported_plates)
{
  check_row(timoshenko,
            {"buckling-square-one-way", "supported square plate pressed one way: k", ""},
            within(4.0, 5e-4, polynomials), k_of(even_field(1.0, one_way), all_pinned));
  check_row(timoshenko,
            {"buckling-square-both-ways", "supported square plate pressed both ways: k", ""},
            within(2.0, 5e-4, polynomials), k_of(even_field(1.0, both_ways), all_pinned));
  check_row(timoshenko, {"buckling-two-to-one", "supported plate a/b = 2 pressed one way: k", ""},
            within(4.0, 5e-4, polynomials), k_of(even_field(2.0, one_way), all_pinned));
  check_row(timoshenko, {"buckling-ten-to-one", "supported plate a/b = 10 pressed one way: k", ""},
            within(4.0, 5e-3, "ten half waves; functions are added until they change 0.2 %"),
            k_of(even_field(10.0, one_way), all_pinned));
  check_row(timoshenko, {"buckling-shear", "supported square plate in shear: k", ""},
            within(9.325, 1e-3, polynomials), k_of(even_field(1.0, sheared), all_pinned));
}

BOOST_AUTO_TEST_CASE(clamped_plates)
{
  const std::array<std::array<double, 2>, 3> by_length{{{1.0, 10.074}, {2.0, 7.867}, {3.0, 7.359}}};
  for (const auto& [a, k] : by_length)
    check_row(timoshenko,
              {"buckling-clamped-" + std::to_string(std::lround(a)),
               "clamped plate a/b = " + std::to_string(std::lround(a)) + " pressed one way: k", ""},
              within(k, 1e-3, polynomials), k_of(even_field(a, one_way), all_clamped));
  check_row(timoshenko,
            {"buckling-clamped-both-ways", "clamped square plate pressed both ways: k", ""},
            within(5.304, 1e-3, polynomials), k_of(even_field(1.0, both_ways), all_clamped));
  check_row(timoshenko, {"buckling-clamped-shear", "clamped square plate in shear: k", ""},
            within(14.64, 5e-3, polynomials), k_of(even_field(1.0, sheared), all_clamped));
}

BOOST_AUTO_TEST_CASE(mixed_edges)
{
  check_row(timoshenko,
            {"buckling-sides-clamped",
             "pressed ends supported, sides clamped, five half waves of 0.66 b: k", ""},
            within(6.971, 2e-3, "digits printed"),
            k_of(even_field(3.3, one_way), {pinned, pinned, clamped, clamped}));
  const std::array<std::array<double, 2>, 3> by_length{{{1.0, 1.402}, {2.0, 0.668}, {5.0, 0.464}}};
  for (const auto& [a, k] : by_length)
    check_row(timoshenko,
              {"buckling-one-free-" + std::to_string(std::lround(a)),
               "one long side free, a/b = " + std::to_string(std::lround(a)) +
                   " (Poisson's ratio 0.3): k",
               ""},
              within(k, 1e-3, "digits printed"),
              k_of(even_field(a, one_way), {pinned, pinned, pinned, strength::EdgeSupport::free}));
}

// Forces that fall off in a straight line over the width, in sixty steps of their mean.
BOOST_AUTO_TEST_CASE(bending_in_the_plane)
{
  const auto falling = [](double a, double far) {
    constexpr int steps = 60;
    strength::PlateField field;
    field.x = {0.0, a};
    field.z = {0.0};
    for (int j = 0; j < steps; ++j) {
      field.z.push_back((j + 1.0) / steps);
      field.pieces.push_back({1.0, -(1.0 + (far - 1.0) * (j + 0.5) / steps), 0.0, 0.0});
    }
    return field;
  };
  check_row(timoshenko,
            {"buckling-bent-in-plane", "supported plate a/b = 2/3 bent in its plane: k", ""},
            near(23.9, 3e-3, "digits printed, and sixty steps for a straight line"),
            k_of(falling(2.0 / 3.0, -1.0), all_pinned));
  check_row(timoshenko,
            {"buckling-falling-to-nothing",
             "supported square plate, compression falling to nothing at one side: k", ""},
            near(7.8, 5e-3, "digits printed"), k_of(falling(1.0, 0.0), all_pinned));
}

// A fully restrained 36 x 24 x 1/8 in plate buckles at a rise of 3.814 degF (from the same theory:
// alpha dT = pi^2 t^2 / (12 (1 + nu)) (1/a^2 + 1/b^2), 6.5e-6 per degF, recomputed). Restrained
// stress is E alpha dT / (1 - nu). Clamped and square the factor is 5.304 instead of 2.
BOOST_AUTO_TEST_CASE(restrained_plate_buckles_at_a_few_degrees)
{
  const double inch = 0.0254;
  const double e = 200e9;
  const double nu = 0.3;
  const double t = 0.125 * inch;
  const auto heated = [&](double a, double b, double rise) {
    const double force = -t * e * 6.5e-6 * rise / (1.0 - nu);
    strength::PlateField field;
    field.x = {0.0, a};
    field.z = {0.0, b};
    field.pieces = {{e * t * t * t / (12.0 * (1.0 - nu * nu)), force, force, 0.0}};
    return field;
  };
  const double rise = 3.814;
  check_row(timoshenko,
            {"buckling-held-in-heat", "36 x 24 x 1/8 in plate held in its plane: rise at buckling",
             "degF"},
            near(3.814, 3e-4, "digits printed"),
            rise / strength::buckling_mode(heated(36.0 * inch, 24.0 * inch, rise), all_pinned)
                       .inverse_factor);
  const double b = 24.0 * inch;
  const double by_hand =
      5.304 * std::pow(std::numbers::pi * t / b, 2.0) / (12.0 * (1.0 + nu)) / 6.5e-6;
  check_row(timoshenko,
            {"buckling-clamped-in-heat",
             "24 x 24 x 1/8 in plate, clamped and held in its plane: rise at buckling", "degF"},
            near(by_hand, 3e-4, "digits printed"),
            rise / strength::buckling_mode(heated(b, b, rise), all_clamped).inverse_factor);
}

// Ritz's factor falls as functions are added, and fast: the error of four by four is gone with
// eight.
BOOST_AUTO_TEST_CASE(more_functions)
{
  for (const strength::FieldEdges& edges : {all_pinned, all_clamped}) {
    const strength::PlateField field = even_field(1.5, sheared);
    const double exact = strength::buckling_mode(field, edges, 18, 18).inverse_factor;
    double before = 1.0;
    for (const int n : {4, 6, 8, 10}) {
      const double missed =
          1.0 - strength::buckling_mode(field, edges, n, n).inverse_factor / exact;
      BOOST_TEST(missed > -1e-9);
      BOOST_TEST(missed < std::max(0.3 * before, 1e-9));
      before = missed;
    }
    BOOST_TEST(before < 1e-3);
  }
}

// Without compression nothing buckles; tension in both directions with shear inside its circle is
// none.
BOOST_AUTO_TEST_CASE(tension_never_buckles)
{
  for (const strength::FieldEdges& edges : {all_pinned, all_clamped}) {
    BOOST_TEST(
        strength::buckling_mode(even_field(1.3, {1.0, 1.0, 1.0, 0.0}), edges).inverse_factor ==
        0.0);
    BOOST_TEST(
        strength::buckling_mode(even_field(1.3, {1.0, 1.0, 1.0, 0.9}), edges).inverse_factor ==
        0.0);
  }
}

// Three half waves of a plate three times as long as wide, crests equal: the first is reported.
BOOST_AUTO_TEST_CASE(crests)
{
  const strength::BucklingMode mode = strength::buckling_mode(even_field(3.0, one_way), all_pinned);
  BOOST_TEST(mode.waves_x == 3);
  BOOST_TEST(mode.waves_z == 1);
  BOOST_TEST(std::abs(mode.crest_z - 0.5) < 0.01); // a raster of 81
  BOOST_TEST(std::abs(std::fmod(mode.crest_x, 1.0) - 0.5) < 0.04);
  BOOST_TEST(std::abs(mode.compression - 1.0) < 1e-9);
}
