#include "solver/analysis/closed_analysis.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/mesh/node_sets.hpp"
#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/contact/latch_model.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/qoi/gasket_contributions.hpp"
#include "solver/strength/hinge_loads.hpp"
#include "solver/strength/thermal_clearance.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/equilibrium_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue
{

struct ShutDoor::Parts {
  Door door; // in the closed position
  const Mesh& mesh;
  const WarmDoor* warm;
  std::vector<Latch> places;
  std::vector<GasketPiece> line;
  std::vector<double> temperatures;
  Assembly assembly;
  ShutPoints at;
  std::unique_ptr<ContactSolver> solver;
  AnalysisCache* kept = nullptr;
  std::shared_ptr<KeptHang> hang{};   // of `kept`, where it lends one
  std::vector<ContactPoint> as_set{}; // points with the gaps and compliances of the next solution
  ContactState last{};                // of what was closed last
  std::vector<int> edges{};           // nodes at corners and quarter points of the edges

  void set(std::size_t point, double gap, double compliance)
  {
    solver->set(static_cast<int>(point), gap, compliance);
    as_set[point].gap = gap;
    as_set[point].compliance = compliance;
  }
  void set_hinges(const Closing& closing);
  void set_floats(const std::vector<FloatSetting>& floats);
  void add_end_float_needs(const Closing& closing, const HingeContact& contact, ClosedDoor& made);
  void set_latches(const std::vector<Latch>& latches);
  void set_stops(const Gasket& gasket);
  [[nodiscard]] std::vector<GasketAt> at_rest(const Gasket& gasket,
                                              const std::vector<const ClosedDoor*>& after) const;
  std::vector<double> make_straight(const Gasket& gasket, const std::vector<GasketAt>& now);
  [[nodiscard]] std::vector<std::size_t> latch_points(const std::vector<Latch>& latches) const;
  void add_hinges(const ContactState& state, ClosedDoor& made) const;
  HingeContact settle(const Gasket& gasket, std::vector<GasketAt>& now, int& rounds);
  [[nodiscard]] double drawn_gap(const Gasket& gasket, const GasketAt& g) const
  {
    return drawn_gasket_gap(door, gasket, g);
  }
};

// A shim moves the frame half of every hinge towards the fire, and a clamped pin with it.
void ShutDoor::Parts::set_hinges(const Closing& closing)
{
  const double shim = closing.shim;
  for (std::size_t p = 0; p < at.first_gasket; ++p) {
    const ContactPoint& point = assembly.points[p];
    double gap = point.gap;
    if (point.outer.body == frame_body)
      gap -= shim * point.normal.y;
    if (point.inner.body == frame_body)
      gap += shim * point.normal.y;
    set(p, gap, point.compliance);
  }
  if (!closing.floats.empty())
    set_floats(closing.floats);
}

// Thrust faces are normal to the axis: a shim leaves their gaps unchanged.
void ShutDoor::Parts::set_floats(const std::vector<FloatSetting>& floats)
{
  for (const auto& [point, gap] : thrust_gaps(door, floats, assembly.points))
    set(static_cast<std::size_t>(point), gap, assembly.points[point].compliance);
}

// With ample end float what the door needs of its play along the pins.
void ShutDoor::Parts::add_end_float_needs(const Closing& closing, const HingeContact& contact,
                                          ClosedDoor& made)
{
  const auto& points = assembly.points;
  const auto floats = closing.floats.empty() ? floats_of(door) : closing.floats;
  const Door now = with_floats(door, floats);
  const AxialSolution found{points, contact.gap, contact.state.push, floats};
  if (warm != nullptr)
    add_hand(now, warm->warmth, made.axial);
  if (rests_as_drawn(now, found)) {
    add_needs(now, found, made.axial);
    return;
  }
  const auto ample = ample_floats(now);
  const auto as_closed = as_set;
  set_floats(ample);
  std::vector<GasketAt> pressed = made.gasket;
  int rounds = 0;
  const HingeContact free = settle(closing.gasket, pressed, rounds);
  add_needs(now, {points, free.gap, free.state.push, ample}, made.axial);
  for (std::size_t p = 0; p < as_closed.size(); ++p)
    set(p, as_closed[p].gap, as_closed[p].compliance);
}

// The contact pair of each latch. Latches at one position have a pair each, taken in their order.
std::vector<std::size_t> ShutDoor::Parts::latch_points(const std::vector<Latch>& latches) const
{
  std::vector<char> taken(places.size(), 0);
  std::vector<std::size_t> points;
  for (const auto& latch : latches) {
    double least_apart = same_latch_place;
    std::size_t nearest = places.size();
    for (std::size_t l = 0; l < places.size(); ++l) {
      const double apart = norm(latch_place(door, places[l]) - latch_place(door, latch));
      if (taken[l] == 0 && apart < least_apart) {
        least_apart = apart;
        nearest = l;
      }
    }
    if (nearest == places.size())
      throw ComputeError("closed door: a latch was asked for where none was foreseen");
    taken[nearest] = 1;
    points.push_back(at.first_latch + nearest);
  }
  return points;
}

void ShutDoor::Parts::set_latches(const std::vector<Latch>& latches)
{
  for (std::size_t l = 0; l < places.size(); ++l)
    set(at.first_latch + l, inactive_gap, 1.0 / places[l].stiffness);
  const std::vector<std::size_t> points = latch_points(latches);
  for (std::size_t l = 0; l < latches.size(); ++l)
    set(points[l], -latches[l].draw, 1.0 / latches[l].stiffness);
}

void ShutDoor::Parts::set_stops(const Gasket& gasket)
{
  for (std::size_t p = at.first_stop; p < assembly.points.size(); ++p)
    set(p, gasket.set_gap + stands_back(door, assembly.points[p].place), 0.0);
}

// The line at rest: free height less what has set in earlier states.
std::vector<GasketAt> ShutDoor::Parts::at_rest(const Gasket& gasket,
                                               const std::vector<const ClosedDoor*>& after) const
{
  std::vector<GasketAt> made;
  for (std::size_t i = 0; i < line.size(); ++i) {
    double most = 0.0;
    for (const ClosedDoor* earlier : after)
      most = std::max(most, earlier->gasket[i].squeeze);
    made.push_back({line[i].place, line[i].arc, line[i].length, 0.0, 0.0,
                    gasket.height - gasket.set * most, temperatures[i]});
    made.back().squeeze = std::max(0.0, -drawn_gap(gasket, made.back()));
  }
  return made;
}

// The law of each length linearized at its squeeze; returns the gaps that this gives.
std::vector<double> ShutDoor::Parts::make_straight(const Gasket& gasket,
                                                   const std::vector<GasketAt>& now)
{
  std::vector<double> set_gap;
  for (std::size_t i = 0; i < now.size(); ++i) {
    const LinearizedGasket law = linearized_gasket(gasket, now[i], drawn_gap(gasket, now[i]));
    set_gap.push_back(law.gap);
    set(at.first_gasket + i, law.gap, law.compliance);
  }
  return set_gap;
}

// What knuckles, leaves and pins carry, and how hot they are.
void ShutDoor::Parts::add_hinges(const ContactState& state, ClosedDoor& made) const
{
  const auto moves_of = [&](int body) {
    return body_moves(assembly.bodies[body], body, assembly.modes, assembly.points, state, {});
  };
  std::vector<NodeField> pin_moves;
  for (std::size_t pin = 0; pin < mesh.pins.size(); ++pin)
    pin_moves.push_back(moves_of(first_pin_body + static_cast<int>(pin)));
  // The frame's displacements are needed only for pins that are part of it.
  const bool in_frame = std::any_of(mesh.hinges.begin(), mesh.hinges.end(),
                                    [](const HingeMesh& hinge) { return hinge.pin_body < 0; });
  HingeLoads loads = hinge_loads(door, mesh, assembly, state.push,
                                 in_frame ? moves_of(frame_body) : NodeField{}, pin_moves);
  made.knuckles = std::move(loads.knuckles);
  made.leaves = std::move(loads.leaves);
  made.pins = std::move(loads.pins);
  made.hinge_temperature =
      warm != nullptr ? std::max(warm->warmth.knuckles, warm->warmth.jamb) : door.temperature;
}

// Newton's method on the gasket's law: piecewise linear, so it ends when no length changes its
// piece.
HingeContact ShutDoor::Parts::settle(const Gasket& gasket, std::vector<GasketAt>& now, int& rounds)
{
  constexpr int most = 40; // a curve has a few pieces, and each length crosses few; no source
  double change = 0.0;
  std::size_t loosest = 0; // length whose load changed most
  for (rounds = 1; rounds <= most; ++rounds) {
    const std::vector<double> set_gap = make_straight(gasket, now);
    HingeContact contact = solver->solve({});
    change = 0.0;
    for (std::size_t i = 0; i < now.size(); ++i) {
      GasketAt& g = now[i];
      const auto point = at.first_gasket + i;
      // The solver's gap counts from the linearized law; the door's displacement is the remainder.
      const double gap = drawn_gap(gasket, g) + contact.gap[point] - set_gap[i];
      g.squeeze = -gap;
      g.load = contact.state.push[at.first_gasket + i] / g.length;
      const double off = std::abs(line_load(gasket, g.squeeze).load - g.load);
      loosest = off > change ? i : loosest;
      change = std::max(change, off);
    }
    if (change <= 1e-9 * std::max(1.0, gasket.curve.back().second))
      return contact;
  }
  throw ComputeError(
      fmt::format("closed door: the gasket did not settle in {} rounds: {} its load still changed "
                  "by {:.2g} N/m; "
                  "look at its curve for a jump in slope near a squeeze of {:.2f} mm",
                  most, place_words(assembly.points[at.first_gasket + loosest]), change,
                  1000.0 * now[loosest].squeeze));
}

namespace
{

// Scale of the equilibrium residuals: the force of the gasket alone, or the weight, N.
double force_scale(const Assembly& assembly, const GasketSum& sum)
{
  double scale = 0.0;
  for (const auto& f : assembly.bodies[door_body].load)
    scale += norm(f);
  return std::max(scale, sum.total);
}

} // namespace

ShutDoor::ShutDoor(const Door& door, const Mesh& shut, const WarmDoor* warm,
                   const std::vector<Latch>& latches, AnalysisCache& kept,
                   const std::vector<Touch>& foreseen)
    : parts_(new Parts{door, shut, warm, latches, {}, {}, {}, {}, nullptr, &kept})
{
  Parts& p = *parts_;
  p.door.swing = 0.0;
  p.line = shut_line(door);
  p.edges = edge_nodes(p.door, shut.door);
  p.temperatures = line_temperatures(shut.door, p.line, warm);
  std::vector<ContactPoint> points = contact_points(p.door, shut);
  add_skin_points(p.door, shut.door, points);
  p.at = add_shut_points(p.door, shut.door, p.line, latches, points);
  p.hang = kept.take_system(p.door, shut, Standing::shut, warm);
  p.assembly = assemble(
      p.door, shut, [](const std::string&, double) {}, warm, kept.factors, p.hang.get(),
      Standing::shut, std::move(points));
  p.solver = std::make_unique<ContactSolver>(p.assembly.bodies, p.assembly.modes, p.assembly.points,
                                             foreseen, p.hang ? &p.hang->columns : nullptr);
  p.as_set = p.assembly.points;
}

ShutDoor::~ShutDoor()
{
  parts_->solver.reset(); // it leaves its columns in the hang
  parts_->kept->put_system(parts_->hang);
}

ClosedDoor ShutDoor::close(const Closing& closing, const std::vector<const ClosedDoor*>& after,
                           Detail detail)
{
  Parts& p = *parts_;
  ClosedDoor made;
  made.warm = p.warm != nullptr;
  made.time = made.warm ? p.warm->warmth.time : 0.0;
  made.gasket = p.at_rest(closing.gasket, after);
  p.set_hinges(closing);
  p.set_latches(closing.latches);
  p.set_stops(closing.gasket);
  const HingeContact contact = p.settle(closing.gasket, made.gasket, made.rounds);
  const ContactState& state = contact.state;
  made.sum = gasket_sum(closing.gasket, made.gasket);
  const std::vector<std::size_t> latch_points = p.latch_points(closing.latches);
  for (std::size_t l = 0; l < closing.latches.size(); ++l) {
    const std::size_t point = latch_points[l];
    made.latches.push_back(latch_result(closing.latches[l], p.assembly.points[point],
                                        state.push[point], contact.gap[point]));
    made.latches.back().latch = static_cast<int>(l);
  }
  for (std::size_t s = p.at.first_stop; s < p.assembly.points.size(); ++s)
    if (state.push[s] > 0.0) {
      made.stop_force += state.push[s];
      made.stops.push_back(p.assembly.points[s].place);
    }
  const auto floats = closing.floats.empty() ? floats_of(p.door) : closing.floats;
  made.axial =
      axial_play(with_floats(p.door, floats), {p.assembly.points, contact.gap, state.push, floats});
  const Slide slide = slide_along_pins(p.door, made.axial);
  if (detail == Detail::all) {
    made.door_move = body_moves(p.assembly.bodies[door_body], door_body, p.assembly.modes,
                                p.assembly.points, state, {});
    made.reveal = reveal_left(p.door, p.mesh.door, skin_nodes(p.mesh.door), made.door_move, slide);
  } else {
    made.reveal = reveal_left(p.door, p.mesh.door, p.edges,
                              seat_moves(p.assembly.bodies[door_body], door_body, p.assembly.modes,
                                         p.assembly.points, state),
                              slide);
  }
  made.touches = p.solver->touches();
  p.add_hinges(state, made);
  if (made.warm)
    made.fits = hot_fits(p.door, p.warm->warmth);
  for (const auto& f : p.assembly.weight[door_body])
    made.weight += norm(f);
  made.balance = check_door_equilibrium(
      p.door, p.mesh, p.assembly, state,
      {force_scale(p.assembly, made.sum), "the closed door", "the gasket's force"});
  p.last = state;
  p.add_end_float_needs(closing, contact, made);
  return made;
}

TrialDoor::TrialDoor(std::unique_ptr<ShutDoor> door) : door_(std::move(door))
{
  ShutDoor::Parts& p = *door_->parts_;
  if (p.hang) // goes to the next door as it is
    return;
  JoinedBody& panel = *p.assembly.elastic[door_body];
  p.kept->release(panel);
  panel.let_carrier_go();
}

ClosedDoor TrialDoor::close(const Closing& closing, const std::vector<const ClosedDoor*>& after)
{
  return door_->close(closing, after, ShutDoor::Detail::checks);
}

const Assembly& ShutDoor::assembly() const
{
  return parts_->assembly;
}

SolvedAnswer ShutDoor::least_squeeze(const Closing& closing, const ClosedDoor& closed) const
{
  const Parts& p = *parts_;
  if (p.last.push.empty())
    throw ComputeError("closed door: its squeeze was asked for before it was closed");
  const GasketGaps gaps{closing.gasket, closed.gasket, p.at.first_gasket,
                        [&p](const Vec3& place) { return stands_back(p.door, place); }};
  return squeeze_answer_of(p.assembly, *p.solver, {p.as_set, {}, p.last, {}}, gaps);
}

ShutInstant ShutDoor::glance_at(const Closing& closing, const std::vector<double>& at, double jamb)
{
  Parts& p = *parts_;
  const LoadedBody& body = p.assembly.bodies[door_body];
  const NodeField heat =
      free_strain_forces(p.mesh.door, p.assembly.of_door, free_strains(p.door, at, jamb));
  p.solver->set_heat(door_body,
                     body.elastic->solve(heat, touching_nodes(p.assembly.points, door_body)));
  std::vector<GasketAt> now = p.at_rest(closing.gasket, {});
  p.set_hinges(closing);
  p.set_latches(closing.latches);
  p.set_stops(closing.gasket);
  int rounds = 0;
  const HingeContact contact = p.settle(closing.gasket, now, rounds);
  p.solver->set_heat(door_body, body.heat_move);
  // Where it is open the gap counts: a least load of zero would hide which instant is worse.
  ShutInstant made;
  made.least_squeeze = now.front().squeeze;
  for (const auto& g : now)
    made.least_squeeze = std::min(made.least_squeeze, g.squeeze);
  made.least_load = made.least_squeeze > 0.0
                        ? line_load(closing.gasket, made.least_squeeze).load
                        : made.least_squeeze * line_load(closing.gasket, 0.0).slope;
  for (const std::size_t point : p.latch_points(closing.latches))
    made.latch.push_back(contact.state.push[point]);
  return made;
}

} // namespace hangtrue
