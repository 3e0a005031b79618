// Bodies joined from kept parts against the same bodies factored whole (solver/elastic_body, which
// the published kernel tests cover), and a door with kept parts against a fresh one.
#define BOOST_TEST_MODULE joined_body
#include <boost/test/unit_test.hpp>

#include "meshing/loft.hpp"
#include "solver/door_assembly.hpp"
#include "solver/open_door.hpp"
#include "tests/book.hpp"
#include "tests/test_doors.hpp"

#include <algorithm>
#include <cmath>

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

BOOST_AUTO_TEST_CASE(a_frame_of_parts_moves_like_a_whole_one)
{
  double loads = 0.0; // worst difference, of the largest movement
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

    // A few forces on the surface of a knuckle, felt on another.
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

BOOST_AUTO_TEST_CASE(a_free_door_of_parts_strains_like_a_whole_one)
{
  const Door door = lug_door();
  const Mesh mesh = loft(door, coarse(door));
  const ElasticityOf of = elasticity_of(door, 20.0, 20.0);
  const ElasticBody whole(mesh.door, of, hold_lightly(mesh.door));
  FactoredBodies kept;
  const JoinedBody joined(mesh.door, of, {}, {pin_axis(door, door.hinges[0]), 0.0}, kept);
  // The same six unknowns are held, so that even unbalanced forces give the same movement.
  const NodeField forces = some_forces(mesh.door);
  check_row(whole_body, {"parts-free-door", "free door: worst difference", ""},
            at_most(1e-7, cholesky + ", six unknowns held for a free body"),
            difference(whole.solve(forces), joined.solve(forces)));
}

BOOST_AUTO_TEST_CASE(kept_parts_change_nothing)
{
  FactoredBodies kept;
  Door door = barrel_door();
  double drops = 0.0; // worst difference, of the drop
  auto hang = [&](const char* what, int most_new) {
    const Mesh mesh = loft(door, coarse(door));
    const int before = kept.made;
    const Deflection with = deflect_open(door, mesh, {}, nullptr, &kept);
    const Deflection fresh = deflect_open(door, mesh);
    BOOST_TEST_CONTEXT(what)
    {
      // Rounding of the solver on parts that stood elsewhere.
      BOOST_TEST(std::abs(with.drop - fresh.drop) < 1e-9 * fresh.drop);
      drops = std::max(drops, std::abs(with.drop / fresh.drop - 1.0));
      BOOST_TEST(difference(fresh.door_move, with.door_move) < 1e-8);
      BOOST_TEST(with.balance.reaction_error < 1e-8);
      BOOST_TEST(kept.made - before <= most_new);
    }
  };
  // Door and frame carriers, a pin, and knuckles of the door, of the frame below and above: both
  // hinges are alike, but where they stand other lines of the mesh may cross them.
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
