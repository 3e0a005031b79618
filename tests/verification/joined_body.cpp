// Bodies assembled from cached substructures against the same bodies factorized whole
// (solver/elasticity/elastic_body, which the published kernel tests cover), and a door with cached
// substructures against a fresh one.
#define BOOST_TEST_MODULE joined_body
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
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

Fineness coarse(const Door& door)
{
  Fineness fine = fineness(door, 1);
  fine.panel_cell = door.panel.width / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

double largest(const NodeField& field)
{
  double most = 0.0;
  for (const auto& v : field)
    most = std::max(most, norm(v));
  return most;
}

double difference(const NodeField& a, const NodeField& b)
{
  double most = 0.0;
  for (std::size_t n = 0; n < a.size(); ++n)
    most = std::max(most, norm(a[n] - b[n]));
  return most / largest(a);
}

const Source whole_body{
    "Bodies of parts",
    "The same bodies factored whole by the kernel that the published cases cover."};
const std::string cholesky = "one system by two ways; its condition is near 1e7 on thin plates";

// Some force on every steel node, the same every time.
NodeField some_forces(const BodyMesh& mesh)
{
  NodeField forces(mesh.nodes.size());
  for (const auto& cell : mesh.cells)
    if (is_steel(cell))
      for (const int n : cell.node)
        forces[n] = {std::sin(1.0 + n), std::cos(3.0 * n), std::sin(0.5 * n)};
  return forces;
}

} // namespace

BOOST_AUTO_TEST_CASE(a_frame_of_substructures_deforms_like_a_whole_one)
{
  double loads = 0.0; // worst difference, of the largest displacement
  double forces_only = 0.0;
  for (Door door : {barrel_door(), barrel_door(PinHold::fixed), lug_door(PinHold::fixed)}) {
    door.swing = 1.1;
    const Mesh mesh = loft(door, coarse(door));
    const ElasticityOf of = elasticity_of(door, 20.0, 20.0);
    const auto held = hold_all(mesh.held);
    const ElasticBody whole(mesh.frame, of, held);
    FactoredBodies kept;
    const JoinedBody joined(mesh.frame, of, held, {pin_axis(door, door.hinges[0]), -door.swing},
                            kept);
    BOOST_TEST(joined.unknowns() == whole.unknowns());
    const NodeField forces = some_forces(mesh.frame);
    // Both solve one system by Cholesky; its condition is near 1e7 on thin plates.
    loads = std::max(loads, difference(whole.solve(forces), joined.solve(forces)));

    // A few forces on the surface of a knuckle, displacements on another.
    std::vector<int> ring;
    for (const auto& cell : mesh.frame.cells)
      if (cell.part == Part::ring)
        ring.push_back(cell.node[0]);
    const std::vector<std::vector<NodeForce>> sets{
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
  const Door door = lug_door();
  const Mesh mesh = loft(door, coarse(door));
  const ElasticityOf of = elasticity_of(door, 20.0, 20.0);
  const ElasticBody whole(mesh.door, of, hold_lightly(mesh.door));
  FactoredBodies kept;
  const JoinedBody joined(mesh.door, of, {}, {pin_axis(door, door.hinges[0]), 0.0}, kept);
  // The same six unknowns are fixed, so that even unbalanced forces give the same displacements.
  const NodeField forces = some_forces(mesh.door);
  check_row(whole_body, {"parts-free-door", "free door: worst difference", ""},
            at_most(1e-7, cholesky + ", six unknowns held for a free body"),
            difference(whole.solve(forces), joined.solve(forces)));
}

// Forces and displacements at retained unknowns come from the Schur complement of the base alone.
BOOST_AUTO_TEST_CASE(retained_unknowns_respond_like_the_whole_base)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, coarse(door));
  const ElasticityOf of = elasticity_of(door, 20.0, 20.0);
  std::vector<HeldUnknown> seats;
  std::vector<int> at; // retained unknowns, each with its own direction, and a ring
  for (const auto& cell : mesh.door.cells)
    if (cell.part == Part::inner_skin && at.size() < 8) {
      seats.push_back({cell.node[13], 1}); // the middle of the cell: nothing is fixed there
      at.push_back(cell.node[13]);
    }
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end()), at.end());
  const auto ring = std::find_if(mesh.door.cells.begin(), mesh.door.cells.end(),
                                 [](const Hex& c) { return c.part == Part::ring; });
  at.push_back(ring->node[0]);
  FactoredBodies kept;
  const PartFrame frame{pin_axis(door, door.hinges[0]), 0.0};
  const JoinedBody plain(mesh.door, of, {}, frame, kept);
  JoinedBody seated(mesh.door, of, {}, frame, kept, seats);
  const std::vector<std::vector<NodeForce>> sets{
      {{at[0], {0.0, 1.0, 0.0}}},
      {{at[1], {0.0, -2.0, 0.0}}, {at.back(), {1.0, 0.5, -0.5}}},
      {{at.back(), {0.0, 0.0, 3.0}}}};
  const auto whole = plain.solve(sets, at);
  const auto only_seats = [&](NodeField field) { // of a retained node no other component is known
    for (std::size_t i = 0; i + 1 < field.size(); ++i)
      field[i] = {0.0, field[i].y, 0.0};
    return field;
  };
  for (const bool gone : {false, true}) {
    if (gone)
      seated.let_carrier_go();
    const auto found = seated.solve(sets, at);
    for (std::size_t s = 0; s < sets.size(); ++s) // the same system in another order
      BOOST_TEST(difference(only_seats(whole[s]), only_seats(found[s])) < 1e-8);
    NodeField forces(mesh.door.nodes.size());
    for (const auto& f : sets[1])
      forces[f.node] += f.force;
    const NodeField moves = seated.solve_seats(forces);
    for (std::size_t i = 0; i + 1 < at.size(); ++i)
      BOOST_TEST(std::abs(moves[at[i]].y - whole[1][i].y) < 1e-8 * largest(whole[1]));
  }
  BOOST_CHECK_THROW(static_cast<void>(seated.solve(NodeField(mesh.door.nodes.size()))),
                    std::logic_error);
}

