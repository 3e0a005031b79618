// SPDX-License-Identifier: GPL-3.0-or-later
// Random doors through mesh, warm-up, open, hot and closed states: a few in ctest, by the thousand
// on demand.
//
//   many_doors mesh|heat|open|hot|closed|size COUNT SEED [wide] [only NUMBER]
//
// "size" solves it once more at twice the size in steel twice as stiff: displacements must double.
// "heat" heats the door and stops; "hot" solves it in the states of its fire as well. "only" solves
// one door of the series, to examine a failure.
//
// With "wide" sizes come from the whole range that a door file allows, uniform in their logarithm.
// A door may be refused with a message (ComputeError); anything else that is not a result is a
// failure: no number, an equilibrium residual, a tensile contact force, a penetration.
#include "meshing/common/errors.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/quality/mesh_quality.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/system/equilibrium_check.hpp"
#include "solver/system/state_id.hpp"
#include "tests/support/random_doors.hpp"
#include "tests/support/scaled_doors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <string>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

class WideDoors
{
public:
  explicit WideDoors(unsigned seed) : random_(seed), usual_(seed) {}

  door::Door next()
  {
    while (true) {
      door::Door door = usual_.next();
      door.panel = {sized(0.1, 4.0), sized(0.1, 4.0), sized(5e-4, 0.05), sized(5e-4, 0.05)};
      door.rim = {sized(0.01, 0.2), sized(0.01, 0.3), sized(5e-4, 0.02)};
      door.stiffeners.clear();
      door.reveal = sized(5e-4, 0.05);
      const double pin = sized(0.004, 0.06);
      const double wall = sized(0.002, 0.03);
      const double standoff = sized(0.01, 0.2);
      const double leaf = sized(0.002, 0.02);
      const auto count = static_cast<double>(door.hinges.size());
      for (std::size_t i = 0; i < door.hinges.size(); ++i) {
        door::Hinge& hinge = door.hinges[i];
        hinge.pin_diameter = pin;
        hinge.outside_diameter = pin + hinge.clearance + 2.0 * wall;
        hinge.leaf.standoff = standoff;
        hinge.leaf.thickness = leaf;
        hinge.position =
            door.panel.height * (count < 2 ? 0.5 : 0.12 + 0.76 * double(i) / (count - 1.0));
      }
      door.handle.position = 0.5 * door.panel.height;
      if (door::faults(door).empty())
        return door;
    }
  }

private:
  std::mt19937 random_;
  RandomDoors usual_;

  double sized(double minimum, double maximum)
  {
    return std::exp(
        std::uniform_real_distribution<double>(std::log(minimum), std::log(maximum))(random_));
  }
};

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

// What is wrong with a result; empty when nothing is.
std::string wrong(double drop, const system::EquilibriumCheck& balance, double load)
{
  if (!std::isfinite(drop))
    return "no number";
  if (!(balance.force_error < 1e-8) || !(balance.moment_error < 1e-8))
    return fmt::format("books: force {:.1e}, moment {:.1e}", balance.force_error,
                       balance.moment_error);
  if (balance.min_contact_force < -1e-6 * load)
    return fmt::format("a pull of {:.1e} of the weight", -balance.min_contact_force / load);
  return "";
}

void add_fire(door::Door& door, std::mt19937& random)
{
  const auto between = [&](double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(random);
  };
  const double hottest = between(100.0, 700.0);
  door.insulation = {"mineral wool", 0.0};
  door.fire.gasket_inset = std::min(0.025, 0.5 * door.rim.width);
  door.fire.schedule = {{0.0, 20.0}, {60.0 * between(5.0, 120.0), hottest}};
}

void add_closing(door::Door& door)
{
  door.gasket.kind = "own";
  door.gasket.height = 0.019;
  door.gasket.set_gap = 0.0133;
  door.gasket.corner = 0.025;
  door.gasket.curve = {{0.0, 0.0}, {0.0038, 875.0}, {0.0076, 3500.0}, {0.0114, 17500.0}};
  door.gasket.sealing = 875.0;
  door.gasket.crushing = 0.0076;
  door.gasket.permanent_set = 0.4;
  door.gasket.hottest = 540.0;
  for (const double share : {0.15, 0.85}) {
    door::Latch latch;
    latch.position = share * door.panel.height;
    latch.inset = 0.019;
    latch.stiffness = 1.75e6;
    latch.lead = 0.12;
    latch.arm = 0.025;
    latch.lever = 0.15;
    door.latches.push_back(latch);
  }
  door.opening = {door.reveal, door.reveal, door.reveal, 0.0};
  door.swing = 0.0;
}

