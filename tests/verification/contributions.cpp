// SPDX-License-Identifier: GPL-3.0-or-later
// The contributions to bow and least squeeze: their sums against the quantity, and each kind of
// contribution against the effect of changing its cause, which is an independent route to it.
#define BOOST_TEST_MODULE contributions
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/heat/thermal_state.hpp"
#include "tests/support/closed_doors.hpp"

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

// Hotter inside and below, hottest in the middle: bow, lean and stress.
heat::ThermalState unevenly_warm(const door::Door& door, const mesh::Mesh& mesh)
{
  heat::ThermalState thermal;
  thermal.state = {heat::ThermalCase::steady};
  for (const auto& n : mesh.door.nodes) {
    const double inwards = std::max(0.0, 1.0 - n.y / door::depth(door));
    const double u = 2.0 * n.x / door.panel.width - 1.0;
    thermal.temperature.push_back(20.0 + 50.0 * inwards * (1.0 - 0.3 * u * u) +
                                  10.0 * (1.0 - n.z / door.panel.height));
  }
  thermal.summary.knuckles = 30.0;
  thermal.summary.jamb = 25.0;
  thermal.summary.pins = 27.0;
  return thermal;
}

qoi::ContributionSplit split_of(const analysis::OpenDoorResult& d, qoi::Quantity quantity)
{
  const qoi::ContributionSplit* split = qoi::find_split(d.splits, quantity);
  BOOST_REQUIRE(split != nullptr);
  return *split;
}

double share(const std::vector<qoi::Contribution>& shares, const std::string& start)
{
  double sum = 0.0;
  for (const auto& s : shares)
    if (qoi::contribution_label(s).rfind(start, 0) == 0)
      sum += s.value;
  return sum;
}

// A closed door that can be closed again and again.
struct ClosedDoor {
  door::Door door;
  mesh::Mesh mesh;
  heat::ThermalState warm;
  analysis::AnalysisCache parts;
  analysis::ClosedDoorAnalysis closed_door;

  explicit ClosedDoor(const door::Door& d, double difference = 0.0)
      : door(d), mesh(sweep::make_mesh(d, coarse(d))), warm(bowed(door, mesh, difference)),
        closed_door(door, mesh, &warm, door.latches, parts)
  {
  }
  qoi::ContributionSplit split(const analysis::ClosingSetup& closing,
                               std::vector<const analysis::ClosedDoorResult*> after = {})
  {
    const analysis::ClosedDoorResult closed = closed_door.solve(closing, after);
    return closed_door.least_squeeze(closing, closed).split;
  }
};

// The tolerance is a part in a million; contacts close to that fraction of the play in the hinges.
void check_sums(const qoi::ContributionSplit& split, double least_scale)
{
  const double scale = std::max(std::abs(split.whole), least_scale);
  BOOST_TEST_CONTEXT(static_cast<int>(split.quantity))
  {
    BOOST_TEST(std::abs(qoi::sum(split.by_part) - split.whole) < 1e-6 * scale);
    BOOST_TEST(std::abs(qoi::sum(split.by_cause) - split.whole) < 1e-6 * scale);
    BOOST_TEST(split.closure_error < 1e-6 * scale);
  }
}

} // namespace

BOOST_AUTO_TEST_CASE(contributions_add_up_to_the_bow)
{
  double worst = 0.0;
  for (const door::Door& door : {barrel_door(), barrel_door(door::PinFixity::fixed), lug_door()}) {
    const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
    const heat::ThermalState thermal = unevenly_warm(door, mesh);
    const analysis::OpenDoorResult d =
        analysis::solve_open_door({.door = door, .mesh = mesh, .thermal = &thermal});
    const qoi::ContributionSplit bow = split_of(d, qoi::Quantity::bow);
    // The goal functional reads what the straightedge reads.
    BOOST_TEST(std::abs(bow.whole - d.bow.outer_corners) < 1e-9 * std::abs(bow.whole));
    check_sums(bow, 0.0);
    check_sums(split_of(d, qoi::Quantity::drop), 0.0);
    worst = std::max(worst, bow.closure_error / std::abs(bow.whole));
  }
  BOOST_TEST_MESSAGE("shares miss the bow by " << worst << " of it");
}

