// SPDX-License-Identifier: GPL-3.0-or-later
// On demand, not in ctest: the quantities of interest of one door on several meshes, as lines of
// "door;mesh;unknowns;state;answer;value;limit;missing;lever;hair;settling;scale" for table.cpp,
// which turns them into docs/verification/mesh-error-evidence.md.
//
//   answers_by_mesh demo FILE MESH...     with the whole firing
//   answers_by_mesh random SEED MESH...   a door of tests/support/random_doors.hpp in a steady fire
//   answers_by_mesh small COUNT MESH [AFTER]  seeds of the smallest of 200 random doors after that
//                                         of number AFTER, or the first
//
// `cold` before demo or random leaves out fire and latches.
//
// MESH is a level (1, 2, 3 ...), `along`: level 2 with six cells along every knuckle, which a drop
// depends on most, `ends`: level 3 with five cells along every knuckle, those at its ends an eighth
// of it long, where a pin bears, `hinges`: level 2 with level 3 in the hinges, `all`: level 3 with
// these six and twice its cells through every wall, cavity and ring, or `fine`: level 4 with twice
// the same.
#include "cases/input/door_file.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/firing/firing_replay.hpp"
#include "solver/heat/thermal_state.hpp"
#include "tests/support/random_doors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <optional>
#include <string>
#include <utility>
#include <vector>

using namespace hangtrue;

namespace
{

door::MeshDensity mesh_with_ends(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 3);
  fine.along_knuckle = 4;
  for (const auto& hinge : door.hinges)
    for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
      const double start = door::knuckle_start(hinge, static_cast<int>(k));
      const double length = hinge.knuckles[k].length;
      fine.more_along.push_back(start + length / 8.0);
      fine.more_along.push_back(start + length - length / 8.0);
    }
  return fine;
}

door::MeshDensity mesh_named(const door::Door& door, const std::string& name)
{
  if (name == "ends")
    return mesh_with_ends(door);
  if (name == "along") {
    door::MeshDensity fine = door::mesh_density(door, 2);
    fine.along_knuckle = 6;
    return fine;
  }
  if (name == "hinges")
    return door::mesh_density(door, door::RefinementLevel{2, 3});
  if (name != "fine" && name != "all")
    return door::mesh_density(door, std::atoi(name.c_str()));
  door::MeshDensity fine = door::mesh_density(door, name == "all" ? 3 : 4);
  if (name == "all")
    fine.along_knuckle = 6;
  fine.through_cavity *= 2;
  fine.through_wall *= 2;
  fine.through_ring *= 2;
  return fine;
}

// A random door behind the fire, gasket and latches of a demo: its limits do not matter here.
input::DoorCase random_case(unsigned seed)
{
  input::DoorCase result = input::read_door_file(std::string(HANGTRUE_SOURCE_DIR) +
                                                 "/cases/examples/smokehouse-hot-door.toml");
  const door::Door demo = result.door;
  result.door = test::RandomDoors(seed).next();
  door::Door& door = result.door;
  door.name = fmt::format("random door {}", seed);
  door.fire = demo.fire;
  door.fire.gasket_inset = std::min(demo.fire.gasket_inset, 0.5 * door.rim.width);
  door.gasket = demo.gasket;
  door.gasket.corner = 0.0;
  door.opening = {door.reveal, door.reveal, door.reveal, 0.0};
  for (const double share : {0.146, 0.854}) {
    door::Latch latch = demo.latches.front();
    latch.edge = door::FreeEdge::latch;
    latch.position = share * door.panel.height;
    latch.inset = 0.5 * door.rim.width;
    door.latches.push_back(latch);
  }
  return result;
}

void print(const input::DoorCase& c, const std::string& mesh, int unknowns,
           const std::vector<verdict::QuantityOfInterest>& quantities)
{
  for (const auto& q : quantities)
    fmt::print("{};{};{};{};{};{:.9e};{:.9e};{:.9e};{:.9e};{:.9e};{};{};{:.9e}\n", c.door.name,
               mesh, unknowns, system::state_label(q.id.state), verdict::quantity_label(c, q.id),
               q.value, q.limit ? q.limit->value : 0.0, q.estimated_error.value_or(std::nan("")),
               q.per_knuckle_length, q.load_offset_change, static_cast<int>(q.id.state.position),
               static_cast<int>(q.id.quantity), q.scale);
  std::fflush(stdout);
}

