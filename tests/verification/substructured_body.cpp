// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies assembled from cached substructures against the same bodies factorized whole
// (solver/elasticity/elastic_body, which the published kernel tests cover), and a door with cached
// substructures against a fresh one.
#define BOOST_TEST_MODULE substructured_body
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/system/door_system.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = door.panel.width / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

double largest(const elasticity::NodeField& field)
{
  double maximum = 0.0;
  for (const auto& v : field)
    maximum = std::max(maximum, norm(v));
  return maximum;
}

double difference(const elasticity::NodeField& a, const elasticity::NodeField& b)
{
  double maximum = 0.0;
  for (std::size_t n = 0; n < a.size(); ++n)
    maximum = std::max(maximum, norm(a[n] - b[n]));
  return maximum / largest(a);
}

const Source whole_body{
    "Bodies of parts",
    "The same bodies factored whole by the kernel that the published cases cover."};
const std::string cholesky = "one system by two ways; its condition is near 1e7 on thin plates";

// Some force on every steel node, the same every time.
elasticity::NodeField some_forces(const mesh::BodyMesh& mesh)
{
  elasticity::NodeField forces(mesh.nodes.size());
  for (const auto& cell : mesh.cells)
    if (fe::is_steel(cell))
      for (const int n : cell.node)
        forces[n] = {std::sin(1.0 + n), std::cos(3.0 * n), std::sin(0.5 * n)};
  return forces;
}

} // namespace

BOOST_AUTO_TEST_CASE(a_frame_of_substructures_deforms_like_a_whole_one)
{
  double loads = 0.0; // worst difference, of the largest displacement
  double forces_only = 0.0;
  for (door::Door door :
       {barrel_door(), barrel_door(door::PinFixity::fixed), lug_door(door::PinFixity::fixed)}) {
    door.swing = 1.1;
    const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
    const elasticity::CellElasticity cell_elasticity = system::elasticity_of(door, 20.0, 20.0);
    const auto fixed = elasticity::fix_all(mesh.held);
    const elasticity::ElasticBody whole(mesh.frame, cell_elasticity, fixed);
    substructuring::FactorizationCache cache;
    const substructuring::SubstructuredBody joined(
        mesh.frame, cell_elasticity, fixed, {door::pin_axis(door, door.hinges[0]), -door.swing},
        cache);
    BOOST_TEST(joined.unknowns() == whole.unknowns());
    const elasticity::NodeField forces = some_forces(mesh.frame);
    // Both solve one system by Cholesky; its condition is near 1e7 on thin plates.
    loads = std::max(loads, difference(whole.solve(forces), joined.solve(forces)));

    // A few forces on the surface of a knuckle, displacements on another.
    std::vector<int> ring;
    for (const auto& cell : mesh.frame.cells)
      if (cell.part == mesh::Part::ring)
        ring.push_back(cell.node[0]);
    const std::vector<std::vector<elasticity::NodeForce>> sets{
        {{ring.front(), {1.0, 2.0, -1.0}}},
        {{ring.back(), {0.0, 1.0, 0.0}}, {ring.front(), {0.0, -1.0, 0.5}}}};
    const auto a = whole.solve(sets, ring);
    const auto b = joined.solve(sets, ring);
    for (std::size_t s = 0; s < sets.size(); ++s)
      forces_only = std::max(forces_only, difference(a[s], b[s]));
  }
  check_row(whole_body, {"parts-frame", "frame under forces everywhere: worst difference", ""},
            at_most(1e-8, cholesky), loads);
  check_row(whole_body, {"parts-knuckle", "the same under forces on a knuckle", ""},
            at_most(1e-8, cholesky), forces_only);
}

BOOST_AUTO_TEST_CASE(a_free_door_of_substructures_strains_like_a_whole_one)
{
  const door::Door door = lug_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  const elasticity::CellElasticity cell_elasticity = system::elasticity_of(door, 20.0, 20.0);
  const elasticity::ElasticBody whole(mesh.door, cell_elasticity,
                                      elasticity::isostatic_supports(mesh.door));
  substructuring::FactorizationCache cache;
  const substructuring::SubstructuredBody joined(
      mesh.door, cell_elasticity, {}, {door::pin_axis(door, door.hinges[0]), 0.0}, cache);
  // The same six unknowns are fixed, so that even unbalanced forces give the same displacements.
  const elasticity::NodeField forces = some_forces(mesh.door);
  check_row(whole_body, {"parts-free-door", "free door: worst difference", ""},
            at_most(1e-7, cholesky + ", six unknowns held for a free body"),
            difference(whole.solve(forces), joined.solve(forces)));
}