BOOST_AUTO_TEST_CASE(a_hot_skin_bows_as_a_bimetal_does)
{
  // A skin that alone would grow by e curves a sandwich of equal skins, d apart, by e / d, and the
  // other skin's contribution is the same with the other sign (two equal flanges, web of no
  // account; Timoshenko, Analysis of bi-metal thermostats, 1925, in the limit of two thin far
  // skins, from memory): middle against corners e (W^2 + H^2) / (8 d). The rim is made thin so that
  // it is of little account; but it alone joins the skins, and what its webs shear is lost: the
  // band.
  door::Door door = barrel_door();
  door.rim.wall = 0.02 * inch;
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  heat::ThermalState thermal = bowed(door, mesh, 0.0);
  for (std::size_t n = 0; n < thermal.temperature.size(); ++n)
    if (mesh.door.nodes[n].y < door.panel.inner_skin + 1e-6)
      thermal.temperature[n] += 100.0;
  const qoi::ContributionSplit hot =
      split_of(analysis::solve_open_door({.door = door, .mesh = mesh, .thermal = &thermal}),
               qoi::Quantity::bow);
  const double w = door.panel.width;
  const double apart = door::depth(door) - 0.25 * inch;
  const double e = 1.2e-5 * 100.0 + 0.4e-8 * (120.0 * 120.0 - 400.0); // EN 1993-1-2, 3.4.1.1
  const double by_hand = e * 2.0 * w * w / (8.0 * apart);
  BOOST_TEST_MESSAGE("inner skin " << share(hot.by_cause, "heat of the inner skin")
                                   << " m, by hand " << -by_hand);
  BOOST_TEST(share(hot.by_cause, "heat of the inner skin") == -by_hand,
             boost::test_tools::tolerance(0.15));
  // Uniformly heated it does not bow: the contributions of both skins cancel.
  for (auto& t : thermal.temperature)
    t = 120.0;
  const qoi::ContributionSplit even =
      split_of(analysis::solve_open_door({.door = door, .mesh = mesh, .thermal = &thermal}),
               qoi::Quantity::bow);
  BOOST_TEST(std::abs(share(even.by_cause, "heat")) <
             0.03 * std::abs(share(even.by_cause, "heat of the inner skin")));
}

BOOST_AUTO_TEST_CASE(contributions_add_up_to_the_least_squeeze)
{
  for (const bool two : {false, true}) {
    door::Door door = smoke_door({15.0 * inch});
    if (two)
      door = smoke_door({6.0 * inch, 24.0 * inch});
    door.opening.warp = 0.02 * inch;
    for (const double difference : {0.0, 120.0}) {
      ClosedDoor s(door, difference);
      const analysis::ClosingSetup closing = analysis::closing_setup(s.door);
      const analysis::ClosedDoorResult closed = s.closed_door.solve(closing, {});
      const qoi::ContributionSplit split = s.closed_door.least_squeeze(closing, closed).split;
      double minimum = closed.gasket.front().squeeze;
      for (const auto& g : closed.gasket)
        minimum = std::min(minimum, g.squeeze);
      BOOST_TEST(split.whole == minimum, boost::test_tools::tolerance(1e-9));
      check_sums(split, 1e-3);
      // Cooled again: the permanent set is a contribution, and there are no more contributions than
      // causes.
      const qoi::ContributionSplit cooled = s.split(closing, {&closed});
      check_sums(cooled, 1e-3);
      BOOST_TEST(share(cooled.by_part, "set of the gasket") < 0.0);
      BOOST_TEST(share(split.by_part, "set of the gasket") == 0.0);
      BOOST_TEST((share(split.by_cause, "heat") != 0.0) == (difference != 0.0));
    }
  }
}

BOOST_AUTO_TEST_CASE(contributions_predict_the_effect_of_a_change_of_their_cause)
{
  // With a fixed active set the quantity is linear in gaps and loads, so a contribution is
  // proportional to its cause; a hundredth more of a cause gives a hundredth of its contribution.
  // Bands: rounding of a difference of 1e-5 m against 1e-9 m, and pairs that become active or
  // inactive.
  ClosedDoor s(smoke_door({6.0 * inch, 24.0 * inch}), 60.0);
  for (auto& latch : s.door.latches)
    latch.draw = 0.03 * inch;
  const analysis::ClosingSetup closing = analysis::closing_setup(s.door);
  const qoi::ContributionSplit as_is = s.split(closing);
  constexpr double more = 0.01;
  {
    analysis::ClosingSetup changed = closing;
    for (auto& latch : changed.latches)
      latch.draw *= 1.0 + more;
    const double found = s.split(changed).whole - as_is.whole;
    BOOST_TEST(found == more * share(as_is.by_cause, "draw of the latches"),
               boost::test_tools::tolerance(0.03));
  }
  {
    analysis::ClosingSetup changed = closing;
    changed.gasket.set_gap -= more * (closing.gasket.height - closing.gasket.set_gap);
    const double found = s.split(changed).whole - as_is.whole;
    BOOST_TEST(found == more * share(as_is.by_cause, "gasket height less set gap"),
               boost::test_tools::tolerance(0.03));
  }
  {
    analysis::ClosingSetup changed =
        closing; // a softer rod: its contribution goes as 1 / stiffness
    for (auto& latch : changed.latches)
      latch.stiffness /= 1.0 + more;
    const double found = s.split(changed).whole - as_is.whole;
    BOOST_TEST(found == more * share(as_is.by_part, "give of the latches"),
               boost::test_tools::tolerance(0.03));
  }
}
