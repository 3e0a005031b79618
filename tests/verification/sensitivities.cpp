// SPDX-License-Identifier: GPL-3.0-or-later
// Sensitivities of drop, bow and least squeeze by the adjoint against whole runs of the changed
// door.
#define BOOST_TEST_MODULE sensitivities
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/sensitivity/adjoint_sensitivity.hpp"
#include "tests/support/closed_doors.hpp"

#include <cmath>
#include <map>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

// Steady under measured skins: one linear heat solution, no time steps. Loose bores and a standoff
// that the mesh can follow.
door::Door measured_door()
{
  door::Door door = smoke_door({6.0 * inch, 24.0 * inch});
  door.fire.schedule.clear();
  door.fire.measured = {true, 150.0, 60.0, 75.0};
  for (auto& latch : door.latches)
    latch.draw = 0.03 * inch;
  return door;
}

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

const std::vector<sensitivity::SensitivityState> states{
    {{heat::ThermalCase::cold}, true, true}, {{heat::ThermalCase::measured_skins}, true, true}};

std::string name(const qoi::QoiId& id)
{
  return system::state_label(id.state) + (id.quantity == qoi::Quantity::drop  ? ": drop"
                                          : id.quantity == qoi::Quantity::bow ? ": bow"
                                                                              : ": least squeeze");
}

std::string name(const sensitivity::QoiSensitivities& a)
{
  return name(a.id);
}

// Every quantity by whole solutions, on the mesh of the sensitivities.
std::map<std::string, double> answers(const door::Door& door)
{
  std::map<std::string, double> result;
  for (const auto& a :
       sensitivity::adjoint_sensitivities(door, coarse(measured_door()), states, {}, {}))
    result[name(a)] = a.whole;
  return result;
}

} // namespace

BOOST_AUTO_TEST_CASE(the_quantities_are_those_of_the_check)
{
  const door::Door door = measured_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  const auto found = answers(door);
  const analysis::OpenDoorResult cold = analysis::solve_open_door(
      {.door = door, .mesh = mesh, .detail = analysis::ResultDetail::split});
  // Another order of the same sums, and pairs between nodes that another contact iteration has
  // added: 2e-6 of the play each, a hundred thousandth for several.
  constexpr double same = 1e-5;
  BOOST_TEST(found.at(name(qoi::QoiId{{}, qoi::Quantity::drop})) == cold.drop,
             boost::test_tools::tolerance(same));
  const firing::ThermalLoadCases load_cases = firing::analyse_firing(door, mesh.door, {});
  const analysis::OpenDoorResult hot =
      analysis::solve_open_door({.door = door,
                                 .mesh = mesh,
                                 .thermal = &load_cases.states.front(),
                                 .detail = analysis::ResultDetail::split});
  BOOST_TEST(
      found.at(name(qoi::QoiId{{system::DoorPosition::open, {heat::ThermalCase::measured_skins}},
                               qoi::Quantity::bow})) == hot.bow.outer_corners,
      boost::test_tools::tolerance(same));
}

BOOST_AUTO_TEST_CASE(sensitivities_are_those_of_whole_runs)
{
  // Whole runs change a size by a step large enough to be seen over what contact leaves open (a
  // millionth of the play), so they have some curvature, and some pairs become active or inactive:
  // a twentieth of the sensitivity, or two parts in ten thousand of the quantity over the step
  // where the sensitivity is next to nothing. The contact of the hot door changes in its bores
  // within 1 % of the rim's depth or of the hinges' height: there the ratio goes from 1.12 to 1.04
  // as the step falls to a quarter. (The spacing of the hinges displaces nodes of the panel along
  // its temperatures: this caught temperatures that moved with them.)
  const door::Door door = measured_door();
  const std::vector<sensitivity::UncertainInput> inputs = sensitivity::uncertain_inputs(door);
  const std::vector<sensitivity::QoiSensitivities> found =
      sensitivity::adjoint_sensitivities(door, coarse(door), states, inputs, {});
  const std::map<std::string, double> target{{"hinge.clearance", 0.05},
                                             {"hinge.pin_diameter", 0.02},
                                             {"hinge.leaf_thickness", 0.02},
                                             {"hinge.standoff", 0.01},
                                             {"hinge.at", 0.0025},
                                             {"skins.inner", 0.02},
                                             {"rim.depth", 0.005},
                                             {"jamb.thickness", 0.02},
                                             {"insulation.conductivity", 0.1},
                                             {"fire.emissivity_outside", 0.1},
                                             {"gasket.curve", 0.01},
                                             {"gasket.set_gap", 0.005},
                                             {"latch.draw", 0.05}};
  for (std::size_t n = 0; n < inputs.size(); ++n) {
    const sensitivity::UncertainInput& input = inputs[n];
    if (target.count(input.key) == 0)
      continue;
    const double by = target.at(input.key) * input.value;
    door::Door more = door;
    door::Door less = door;
    input.apply(more, by);
    input.apply(less, -by);
    const auto upper = answers(more);
    const auto lower = answers(less);
    for (const auto& answer : found) {
      BOOST_TEST_CONTEXT(input.key << ": " << name(answer))
      {
        BOOST_REQUIRE(answer.sensitivities[n].derivative.has_value());
        const double slope = *answer.sensitivities[n].derivative;
        const double run = (upper.at(name(answer)) - lower.at(name(answer))) / (2.0 * by);
        const double small = 2e-4 * std::abs(answer.whole) / (2.0 * by);
        BOOST_TEST_MESSAGE(input.key << " | " << name(answer) << " | slope " << slope << " run "
                                     << run << " ratio " << slope / run << " of answer "
                                     << slope * input.value / answer.whole);
        BOOST_TEST(std::abs(slope - run) < 0.05 * std::abs(run) + small);
      }
    }
  }
}
