// SPDX-License-Identifier: GPL-3.0-or-later
// Beams of solid cells.
//
// Source: MacNeal and Harder, A proposed standard set of problems to test finite element accuracy,
// Finite Elements in Analysis and Design 1 (1985); numbers from memory, the twisted beam also as
// carried by the examples of a general-purpose finite-element library, and refined by Zupan and
// Saje (2004): 5.424534868e-3 and 1.753248285e-3.
// Two targets are not taken as printed: the straight beam's twist (0.03208 rad) disagrees with
// Saint-Venant torsion, theta = T L / (G J), J = 0.2289 h b^3: 0.03408 rad, which is what is
// checked. Lengths and forces without unit, as in the paper.
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <cmath>
#include <numbers>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source paper{
    "MacNeal and Harder",
    "MacNeal and Harder, A proposed standard set of problems to test finite element accuracy, "
    "Finite "
    "Elements in Analysis and Design 1 (1985), from memory; twisted beam also as carried by the "
    "examples of a general-purpose finite-element library, refined by Zupan and Saje (2004)."};

enum class Cut { straight, parallel, trapezoid };

// Cantilever 6 x 0.2 (along y) x 0.1 (along z) in six blocks whose ends are upright or at 45
// degrees, alternating or all the same, each of `cells` cells along the beam.
mesh::BodyMesh straight_beam(Cut cut, int cells, int across_y, int across_z)
{
  mesh::BodyMesh mesh =
      block(equal_cells(6.0, 6 * cells), equal_cells(0.2, across_y), equal_cells(0.1, across_z));
  if (cut == Cut::straight)
    return mesh;
  bend_to(mesh, [cut](const Vec3& p) {
    // Slant of the cell boundaries at 1 ... 5; linear in between, none at the ends.
    const auto slant = [cut](double boundary) {
      if (boundary < 0.5 || boundary > 5.5)
        return 0.0;
      const bool forward = cut == Cut::parallel || static_cast<int>(boundary) % 2 == 1;
      return forward ? 1.0 : -1.0;
    };
    const double low = std::min(std::floor(p.x), 5.0);
    const double share = p.x - low;
    const double s = (1.0 - share) * slant(low) + share * slant(low + 1.0);
    return Vec3{p.x + s * (p.y - 0.1), p.y, p.z};
  });
  return mesh;
}

bool at_root(const Vec3& p)
{
  return p.x < 1e-9;
}

std::vector<elasticity::FixedDof> clamped(const mesh::BodyMesh& mesh)
{
  std::vector<int> nodes;
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
    if (at_root(mesh.nodes[n]))
      nodes.push_back(static_cast<int>(n));
  return elasticity::fix_all(nodes);
}

} // namespace

BOOST_AUTO_TEST_SUITE(macneal_harder)

// Extension 3.0e-5, in the plane 0.1081, out of plane 0.4321 for a unit load at the end (beam
// theory with shear: 0.1080 + 9.4e-5, 0.4320 + 9.4e-5). Bands: 4 % on the paper's six cells, where
// fully integrated quadratic cells are known to be 3 to 4 % stiff straight and far worse slanted
// (from memory); 1 % on four times as many.
BOOST_AUTO_TEST_CASE(straight_cantilever)
{
  const double end_area = 0.2 * 0.1;
  for (const auto& [cells, band] : {std::pair{1, 0.04}, {4, 0.01}})
    for (const auto& [cut, name] : {std::pair{Cut::straight, "straight"},
                                    {Cut::parallel, "parallel"},
                                    {Cut::trapezoid, "trapezoid"}}) {
      const mesh::BodyMesh mesh = straight_beam(cut, cells, 1, 1);
      const elasticity::ElasticBody beam(
          mesh, [](const mesh::Hex27&) { return elasticity::elasticity(1e7, 0.3); }, clamped(mesh));
      const OnSurface tipped = [](const Vec3& p) { return p.x > 6.0 - 1e-9; };
      const int middle = nearest_node(mesh, {6.0, 0.1, 0.05});
      const auto pulled = [&](const Vec3& direction) {
        elasticity::NodeField load(mesh.nodes.size());
        add_traction(
            mesh, tipped, [&](const Vec3&, const Vec3&) { return (1.0 / end_area) * direction; },
            load);
        return dot(beam.solve(load)[middle], direction);
      };
      const double extension = pulled({1.0, 0.0, 0.0});
      const double in_plane = pulled({0.0, 1.0, 0.0});
      const double out_of_plane = pulled({0.0, 0.0, 1.0});
      const std::string which = std::to_string(6 * cells) + "-" + name;
      const std::string beam_of =
          "straight beam of " + std::to_string(6 * cells) + " " + name + " cells, ";
      const std::string why =
          cells == 1 ? "fully integrated quadratic cells are 3 to 4 % stiff on the paper's six"
                     : "four times the paper's cells";
      check_row(paper, {"beam-extension-" + which, beam_of + "extension", ""},
                near(3.0e-5, 0.01, "held root"), extension);
      check_row(paper, {"beam-in-plane-" + which, beam_of + "in the plane", ""},
                near(0.1081, band, why), in_plane);
      check_row(paper, {"beam-out-of-plane-" + which, beam_of + "out of the plane", ""},
                near(0.4321, band, why), out_of_plane);
    }
}

