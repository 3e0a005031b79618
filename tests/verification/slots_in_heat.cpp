// SPDX-License-Identifier: GPL-3.0-or-later
// Narrow slots between the closed door and its frame, and the frame's own temperature.
#define BOOST_TEST_MODULE slots_in_heat
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/heat/frame_temperature.hpp"
#include "solver/heat/surface_flux.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source glazing{"ISO 15099",
                     "ISO 15099:2003, Nusselt numbers of upright glazing cavities (as carried by a "
                     "public library of building models)."};
const Source law{"Radiation",
                 "Grey parallel plates, Stefan and Boltzmann's law (textbook; recomputed)."};
const Source strings{"Hottel", "View factors by crossed strings (textbook; worked here)."};
const Source lumped{"Lumped plate", "A plate of one temperature between two films: its settled "
                                    "temperature and its time constant in closed form."};

double iso_15099(double rayleigh, double aspect)
{
  const double first = rayleigh > 5e4   ? 0.0673838 * std::cbrt(rayleigh)
                       : rayleigh > 1e4 ? 0.028154 * std::pow(rayleigh, 0.4134)
                                        : 1.0 + 1.7596678e-10 * std::pow(rayleigh, 2.2984755);
  return std::max(first, 0.242 * std::pow(rayleigh / aspect, 0.272));
}

// Nothing radiates, and steel whose specific heat does not change: the frame's balance is linear.
door::Door linear_frame()
{
  door::Door door = barrel_door();
  door.steel.table = {{20.0, 200e9, 250e6, 250e6, 0.0, 50.0, 500.0},
                      {900.0, 200e9, 250e6, 250e6, 0.01, 50.0, 500.0}};
  door.fire.emissivity_inside = 0.0;
  door.fire.emissivity_outside = 0.0;
  door.fire.outside_film = 1e-9;
  door.fire.film = 40.0;
  return door;
}

door::Door fired()
{
  door::Door door = barrel_door();
  door.opening = {door.reveal, door.reveal, door.reveal, 0.0};
  door.fire.schedule = {{0.0, 20.0}, {1800.0, 450.0}, {14400.0, 450.0}};
  return door;
}

} // namespace

BOOST_AUTO_TEST_CASE(air_in_a_narrow_slot)
{
  check_row(glazing, {"slot-conducts", "upright slot, Ra 200, 100 times as high as wide", ""},
            within(1.0, 1e-3, "the air only conducts"), heat::slot_nusselt(200.0, 100.0));
  BOOST_TEST(heat::slot_nusselt(0.0, 100.0) == 1.0);
  for (const double rayleigh : {1e3, 5e3, 1e4, 3e4, 1e5})
    check_row(glazing,
              {fmt::format("slot-{:.0f}", rayleigh),
               fmt::format("upright slot, Ra {:.0f}, 40 times as high as wide", rayleigh), ""},
              near(iso_15099(rayleigh, 40.0), 0.05, "two fits to the same measurements"),
              heat::slot_nusselt(rayleigh, 40.0));
  check_row(glazing, {"slot-low", "upright slot, Ra 1e5, 5 times as high as wide", ""},
            near(iso_15099(1e5, 5.0), 0.02, "the same law of the boundary layers"),
            heat::slot_nusselt(1e5, 5.0));
}

