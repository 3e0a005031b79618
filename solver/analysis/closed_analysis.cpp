// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/closed_analysis.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/mesh/node_sets.hpp"
#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/contact/latch_model.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/error/load_offset.hpp"
#include "solver/qoi/gasket_contributions.hpp"
#include "solver/strength/hinge_loads.hpp"
#include "solver/strength/thermal_clearance.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/equilibrium_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::analysis
{

struct ClosedDoorAnalysis::Parts {
  door::Door door; // in the closed position
  const mesh::Mesh& mesh;
  const heat::ThermalState* thermal;
  std::vector<door::Latch> places;
  std::vector<contact::GasketSegment> line;
  std::vector<double> temperatures;
  system::DoorSystem assembly;
  contact::ClosedPairOffsets offsets;
  std::unique_ptr<contact::ContactSolver> solver;
  AnalysisCache* cache = nullptr;
  std::shared_ptr<system::CachedDoorSystem> cached{}; // of `cache`, where it lends one
  std::vector<contact::ContactPair>
      as_set{};                 // points with the gaps and compliances of the next solution
  contact::ContactState last{}; // of what was closed last
  std::vector<int> edges{};     // nodes at corners and quarter points of the edges

  void set(std::size_t point, double gap, double compliance)
  {
    solver->set(static_cast<int>(point), gap, compliance);
    as_set[point].gap = gap;
    as_set[point].compliance = compliance;
  }
  void set_hinges(const ClosingSetup& closing);
  void set_floats(const std::vector<contact::EndFloatSetting>& floats);
  void add_end_float_needs(const ClosingSetup& closing, const contact::ContactResult& contact,
                           ClosedDoorResult& result);
  void set_latches(const std::vector<door::Latch>& latches);
  void set_stops(const door::Gasket& gasket);
  [[nodiscard]] std::vector<contact::GasketPoint>
  at_rest(const door::Gasket& gasket, const std::vector<const ClosedDoorResult*>& after) const;
  std::vector<double> linearize(const door::Gasket& gasket,
                                const std::vector<contact::GasketPoint>& now);
  [[nodiscard]] std::vector<std::size_t>
  latch_points(const std::vector<door::Latch>& latches) const;
  void add_hinges(const contact::ContactState& state, ClosedDoorResult& result) const;
  void add_readings(const ClosingSetup& closing, const contact::ContactResult& contact,
                    ClosedDoorResult& result) const;
  [[nodiscard]] elasticity::NodeField moved(const contact::ContactState& state) const
  {
    return contact::body_displacements(assembly.bodies[contact::door_body], contact::door_body,
                                       assembly.modes, assembly.pairs, state, {});
  }
  [[nodiscard]] RevealResult reveal(const elasticity::NodeField& displacements,
                                    const contact::AxialPlay& axial) const
  {
    return reveal_result(door, mesh.door, mesh::skin_nodes(mesh.door), displacements,
                         slide_along_pins(door, axial));
  }
  [[nodiscard]] ClosedDoorResult under(const error::LoadChange& change, const ClosingSetup& closing,
                                       const ClosedDoorResult& nominal);
  [[nodiscard]] std::shared_ptr<const ClosedLoadOffset> offset_ways(const ClosingSetup& closing,
                                                                    const ClosedDoorResult& result);
  contact::ContactResult iterate_gasket(const door::Gasket& gasket,
                                        std::vector<contact::GasketPoint>& now, int& rounds);
  [[nodiscard]] double nominal_gap(const door::Gasket& gasket, const contact::GasketPoint& g) const
  {
    return nominal_gasket_gap(door, gasket, g);
  }
};

// A shim moves the frame half of every hinge towards the fire, and a clamped pin with it.
void ClosedDoorAnalysis::Parts::set_hinges(const ClosingSetup& closing)
{
  const double shim = closing.shim;
  for (std::size_t p = 0; p < offsets.first_gasket; ++p) {
    const contact::ContactPair& pair = assembly.pairs[p];
    double gap = pair.gap;
    if (pair.outer.body == contact::frame_body)
      gap -= shim * pair.normal.y;
    if (pair.inner.body == contact::frame_body)
      gap += shim * pair.normal.y;
    set(p, gap, pair.compliance);
  }
  if (!closing.floats.empty())
    set_floats(closing.floats);
}

// Thrust faces are normal to the axis: a shim leaves their gaps unchanged.
void ClosedDoorAnalysis::Parts::set_floats(const std::vector<contact::EndFloatSetting>& floats)
{
  for (const auto& [point, gap] : contact::thrust_gaps(door, floats, assembly.pairs))
    set(static_cast<std::size_t>(point), gap, assembly.pairs[point].compliance);
}

// With ample end float what the door needs of its play along the pins.
void ClosedDoorAnalysis::Parts::add_end_float_needs(const ClosingSetup& closing,
                                                    const contact::ContactResult& contact,
                                                    ClosedDoorResult& result)
{
  const auto& pairs = assembly.pairs;
  const auto floats = closing.floats.empty() ? contact::end_floats_of(door) : closing.floats;
  const door::Door now = contact::with_end_floats(door, floats);
  const contact::AxialSolution found{pairs, contact.gap, contact.state.contact_force, floats};
  if (thermal != nullptr)
    contact::add_hand_check(now, thermal->summary, result.axial);
  if (contact::rests_as_drawn(now, found)) {
    contact::add_required_end_float(now, found, result.axial);
    return;
  }
  const auto ample = contact::ample_end_floats(now);
  const auto as_closed = as_set;
  set_floats(ample);
  std::vector<contact::GasketPoint> pressed = result.gasket;
  int rounds = 0;
  const contact::ContactResult free = iterate_gasket(closing.gasket, pressed, rounds);
  contact::add_required_end_float(now, {pairs, free.gap, free.state.contact_force, ample},
                                  result.axial);
  for (std::size_t p = 0; p < as_closed.size(); ++p)
    set(p, as_closed[p].gap, as_closed[p].compliance);
}

// The contact pair of each latch. Latches at one position have a pair each, taken in their order.
std::vector<std::size_t>
ClosedDoorAnalysis::Parts::latch_points(const std::vector<door::Latch>& latches) const
{
  std::vector<char> taken(places.size(), 0);
  std::vector<std::size_t> points;
  for (const auto& latch : latches) {
    double min_distance = contact::same_latch_place;
    std::size_t nearest = places.size();
    for (std::size_t l = 0; l < places.size(); ++l) {
      const double apart =
          norm(contact::latch_place(door, places[l]) - contact::latch_place(door, latch));
      if (taken[l] == 0 && apart < min_distance) {
        min_distance = apart;
        nearest = l;
      }
    }
    if (nearest == places.size())
      throw ComputeError("closed door: a latch was asked for where none was foreseen");
    taken[nearest] = 1;
    points.push_back(offsets.first_latch + nearest);
  }
  return points;
}

void ClosedDoorAnalysis::Parts::set_latches(const std::vector<door::Latch>& latches)
{
  for (std::size_t l = 0; l < places.size(); ++l)
    set(offsets.first_latch + l, contact::inactive_gap, 1.0 / places[l].stiffness);
  const std::vector<std::size_t> points = latch_points(latches);
  for (std::size_t l = 0; l < latches.size(); ++l)
    set(points[l], -latches[l].draw, 1.0 / latches[l].stiffness);
}

void ClosedDoorAnalysis::Parts::set_stops(const door::Gasket& gasket)
{
  for (std::size_t p = offsets.first_stop; p < assembly.pairs.size(); ++p)
    set(p, gasket.set_gap + contact::face_setback(door, assembly.pairs[p].place), 0.0);
}

// The line at rest: free height less what has set in earlier states.
std::vector<contact::GasketPoint>
ClosedDoorAnalysis::Parts::at_rest(const door::Gasket& gasket,
                                   const std::vector<const ClosedDoorResult*>& after) const
{
  std::vector<contact::GasketPoint> result;
  for (std::size_t i = 0; i < line.size(); ++i) {
    double maximum = 0.0;
    for (const ClosedDoorResult* earlier : after)
      maximum = std::max(maximum, earlier->gasket[i].squeeze);
    result.push_back({line[i].place, line[i].arc, line[i].length, 0.0, 0.0,
                      gasket.height - gasket.permanent_set * maximum, temperatures[i]});
    result.back().squeeze = std::max(0.0, -nominal_gap(gasket, result.back()));
  }
  return result;
}

// The law of each length linearized at its squeeze; returns the gaps that this gives.
std::vector<double>
ClosedDoorAnalysis::Parts::linearize(const door::Gasket& gasket,
                                     const std::vector<contact::GasketPoint>& now)
{
  std::vector<double> set_gap;
  for (std::size_t i = 0; i < now.size(); ++i) {
    const LinearizedGasket law = linearized_gasket(gasket, now[i], nominal_gap(gasket, now[i]));
    set_gap.push_back(law.gap);
    set(offsets.first_gasket + i, law.gap, law.compliance);
  }
  return set_gap;
}

// What knuckles, leaves and pins carry, and how hot they are.
void ClosedDoorAnalysis::Parts::add_hinges(const contact::ContactState& state,
                                           ClosedDoorResult& result) const
{
  const auto moves_of = [&](int body) {
    return contact::body_displacements(assembly.bodies[body], body, assembly.modes, assembly.pairs,
                                       state, {});
  };
  std::vector<elasticity::NodeField> pin_displacements;
  for (std::size_t pin = 0; pin < mesh.pins.size(); ++pin)
    pin_displacements.push_back(moves_of(contact::first_pin_body + static_cast<int>(pin)));
  // The frame's displacements are needed only for pins that are part of it.
  const bool in_frame =
      std::any_of(mesh.hinges.begin(), mesh.hinges.end(),
                  [](const mesh::HingeMesh& hinge) { return hinge.pin_body < 0; });
  strength::HingeLoads loads = strength::hinge_loads(
      door, mesh, assembly, state.contact_force,
      in_frame ? moves_of(contact::frame_body) : elasticity::NodeField{}, pin_displacements);
  result.knuckles = std::move(loads.knuckles);
  result.leaves = std::move(loads.leaves);
  result.pins = std::move(loads.pins);
  result.hinge_temperature = thermal != nullptr
                                 ? std::max(thermal->summary.knuckles, thermal->summary.jamb)
                                 : door.temperature;
}

// Newton's method on the gasket's law: piecewise linear, so it ends when no length changes its
// piece.
contact::ContactResult
ClosedDoorAnalysis::Parts::iterate_gasket(const door::Gasket& gasket,
                                          std::vector<contact::GasketPoint>& now, int& rounds)
{
  constexpr int maximum = 40; // a curve has few segments, and each length crosses few; no source
  double change = 0.0;
  std::size_t loosest = 0; // length whose load changed most
  for (rounds = 1; rounds <= maximum; ++rounds) {
    const std::vector<double> set_gap = linearize(gasket, now);
    contact::ContactResult contact = solver->solve({});
    change = 0.0;
    for (std::size_t i = 0; i < now.size(); ++i) {
      contact::GasketPoint& g = now[i];
      const auto point = offsets.first_gasket + i;
      // The solver's gap counts from the linearized law; the door's displacement is the remainder.
      const double gap = nominal_gap(gasket, g) + contact.gap[point] - set_gap[i];
      g.squeeze = -gap;
      g.load = contact.state.contact_force[offsets.first_gasket + i] / g.length;
      const double off = std::abs(contact::line_load(gasket, g.squeeze).load - g.load);
      loosest = off > change ? i : loosest;
      change = std::max(change, off);
    }
    if (change <= 1e-9 * std::max(1.0, gasket.curve.back().second))
      return contact;
  }
  throw ComputeError(fmt::format(
      "closed door: the gasket did not converge in {} iterations: {} its load still changed "
      "by {:.2g} N/m; "
      "look at its curve for a jump in slope near a squeeze of {:.2f} mm",
      maximum, contact::pair_label(assembly.pairs[offsets.first_gasket + loosest]), change,
      1000.0 * now[loosest].squeeze));
}

namespace
{

// Scale of the equilibrium residuals: the force of the gasket alone, or the weight, N.
double force_scale(const system::DoorSystem& system, const GasketSummary& sum)
{
  double scale = 0.0;
  for (const auto& f : system.bodies[contact::door_body].load)
    scale += norm(f);
  return std::max(scale, sum.total);
}

} // namespace

ClosedDoorAnalysis::ClosedDoorAnalysis(const door::Door& door, const mesh::Mesh& closed_mesh,
                                       const heat::ThermalState* thermal,
                                       const std::vector<door::Latch>& latches,
                                       AnalysisCache& cache,
                                       const std::vector<contact::ActiveContact>& warm_start)
    : parts_(new Parts{door, closed_mesh, thermal, latches, {}, {}, {}, {}, nullptr, &cache})
{
  Parts& p = *parts_;
  p.door.swing = 0.0;
  p.line = contact::closed_gasket_line(door);
  p.edges = contact::edge_nodes(p.door, closed_mesh.door);
  p.temperatures = line_temperatures(closed_mesh.door, p.line, thermal);
  std::vector<contact::ContactPair> pairs = contact::contact_pairs(p.door, closed_mesh);
  contact::add_skin_pairs(p.door, closed_mesh.door, pairs);
  p.offsets = contact::add_closed_pairs(p.door, closed_mesh.door, p.line, latches, pairs);
  p.cached = cache.take_system(p.door, closed_mesh, system::DoorPosition::closed, thermal);
  p.assembly = system::assemble_door_system(
      p.door, closed_mesh, [](const std::string&, double) {}, thermal, cache.factors,
      p.cached.get(), system::DoorPosition::closed, std::move(pairs));
  p.solver = std::make_unique<contact::ContactSolver>(p.assembly.bodies, p.assembly.modes,
                                                      p.assembly.pairs, warm_start,
                                                      p.cached ? &p.cached->columns : nullptr);
  p.as_set = p.assembly.pairs;
}

ClosedDoorAnalysis::~ClosedDoorAnalysis()
{
  parts_->solver.reset(); // it leaves its columns in the cached
  parts_->cache->store_system(parts_->cached);
}

// Gasket, latches, stops, play along the pins and hinges; `result` has the squeezed line.
void ClosedDoorAnalysis::Parts::add_readings(const ClosingSetup& closing,
                                             const contact::ContactResult& contact,
                                             ClosedDoorResult& result) const
{
  const contact::ContactState& state = contact.state;
  result.gasket_summary = gasket_summary(closing.gasket, result.gasket);
  const std::vector<std::size_t> points = latch_points(closing.latches);
  for (std::size_t l = 0; l < closing.latches.size(); ++l) {
    const std::size_t point = points[l];
    result.latches.push_back(latch_result(closing.latches[l], assembly.pairs[point],
                                          state.contact_force[point], contact.gap[point]));
    result.latches.back().latch = static_cast<int>(l);
  }
  for (std::size_t s = offsets.first_stop; s < assembly.pairs.size(); ++s)
    if (state.contact_force[s] > 0.0) {
      result.stop_force += state.contact_force[s];
      result.stops.push_back(assembly.pairs[s].place);
    }
  const auto floats = closing.floats.empty() ? contact::end_floats_of(door) : closing.floats;
  result.axial = contact::axial_play(contact::with_end_floats(door, floats),
                                     {assembly.pairs, contact.gap, state.contact_force, floats});
  add_hinges(state, result);
  for (const auto& f : assembly.weight[contact::door_body])
    result.weight += norm(f);
}

// The closed door with that change of its loads.
ClosedDoorResult ClosedDoorAnalysis::Parts::under(const error::LoadChange& change,
                                                  const ClosingSetup& closing,
                                                  const ClosedDoorResult& nominal)
{
  elasticity::NodeField load = assembly.bodies[contact::door_body].load;
  elasticity::NodeField displacement = assembly.bodies[contact::door_body].load_displacement;
  error::add(change.load, load);
  error::add(change.displacement, displacement);
  solver->set_loads(contact::door_body, load, displacement);
  ClosedDoorResult result;
  result.warm = nominal.warm;
  result.gasket = nominal.gasket;
  const contact::ContactResult contact =
      iterate_gasket(closing.gasket, result.gasket, result.rounds);
  add_readings(closing, contact, result);
  elasticity::NodeField displacements = moved(contact.state); // under the nominal loads
  error::add(change.displacement, displacements);
  result.reveal = reveal(displacements, result.axial);
  result.axial = {}; // what it needs takes more solutions
  return result;
}

std::shared_ptr<const ClosedLoadOffset>
ClosedDoorAnalysis::Parts::offset_ways(const ClosingSetup& closing, const ClosedDoorResult& nominal)
{
  const error::LoadChanges changes =
      error::offset_load_changes(door, mesh, assembly, error::load_offset(door));
  const auto as_closed = as_set;
  auto result = std::make_shared<ClosedLoadOffset>();
  for (const std::size_t way : {0, 1}) {
    result->offset.at(way) = under(changes.offset.at(way), closing, nominal);
    result->turned.at(way) = under(changes.turned.at(way), closing, nominal);
  }
  const contact::BodyResponse& body = assembly.bodies[contact::door_body];
  solver->set_loads(contact::door_body, body.load, body.load_displacement);
  for (std::size_t p = 0; p < as_closed.size(); ++p)
    set(p, as_closed[p].gap, as_closed[p].compliance);
  return result;
}

ClosedDoorResult ClosedDoorAnalysis::solve(const ClosingSetup& closing,
                                           const std::vector<const ClosedDoorResult*>& after,
                                           CachedDetail detail)
{
  Parts& p = *parts_;
  ClosedDoorResult result;
  result.warm = p.thermal != nullptr;
  result.time = result.warm ? p.thermal->summary.time : 0.0;
  result.gasket = p.at_rest(closing.gasket, after);
  p.set_hinges(closing);
  p.set_latches(closing.latches);
  p.set_stops(closing.gasket);
  const contact::ContactResult contact =
      p.iterate_gasket(closing.gasket, result.gasket, result.rounds);
  const contact::ContactState& state = contact.state;
  p.add_readings(closing, contact, result);
  if (detail == CachedDetail::all) {
    result.door_displacement = p.moved(state);
    result.reveal = p.reveal(result.door_displacement, result.axial);
  } else {
    result.reveal = reveal_result(
        p.door, p.mesh.door, p.edges,
        contact::retained_displacements(p.assembly.bodies[contact::door_body], contact::door_body,
                                        p.assembly.modes, p.assembly.pairs, state),
        slide_along_pins(p.door, result.axial));
  }
  result.active_contacts = p.solver->active_contacts();
  if (result.warm)
    result.thermal_clearances = strength::thermal_clearances(p.door, p.thermal->summary);
  result.balance = system::check_door_equilibrium(
      p.door, p.mesh, p.assembly, state,
      {force_scale(p.assembly, result.gasket_summary), "the closed door", "the gasket's force"});
  p.last = state;
  p.add_end_float_needs(closing, contact, result);
  if (detail == CachedDetail::all && p.door.hanging != door::HingeEdge::side)
    result.load_offset = p.offset_ways(closing, result);
  return result;
}

ClosedDoorTrial::ClosedDoorTrial(std::unique_ptr<ClosedDoorAnalysis> door) : door_(std::move(door))
{
  ClosedDoorAnalysis::Parts& p = *door_->parts_;
  if (p.cached) // goes to the next door as it is
    return;
  substructuring::SubstructuredBody& panel = *p.assembly.elastic[contact::door_body];
  p.cache->release(panel);
  panel.release_base_factor();
}

ClosedDoorResult ClosedDoorTrial::solve(const ClosingSetup& closing,
                                        const std::vector<const ClosedDoorResult*>& after)
{
  return door_->solve(closing, after, ClosedDoorAnalysis::CachedDetail::checks);
}

const system::DoorSystem& ClosedDoorAnalysis::assembly() const
{
  return parts_->assembly;
}

qoi::QoiSolution ClosedDoorAnalysis::least_squeeze(const ClosingSetup& closing,
                                                   const ClosedDoorResult& closed) const
{
  const Parts& p = *parts_;
  if (p.last.contact_force.empty())
    throw ComputeError("closed door: its squeeze was asked for before it was closed");
  const qoi::GasketGaps gaps{
      closing.gasket, closed.gasket, p.offsets.first_gasket,
      [&p](const Vec3& place) { return contact::face_setback(p.door, place); }};
  return qoi::least_squeeze_solution(p.assembly, *p.solver, {p.as_set, {}, p.last, {}}, gaps);
}

ClosedDoorSample ClosedDoorAnalysis::sample_at(const ClosingSetup& closing,
                                               const std::vector<double>& temperature, double jamb)
{
  Parts& p = *parts_;
  const contact::BodyResponse& body = p.assembly.bodies[contact::door_body];
  const elasticity::NodeField heat =
      elasticity::free_strain_forces(p.assembly.spaces[contact::door_body], p.assembly.of_door,
                                     system::free_strains(p.door, temperature, jamb));
  p.solver->set_thermal_displacements(
      contact::door_body,
      body.elastic->solve(heat, contact::contact_nodes(p.assembly.pairs, contact::door_body)));
  std::vector<contact::GasketPoint> now = p.at_rest(closing.gasket, {});
  p.set_hinges(closing);
  p.set_latches(closing.latches);
  p.set_stops(closing.gasket);
  int rounds = 0;
  const contact::ContactResult contact = p.iterate_gasket(closing.gasket, now, rounds);
  p.solver->set_thermal_displacements(contact::door_body, body.thermal_displacement);
  // Where it is open the gap counts: a least load of zero would hide which instant is worse.
  ClosedDoorSample result;
  result.min_squeeze = now.front().squeeze;
  for (const auto& g : now)
    result.min_squeeze = std::min(result.min_squeeze, g.squeeze);
  result.min_load = result.min_squeeze > 0.0
                        ? contact::line_load(closing.gasket, result.min_squeeze).load
                        : result.min_squeeze * contact::line_load(closing.gasket, 0.0).slope;
  for (const std::size_t point : p.latch_points(closing.latches))
    result.latch.push_back(contact.state.contact_force[point]);
  return result;
}

} // namespace hangtrue::analysis
