// SPDX-License-Identifier: GPL-3.0-or-later
// Parts of a hinge, one at a time, against beam and plate formulas.
//
// Sources: Euler-Bernoulli beams and cylindrical bending of plates (Timoshenko and
// Woinowsky-Krieger, Theory of Plates and Shells, from memory). Bands 5 %: a beam has no end
// regions and no shear (added where it counts), a plate strip bends cylindrically only far from its
// ends.
#define BOOST_TEST_MODULE hinge_parts
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source beams{
    "Beams and strips of hinges",
    "Euler-Bernoulli beams with shear; cylindrical bending of plates (Timoshenko and "
    "Woinowsky-Krieger, Theory of Plates and Shells, from memory)."};

Vec3 mean_move(const std::vector<int>& nodes, const std::vector<Vec3>& displacements)
{
  Vec3 sum;
  for (const int n : nodes)
    sum += displacements[n];
  return (1.0 / static_cast<double>(nodes.size())) * sum;
}

// Bow of a floating rod between far lugs: deflection of its middle from the line between its
// supports, and by four-point bending.
struct Bow {
  double computed = 0.0;
  double beam = 0.0;
  double shear = 0.0; // part of `beam`
  double force = 0.0; // N, of the door's lug: it differs a little, since the thrust face carries at
                      // either side of the rod
};

Bow bow_of_rod(double diameter)
{
  door::Door door = lug_door();
  for (auto& hinge : door.hinges) {
    hinge.pin_diameter = diameter * inch;
    hinge.outside_diameter = 2.0 * inch;
    hinge.knuckle_gap = 3.0 * inch;
    hinge.clearance = 0.05 * inch; // so wide that the bent rod touches at edges only
  }
  door.steel.youngs_modulus *= 1000.0;
  door.handle = {250.0 * pound, 15.0 * inch};
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.hinge_cell = 0.25 * inch;
  const mesh::Mesh mesh = sweep::make_mesh(door, fine);
  const analysis::OpenDoorResult open = analysis::solve_open_door({.door = door, .mesh = mesh});
  const mesh::HingeMesh& hinge = mesh.hinges[1];
  const auto& displacements = open.pin_displacements[hinge.pin_body];
  const Vec3 low = mean_move(hinge.pin[0].node.back(), displacements);
  const Vec3 high = mean_move(hinge.pin[2].node.front(), displacements);
  const Vec3 middle = mean_move(hinge.pin[1].node[hinge.pin[1].node.size() / 2], displacements);
  const Vec3 off = middle - 0.5 * (low + high);

  double force = 0.0;
  for (const auto& k : open.knuckles)
    if (k.hinge == 1 && k.owner == door::KnuckleOwner::door)
      force = norm(k.pin_force);
  const double d = diameter * inch;
  const double inertia = std::numbers::pi * d * d * d * d / 64.0;
  const double span = 2.0 * 3.0 * inch + 0.5 * inch;
  const double arm = 3.0 * inch;
  const double e = door.pin_steel.youngs_modulus;
  const double g = e / 2.6;
  const double area = 0.25 * std::numbers::pi * d * d;
  Bow bow;
  bow.computed = std::hypot(off.x, off.y);
  bow.shear = 0.5 * force * arm / (0.9 * g * area); // factor 0.9 for a round section
  bow.beam =
      0.5 * force * arm * (3.0 * span * span - 4.0 * arm * arm) / (24.0 * e * inertia) + bow.shear;
  bow.force = force;
  return bow;
}

// Displacement of the barrel of a frame half across its leaf when only the web can bend, and its
// bounds: a plate strip, whose edges are restrained from curling, and a beam, whose edges curl
// freely, with shear.
struct Web {
  double computed = 0.0;
  double plate = 0.0;
  double beam = 0.0;
};

Web load_barrel(door::Door door, const std::string& id)
{
  door.swing = 0.0;
  door.jamb.backing = door::JambBacking::solid;
  for (auto& hinge : door.hinges)
    hinge.weld = door::WeldExtent::full_face;
  door::MeshDensity fine = door::mesh_density(door, 2);
  const mesh::Mesh mesh = sweep::make_mesh(door, fine);
  const double e = door.steel.youngs_modulus;
  const elasticity::ElasticBody frame(
      mesh.frame,
      [e](const mesh::Hex27& cell) {
        return elasticity::elasticity(cell.part == mesh::Part::web ? e : 1000.0 * e, 0.3);
      },
      elasticity::fix_all(mesh.held));
  const mesh::KnuckleMesh& first = mesh.hinges[0].knuckles[0];
  const mesh::KnuckleMesh& third = mesh.hinges[0].knuckles[2];
  elasticity::NodeField load(mesh.frame.nodes.size());
  double count = 0.0;
  for (const auto* k : {&first, &third})
    for (const auto& row : k->bore.node)
      count += static_cast<double>(row.size());
  for (const auto* k : {&first, &third})
    for (const auto& row : k->bore.node)
      for (const int n : row)
        load[n].x += 1000.0 / count;
  const elasticity::NodeField displacements = frame.solve(load);
  double sum = 0.0;
  for (const auto* k : {&first, &third})
    for (const auto& row : k->bore.node)
      sum += mean_move(row, displacements).x / static_cast<double>(2 * first.bore.node.size());

  // From the land to just below the barrel, loaded at the pin axis: F ((e + h)^3 - e^3) / (3 E I),
  // with E / (1 - nu^2) for the plate strip; shear 1.2 F h / (G A).
  const door::Leaf& leaf = door.hinges[0].leaf;
  const double above = 1.05 * door::outside_radius(door.hinges[0]);
  const double below = leaf.standoff - leaf.thickness;
  const double inertia = leaf.length * std::pow(leaf.thickness, 3) / 12.0;
  Web web;
  web.computed = sum;
  const double bending = 1000.0 * (std::pow(below, 3) - std::pow(above, 3)) / (3.0 * e * inertia);
  web.plate = 0.91 * bending;
  web.beam = bending + 1.2 * 1000.0 * (below - above) / (e / 2.6 * leaf.length * leaf.thickness);
  check_row(
      beams,
      {"web-" + id, "barrel pushed across its leaf, web " + id + ": plate strip to beam", "m"},
      between(0.95 * web.plate, 1.05 * web.beam, "5 % beyond either for the ends of the web"),
      web.computed);
  return web;
}

} // namespace

