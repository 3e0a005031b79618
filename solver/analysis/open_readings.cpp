#include "solver/analysis/open_readings.hpp"

#include "solver/elasticity/nodal_loads.hpp"
#include "solver/error/qoi_error.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/qoi/goal_functionals.hpp"

#include <algorithm>
#include <cstddef>

namespace hangtrue
{

namespace
{

// Displacement of all nodes of one body, m.
NodeField body_displacement(const OpenState& in, int body, const ContactState& state,
                            const Acting& acting)
{
  return body_moves(in.assembly.bodies[body], body, in.assembly.modes, in.assembly.points, state,
                    acting);
}

std::size_t worst_corner(const Door& door, const std::vector<CornerMove>& corners)
{
  const Vec3 down = gravity_direction(door);
  return most_dropped_corner(dot(down, corners[0].move), dot(down, corners[1].move));
}

ContributionSplit split_of(const OpenState& in, const SolvedContact& solved,
                           const GoalFunctional& goal, KnownError* known)
{
  const NodeField unit = goal.nodal_forces(in.door, in.mesh);
  const UnitAnswer adjoint = in.solver.answer_to(solved.state, door_body, unit);
  ContributionSplit split =
      split_contributions(goal.id.quantity, in.assembly, solved, adjoint, unit);
  // docs/mesh-error.md: for the bow it sees no more than its change
  if (goal.id.quantity == Quantity::drop) {
    MissingIn& missing = split.missing_in;
    missing = known != nullptr ? answer_error(in.assembly, in.mesh.held, solved, adjoint, *known)
                               : answer_error(in.assembly, in.mesh.held, solved, adjoint);
    split.missing = missing.panel + missing.hinges + missing.bores;
  }
  return split;
}

// Distance, m, between the outermost hinges, or along the only one.
double hinge_spacing(const Door& door)
{
  if (door.hinges.size() == 1) {
    const Span span = hinge_span(door.hinges.front());
    return span.to - span.from;
  }
  double lowest = door.hinges.front().at;
  double highest = lowest;
  for (const auto& hinge : door.hinges) {
    lowest = std::min(lowest, hinge.at);
    highest = std::max(highest, hinge.at);
  }
  return highest - lowest;
}

} // namespace

ThermalStateId state_of(const Door& door)
{
  constexpr double hand_warm = 60.0; // degC: cold to the hand below; no source, for the name alone
  return {door.temperature < hand_warm ? ThermalCase::cold : ThermalCase::at_temperature, 0.0};
}

WeightReadings weight_readings(const Door& door, const Mesh& mesh, const NodeField& weight)
{
  const Vec3 down = gravity_direction(door);
  WeightReadings result;
  Vec3 moment;
  for (std::size_t n = 0; n < weight.size(); ++n) {
    const double w = dot(down, weight[n]);
    result.weight += w;
    moment += w * mesh.door.nodes[n];
  }
  result.centre = (1.0 / result.weight) * moment;
  const AxisPlace axis = pin_axis(door, door.hinges.front());
  result.couple = result.weight * (result.centre.x - axis.x) / hinge_spacing(door);
  return result;
}

Displacements displacements_of(const OpenState& in, const ContactState& state)
{
  Displacements result;
  result.door = body_displacement(in, door_body, state, {});
  take_out_swing(in.door, in.mesh, result.door);
  result.frame = body_displacement(in, frame_body, state, {});
  for (std::size_t p = 0; p < in.mesh.pins.size(); ++p)
    result.pins.push_back(body_displacement(in, first_pin_body + static_cast<int>(p), state, {}));
  result.corners = corner_moves(in.door, in.mesh, result.door);
  result.drop = greatest_drop(in.door, result.corners);
  result.lean = lean_of(result.corners);
  result.set_back = result.corners[1].move.y - result.corners[0].move.y;
  return result;
}

Contributions drop_parts(const OpenState& in, const SplitState& split, const Displacements& moved)
{
  const std::size_t corner = worst_corner(in.door, moved.corners);
  auto part = [&](const ContactState& state, const Acting& acting) {
    NodeField moves = body_displacement(in, door_body, state, acting);
    take_out_swing(in.door, in.mesh, moves);
    return dot(gravity_direction(in.door), corner_moves(in.door, in.mesh, moves)[corner].move);
  };
  Contributions result;
  if (in.thermal != nullptr)
    result.heat_drop = part(split.by_heat, {.load = false, .heat = true});
  result.elastic_drop = part(split.by_load, {.load = true, .heat = false});
  return result;
}

Contributions contributions_of(const OpenState& in, const ContactState& state,
                               const Displacements& moved, KnownError* known)
{
  SolvedContact solved{in.assembly.points, {}, state, {moved.door, moved.frame}};
  solved.moves.insert(solved.moves.end(), moved.pins.begin(), moved.pins.end());
  Contributions result;
  const StateId id{Standing::open, in.thermal != nullptr ? in.thermal->state : state_of(in.door)};
  const std::size_t corner = worst_corner(in.door, moved.corners);
  result.splits.push_back(split_of(in, solved, drop_functional(id, corner), known));
  const ContributionSplit& drop = result.splits.back();
  result.budget = drop_contributions(drop);
  if (in.thermal == nullptr) {
    // By the theorem of virtual work: what bends by the loads, with play closed.
    for (const auto& share : result.budget)
      if (share.source == ContributionSource::bending)
        result.elastic_drop += share.value;
    return result;
  }
  for (const auto& share : drop.by_cause) {
    if (share.source == ContributionSource::load)
      result.elastic_drop += share.value;
    if (share.source == ContributionSource::heat)
      result.heat_drop += share.value;
  }
  result.splits.push_back(split_of(in, solved, bow_functional(id), known));
  return result;
}

// Displacements are relative to a jamb that grows uniformly; growth of the door as a tape reads it
// has that added.
ThermalReadings thermal_readings(const OpenState& in, const NodeField& door_displacement)
{
  const Door& door = in.door;
  const WarmDoor& thermal = *in.thermal;
  ThermalReadings result;
  result.bow = bow_readings(door, in.mesh.door, door_displacement);
  const double even =
      elongation(door.steel, thermal.warmth.jamb) - elongation(door.steel, door.fire.ambient);
  result.bow.width_growth += even * door.panel.width;
  result.bow.height_growth += even * door.panel.height;
  const WarmPlates plates{in.mesh.door, in.assembly.of_door, door_displacement,
                          in.assembly.bodies[door_body].free_strain, thermal.at};
  const std::vector<PlateColumn> columns = plate_columns(door, plates);
  result.plates = plate_uses(door, columns, in.mesh.door.cells.size());
  result.buckling = skin_buckling(door, columns);
  result.skin_play = skin_play(in.mesh.door, door_displacement);
  result.fits = hot_fits(door, thermal.warmth);
  return result;
}

Balance equilibrium_of(const OpenState& in, const ContactState& state,
                       const NodeField& frame_displacement, double weight)
{
  const Assembly& assembly = in.assembly;
  Balance balance =
      check_door_equilibrium(in.door, in.mesh, assembly, state, {weight, "the door", "its weight"});
  Vec3 all;
  for (const auto& body : assembly.bodies)
    for (const auto& f : body.load)
      all += f;
  const NodeField inside =
      internal_forces(in.mesh.frame, is_steel, assembly.of_frame, frame_displacement);
  Vec3 reaction;
  for (const int n : in.mesh.held)
    reaction += inside[n] - assembly.bodies[frame_body].load[n];
  balance.reaction_error = norm(reaction + all) / weight;
  return balance;
}

} // namespace hangtrue
