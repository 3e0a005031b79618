// SPDX-License-Identifier: GPL-3.0-or-later
// Colours against published numbers, and what makes a scale readable for all readers.
#define BOOST_TEST_MODULE palette
#include <boost/test/unit_test.hpp>

#include "viz/page/palette.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <vector>

using namespace hangtrue;

namespace
{

double apart(const page::Colour& a, const page::Colour& b)
{
  const page::OklabColour p = page::to_oklab(a);
  const page::OklabColour q = page::to_oklab(b);
  return std::hypot(p.lightness - q.lightness, p.a - q.a, p.b - q.b);
}

// Simulation of a reader who lacks one kind of cone: Machado, Oliveira and Fernandes, IEEE Trans.
// Visualization and Computer Graphics 15 (2009), severity 1.0 (matrices from memory; their rows add
// up to one, which is checked). They act on linear light; on encoded values, as taken here,
// differences come out much the same.
using Matrix = std::array<std::array<double, 3>, 3>;
constexpr std::array<Matrix, 3> missing_cones{{{{{0.152286, 1.052583, -0.204868},
                                                 {0.114503, 0.786281, 0.099216},
                                                 {-0.003882, -0.048116, 1.051998}}},
                                               {{{0.367322, 0.860646, -0.227968},
                                                 {0.280085, 0.672501, 0.047413},
                                                 {-0.011820, 0.042940, 0.968881}}},
                                               {{{1.255528, -0.076749, -0.178779},
                                                 {-0.078411, 0.930809, 0.147602},
                                                 {0.004733, 0.691367, 0.303900}}}}};

page::Colour without(const Matrix& m, const page::Colour& c)
{
  auto row = [&](int i) {
    return std::clamp(m[i][0] * c.red + m[i][1] * c.green + m[i][2] * c.blue, 0.0, 1.0);
  };
  return {row(0), row(1), row(2)};
}

constexpr int steps = 64;

} // namespace

// Table of XYZ and Lab pairs in Ottosson (2020), printed to three places.
BOOST_AUTO_TEST_CASE(oklab_meets_its_published_table)
{
  struct Row {
    std::array<double, 3> xyz;
    page::OklabColour lab;
  };
  const std::vector<Row> rows{{{0.950, 1.000, 1.089}, {1.000, 0.000, 0.000}},
                              {{1.000, 0.000, 0.000}, {0.450, 1.236, -0.019}},
                              {{0.000, 1.000, 0.000}, {0.922, -0.671, 0.263}},
                              {{0.000, 0.000, 1.000}, {0.153, -1.415, -0.449}}};
  for (const auto& r : rows) {
    const page::OklabColour s = page::oklab_from_xyz(r.xyz[0], r.xyz[1], r.xyz[2]);
    BOOST_TEST(std::abs(s.lightness - r.lab.lightness) < 6e-4); // half a unit of the last place
    BOOST_TEST(std::abs(s.a - r.lab.a) < 6e-4);
    BOOST_TEST(std::abs(s.b - r.lab.b) < 6e-4);
  }
}

BOOST_AUTO_TEST_CASE(there_and_back)
{
  for (const page::Colour c :
       {page::Colour{0.1, 0.5, 0.9}, page::Colour{1.0, 1.0, 1.0}, page::Colour{0.8, 0.02, 0.3}}) {
    const page::Colour back = page::from_oklab(page::to_oklab(c));
    BOOST_TEST(std::abs(back.red - c.red) < 1e-9);
    BOOST_TEST(std::abs(back.green - c.green) < 1e-9);
    BOOST_TEST(std::abs(back.blue - c.blue) < 1e-9);
  }
  BOOST_TEST(page::hex({1.0, 0.5, 0.0}) == "#ff8000");
}

// Lightness falls by the same amount at every step (grey print shows the order), and the whole
// difference from step to step is uniform within a factor of two.
BOOST_AUTO_TEST_CASE(sequential_is_uniform_in_lightness)
{
  const double step = (0.96 - 0.30) / steps;
  double minimum = 1.0;
  double maximum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const page::Colour a = page::sequential(static_cast<double>(i) / steps);
    const page::Colour b = page::sequential(static_cast<double>(i + 1) / steps);
    BOOST_TEST(std::abs(page::to_oklab(a).lightness - page::to_oklab(b).lightness - step) < 1e-4);
    minimum = std::min(minimum, apart(a, b));
    maximum = std::max(maximum, apart(a, b));
  }
  BOOST_TEST_MESSAGE("difference of neighbours " << minimum << " to " << maximum);
  BOOST_TEST(maximum < 2.0 * minimum);
}

BOOST_AUTO_TEST_CASE(diverging_falls_symmetrically_from_its_middle)
{
  for (int i = 0; i < steps; ++i) {
    const double t = static_cast<double>(i) / steps;
    const double next = static_cast<double>(i + 1) / steps;
    for (const double side : {-1.0, 1.0}) {
      const double fall = page::to_oklab(page::two_sided(side * t)).lightness -
                          page::to_oklab(page::two_sided(side * next)).lightness;
      BOOST_TEST(std::abs(fall - (0.965 - 0.42) / steps) < 1e-4);
    }
    BOOST_TEST(std::abs(page::to_oklab(page::two_sided(t)).lightness -
                        page::to_oklab(page::two_sided(-t)).lightness) < 1e-4);
  }
}

// For each of the three kinds of missing cones: the order of the sequential scale stays, and the
// two sides of the other one stay apart. 0.02 in OKLab is about the least difference that is
// noticed; five times that is plain.
BOOST_AUTO_TEST_CASE(colour_blind_readers_can_distinguish_them)
{
  for (const auto& m : missing_cones) {
    for (const auto& row : m)
      BOOST_TEST(std::abs(row[0] + row[1] + row[2] - 1.0) < 2e-6);
    double before = 2.0;
    for (int i = 0; i <= steps; ++i) {
      const double now =
          page::to_oklab(without(m, page::sequential(static_cast<double>(i) / steps))).lightness;
      BOOST_TEST(now < before);
      before = now;
    }
    for (const double t : {0.4, 0.7, 1.0})
      BOOST_TEST(apart(without(m, page::two_sided(t)), without(m, page::two_sided(-t))) > 0.1);
    for (int a = 0; a < 4; ++a)
      for (int b = 0; b < a; ++b)
        BOOST_TEST(apart(without(m, page::series_colour(a)), without(m, page::series_colour(b))) >
                   0.1);
  }
}

BOOST_AUTO_TEST_CASE(series_differ_in_grey)
{
  for (int a = 0; a < 4; ++a)
    for (int b = 0; b < a; ++b)
      BOOST_TEST(std::abs(page::to_oklab(page::series_colour(a)).lightness -
                          page::to_oklab(page::series_colour(b)).lightness) > 0.1);
}