BOOST_AUTO_TEST_CASE(rod_between_far_lugs_bends_like_a_beam)
{
  const Bow half = bow_of_rod(0.5);
  const Bow three_quarter = bow_of_rod(0.75);
  const Bow one = bow_of_rod(1.0);
  const std::string why = "a beam has no end regions";
  for (const auto& [id, bow] : {std::pair{"1-2", half}, {"3-4", three_quarter}, {"1", one}})
    check_row(beams,
              {std::string("rod-bow-") + id,
               std::string("bow of a rod between far lugs, diameter ") + id + " in", "in"},
              near(bow.beam / inch, 0.05, why), bow.computed / inch);
  // Stiffness of the rod as the fourth power of its diameter, the shear part subtracted.
  const double ratio = (half.computed - half.shear) / half.force /
                       ((three_quarter.computed - three_quarter.shear) / three_quarter.force);
  check_row(beams, {"rod-fourth-power", "flexibility of a 1/2 in rod, of a 3/4 in rod's", ""},
            near(std::pow(1.5, 4), 0.05, why), ratio);
}

BOOST_AUTO_TEST_CASE(web_of_a_leaf_bends_like_a_cantilever)
{
  door::Door door = barrel_door();
  const Web usual = load_barrel(door, "1-4-by-2-in");
  for (auto& hinge : door.hinges)
    hinge.leaf.standoff = 3.0 * inch;
  const Web tall = load_barrel(door, "1-4-by-3-in");
  // The trade's rule of thumb: flexibility goes as the standoff cubed (less the stiff part at the
  // barrel).
  check_row(
      beams,
      {"web-standoff-cubed", "flexibility of a web at 3 in standoff, of one at 2 in: cubes", ""},
      near(tall.plate / usual.plate, 0.10, "less the stiff part at the barrel"),
      tall.computed / usual.computed);
  door = barrel_door();
  for (auto& hinge : door.hinges) {
    hinge.leaf.thickness = 0.375 * inch;
    hinge.leaf.standoff = 2.125 * inch; // so that the web is as high as before
  }
  const Web thick = load_barrel(door, "3-8-by-2-1-8-in");
  check_row(trade(),
            {"leaf-thickness-cubed", "flexibility of a 1/4 in web, of a 3/8 in web's: t^3", ""},
            near(std::pow(1.5, 3), 0.06, "shear goes with t"), usual.computed / thick.computed);
  check_row(trade(),
            {"leaf-standoff-cubed",
             "flexibility of a web at 3 in standoff, of 2 in: height of the web to the axis cubed",
             ""},
            near(std::pow(2.75 / 1.75, 3), 0.05, "the barrel's part of the height does not bend"),
            tall.computed / usual.computed);
}

BOOST_AUTO_TEST_CASE(jamb_plate_bends_like_a_plate_strip)
{
  door::Door door = barrel_door();
  door.swing = 0.0;
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 2));
  const double e = door.steel.youngs_modulus;
  // The leaves carry nothing: a thousandth of the stiffness.
  const elasticity::ElasticBody frame(
      mesh.frame,
      [e](const mesh::Hex27& cell) {
        return elasticity::elasticity(cell.part == mesh::Part::jamb ? e : 1e-3 * e, 0.3);
      },
      elasticity::fix_all(mesh.held));
  // A uniform line load along the opening edge, outwards.
  std::vector<int> edge;
  for (std::size_t n = 0; n < mesh.frame.nodes.size(); ++n)
    if (std::abs(mesh.frame.nodes[n].x + door.reveal) < 1e-9 &&
        std::abs(mesh.frame.nodes[n].y - mesh.depth) < 1e-9)
      edge.push_back(static_cast<int>(n));
  std::sort(edge.begin(), edge.end(),
            [&](int a, int b) { return mesh.frame.nodes[a].z < mesh.frame.nodes[b].z; });
  const double per_length = 1000.0; // N/m
  elasticity::NodeField load(mesh.frame.nodes.size());
  for (std::size_t i = 0; i + 1 < edge.size(); ++i) {
    const double piece = mesh.frame.nodes[edge[i + 1]].z - mesh.frame.nodes[edge[i]].z;
    load[edge[i]].y += 0.5 * per_length * piece;
    load[edge[i + 1]].y += 0.5 * per_length * piece;
  }
  const elasticity::NodeField displacements = frame.solve(load);
  const int middle = edge[edge.size() / 2];
  const double b = door.jamb.free_width;
  const double stiffness = e * std::pow(door.jamb.thickness, 3) / (12.0 * 0.91);
  const double formula = per_length * b * b * b / (3.0 * stiffness);
  check_row(beams, {"jamb-strip", "jamb plate under an even load on its edge", "m"},
            near(formula, 0.05, "a plate strip bends cylindrically only far from its ends"),
            displacements[middle].y);
}
