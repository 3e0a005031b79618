// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/open_analysis.hpp"

#include "solver/analysis/open_readings.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/error/load_offset.hpp"
#include "solver/strength/hinge_loads.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/door_system.hpp"
#include "solver/system/error_by_region.hpp"

#include <algorithm>
#include <memory>
#include <utility>

namespace hangtrue::analysis
{

namespace
{

Contributions in_detail(const OpenState& in, const contact::ContactResult& contact,
                        const Displacements& moved, ResultDetail detail,
                        system::CachedErrorEstimate* known)
{
  switch (detail) {
  case ResultDetail::basic:
    return {};
  case ResultDetail::split:
    return drop_parts(in, contact.split, moved);
  case ResultDetail::contributions:
    return contributions_of(in, contact.state, moved, known);
  }
  return {};
}

void put(WeightReadings weight, OpenDoorResult& into)
{
  into.weight = weight.weight;
  into.centre_of_gravity = weight.centre;
  into.couple = weight.couple;
}

void put(Displacements moved, OpenDoorResult& into)
{
  into.door_displacement = std::move(moved.door);
  into.frame_displacement = std::move(moved.frame);
  into.pin_displacements = std::move(moved.pins);
  into.corners = std::move(moved.corners);
  into.drop = moved.drop;
  into.lean = moved.lean;
  into.set_back = moved.set_back;
}

void put(Contributions parts, OpenDoorResult& into)
{
  into.elastic_drop = parts.elastic_drop;
  into.heat_drop = parts.heat_drop;
  into.drop_contributions = std::move(parts.drop_contributions);
  into.splits = std::move(parts.splits);
}

void put(ThermalReadings thermal, OpenDoorResult& into)
{
  into.bow = thermal.bow;
  into.plates = std::move(thermal.plates.worst);
  into.plate_utilisation = std::move(thermal.plates.by_cell);
  into.buckling = std::move(thermal.buckling);
  into.skin_slip = thermal.skin_slip;
  into.thermal_clearances = std::move(thermal.thermal_clearances);
}

void put(strength::HingeLoads loads, OpenDoorResult& into)
{
  into.knuckles = std::move(loads.knuckles);
  into.leaves = std::move(loads.leaves);
  into.pins = std::move(loads.pins);
}

// What a state is called and how hot it is, nothing solved.
OpenDoorResult described(const door::Door& door, const heat::ThermalState* thermal)
{
  OpenDoorResult result;
  result.state.thermal = state_of(door);
  result.hinge_temperature = door.temperature;
  if (thermal != nullptr) {
    result.state.thermal = thermal->state;
    result.warm = true;
    result.temperatures = thermal->summary;
    result.hinge_temperature = std::max(thermal->summary.knuckles, thermal->summary.jamb);
  }
  return result;
}

strength::HingeLoads loads_of(const OpenState& in, const contact::ContactState& state,
                              const OpenDoorResult& moved)
{
  return strength::hinge_loads(in.door, in.mesh, in.system, state.contact_force,
                               moved.frame_displacement, moved.pin_displacements);
}

contact::ContactResult solve_with(const OpenState& in,
                                  const std::vector<contact::EndFloatSetting>& floats)
{
  for (const auto& [point, gap] : contact::thrust_gaps(in.door, floats, in.system.pairs))
    in.solver.set(point, gap, in.system.pairs[point].compliance);
  return in.solver.solve({});
}

contact::AxialPlay axial_of(const OpenState& in, const contact::ContactResult& contact,
                            const std::vector<contact::EndFloatSetting>& floats)
{
  contact::AxialPlay play = contact::axial_play(
      in.door, {in.system.pairs, contact.gap, contact.state.contact_force, floats});
  if (in.thermal != nullptr)
    contact::add_hand_check(in.door, in.thermal->summary, play);
  return play;
}

void drop_fields(OpenDoorResult& result)
{
  result.door_displacement = {};
  result.frame_displacement = {};
  result.pin_displacements = {};
  result.plate_utilisation = {};
}

// The state as it is with other end floats: what its checks need.
std::shared_ptr<const OpenDoorResult>
freed_state(const OpenState& in, const contact::ContactResult& contact,
            const std::vector<contact::EndFloatSetting>& floats, const OpenDoorResult& bound)
{
  auto freed = std::make_shared<OpenDoorResult>();
  freed->state = bound.state;
  freed->warm = bound.warm;
  freed->temperatures = bound.temperatures;
  freed->hinge_temperature = bound.hinge_temperature;
  put(WeightReadings{bound.weight, bound.centre_of_gravity, bound.couple}, *freed);
  Displacements moved = displacements_of(in, contact.state);
  put(in_detail(in, contact, moved, ResultDetail::split, nullptr), *freed);
  put(std::move(moved), *freed);
  if (in.thermal != nullptr)
    put(thermal_readings(in, freed->door_displacement), *freed);
  put(loads_of(in, contact.state, *freed), *freed);
  freed->balance = equilibrium_of(in, contact.state, freed->frame_displacement, freed->weight);
  const door::Door door = contact::with_end_floats(in.door, floats);
  freed->axial = axial_of({door, in.mesh, in.system, in.solver, in.thermal}, contact, floats);
  contact::add_required_end_float(
      door, {in.system.pairs, contact.gap, contact.state.contact_force, floats}, freed->axial);
  drop_fields(*freed);
  return freed;
}

// Play along the pins, and with ample end float what the door needs of it. The solver is left with
// the end floats of its last solution.
void add_axial(const OpenState& in, const contact::ContactResult& contact, ResultDetail detail,
               OpenDoorResult& result)
{
  const auto& pairs = in.system.pairs;
  const auto drawn = contact::end_floats_of(in.door);
  result.axial = axial_of(in, contact, drawn);
  const contact::AxialSolution found{pairs, contact.gap, contact.state.contact_force, drawn};
  const auto ample = contact::ample_end_floats(in.door);
  const auto one = contact::with_one_bearing_hinge(in.door);
  contact::ContactResult free = contact;
  if (contact::rests_as_drawn(in.door, found)) {
    contact::add_required_end_float(in.door, found, result.axial);
  } else {
    free = solve_with(in, ample);
    contact::add_required_end_float(in.door, {pairs, free.gap, free.state.contact_force, ample},
                                    result.axial);
  }
  // The weight that several hinges carry as drawn is on one in the remedy, in states with enough
  // end float.
  if (detail != ResultDetail::contributions ||
      (one == ample && !contact::exceeds_end_float(result.axial)))
    return;
  if (one != ample)
    free = solve_with(in, one);
  result.freed = freed_state(in, free, one, result);
}

// The state with that change of its loads: displacements and forces at the hinges. Contacts between
// the nodes of a bore belong to a solution: each begins without them.
OpenDoorResult state_under(const error::LoadChange& change, const OpenState& in,
                           const OpenDoorResult& nominal)
{
  system::DoorSystem system = in.system;
  error::add(change.load, system.bodies[contact::door_body].load);
  error::add(change.displacement, system.bodies[contact::door_body].load_displacement);
  std::erase_if(system.pairs, contact::is_intermediate);
  contact::ContactSolver solver(system.bodies, system.modes, system.pairs, nominal.active_contacts);
  solver.follow_circles(system.pairs);
  const contact::ContactResult contact = solver.solve([](int, int) {});
  const OpenState at{in.door, in.mesh, system, solver, in.thermal};
  OpenDoorResult result = described(in.door, in.thermal);
  put(WeightReadings{nominal.weight, nominal.centre_of_gravity, nominal.couple}, result);
  Displacements moved = displacements_of(at, contact.state);
  put(in_detail(at, contact, moved, ResultDetail::split, nullptr), result);
  put(std::move(moved), result);
  put(loads_of(at, contact.state, result), result);
  drop_fields(result);
  result.warm = false; // what heat does to the panel itself is not read again
  return result;
}

std::shared_ptr<const LoadOffsetResult> offset_states(const OpenState& in,
                                                      const OpenDoorResult& nominal)
{
  auto result = std::make_shared<LoadOffsetResult>();
  result->offset = error::load_offset(in.door);
  const error::LoadChanges changes =
      error::offset_load_changes(in.door, in.mesh, in.system, result->offset);
  for (const std::size_t way : {0, 1}) {
    result->sides.at(way) = state_under(changes.offset.at(way), in, nominal);
    result->turned.at(way) = state_under(changes.turned.at(way), in, nominal);
  }
  return result;
}

} // namespace

OpenDoorResult solve_open_door(const OpenAnalysisInput& input)
{
  const door::Door& door = input.door;
  const mesh::Mesh& mesh = input.mesh;
  const heat::ThermalState* thermal = input.thermal;
  AnalysisCache own;
  AnalysisCache& cache = input.cache != nullptr ? *input.cache : own;
  const Progress report = input.progress ? input.progress : [](const std::string&, double) {};
  const auto cached = cache.take_system(door, mesh, system::DoorPosition::open, thermal);
  system::DoorSystem system =
      system::assemble_door_system(door, mesh, report, thermal, cache.factors, cached.get());
  report("contact at the hinges", 0.6);
  contact::ContactSolver solver(system.bodies, system.modes, system.pairs, input.warm_start,
                                cached ? &cached->columns : nullptr);
  solver.follow_circles(system.pairs);
  const contact::ContactResult contact = solver.solve(
      [&](int round, int) { report("contact at the hinges", std::min(0.9, 0.6 + 0.03 * round)); });
  report("movements and forces", 0.92);
  const OpenState in{door, mesh, system, solver, thermal};
  OpenDoorResult result = described(door, thermal);
  put(weight_readings(door, mesh, system.weight[contact::door_body]), result);
  Displacements moved = displacements_of(in, contact.state);
  put(in_detail(in, contact, moved, input.detail, cached ? &cached->error : nullptr), result);
  put(std::move(moved), result);
  if (thermal != nullptr)
    put(thermal_readings(in, result.door_displacement), result);
  result.active_contacts = solver.active_contacts();
  if (input.detail == ResultDetail::contributions && door.hanging != door::HingeEdge::side) {
    report("a lid with its load offset to either side", 0.94);
    result.load_offset = offset_states(in, result);
  }
  put(loads_of(in, contact.state, result), result);
  result.balance = equilibrium_of(in, contact.state, result.frame_displacement, result.weight);
  add_axial(in, contact, input.detail, result);
  result.contacts = static_cast<int>(contact.state.active_set.size());
  for (const auto& elastic : system.elastic)
    result.unknowns += elastic->unknowns();
  cache.store_system(cached);
  if (thermal != nullptr && !door::can_close(door)) // the closed door would use the same
    cache.release(*system.elastic[contact::door_body]);
  report("done", 1.0);
  return result;
}

} // namespace hangtrue::analysis