// Nothing is colder than the room or hotter than the gas has been. Quadratic cells may overshoot at
// a sudden change by a part of it; steady there is nothing to overshoot.
std::string beyond(const std::vector<double>& position, const door::Fire& fire, double hottest,
                   double leave)
{
  const auto [least, most] = std::minmax_element(position.begin(), position.end());
  const double swing = leave * (hottest - fire.ambient);
  if (std::ranges::all_of(position, [](double t) { return std::isfinite(t); }) &&
      *least > fire.ambient - swing && *most < hottest + swing)
    return "";
  return fmt::format("temperatures {:.1f} to {:.1f} degC between room {:.1f} and gas {:.1f}",
                     *least, *most, fire.ambient, hottest);
}

std::string trouble_of_heat(const door::Door& door, const mesh::BodyMesh& body)
{
  const heat::HeatingHistory way = heat::integrate_heating(door, body, {});
  if (!(way.largest_imbalance < 1e-6) || !(way.steady.imbalance < 1e-6))
    return fmt::format("energy: {:.1e} on the way, {:.1e} steady", way.largest_imbalance,
                       way.steady.imbalance);
  const double hottest = heat::gas_at(door.fire, heat::hottest_time(door.fire));
  for (const auto& instant : way.instants) {
    const std::string found = beyond(instant.temperature, door.fire, hottest, 0.1);
    if (!found.empty())
      return fmt::format("at {:.0f} s: {}", instant.time, found);
  }
  return beyond(way.steady.value, door.fire, hottest, 0.01);
}

// Whether cells end at the same positions once the door is twice as large: positions that are
// closer than the snap distance are merged in the smaller door alone.
bool same_stations(const mesh::GridPlanes& a, const mesh::GridPlanes& b)
{
  const auto same = [](const std::vector<double>& x, const std::vector<double>& y) {
    return std::equal(x.begin(), x.end(), y.begin(), y.end(),
                      [](double p, double q) { return std::abs(2.0 * p - q) < 1e-9; });
  };
  return same(a.along, b.along) && same(a.over_door, b.over_door) &&
         same(a.over_frame, b.over_frame);
}

std::string trouble_of_size(const door::Door& door, const mesh::Mesh& mesh)
{
  const door::Door twice = scaled(door, 2.0);
  const mesh::Mesh larger = sweep::make_mesh(twice, coarse(twice));
  const analysis::OpenDoorResult a = analysis::solve_open_door(
      {.door = door, .mesh = mesh, .detail = analysis::ResultDetail::basic});
  const analysis::OpenDoorResult b = analysis::solve_open_door(
      {.door = twice, .mesh = larger, .detail = analysis::ResultDetail::basic});
  double maximum = 0.0;
  for (const auto& corner : a.corners)
    maximum = std::max(maximum, norm(corner.move));
  double off = 0.0;
  for (std::size_t c = 0; c < a.corners.size(); ++c)
    off = std::max(off, norm(0.5 * b.corners[c].move - a.corners[c].move) / maximum);
  constexpr double rounding = 1e-6; // tests/unit/solver/scaling_test.cpp
  if (off < rounding)
    return "";
  return fmt::format("corners are {:.1e} off half the movement of the door of twice the size{}",
                     off, same_stations(mesh.stations, larger.stations) ? "" : ", places made one");
}

std::string trouble_of(const door::Door& door, const std::string& stage, std::mt19937& random)
{
  door::Door worked = door;
  if (stage == "hot" || stage == "heat")
    add_fire(worked, random);
  if (stage == "closed")
    add_closing(worked);
  const mesh::Mesh mesh = sweep::make_mesh(worked, coarse(worked));
  quality::inspect(mesh, worked);
  if (stage == "mesh") {
    const door::Door heated = firing::thermal_key(worked);
    const bool congruent =
        sweep::make_mesh(heated, coarse(heated)).door.nodes.size() == mesh.door.nodes.size();
    return congruent ? "" : "other nodes with the bores that heat has";
  }
  if (stage == "heat")
    return trouble_of_heat(worked, mesh.door);
  if (stage == "size")
    return trouble_of_size(worked, mesh);
  analysis::AnalysisCache cache;
  if (stage == "closed") {
    analysis::ClosedDoorAnalysis closed_door(worked, mesh, nullptr, worked.latches, cache);
    const analysis::ClosedDoorResult closed =
        closed_door.solve(analysis::closing_setup(worked), {});
    return wrong(closed.gasket_summary.total, closed.balance, 1e30);
  }
  const analysis::OpenDoorResult cold =
      analysis::solve_open_door({.door = worked, .mesh = mesh, .cache = &cache});
  std::string found = wrong(cold.drop, cold.balance, cold.weight);
  if (stage == "open" || !found.empty())
    return found;
  const firing::ThermalLoadCases load_cases = firing::analyse_firing(worked, mesh.door, {});
  for (const heat::ThermalState& state : load_cases.states) {
    if (!(state.summary.energy_error < 1e-6))
      return fmt::format("energy: {:.1e}", state.summary.energy_error);
    const analysis::OpenDoorResult warm = analysis::solve_open_door(
        {.door = worked, .mesh = mesh, .thermal = &state, .cache = &cache});
    found = wrong(warm.drop, warm.balance, warm.weight);
    if (!found.empty())
      return system::thermal_label(state.state) + ": " + found;
  }
  return "";
}