// Steel that is softer all over has larger displacements by that factor, and is not factorized
// again.
BOOST_AUTO_TEST_CASE(a_softer_body_reuses_its_substructures)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, coarse(door));
  const auto held = hold_all(mesh.held);
  const PartFrame frame{pin_axis(door, door.hinges[0]), -door.swing};
  FactoredBodies kept;
  const JoinedBody cold(mesh.frame, elasticity_of(door, 20.0, 20.0), held, frame, kept);
  const int made = kept.made;
  const ElasticityOf soft = elasticity_of(door, 437.0, 437.0);
  const JoinedBody hot(mesh.frame, soft, held, frame, kept);
  BOOST_TEST(kept.made.load() == made);
  const NodeField forces = some_forces(mesh.frame);
  check_row(whole_body, {"parts-softer", "frame at 437 degC of cold parts: worst difference", ""},
            at_most(1e-8, cholesky),
            difference(ElasticBody(mesh.frame, soft, held).solve(forces), hot.solve(forces)));
}

// Of a coarser mesh only orderings of unknowns stay: the same door is factored anew and gives the
// same bits, and a body that still stands on the old parts goes on with them.
BOOST_AUTO_TEST_CASE(parts_of_which_only_the_ordering_stays_are_made_again)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, coarse(door));
  const ElasticityOf of = elasticity_of(door, 20.0, 20.0);
  const NodeField forces = some_forces(mesh.door);
  FactoredBodies kept;
  const JoinedBody before(mesh.door, of, {}, {}, kept);
  const NodeField moves = before.solve(forces);
  const int made = kept.made;
  retain_orderings(kept);
  BOOST_TEST(kept.parts.size() == 0U);
  BOOST_TEST(kept.orderings.size() > 0U);
  const JoinedBody again(mesh.door, of, {}, {}, kept);
  BOOST_TEST(kept.made.load() == 2 * made);
  BOOST_TEST(same_field(again.solve(forces), moves));
  NodeField others = forces;
  others.front() += Vec3{1.0, 0.0, 0.0};
  BOOST_TEST(same_field(before.solve(others), again.solve(others)));
}

