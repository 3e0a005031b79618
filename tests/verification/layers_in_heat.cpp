// SPDX-License-Identifier: GPL-3.0-or-later
// Strips, plates and layers that heat bends or stresses.
//
// Sources: composite section [EA ES; ES EI] {strain, curvature} = {sum E e A, sum E e S} (strength
// of materials; recomputed); Timoshenko's bimetal (J. Optical Society of America 11, 1925, from
// memory; recomputed by the composite section); Timoshenko and Goodier, Theory of Elasticity,
// parabolic temperature in a strip (from memory; zero resultant checked); Timoshenko and
// Woinowsky-Krieger, article 24, supported plate (from memory; series recomputed).
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <cmath>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double inch = 0.0254;
constexpr double psi = 4.4482216152605 / (inch * inch);

const Source section{"Composite section", "Composite section of layers in heat, [EA ES; ES EI] "
                                          "(strength of materials; recomputed)."};
constexpr const char* beam_like = "nu = 0 and a long strip: the section's own answer";

// A layer of a strip from the bottom upwards: thickness, m; modulus, Pa; free strain at its lower
// and upper face.
struct Layer {
  double thick = 0.0;
  double youngs = 0.0;
  double low = 0.0;
  double high = 0.0;
};

// Curvature, 1/m, by the composite section; positive where the top grows more.
double section_curvature(const std::vector<Layer>& layers)
{
  double ea = 0.0;
  double es = 0.0;
  double ei = 0.0;
  double force = 0.0;
  double moment = 0.0;
  double y = 0.0;
  for (const Layer& l : layers) {
    // Simpson's rule is exact: quadratic at most... times a linear strain, cubic.
    for (const auto& [at, weight] : {std::pair{0.0, 1.0}, {0.5, 4.0}, {1.0, 1.0}}) {
      const double w = weight / 6.0 * l.thick * l.youngs;
      const double here = y + at * l.thick;
      const double strain = l.low + at * (l.high - l.low);
      ea += w;
      es += w * here;
      ei += w * here * here;
      force += w * strain;
      moment += w * strain * here;
    }
    y += l.thick;
  }
  return (ea * moment - es * force) / (ea * ei - es * es);
}

// Curvature, 1/m, of a free strip of solid cells, 100 times as long as deep, nu = 0.
double strip_curvature(const std::vector<Layer>& layers)
{
  std::vector<double> y{0.0};
  for (const Layer& l : layers)
    y.push_back(y.back() + l.thick);
  const double deep = y.back();
  const double length = 50.0 * deep;
  const mesh::BodyMesh mesh = block(equal_cells(length, 40), y, {0.0, deep});
  const auto layer_of = [&](const mesh::Hex27& cell) {
    std::size_t i = 0;
    while (mesh.nodes[cell.node[13]].y > y[i + 1])
      ++i;
    return i;
  };
  const elasticity::CellElasticity elastic = [&](const mesh::Hex27& c) {
    return elasticity::elasticity(layers[layer_of(c)].youngs, 0.0);
  };
  elasticity::NodeField forces(mesh.nodes.size());
  for (std::size_t i = 0; i < layers.size(); ++i) { // strains jump between layers
    mesh::BodyMesh alone = mesh;
    std::erase_if(alone.cells, [&](const mesh::Hex27& c) { return layer_of(c) != i; });
    std::vector<double> strain;
    for (const auto& p : mesh.nodes)
      strain.push_back(layers[i].low +
                       (layers[i].high - layers[i].low) * (p.y - y[i]) / layers[i].thick);
    const elasticity::NodeField part = elasticity::free_strain_forces(alone, elastic, strain);
    for (std::size_t n = 0; n < forces.size(); ++n)
      forces[n] += part[n];
  }
  const elasticity::NodeField u =
      elasticity::ElasticBody(mesh, elastic, elasticity::isostatic_supports(mesh)).solve(forces);
  const auto at = [&](double x) { return u[nearest_node(mesh, {x * length, 0.0, 0.0})].y; };
  // The larger growth of the top bows the middle up against the ends.
  return 8.0 * (at(0.5) - 0.5 * (at(0.25) + at(0.75))) / std::pow(0.5 * length, 2);
}

} // namespace

BOOST_AUTO_TEST_SUITE(layers_in_heat)

