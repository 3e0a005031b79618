#include "solver/analysis/open_analysis.hpp"

#include "meshing/common/errors.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/error/load_offset_check.hpp"
#include "solver/error/qoi_error.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/qoi/corner_displacements.hpp"
#include "solver/qoi/drop_contributions.hpp"
#include "solver/qoi/goal_functionals.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/hinge_loads.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/skin_buckling.hpp"
#include "solver/strength/thermal_clearance.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/door_system.hpp"
#include "solver/system/error_by_region.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <utility>

namespace hangtrue
{

namespace
{

void add_moves(const Door& door, const Mesh& mesh, const Assembly& assembly,
               const ContactSolver& solver, const HingeContact& contact, OpenDetail detail,
               KnownError* known, Deflection& made)
{
  auto moves_of = [&](int body, const ContactState& state, const Acting& acting) {
    return body_moves(assembly.bodies[body], body, assembly.modes, assembly.points, state, acting);
  };
  made.door_move = moves_of(door_body, contact.state, {});
  take_out_swing(door, mesh, made.door_move);
  made.frame_move = moves_of(frame_body, contact.state, {});
  for (std::size_t p = 0; p < mesh.pins.size(); ++p)
    made.pin_moves.push_back(moves_of(first_pin_body + static_cast<int>(p), contact.state, {}));
  made.corners = corner_moves(door, mesh, made.door_move);
  made.drop = greatest_drop(door, made.corners);
  made.lean = lean_of(made.corners);
  made.set_back = made.corners[1].move.y - made.corners[0].move.y;

  // Parts of the drop of the corner that drops most in the whole answer.
  const Vec3 down = gravity_direction(door);
  const std::size_t worst =
      dot(down, made.corners[0].move) >= dot(down, made.corners[1].move) ? 0 : 1;
  auto part = [&](const ContactState& state, const Acting& acting) {
    NodeField moves = moves_of(door_body, state, acting);
    take_out_swing(door, mesh, moves);
    return dot(down, corner_moves(door, mesh, moves)[worst].move);
  };
  if (detail == OpenDetail::answers)
    return;
  if (detail == OpenDetail::parts) {
    if (made.warm)
      made.heat_drop = part(contact.split.by_heat, {false, true});
    made.elastic_drop = part(contact.split.by_load, {true, false});
    return;
  }
  SolvedContact solved{assembly.points, {}, contact.state, {made.door_move, made.frame_move}};
  solved.moves.insert(solved.moves.end(), made.pin_moves.begin(), made.pin_moves.end());
  auto split = [&](const GoalFunctional& goal) {
    const NodeField unit = goal.nodal_forces(door, mesh);
    const UnitAnswer adjoint = solver.answer_to(contact.state, door_body, unit);
    made.splits.push_back(split_contributions(goal.id.quantity, assembly, solved, adjoint, unit));
    // docs/mesh-error.md: for the bow it sees no more than its change
    if (goal.id.quantity == Quantity::drop) {
      MissingIn& missing = made.splits.back().missing_in;
      missing = known != nullptr ? answer_error(assembly, mesh.held, solved, adjoint, *known)
                                 : answer_error(assembly, mesh.held, solved, adjoint);
      made.splits.back().missing = missing.panel + missing.hinges + missing.bores;
    }
  };
  split(drop_functional(made.state, worst));
  made.budget = drop_contributions(made.splits.back());
  // By the theorem of virtual work: what bends by the loads, with play closed.
  if (!made.warm)
    for (const auto& share : made.budget)
      if (share.source == ContributionSource::bending)
        made.elastic_drop += share.value;
  if (made.warm)
    for (const auto& share : made.splits.back().by_cause) {
      if (share.source == ContributionSource::load)
        made.elastic_drop += share.value;
      if (share.source == ContributionSource::heat)
        made.heat_drop += share.value;
    }
  if (made.warm)
    split(bow_functional(made.state));
}

void add_weight(const Door& door, const Mesh& mesh, const NodeField& weight, Deflection& made)
{
  const Vec3 down = gravity_direction(door);
  Vec3 moment;
  for (std::size_t n = 0; n < weight.size(); ++n) {
    const double w = dot(down, weight[n]);
    made.weight += w;
    moment += w * mesh.door.nodes[n];
  }
  made.centre_of_gravity = (1.0 / made.weight) * moment;
  const AxisPlace axis = pin_axis(door, door.hinges.front());
  double lowest = door.hinges.front().at;
  double highest = lowest;
  for (const auto& hinge : door.hinges) {
    lowest = std::min(lowest, hinge.at);
    highest = std::max(highest, hinge.at);
  }
  double spacing = highest - lowest;
  if (door.hinges.size() == 1) {
    const Span span = hinge_span(door.hinges.front());
    spacing = span.to - span.from;
  }
  made.couple = made.weight * (made.centre_of_gravity.x - axis.x) / spacing;
}

// Books of the door, from the pushes and from the frame's own stress.
void add_balance(const Door& door, const Mesh& mesh, const Assembly& assembly,
                 const HingeContact& contact, Deflection& made)
{
  const AxisPlace axis = pin_axis(door, door.hinges.front());
  const Vec3 origin{axis.x, axis.y, 0.0};
  const double lever = made.weight * door.panel.width;
  NodeField on_door =
      push_forces(assembly.points, contact.state.push, door_body, mesh.door.nodes.size());
  for (std::size_t n = 0; n < on_door.size(); ++n)
    on_door[n] += assembly.bodies[door_body].load[n];
  const Resultant left = resultant(mesh.door, on_door, origin);
  made.balance.force_error = norm(left.force) / made.weight;
  made.balance.moment_error = norm(left.moment) / lever;

  Vec3 all;
  for (const auto& body : assembly.bodies)
    for (const auto& f : body.load)
      all += f;
  const NodeField inside =
      internal_forces(mesh.frame, is_steel, assembly.of_frame, made.frame_move);
  Vec3 reaction;
  for (const int n : mesh.held)
    reaction += inside[n] - assembly.bodies[frame_body].load[n];
  made.balance.reaction_error = norm(reaction + all) / made.weight;
  made.balance.least_gap = contact.state.least_gap;
  made.balance.least_force = contact.state.least_push;
  constexpr double allowed = 1e-8;
  const double worst = std::max(made.balance.force_error, made.balance.moment_error);
  if (!(worst < allowed))
    throw ComputeError(
        fmt::format("balance: the forces on the door leave {:.1e} of its weight over; "
                    "try another mesh level in [accuracy]",
                    worst));
}

// What heat does to the panel itself. Movements count from a jamb that grows evenly; growth of the
// door as a tape reads it has that added.
void add_warm_results(const Door& door, const Mesh& mesh, const Assembly& assembly,
                      const WarmDoor& warm, Deflection& made)
{
  made.bow = bow_readings(door, mesh.door, made.door_move);
  const double even =
      elongation(door.steel, warm.warmth.jamb) - elongation(door.steel, door.fire.ambient);
  made.bow.width_growth += even * door.panel.width;
  made.bow.height_growth += even * door.panel.height;
  const WarmPlates plates{mesh.door, assembly.of_door, made.door_move,
                          assembly.bodies[door_body].free_strain, warm.at};
  const std::vector<PlateColumn> columns = plate_columns(door, plates);
  PlateUses uses = plate_uses(door, columns, mesh.door.cells.size());
  made.plates = std::move(uses.worst);
  made.plate_use = std::move(uses.of_cell);
  made.buckling = skin_buckling(door, columns);
  made.skin_play = skin_play(mesh.door, made.door_move);
  made.fits = hot_fits(door, warm.warmth);
}

// Forces at the hinges from the pushes, and the books.
void add_forces(const Door& door, const Mesh& mesh, const Assembly& assembly,
                const HingeContact& contact, Deflection& made)
{
  HingeLoads loads =
      hinge_loads(door, mesh, assembly, contact.state.push, made.frame_move, made.pin_moves);
  made.knuckles = std::move(loads.knuckles);
  made.leaves = std::move(loads.leaves);
  made.pins = std::move(loads.pins);
  add_balance(door, mesh, assembly, contact, made);
}

// A state whose contacts are being solved with several end floats.
struct InState {
  const Door& door;
  const Mesh& mesh;
  const Assembly& assembly;
  ContactSolver& solver;
  const WarmDoor* warm;
};

HingeContact solve_with(const InState& in, const std::vector<FloatSetting>& floats)
{
  for (const auto& [point, gap] : thrust_gaps(in.door, floats, in.assembly.points))
    in.solver.set(point, gap, in.assembly.points[point].compliance);
  return in.solver.solve({});
}

AxialPlay axial_of(const InState& in, const HingeContact& contact,
                   const std::vector<FloatSetting>& floats)
{
  AxialPlay play =
      axial_play(in.door, {in.assembly.points, contact.gap, contact.state.push, floats});
  if (in.warm != nullptr)
    add_hand(in.door, in.warm->warmth, play);
  return play;
}

// The state as it is with other end floats: what its checks need.
std::shared_ptr<const Deflection> freed_state(const InState& in, const HingeContact& contact,
                                              const std::vector<FloatSetting>& floats,
                                              const Deflection& bound)
{
  auto made = std::make_shared<Deflection>();
  made->state = bound.state;
  made->warm = bound.warm;
  made->warmth = bound.warmth;
  made->hinge_temperature = bound.hinge_temperature;
  made->weight = bound.weight;
  made->centre_of_gravity = bound.centre_of_gravity;
  made->couple = bound.couple;
  add_moves(in.door, in.mesh, in.assembly, in.solver, contact, OpenDetail::parts, nullptr, *made);
  if (in.warm != nullptr)
    add_warm_results(in.door, in.mesh, in.assembly, *in.warm, *made);
  add_forces(in.door, in.mesh, in.assembly, contact, *made);
  const Door freed = with_floats(in.door, floats);
  made->axial = axial_of({freed, in.mesh, in.assembly, in.solver, in.warm}, contact, floats);
  add_needs(freed, {in.assembly.points, contact.gap, contact.state.push, floats}, made->axial);
  made->door_move = {};
  made->frame_move = {};
  made->pin_moves = {};
  made->plate_use = {};
  return made;
}

// Play along the pins, and with ample end float what the door needs of it. The solver is left with
// the end floats of its last solution.
void add_axial(const InState& in, const HingeContact& contact, OpenDetail detail, Deflection& made)
{
  const auto& points = in.assembly.points;
  const auto drawn = floats_of(in.door);
  made.axial = axial_of(in, contact, drawn);
  const AxialSolution found{points, contact.gap, contact.state.push, drawn};
  const auto ample = ample_floats(in.door);
  const auto one = one_carries(in.door);
  HingeContact free = contact;
  if (rests_as_drawn(in.door, found)) {
    add_needs(in.door, found, made.axial);
  } else {
    free = solve_with(in, ample);
    add_needs(in.door, {points, free.gap, free.state.push, ample}, made.axial);
  }
  // What several carry as drawn one carries in the remedy, in states that are not short of any.
  if (detail != OpenDetail::budget || (one == ample && !short_of_float(made.axial)))
    return;
  if (one != ample)
    free = solve_with(in, one);
  made.freed = freed_state(in, free, one, made);
}

} // namespace

Deflection deflect_open(const Door& door, const Mesh& mesh, const Progress& progress,
                        const WarmDoor* warm, FactoredBodies* kept, OpenDetail detail,
                        const std::vector<Touch>& foreseen)
{
  FactoredBodies own;
  FactoredBodies& parts = kept != nullptr ? *kept : own;
  const Progress tell = progress ? progress : [](const std::string&, double) {};
  // A warm door comes again with the next door only.
  const auto hang = warm == nullptr || !parts.for_one_door
                        ? take_hang(door, mesh, parts, Standing::open, warm)
                        : nullptr;
  Assembly assembly = assemble(door, mesh, tell, warm, parts, hang.get());
  tell("contact at the hinges", 0.6);
  ContactSolver solver(assembly.bodies, assembly.modes, assembly.points, foreseen,
                       hang ? &hang->columns : nullptr);
  solver.follow_circles(assembly.points);
  const HingeContact contact = solver.solve(
      [&](int round, int) { tell("contact at the hinges", std::min(0.9, 0.6 + 0.03 * round)); });
  tell("movements and forces", 0.92);
  Deflection made;
  constexpr double hand_warm = 60.0; // degC: what a hand calls cold
  made.state.thermal.which =
      door.temperature < hand_warm ? ThermalCase::cold : ThermalCase::at_temperature;
  made.hinge_temperature = door.temperature;
  if (warm != nullptr) {
    made.state.thermal = warm->state;
    made.warm = true;
    made.warmth = warm->warmth;
    made.hinge_temperature = std::max(warm->warmth.knuckles, warm->warmth.jamb);
  }
  add_weight(door, mesh, assembly.weight[door_body], made);
  add_moves(door, mesh, assembly, solver, contact, detail, hang ? &hang->error : nullptr, made);
  if (warm != nullptr)
    add_warm_results(door, mesh, assembly, *warm, made);
  made.touches = solver.touches();
  if (detail == OpenDetail::budget && door.hanging != Hanging::side) {
    tell("a lid's load, a hair to either side", 0.94);
    made.poise = poise_of(door, mesh, assembly, made.touches);
  }
  add_forces(door, mesh, assembly, contact, made);
  add_axial({door, mesh, assembly, solver, warm}, contact, detail, made);
  made.contacts = static_cast<int>(contact.state.carrying.size());
  for (const auto& elastic : assembly.elastic)
    made.unknowns += elastic->unknowns();
  if (hang)
    keep_hang(hang, parts);
  if (warm != nullptr && parts.for_one_door && !can_shut(door)) // it would be shut on the same
    assembly.elastic[door_body]->let_carrier_go(&parts);
  tell("done", 1.0);
  return made;
}

} // namespace hangtrue
