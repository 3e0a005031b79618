// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/open_readings.hpp"

#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/error/qoi_error.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/qoi/goal_functionals.hpp"
#include "solver/strength/plate_stress_average.hpp"

#include <algorithm>
#include <cstddef>

namespace hangtrue::analysis
{

namespace
{

// Displacement of all nodes of one body, m.
elasticity::NodeField body_displacement(const OpenState& in, int body,
                                        const contact::ContactState& state,
                                        const contact::ExternalActions& acting)
{
  return contact::body_displacements(in.system.bodies[body], body, in.system.modes, in.system.pairs,
                                     state, acting);
}

std::size_t worst_corner(const door::Door& door,
                         const std::vector<qoi::CornerDisplacement>& corners)
{
  const Vec3 down = elasticity::gravity_direction(door);
  return qoi::lowest_corner(dot(down, corners[0].move), dot(down, corners[1].move));
}

qoi::ContributionSplit split_of(const OpenState& in, const qoi::ContactStateData& solved,
                                const qoi::GoalFunctional& goal, system::CachedErrorEstimate* known)
{
  const elasticity::NodeField unit = goal.nodal_forces(in.door, in.mesh);
  const contact::AdjointSolution adjoint =
      in.solver.solve_adjoint(solved.state, contact::door_body, unit);
  qoi::ContributionSplit split =
      qoi::split_contributions(goal.id.quantity, in.system, solved, adjoint, unit);
  // docs/mesh-error.md: for the bow it sees no more than its change
  if (goal.id.quantity == qoi::Quantity::drop) {
    system::ErrorByRegion& missing = split.error_by_region;
    missing = known != nullptr ? error::qoi_error(in.system, in.mesh.held, solved, adjoint, *known)
                               : error::qoi_error(in.system, in.mesh.held, solved, adjoint);
    split.estimated_error = missing.panel + missing.hinges + missing.bores;
  }
  return split;
}

// Distance, m, between the outermost hinges, or along the only one.
double hinge_spacing(const door::Door& door)
{
  if (door.hinges.size() == 1) {
    const door::Span span = door::hinge_span(door.hinges.front());
    return span.to - span.from;
  }
  double lowest = door.hinges.front().position;
  double highest = lowest;
  for (const auto& hinge : door.hinges) {
    lowest = std::min(lowest, hinge.position);
    highest = std::max(highest, hinge.position);
  }
  return highest - lowest;
}

} // namespace

heat::ThermalStateId state_of(const door::Door& door)
{
  constexpr double hand_warm = 60.0; // degC: cold to the hand below; no source, for the name alone
  return {door.temperature < hand_warm ? heat::ThermalCase::cold
                                       : heat::ThermalCase::at_temperature,
          0.0};
}

WeightReadings weight_readings(const door::Door& door, const mesh::Mesh& mesh,
                               const elasticity::NodeField& weight)
{
  const Vec3 down = elasticity::gravity_direction(door);
  WeightReadings result;
  Vec3 moment;
  for (std::size_t n = 0; n < weight.size(); ++n) {
    const double w = dot(down, weight[n]);
    result.weight += w;
    moment += w * mesh.door.nodes[n];
  }
  result.centre = (1.0 / result.weight) * moment;
  const door::AxisPosition axis = door::pin_axis(door, door.hinges.front());
  result.couple = result.weight * (result.centre.x - axis.x) / hinge_spacing(door);
  return result;
}

Displacements displacements_of(const OpenState& in, const contact::ContactState& state)
{
  Displacements result;
  result.door = body_displacement(in, contact::door_body, state, {});
  qoi::remove_free_swing(in.door, in.mesh, result.door);
  result.frame = body_displacement(in, contact::frame_body, state, {});
  for (std::size_t p = 0; p < in.mesh.pins.size(); ++p)
    result.pins.push_back(
        body_displacement(in, contact::first_pin_body + static_cast<int>(p), state, {}));
  result.corners = qoi::corner_displacements(in.door, in.mesh, result.door);
  result.drop = qoi::greatest_drop(in.door, result.corners);
  result.lean = qoi::lean_of(result.corners);
  result.set_back = result.corners[1].move.y - result.corners[0].move.y;
  return result;
}

Contributions drop_parts(const OpenState& in, const contact::LoadCaseSplit& split,
                         const Displacements& moved)
{
  const std::size_t corner = worst_corner(in.door, moved.corners);
  auto part = [&](const contact::ContactState& state, const contact::ExternalActions& acting) {
    elasticity::NodeField displacements = body_displacement(in, contact::door_body, state, acting);
    qoi::remove_free_swing(in.door, in.mesh, displacements);
    return dot(elasticity::gravity_direction(in.door),
               qoi::corner_displacements(in.door, in.mesh, displacements)[corner].move);
  };
  Contributions result;
  if (in.thermal != nullptr)
    result.heat_drop = part(split.by_heat, {.load = false, .heat = true});
  result.elastic_drop = part(split.by_load, {.load = true, .heat = false});
  return result;
}

Contributions contributions_of(const OpenState& in, const contact::ContactState& state,
                               const Displacements& moved, system::CachedErrorEstimate* known)
{
  qoi::ContactStateData solved{in.system.pairs, {}, state, {moved.door, moved.frame}};
  solved.displacements.insert(solved.displacements.end(), moved.pins.begin(), moved.pins.end());
  Contributions result;
  const system::StateId id{system::DoorPosition::open,
                           in.thermal != nullptr ? in.thermal->state : state_of(in.door)};
  const std::size_t corner = worst_corner(in.door, moved.corners);
  result.splits.push_back(split_of(in, solved, qoi::drop_functional(id, corner), known));
  const qoi::ContributionSplit& drop = result.splits.back();
  result.drop_contributions = qoi::drop_contributions(drop);
  if (in.thermal == nullptr) {
    // By the theorem of virtual work: what bends by the loads, with play closed.
    for (const auto& share : result.drop_contributions)
      if (share.source == qoi::ContributionSource::bending)
        result.elastic_drop += share.value;
    return result;
  }
  for (const auto& share : drop.by_cause) {
    if (share.source == qoi::ContributionSource::load)
      result.elastic_drop += share.value;
    if (share.source == qoi::ContributionSource::heat)
      result.heat_drop += share.value;
  }
  result.splits.push_back(split_of(in, solved, qoi::bow_functional(id), known));
  return result;
}

// Displacements are relative to a jamb that grows uniformly; growth of the door as a tape reads it
// has that added.
ThermalReadings thermal_readings(const OpenState& in,
                                 const elasticity::NodeField& door_displacement)
{
  const door::Door& door = in.door;
  const heat::ThermalState& thermal = *in.thermal;
  ThermalReadings result;
  result.bow = qoi::bow_readings(door, in.mesh.door, door_displacement);
  const double even = material::elongation(door.steel, thermal.summary.jamb) -
                      material::elongation(door.steel, door.fire.ambient);
  result.bow.width_growth += even * door.panel.width;
  result.bow.height_growth += even * door.panel.height;
  const strength::HotPlates plates{
      in.system.spaces[contact::door_body], in.system.of_door, door_displacement,
      in.system.bodies[contact::door_body].free_strain, thermal.temperature};
  const std::vector<strength::PlateSample> columns = strength::plate_samples(door, plates);
  result.plates = strength::plate_utilisations(door, columns, in.mesh.door.cells.size());
  result.buckling = strength::skin_buckling(door, columns);
  result.skin_slip = contact::skin_slip(in.mesh.door, door_displacement);
  result.thermal_clearances = strength::thermal_clearances(door, thermal.summary);
  return result;
}

system::EquilibriumCheck equilibrium_of(const OpenState& in, const contact::ContactState& state,
                                        const elasticity::NodeField& frame_displacement,
                                        double weight)
{
  const system::DoorSystem& system = in.system;
  system::EquilibriumCheck balance = system::check_door_equilibrium(
      in.door, in.mesh, system, state, {weight, "the door", "its weight"});
  Vec3 all;
  for (const auto& body : system.bodies)
    for (const auto& f : body.load)
      all += f;
  const elasticity::NodeField inside = elasticity::internal_forces(
      system.spaces[contact::frame_body], fe::is_steel, system.of_frame, frame_displacement);
  Vec3 reaction;
  for (const int n : in.mesh.held)
    reaction += inside[n] - system.bodies[contact::frame_body].load[n];
  balance.reaction_error = norm(reaction + all) / weight;
  return balance;
}

} // namespace hangtrue::analysis