BOOST_AUTO_TEST_CASE(three_layers)
{
  const std::vector<Layer> layers{
      {0.005, 200e9, 4e-3, 4e-3}, {0.040, 2e9, 4e-3, 1e-3}, {0.003, 120e9, 1e-3, 1e-3}};
  check_row(section, {"layers-three", "steel, soft core, other steel: curvature", "1/m"},
            near(section_curvature(layers), 0.002, beam_like), strip_curvature(layers));
}

// A modulus that falls by 30 % through the depth leaves the bow of a linear rise as it is, since
// the free strain fits together.
BOOST_AUTO_TEST_CASE(modulus_that_falls)
{
  std::vector<Layer> layers;
  for (int i = 0; i < 8; ++i)
    layers.push_back({inch / 8.0, (1.0 - 0.3 * (i + 0.5) / 8.0) * 200e9, 6.5e-6 * 500.0 * i / 8.0,
                      6.5e-6 * 500.0 * (i + 1) / 8.0});
  check_row(section,
            {"layers-falling-modulus", "bar 1 in deep, 500 F, E falls by 30 %: curvature", "1/in"},
            near(3.25e-3, 1e-6, "stress-free, so the cells hold it exactly"),
            strip_curvature(layers) * inch);
}

// t1 2 mm (E 70 GPa, 23e-6), t2 1 mm (210, 12e-6), 100 K: -5.474654e-4 per mm.
BOOST_AUTO_TEST_CASE(bimetal_of_aluminium_and_steel)
{
  const Source timoshenko{"Bimetal", "Timoshenko, Analysis of bi-metal thermostats, J. Optical "
                                     "Society of America 11 (1925) (from memory, recomputed)."};
  const double aluminium = 23e-6 * 100.0;
  const double steel = 12e-6 * 100.0;
  check_row(timoshenko, {"bimetal-unlike", "layers unlike, 2 + 1 mm, 100 K: curvature", "1/mm"},
            near(-5.474654e-4, 0.002, beam_like),
            1e-3 *
                strip_curvature({{2e-3, 70e9, aluminium, aluminium}, {1e-3, 210e9, steel, steel}}));
}

// Skins 3/16 in, 4 in between their middles, 500 F: two layers 8.1190e-4 per in, 0.07 % below alpha
// dT / d for the skins' own bending; the same with one skin at 0.7 of the modulus: 8.1189e-4. The
// core is soft and grows as the line between the skins, so it carries nothing.
BOOST_AUTO_TEST_CASE(sandwich_of_two_skins)
{
  const Source sandwich{"Sandwich", "Two skins held apart: alpha dT / d (Timoshenko, from memory), "
                                    "and two layers exactly (recomputed)."};
  const double hot = 6.5e-6 * 500.0;
  const double skin = 3.0 / 16.0 * inch;
  const double e = 29e6 * psi;
  const auto curved = [&](double ratio) {
    return -inch * strip_curvature({{skin, ratio * e, hot, hot},
                                    {4.0 * inch - skin, 1e-4 * e, hot, 0.0},
                                    {skin, e, 0.0, 0.0}});
  };
  const std::string why = "the core keeps 1/10 000 of the modulus";
  check_row(sandwich, {"sandwich", "skins alike: curvature", "1/in"}, near(8.1190e-4, 0.001, why),
            curved(1.0));
  check_row(sandwich, {"sandwich-soft-skin", "hot skin at 0.7 of the modulus: curvature", "1/in"},
            near(8.1189e-4, 0.001, why), curved(0.7));
}

// Hot skin of area 2 tied to a cold frame of area 1, no bending: -25 133 and +50 267 psi.
BOOST_AUTO_TEST_CASE(skin_tied_to_a_frame)
{
  const mesh::BodyMesh mesh = block(equal_cells(60.0, 12), {0.0, 1.0, 2.0, 3.0}, {0.0, 1.0});
  const elasticity::Elasticity e = elasticity::elasticity(29e6, 0.0);
  const elasticity::CellElasticity everywhere = [&](const mesh::Hex27&) { return e; };
  std::vector<elasticity::FixedDof> fixed;
  for (const int c : {1, 2})
    hold(
        fixed, mesh, [](const Vec3&) { return true; }, c);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0);
  mesh::BodyMesh skin = mesh;
  std::erase_if(skin.cells, [&](const mesh::Hex27& c) { return mesh.nodes[c.node[13]].y > 2.0; });
  const double strain = 6.5e-6 * 400.0;
  const elasticity::NodeField u =
      elasticity::ElasticBody(mesh, everywhere, fixed)
          .solve(elasticity::free_strain_forces(skin, everywhere,
                                                std::vector<double>(mesh.nodes.size(), strain)));
  const Source tied{"Skin and frame",
                    "Bars side by side with one length (strength of materials; "
                    "recomputed): sigma = -E alpha dT A_frame / (A_skin + A_frame)."};
  const std::size_t middle = 12 * 0 + 6;
  const std::string why = "six depths from the ends";
  check_row(tied, {"tied-skin", "hot skin", "psi"}, near(-25133.0, 1e-3, why),
            corner_stress(mesh, middle, 0, 0, 0, e, u)[0][0] - 29e6 * strain);
  check_row(tied, {"tied-frame", "cold frame", "psi"}, near(50267.0, 1e-3, why),
            corner_stress(mesh, middle + 24, 0, 2, 0, e, u)[0][0]);
}