// Forces and displacements at retained unknowns come from the Schur complement of the base alone.
BOOST_AUTO_TEST_CASE(retained_unknowns_respond_like_the_whole_base)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  const elasticity::CellElasticity cell_elasticity = system::elasticity_of(door, 20.0, 20.0);
  std::vector<elasticity::FixedDof> retained;
  std::vector<int> nodes; // retained unknowns, each with its own direction, and a ring
  for (const auto& cell : mesh.door.cells)
    if (cell.part == mesh::Part::inner_skin && nodes.size() < 8) {
      retained.push_back({cell.node[13], 1}); // the middle of the cell: nothing is fixed there
      nodes.push_back(cell.node[13]);
    }
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  const auto ring = std::find_if(mesh.door.cells.begin(), mesh.door.cells.end(),
                                 [](const mesh::Hex27& c) { return c.part == mesh::Part::ring; });
  nodes.push_back(ring->node[0]);
  substructuring::FactorizationCache cache;
  const substructuring::LocalFrame frame{door::pin_axis(door, door.hinges[0]), 0.0};
  const substructuring::SubstructuredBody plain(mesh.door, cell_elasticity, {}, frame, cache);
  substructuring::SubstructuredBody seated(mesh.door, cell_elasticity, {}, frame, cache, retained);
  const std::vector<std::vector<elasticity::NodeForce>> sets{
      {{nodes[0], {0.0, 1.0, 0.0}}},
      {{nodes[1], {0.0, -2.0, 0.0}}, {nodes.back(), {1.0, 0.5, -0.5}}},
      {{nodes.back(), {0.0, 0.0, 3.0}}}};
  const auto whole = plain.solve(sets, nodes);
  const auto only_retained =
      [&](elasticity::NodeField field) { // of a retained node no other component is known
        for (std::size_t i = 0; i + 1 < field.size(); ++i)
          field[i] = {0.0, field[i].y, 0.0};
        return field;
      };
  for (const bool gone : {false, true}) {
    if (gone)
      seated.release_base_factor();
    const auto found = seated.solve(sets, nodes);
    for (std::size_t s = 0; s < sets.size(); ++s) // the same system in another order
      BOOST_TEST(difference(only_retained(whole[s]), only_retained(found[s])) < 1e-8);
    elasticity::NodeField forces(mesh.door.nodes.size());
    for (const auto& f : sets[1])
      forces[f.node] += f.force;
    const elasticity::NodeField displacements = seated.solve_retained(forces);
    for (std::size_t i = 0; i + 1 < nodes.size(); ++i)
      BOOST_TEST(std::abs(displacements[nodes[i]].y - whole[1][i].y) < 1e-8 * largest(whole[1]));
  }
  BOOST_CHECK_THROW(static_cast<void>(seated.solve(elasticity::NodeField(mesh.door.nodes.size()))),
                    std::logic_error);
}

// Steel that is softer all over has larger displacements by that factor, and is not factorized
// again.
BOOST_AUTO_TEST_CASE(a_softer_body_reuses_its_substructures)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  const auto fixed = elasticity::fix_all(mesh.held);
  const substructuring::LocalFrame frame{door::pin_axis(door, door.hinges[0]), -door.swing};
  substructuring::FactorizationCache cache;
  const substructuring::SubstructuredBody cold(mesh.frame, system::elasticity_of(door, 20.0, 20.0),
                                               fixed, frame, cache);
  const int result = cache.factorized;
  const elasticity::CellElasticity soft = system::elasticity_of(door, 437.0, 437.0);
  const substructuring::SubstructuredBody hot(mesh.frame, soft, fixed, frame, cache);
  BOOST_TEST(cache.factorized.load() == result);
  const elasticity::NodeField forces = some_forces(mesh.frame);
  check_row(whole_body, {"parts-softer", "frame at 437 degC of cold parts: worst difference", ""},
            at_most(1e-8, cholesky),
            difference(elasticity::ElasticBody(mesh.frame, soft, fixed).solve(forces),
                       hot.solve(forces)));
}