std::vector<heat::ThermalStateId> wanted_states(const door::Door& door,
                                                std::optional<double> most_bowed)
{
  std::vector<heat::ThermalStateId> requested;
  if (most_bowed)
    requested.push_back({heat::ThermalCase::most_bowed, *most_bowed});
  if (door.fire.measured.given || !door.fire.schedule.empty())
    requested.push_back({heat::ThermalCase::steady, 0.0});
  return requested;
}

void run(const input::DoorCase& c, const std::string& name, std::optional<double> most_bowed)
{
  const door::Door& door = c.door;
  analysis::AnalysisCache cache;
  const mesh::Mesh mesh = sweep::make_mesh(door, mesh_named(door, name));
  const analysis::OpenDoorResult open =
      analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
  const auto thermal = firing::replay_states(door, mesh.door, wanted_states(door, most_bowed), {});
  print(c, name, open.unknowns, verdict::quantities_of(c, open));
  for (const auto& state : thermal)
    print(c, name, open.unknowns,
          verdict::quantities_of(
              c, analysis::solve_open_door(
                     {.door = door, .mesh = mesh, .thermal = &state, .cache = &cache})));
  if (!door::can_close(door))
    return;
  door::Door closed_door = door;
  closed_door.swing = 0.0;
  const mesh::Mesh closed_mesh = sweep::make_mesh(closed_door, mesh_named(closed_door, name));
  const auto close = [&](const heat::ThermalState* state) {
    analysis::ClosedDoorAnalysis closed_analysis(door, closed_mesh, state, door.latches, cache);
    const analysis::ClosingSetup closing = analysis::closing_setup(door);
    analysis::ClosedDoorResult closed = closed_analysis.solve(closing, {});
    if (state != nullptr)
      closed.state.thermal = state->state;
    closed.split = closed_analysis.least_squeeze(closing, closed).split;
    print(c, name, open.unknowns, verdict::quantities_of(c, closed));
  };
  close(nullptr);
  for (const auto& state : thermal)
    close(&state);
}

// The instant that a check would choose, found on level 2.
std::optional<double> most_bowed_time(const door::Door& door)
{
  if (door.fire.schedule.empty() || door.fire.measured.given)
    return std::nullopt;
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 2));
  return firing::analyse_firing(door, mesh.door, {}).states.front().summary.time;
}

// Seeds and nodes of the random doors with the fewest nodes.
void print_smallest(std::size_t count, const std::string& mesh, unsigned after)
{
  constexpr unsigned looked_at = 200;
  std::vector<std::pair<std::size_t, unsigned>> size;
  for (unsigned seed = after + 1; seed <= after + looked_at; ++seed) {
    const door::Door door = random_case(seed).door;
    const mesh::Mesh result = sweep::make_mesh(door, mesh_named(door, mesh));
    std::size_t nodes = result.door.nodes.size() + result.frame.nodes.size();
    for (const auto& pin : result.pins)
      nodes += pin.nodes.size();
    size.emplace_back(nodes, seed);
  }
  std::sort(size.begin(), size.end());
  for (std::size_t i = 0; i < std::min(count, size.size()); ++i)
    fmt::print("{} {}\n", size[i].second, size[i].first);
}

} // namespace

int main(int count, char** words)
{
  std::vector<std::string> said(words + 1, words + count);
  const bool cold = !said.empty() && said.front() == "cold";
  if (cold)
    said.erase(said.begin());
  if ((said.size() == 3 || said.size() == 4) && said[0] == "small") {
    const unsigned after =
        said.size() == 4 ? static_cast<unsigned>(std::atoi(said[3].c_str())) : 0U;
    print_smallest(static_cast<std::size_t>(std::atoi(said[1].c_str())), said[2], after);
    return 0;
  }
  if (said.size() < 3 || (said[0] != "demo" && said[0] != "random")) {
    fmt::print(stderr, "answers_by_mesh [cold] demo FILE MESH... | random SEED MESH...\n");
    return 2;
  }
  const bool demo = said[0] == "demo";
  try {
    input::DoorCase c = demo ? input::read_door_file(said[1])
                             : random_case(static_cast<unsigned>(std::atoi(said[1].c_str())));
    if (cold) {
      c.door.fire.schedule.clear();
      c.door.fire.measured.given = false;
      c.door.latches.clear();
    }
    const std::optional<double> time = demo ? most_bowed_time(c.door) : std::nullopt;
    for (std::size_t i = 2; i < said.size(); ++i)
      run(c, said[i], time);
  } catch (const std::exception& error) {
    fmt::print(stderr, "{} {}: {}\n", said[0], said[1], error.what());
    return 3;
  }
  return 0;
}