BOOST_AUTO_TEST_CASE(plates_facing_each_other)
{
  // 5 mm apart at 600 and 100 degC: Ra 40, so the air conducts, k at 350 degC; radiation 21 239.
  const heat::SurfaceFlux all = heat::slot_exchange(600.0, 100.0, 0.005, 0.75, 0.8);
  const double air = heat::air_at(623.15).conductivity * 500.0 / 0.005;
  check_row(law,
            {"slot-plates", "plates of 0.8 at 600 and 100 degC, 5 mm apart: radiation", "W/m2"},
            near(21239.0, 1e-4, "digits printed"), -all.into - air);
  const heat::SurfaceFlux still = heat::slot_exchange(100.0, 100.0, 0.005, 0.75, 0.8);
  BOOST_TEST(still.into == 0.0);
  // Its derivative against a difference quotient.
  const double step = 0.01;
  const double slope = (heat::slot_exchange(300.0 + step, 280.0, 0.005, 0.75, 0.8).into -
                        heat::slot_exchange(300.0 - step, 280.0, 0.005, 0.75, 0.8).into) /
                       (2.0 * step);
  BOOST_TEST(std::abs(heat::slot_exchange(300.0, 280.0, 0.005, 0.75, 0.8).slope / slope - 1.0) <
             0.02);
  BOOST_TEST(heat::slot_exchange(300.0, 20.0, 0.005, 0.75, 0.0).into < 0.0); // nothing radiates
}

BOOST_AUTO_TEST_CASE(what_a_slot_shows_of_the_room)
{
  check_row(strings, {"mouth-at", "slot: share of the room at its mouth", ""},
            within(0.5, 1e-12, "arithmetic"), heat::mouth_fraction(0.0, 0.005));
  check_row(strings, {"mouth-deep", "slot: share of the room twenty widths deep", ""},
            near(1.0 / 1600.0, 0.005, "b^2 / (4 s^2) far from the mouth"),
            heat::mouth_fraction(0.1, 0.005));
  // Summed over a depth D: by crossed strings wall and mouth exchange (D + b - sqrt(D^2 + b^2))
  // / 2.
  double sum = 0.0;
  constexpr int steps = 10000;
  for (int i = 0; i < steps; ++i)
    sum += heat::mouth_fraction(0.05 * (i + 0.5) / steps, 0.005) * 0.05 / steps;
  check_row(strings, {"mouth-sum", "slot 50 mm deep, 5 wide: wall to mouth, summed", "mm"},
            near(1e3 * 0.5 * (0.05 + 0.005 - std::hypot(0.05, 0.005)), 1e-5, "midpoint rule"),
            1e3 * sum);
}

BOOST_AUTO_TEST_CASE(laminar_leads_into_turbulent)
{
  BOOST_TEST(std::abs(heat::vertical_plate_nusselt(1e9, 0.7) -
                      heat::vertical_plate_nusselt(1.0001e9, 0.7)) < 0.02);
  BOOST_TEST(std::abs(heat::vertical_plate_nusselt(1.5e9, 0.7) -
                      heat::vertical_plate_nusselt(1.4999e9, 0.7)) < 0.02);
  double before = 0.0;
  for (double log = 4.0; log < 12.0; log += 0.01) {
    const double now = heat::vertical_plate_nusselt(std::pow(10.0, log), 0.7);
    BOOST_TEST(now > before);
    before = now;
  }
}

BOOST_AUTO_TEST_CASE(the_frame_heats_up_as_a_plate)
{
  door::Door door = linear_frame();
  const double mass = door.steel.density * 500.0 * door.jamb.thickness;
  const double constant = mass / (0.5 * door.fire.film); // the gas reaches half of it
  door.fire.schedule = {{0.0, 400.0}, {3.0 * constant, 400.0}};
  const heat::FrameFace frame(door);
  check_row(lumped, {"frame-warms", "frame face after one time constant, 20 to 400 degC", "degC"},
            within(400.0 - 380.0 * std::exp(-1.0), 0.5, "2,000 steps of the first order"),
            frame.temperature_at(constant));
  check_row(lumped, {"frame-settled", "frame face, settled, when the room takes nothing", "degC"},
            within(400.0, 0.01, "outside film of 1e-9"), frame.settled());
  // By the program's own films: the heat of half the gas equals that to the room.
  const door::Door hot = fired();
  const double t = heat::FrameFace(hot).settled();
  const double in = 0.5 * heat::exchange(t, 450.0, hot.fire.film, 0.8).into;
  const double out =
      heat::exchange(t, 20.0, heat::natural_convection_coefficient(t, 20.0, hot.panel.height), 0.8)
          .into;
  check_row(lumped,
            {"frame-balance", "frame face at 450 degC gas: what it takes over what it gives", ""},
            within(1.0, 1e-9, "bisection"), -in / out);
  door::Door given = hot;
  given.fire.frame = 200.0;
  BOOST_TEST(std::abs(heat::FrameFace(given).settled() - 200.0) < 1e-9);
  BOOST_TEST(std::abs(heat::FrameFace(given).temperature_at(0.0) - 20.0) < 1e-9);
  door::Door measured = hot;
  measured.fire.schedule.clear();
  measured.fire.measured = {true, 200.0, 60.0, 100.0};
  BOOST_TEST(std::abs(heat::FrameFace(measured).settled() - 150.0) < 1e-9);
}