// Of a coarser mesh only orderings of unknowns stay: the same door is factored anew and gives the
// same bits, and a body that still stands on the old parts goes on with them.
BOOST_AUTO_TEST_CASE(parts_of_which_only_the_ordering_stays_are_made_again)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  const elasticity::CellElasticity cell_elasticity = system::elasticity_of(door, 20.0, 20.0);
  const elasticity::NodeField forces = some_forces(mesh.door);
  substructuring::FactorizationCache cache;
  const substructuring::SubstructuredBody before(mesh.door, cell_elasticity, {}, {}, cache);
  const elasticity::NodeField displacements = before.solve(forces);
  const int result = cache.factorized;
  substructuring::retain_orderings(cache);
  BOOST_TEST(cache.substructures.size() == 0U);
  BOOST_TEST(cache.orderings.size() > 0U);
  const substructuring::SubstructuredBody again(mesh.door, cell_elasticity, {}, {}, cache);
  BOOST_TEST(cache.factorized.load() == 2 * result);
  BOOST_TEST(elasticity::same_field(again.solve(forces), displacements));
  elasticity::NodeField others = forces;
  others.front() += Vec3{1.0, 0.0, 0.0};
  BOOST_TEST(elasticity::same_field(before.solve(others), again.solve(others)));
}

// What a mesh does not depend on, or what comes from outside, changes no stiffness: the same bits
// as of a fresh door, and nothing is factorized again.
BOOST_AUTO_TEST_CASE(a_door_with_the_same_geometry_key_gives_the_same_bits)
{
  door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  analysis::AnalysisCache cache;
  analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
  const int result = cache.factors.factorized;
  const int reused = cache.factors.reused;
  const auto cached = [&](const char* what) {
    const analysis::OpenDoorResult with =
        analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
    const analysis::OpenDoorResult fresh =
        analysis::solve_open_door({.door = door, .mesh = sweep::make_mesh(door, coarse(door))});
    BOOST_TEST_CONTEXT(what)
    {
      BOOST_TEST(with.drop == fresh.drop);
      BOOST_TEST(difference(fresh.door_displacement, with.door_displacement) == 0.0);
      BOOST_TEST(difference(fresh.frame_displacement, with.frame_displacement) == 0.0);
      BOOST_TEST(cache.factors.factorized.load() == result);
      BOOST_TEST(cache.factors.reused.load() == reused);
    }
  };
  cached("nothing");
  door.hinges[0].end_float *= 0.25;
  door.hinges[1].carries_weight = true;
  door.hinges[1].end_float *= 0.25;
  cached("end float");
  door.handle = {900.0, 0.3};
  cached("handle");
  for (auto& knuckle : door.hinges[0].knuckles)
    knuckle.worn = {0.5e-3, 0.5e-3};
  cached("wear");
}

BOOST_AUTO_TEST_CASE(cached_substructures_change_nothing)
{
  analysis::AnalysisCache cache;
  door::Door door = barrel_door();
  double drops = 0.0; // worst difference, of the drop
  auto cached = [&](const char* what, int max_new) {
    const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
    const int before = cache.factors.factorized;
    const analysis::OpenDoorResult with =
        analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
    const analysis::OpenDoorResult fresh = analysis::solve_open_door({.door = door, .mesh = mesh});
    BOOST_TEST_CONTEXT(what)
    {
      // Rounding of the solver on substructures at other positions.
      BOOST_TEST(std::abs(with.drop - fresh.drop) < 1e-9 * fresh.drop);
      drops = std::max(drops, std::abs(with.drop / fresh.drop - 1.0));
      BOOST_TEST(difference(fresh.door_displacement, with.door_displacement) < 1e-8);
      BOOST_TEST(with.balance.reaction_error < 1e-8);
      BOOST_TEST(cache.factors.factorized - before <= max_new);
    }
  };
  // Base of door and of frame, a pin, and knuckles of the door, of the frame below and above: both
  // hinges are the same, but at their positions other grid planes of the mesh may cross them.
  cached("first", 10);
  for (auto& hinge : door.hinges)
    hinge.end_float *= 0.5;
  cached("end float", 0);
  door.swing = 0.9;
  cached("swing", 0);
  door.handle = {100.0, 0.3};
  cached("handle", 0);
  for (auto& hinge : door.hinges)
    hinge.clearance *= 0.5;
  cached("clearance: knuckles only", 6);
  for (auto& hinge : door.hinges)
    hinge.pin_diameter *= 0.75;
  cached("pin: knuckles and pins", 8);
  door.panel.outer_skin *= 2.0;
  cached("panel: all but what stands the same", 8);
  check_row(whole_body,
            {"parts-kept", "seven doors of kept parts: worst difference of the drop", ""},
            at_most(1e-9, "rounding of parts that stood elsewhere"), drops);
}