// What a mesh does not depend on, or what comes from outside, changes no stiffness: the same bits
// as of a fresh door, and nothing is factorized again.
BOOST_AUTO_TEST_CASE(a_door_with_the_same_geometry_key_gives_the_same_bits)
{
  Door door = barrel_door();
  const Mesh mesh = loft(door, coarse(door));
  AnalysisCache kept;
  solve_open_door({.door = door, .mesh = mesh, .cache = &kept});
  const int made = kept.factors.made;
  const int reused = kept.factors.reused;
  const auto hang = [&](const char* what) {
    const Deflection with = solve_open_door({.door = door, .mesh = mesh, .cache = &kept});
    const Deflection fresh = solve_open_door({.door = door, .mesh = loft(door, coarse(door))});
    BOOST_TEST_CONTEXT(what)
    {
      BOOST_TEST(with.drop == fresh.drop);
      BOOST_TEST(difference(fresh.door_move, with.door_move) == 0.0);
      BOOST_TEST(difference(fresh.frame_move, with.frame_move) == 0.0);
      BOOST_TEST(kept.factors.made.load() == made);
      BOOST_TEST(kept.factors.reused.load() == reused);
    }
  };
  hang("nothing");
  door.hinges[0].end_float *= 0.25;
  door.hinges[1].carries_weight = true;
  door.hinges[1].end_float *= 0.25;
  hang("end float");
  door.handle = {900.0, 0.3};
  hang("handle");
  for (auto& knuckle : door.hinges[0].knuckles)
    knuckle.worn = {0.5e-3, 0.5e-3};
  hang("wear");
}

BOOST_AUTO_TEST_CASE(cached_substructures_change_nothing)
{
  AnalysisCache kept;
  Door door = barrel_door();
  double drops = 0.0; // worst difference, of the drop
  auto hang = [&](const char* what, int most_new) {
    const Mesh mesh = loft(door, coarse(door));
    const int before = kept.factors.made;
    const Deflection with = solve_open_door({.door = door, .mesh = mesh, .cache = &kept});
    const Deflection fresh = solve_open_door({.door = door, .mesh = mesh});
    BOOST_TEST_CONTEXT(what)
    {
      // Rounding of the solver on substructures at other positions.
      BOOST_TEST(std::abs(with.drop - fresh.drop) < 1e-9 * fresh.drop);
      drops = std::max(drops, std::abs(with.drop / fresh.drop - 1.0));
      BOOST_TEST(difference(fresh.door_move, with.door_move) < 1e-8);
      BOOST_TEST(with.balance.reaction_error < 1e-8);
      BOOST_TEST(kept.factors.made - before <= most_new);
    }
  };
  // Base of door and of frame, a pin, and knuckles of the door, of the frame below and above: both
  // hinges are the same, but at their positions other grid planes of the mesh may cross them.
  hang("first", 10);
  for (auto& hinge : door.hinges)
    hinge.end_float *= 0.5;
  hang("end float", 0);
  door.swing = 0.9;
  hang("swing", 0);
  door.handle = {100.0, 0.3};
  hang("handle", 0);
  for (auto& hinge : door.hinges)
    hinge.clearance *= 0.5;
  hang("clearance: knuckles only", 6);
  for (auto& hinge : door.hinges)
    hinge.pin_diameter *= 0.75;
  hang("pin: knuckles and pins", 8);
  door.panel.outer_skin *= 2.0;
  hang("panel: all but what stands the same", 8);
  check_row(whole_body,
            {"parts-kept", "seven doors of kept parts: worst difference of the drop", ""},
            at_most(1e-9, "rounding of parts that stood elsewhere"), drops);
}