// A given jamb temperature holds at the outer face, the frame face's at the skin, and only the
// frame opposite affects the edges: a frame as hot as the edge itself takes no heat deep in the
// slot.
BOOST_AUTO_TEST_CASE(a_given_jamb_is_met_at_the_outer_face)
{
  door::Door door = fired();
  door.fire.frame = 300.0;
  door.jamb.hot = 100.0;
  const mesh::BodyMesh body =
      sweep::make_panel_mesh(door, door::mesh_density(door, door::RefinementLevel{1, 1}));
  const auto flux = heat::door_heat_problem(door, body).steady_flux;
  const double middle = 0.5 * door::depth(door);
  BOOST_TEST(std::abs(flux(heat::hinge_slot, {0.0, 0.0, 0.3}, 300.0, 1800.0).into) < 30.0);
  const double wide = door.reveal;
  const double open = heat::mouth_fraction(middle, wide);
  const double at_200 = flux(heat::hinge_slot, {0.0, middle, 0.3}, 200.0, 1800.0).into;
  const double to_room =
      heat::exchange(200.0, 20.0,
                     heat::natural_convection_coefficient(200.0, 20.0, door.panel.height), 0.8)
          .into;
  BOOST_TEST(std::abs(at_200 / (open * to_room) - 1.0) < 1e-6);
}

// Sensitivity of the hottest point outside to film and frame, first order, against whole solutions.
BOOST_AUTO_TEST_CASE(thermal_sensitivities_predict_whole_solutions)
{
  const door::Door door = fired();
  const mesh::BodyMesh body =
      sweep::make_panel_mesh(door, door::mesh_density(door, door::RefinementLevel{1, 1}));
  const double time = heat::hottest_time(door.fire);
  const heat::HeatSolver solver(heat::door_heat_problem(door, body));
  const heat::TemperatureField as_is = solver.steady(time, 235.0);
  const heat::HeatUncertainty doubts = heat::heat_uncertainty(door, solver, as_is.value);
  std::size_t hottest = 0;
  for (std::size_t n = 0; n < as_is.value.size(); ++n)
    if (std::abs(body.nodes[n].y - door::depth(door)) < 1e-7 &&
        (std::abs(body.nodes[hottest].y - door::depth(door)) > 1e-7 ||
         as_is.value[n] > as_is.value[hottest]))
      hottest = n;
  const auto again = [&](const door::Door& other) {
    return heat::HeatSolver(heat::door_heat_problem(other, body))
               .steady(time, 235.0)
               .value[hottest] -
           as_is.value[hottest];
  };
  door::Door hotter = door;
  hotter.fire.frame_excess = 1.05;
  door::Door stiller = door;
  stiller.fire.outside_film = 0.95;
  const double by_frame = again(hotter) / 0.05;
  const double by_film = again(stiller) / 0.05;
  BOOST_TEST_MESSAGE("frame " << by_frame << " and " << doubts.by_frame[hottest] << ", film "
                              << by_film << " and " << doubts.by_film[hottest]);
  // Conductivities that change with temperature are left out, and 5 % is not nothing.
  BOOST_TEST(std::abs(doubts.by_frame[hottest] / by_frame - 1.0) < 0.1);
  BOOST_TEST(std::abs(doubts.by_film[hottest] / by_film - 1.0) < 0.1);
}