// T = T0 (1 - y^2 / c^2): sigma = E alpha T0 (2/3 - (1 - y^2 / c^2)), middle -1/3, edges +2/3.
BOOST_AUTO_TEST_CASE(parabola_across_a_strip)
{
  const int along = 12;
  const mesh::BodyMesh mesh = block(equal_cells(12.0, along), equal_cells(2.0, 20), {0.0, 0.02});
  const elasticity::Elasticity e = elasticity::elasticity(1.0, 0.3);
  const elasticity::CellElasticity everywhere = [&](const mesh::Hex27&) { return e; };
  std::vector<double> strain;
  for (const auto& p : mesh.nodes)
    strain.push_back(1.0 - (p.y - 1.0) * (p.y - 1.0));
  const elasticity::NodeField u =
      elasticity::ElasticBody(mesh, everywhere, elasticity::isostatic_supports(mesh))
          .solve(elasticity::free_strain_forces(mesh, everywhere, strain));
  const Source strip{"Strip with a parabola", "Timoshenko and Goodier, Theory of Elasticity (from "
                                              "memory; zero resultant checked)."};
  const std::string why = "six widths from the ends to the middle, cells a twentieth of the width";
  const std::size_t cell = along / 2;
  check_row(strip, {"parabola-edge", "edge, of E alpha T0", ""}, near(2.0 / 3.0, 0.005, why),
            corner_stress(mesh, cell, 0, 0, 0, e, u, strain)[0][0]);
  check_row(strip, {"parabola-middle", "middle, of E alpha T0", ""}, near(-1.0 / 3.0, 0.005, why),
            corner_stress(mesh, cell + 10 * along, 0, 0, 0, e, u, strain)[0][0]);
}

// Square plate supported along its edges, dT through it: middle 0.07367 alpha dT (1 + nu) a^2 / h.
BOOST_AUTO_TEST_CASE(supported_plate_with_a_gradient)
{
  const double a = 1.0;
  const double t = 0.01;
  const mesh::BodyMesh mesh = block(equal_cells(0.5 * a, 12), equal_cells(0.5 * a, 12), {0.0, t});
  const OnSurface at_x = [a](const Vec3& p) { return p.x > 0.5 * a - 1e-9; };
  const OnSurface at_y = [a](const Vec3& p) { return p.y > 0.5 * a - 1e-9; };
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.y < 1e-9; }, 1);
  hold(fixed, mesh, at_x, 2);
  hold(fixed, mesh, at_y, 2);
  hold(fixed, mesh, at_x, 1);
  hold(fixed, mesh, at_y, 0);
  const elasticity::CellElasticity everywhere = [](const mesh::Hex27&) {
    return elasticity::elasticity(200e9, 0.3);
  };
  std::vector<double> strain;
  for (const auto& p : mesh.nodes)
    strain.push_back(1e-3 * (p.z / t - 0.5));
  const elasticity::NodeField u =
      elasticity::ElasticBody(mesh, everywhere, fixed)
          .solve(elasticity::free_strain_forces(mesh, everywhere, strain));
  const Source plates{"Supported plate in heat",
                      "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, article 24 "
                      "(from memory; series 0.073671 recomputed)."};
  check_row(
      plates,
      {"supported-plate-heat", "square plate, b/t = 100: middle, of alpha dT (1 + nu) a^2 / h", ""},
      near(0.07367, 0.01, "shear at the edges"),
      std::abs(u[nearest_node(mesh, {0.0, 0.0, 0.5 * t})].z) / (1e-3 * 1.3 * a * a / t));
}

BOOST_AUTO_TEST_SUITE_END()