// Twist under a unit torque, applied as the shear of a rigidly rotating end (r x) so that the end
// warps freely but for its fixed root. Band 2 %: the root is restrained from warping, which
// stiffens a length of about the beam's own width out of 6.
BOOST_AUTO_TEST_CASE(straight_cantilever_twisted)
{
  const mesh::BodyMesh mesh = straight_beam(Cut::straight, 4, 4, 4);
  const elasticity::ElasticBody beam(
      mesh, [](const mesh::Hex27&) { return elasticity::elasticity(1e7, 0.3); }, clamped(mesh));
  const OnSurface tipped = [](const Vec3& p) { return p.x > 6.0 - 1e-9; };
  const double polar = 0.2 * 0.1 * (0.2 * 0.2 + 0.1 * 0.1) / 12.0;
  elasticity::NodeField load(mesh.nodes.size());
  add_traction(
      mesh, tipped,
      [&](const Vec3& p, const Vec3&) {
        return (1.0 / polar) * Vec3{0.0, -(p.z - 0.05), p.y - 0.1};
      },
      load);
  const elasticity::NodeField displacements = beam.solve(load);
  const int low = nearest_node(mesh, {6.0, 0.0, 0.05});
  const int high = nearest_node(mesh, {6.0, 0.2, 0.05});
  const double twist = (displacements[high].z - displacements[low].z) / 0.2;
  check_row({"Saint-Venant", "Saint-Venant torsion of a rectangle, J = 0.2289 h b^3 (recomputed); "
                             "MacNeal and Harder's own 0.03208 rad disagrees with it."},
            {"beam-twist", "straight beam of MacNeal and Harder, twist", "rad"},
            near(0.03408, 0.02, "the root is restrained from warping"), twist);
}

// Twisted beam 12 x 1.1 x 0.32, a quarter turn, E 29e6, nu 0.22: along the load 5.424e-3 with the
// load across the width at the root (z), 1.754e-3 along it (y). Band 1 %.
BOOST_AUTO_TEST_CASE(twisted_beam)
{
  mesh::BodyMesh mesh = block(equal_cells(12.0, 12), equal_cells(1.1, 2), equal_cells(0.32, 1));
  bend_to(mesh, [](const Vec3& p) {
    const double turn = 0.5 * std::numbers::pi * p.x / 12.0;
    const double y = p.y - 0.55;
    const double z = p.z - 0.16;
    return Vec3{p.x, y * std::cos(turn) - z * std::sin(turn),
                y * std::sin(turn) + z * std::cos(turn)};
  });
  const elasticity::ElasticBody beam(
      mesh, [](const mesh::Hex27&) { return elasticity::elasticity(29e6, 0.22); }, clamped(mesh));
  const OnSurface tipped = [](const Vec3& p) { return p.x > 12.0 - 1e-9; };
  const int middle = nearest_node(mesh, {12.0, 0.0, 0.0});
  const auto pulled = [&](const Vec3& direction) {
    elasticity::NodeField load(mesh.nodes.size());
    add_traction(
        mesh, tipped, [&](const Vec3&, const Vec3&) { return (1.0 / (1.1 * 0.32)) * direction; },
        load);
    return dot(beam.solve(load)[middle], direction);
  };
  const double across = pulled({0.0, 0.0, 1.0});
  const double along = pulled({0.0, 1.0, 0.0});
  const std::string why = "12 x 2 x 1 cells";
  check_row(paper, {"twisted-beam-across", "twisted beam, load across the width at the root", ""},
            near(5.424e-3, 0.01, why), across);
  check_row(paper, {"twisted-beam-along", "twisted beam, load along the width at the root", ""},
            near(1.754e-3, 0.01, why), along);
}

BOOST_AUTO_TEST_SUITE_END()