// Sizes that a failure mostly depends on, mm.
std::string sizes(const door::Door& door)
{
  std::string text =
      fmt::format("{}, swing {:.0f} deg; panel {:.1f} x {:.1f}, skins {:.2f} {:.2f}, rim {:.1f} x "
                  "{:.1f} wall {:.2f}",
                  door.hanging == door::HingeEdge::side  ? "side"
                  : door.hanging == door::HingeEdge::top ? "top"
                                                         : "bottom",
                  door.swing * 180.0 / std::numbers::pi, 1e3 * door.panel.width,
                  1e3 * door.panel.height, 1e3 * door.panel.outer_skin, 1e3 * door.panel.inner_skin,
                  1e3 * door.rim.width, 1e3 * door.rim.depth, 1e3 * door.rim.wall);
  for (const auto& h : door.hinges) {
    const door::Span span = door::hinge_span(h);
    text +=
        fmt::format("; {} {:.2f} to {:.2f}, leaf {:.1f} x {:.1f} x {:.1f}, leg {:.1f}, {} pin "
                    "{:.1f} play {:.3f}, {} knuckles from {}, float {:.2f}",
                    h.kind == door::HingeKind::lugs ? "lugs" : "barrels", 1e3 * span.from,
                    1e3 * span.to, 1e3 * h.leaf.length, 1e3 * h.leaf.width, 1e3 * h.leaf.thickness,
                    1e3 * h.weld_leg, h.fixity == door::PinFixity::fixed ? "fast" : "floating",
                    1e3 * h.pin_diameter, 1e3 * h.clearance, h.knuckles.size(),
                    h.knuckles.front().owner == door::KnuckleOwner::frame ? "frame" : "door",
                    1e3 * h.end_float);
  }
  for (const auto& s : door.stiffeners)
    text += fmt::format("; stiffener {} {:.2f} wide {:.1f}",
                        s.run == door::StiffenerRun::along ? "along" : "across", 1e3 * s.position,
                        1e3 * s.width);
  return text;
}

} // namespace

int main(int count, char** words)
{
  if (count < 4)
    return 2;
  const std::string stage = words[1];
  const int target = std::stoi(words[2]);
  const auto seed = static_cast<unsigned>(std::stoul(words[3]));
  const bool wide = count > 4 && std::string(words[4]) == "wide";
  const int only = std::string(words[count - 2]) == "only" ? std::stoi(words[count - 1]) : -1;
  RandomDoors usual(seed);
  WideDoors all(seed);
  int findings = 0;
  std::map<std::string, int> refused;
  for (int i = 0; i < target; ++i) {
    const door::Door door = wide ? all.next() : usual.next();
    if (only >= 0 && i != only)
      continue;
    std::mt19937 random(seed +
                        7919U * static_cast<unsigned>(i)); // of this door, whatever went before
    std::string found;
    try {
      found = trouble_of(door, stage, random);
    } catch (const ComputeError& error) {
      const std::string said = error.what();
      ++refused[said.substr(0, 60)];
      fmt::print("door {}: refused: {}\n  {}\n", i, said, sizes(door));
    } catch (const std::exception& error) {
      found = std::string("not in words of ours: ") + error.what();
    }
    if (!found.empty()) {
      ++findings;
      fmt::print("door {}: {}\n  {}\n", i, found, sizes(door));
    }
    std::fflush(stdout);
    if ((i + 1) % 100 == 0 || i + 1 == target) {
      fmt::print("{} {} doors{}, seed {}: {} findings", i + 1, stage, wide ? " of all sizes" : "",
                 seed, findings);
      for (const auto& [said, times] : refused)
        fmt::print("; {} x \"{}\"", times, said);
      fmt::print("\n");
    }
    std::fflush(stdout);
  }
  return findings == 0 ? 0 : 1;
}
