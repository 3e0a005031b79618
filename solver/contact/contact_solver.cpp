// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/contact_solver.hpp"

#include "meshing/common/errors.hpp"
#include "solver/contact/initial_working_set.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>

namespace hangtrue::contact
{

ContactSolver::ContactSolver(const std::vector<BodyResponse>& bodies,
                             const std::vector<RigidMode>& modes,
                             const std::vector<ContactPair>& pairs,
                             const std::vector<ActiveContact>& warm_start,
                             ComplianceColumnCache* cache)
    : gaps_(gap_data(bodies, modes, pairs)), compliance_(bodies, pairs, cache)
{
  compliance_.add(initial_working_set(pairs, warm_start));
}

void ContactSolver::set(int point, double gap, double compliance)
{
  gaps_.nominal[point] = gap;
  gaps_.compliance[point] = compliance;
}

void ContactSolver::set_thermal_displacements(int body,
                                              const elasticity::NodeField& thermal_displacement)
{
  hangtrue::contact::set_thermal_displacements(gaps_, body, thermal_displacement);
}

void ContactSolver::set_loads(int body, const elasticity::NodeField& load,
                              const elasticity::NodeField& load_displacement)
{
  hangtrue::contact::set_loads(gaps_, body, load, load_displacement);
}

void ContactSolver::follow_circles(std::vector<ContactPair>& pairs)
{
  growing_ = &pairs;
  if (!known_.empty()) {
    remove_intermediate();
    return;
  }
  circles_ = contact_circles(pairs);
  known_.resize(circles_.size());
}

// Starts from the nodes again: pairs between nodes leave the programme, and where they carried the
// nodes beside them are tried first.
void ContactSolver::remove_intermediate()
{
  for (auto& circle : circles_)
    circle.between.clear();
  std::vector<int> nodes;
  for (const int p : previous_active_set_) {
    const ContactPair& pair = gaps_.points[p];
    nodes.push_back(is_intermediate(pair) ? pair.node_before : p);
  }
  std::erase_if(nodes, [&](int p) { return !compliance_.has(p); });
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  previous_active_set_ = std::move(nodes);
}

namespace
{

// Pairs between nodes that are not in the programme now.
std::vector<char> left_out(const std::vector<ContactCircle>& circles,
                           const std::vector<std::map<int, int>>& known, std::size_t pairs)
{
  std::vector<char> out(pairs, 0);
  for (std::size_t c = 0; c < circles.size(); ++c)
    for (const auto& [step, pair] : known[c])
      out[pair] = circles[c].between.count(step) == 0 ? 1 : 0;
  return out;
}

} // namespace

// Indices of the candidates that are in the programme.
std::vector<int> ContactSolver::candidates() const
{
  const std::vector<char> out = left_out(circles_, known_, gaps_.points.size());
  std::vector<int> result;
  for (std::size_t c = 0; c < compliance_.candidates().size(); ++c)
    if (out[compliance_.candidates()[c]] == 0)
      result.push_back(static_cast<int>(c));
  return result;
}

// Adds pairs where the solution passes a circle between its nodes; false when none does.
bool ContactSolver::add_intermediate(const ContactResult& found, double tolerance)
{
  std::vector<int> taken; // again or anew
  std::vector<int> fresh;
  const std::vector<ContactPair>& pairs = *growing_;
  for (const auto& place : violated_intermediate_positions(circles_, pairs, found.gap,
                                                           found.state.contact_force, tolerance)) {
    ContactCircle& circle = circles_[place.circle];
    double gap = 0.0; // of the nodes, as they are set now
    for (const auto& w : intermediate_weights(circle, place.step))
      gap += w.weight * gaps_.nominal[w.node];
    const auto [known, is_new] =
        known_[place.circle].try_emplace(place.step, static_cast<int>(pairs.size()));
    if (is_new) {
      growing_->push_back(intermediate_pair(pairs, circle, place.step));
      gaps_.nominal.push_back(gap);
      gaps_.compliance.push_back(0.0);
      fresh.push_back(known->second);
    }
    gaps_.nominal[known->second] = gap;
    circle.between[place.step] = known->second;
    taken.push_back(known->second);
  }
  if (taken.empty())
    return false;
  // Together with the active pairs of their circle: alone they may not constrain the door.
  previous_active_set_.insert(previous_active_set_.end(), taken.begin(), taken.end());
  if (fresh.empty())
    return true;
  add_gap_changes(gaps_);
  compliance_.add(fresh);
  return true;
}

namespace
{

// The solution on a subset of the pairs, which may be so close together that rounding makes their
// compliance singular: 1e-8 of the largest compliance as a spring under each of them then decides.
ContactQPSolution solve_close_pairs(ContactQP program, const std::vector<int>& part,
                                    const std::vector<int>& initial_active_set)
{
  try {
    return solve_reduced_qp(program, part, initial_active_set);
  } catch (const ComputeError&) {
    constexpr double spring = 1e-8;
    double softest = 0.0;
    for (const int c : part)
      softest = std::max(softest, program.compliance(c, c));
    for (const int c : part)
      program.compliance(c, c) += spring * softest;
    return solve_reduced_qp(program, part, {});
  }
}

// A solution with more pairs, none of which is active.
ContactResult with_pairs(ContactResult contact, std::size_t pairs)
{
  contact.state.contact_force.resize(pairs, 0.0);
  contact.gap.resize(pairs, 0.0);
  for (ContactState* part : {&contact.split.by_load, &contact.split.by_gap, &contact.split.by_heat})
    part->contact_force.resize(pairs, 0.0);
  return contact;
}

} // namespace

// The solution of the programme, from the set that carried last.
ContactQPSolution ContactSolver::solve_candidates(const ContactQP& program) const
{
  const std::vector<int> initial_active_set = compliance_.places(previous_active_set_);
  return growing_ == nullptr ? solve_contact_qp(program, initial_active_set)
                             : solve_close_pairs(program, candidates(), initial_active_set);
}

// Gaps of all points; pairs that are not in the programme now count as open.
std::vector<double> ContactSolver::gaps_under(const ContactQPSolution& solution) const
{
  std::vector<double> gaps = all_gaps(gaps_, compliance_, solution);
  const std::vector<char> out = left_out(circles_, known_, gaps.size());
  for (std::size_t p = 0; p < gaps.size(); ++p)
    if (out[p] != 0)
      gaps[p] = std::max(gaps[p], 0.0);
  return gaps;
}

// A solution that presses nothing through, in full.
ContactResult ContactSolver::contact_under(const ContactQP& program,
                                           const ContactQPSolution& solution,
                                           std::vector<double> gaps, int round) const
{
  ContactResult found;
  found.state = contact_state(gaps_, compliance_, solution);
  found.state.min_gap = std::min(0.0, *std::min_element(gaps.begin(), gaps.end()));
  found.state.rounds = round;
  found.gap = std::move(gaps);
  for (const int p : found.state.active_set)
    found.gap[p] -= found.state.contact_force[p] * gaps_.compliance[p];
  found.split = split_load_cases(gaps_, compliance_, program, solution);
  return found;
}

namespace
{

// A millionth of the play in the bores, m. Not of the end float, which is an inch in some doors and
// far more where a door is solved as if it had ample.
double penetration_tolerance(const std::vector<ContactPair>& pairs)
{
  double scale = 0.0;
  for (const auto& pair : pairs)
    if (pair.kind == ContactKind::bore)
      scale = std::max(scale, pair.gap);
  constexpr double without_play = 1e-3; // m, in place of none
  return 1e-6 * (scale > 0.0 ? scale : without_play);
}

} // namespace

ContactResult ContactSolver::solve(const std::function<void(int round, int carrying)>& report)
{
  const double tolerance = penetration_tolerance(gaps_.points);
  // Each round adds columns or pairs between nodes. No source.
  constexpr int max_rounds = 60;
  // Without extrapolation a position between nodes is halved five times down to one step.
  constexpr int max_intermediate = 8;
  int between = 0;
  std::optional<ContactResult> before_between;
  std::string flipping; // the pair that was penetrated last
  for (int round = 1; round <= max_rounds; ++round) {
    const ContactQP program = reduced_qp(gaps_, compliance_);
    ContactQPSolution solution;
    try {
      solution = solve_candidates(program);
    } catch (const ComputeError&) {
      // Rounding decides among pairs that are so close together: the solution before them stays,
      // and its error at the circle is estimated separately (solver/error/bore_facet_error).
      if (!before_between)
        throw;
      previous_active_set_ = before_between->state.active_set;
      return with_pairs(std::move(*before_between), gaps_.points.size());
    }
    std::vector<double> gaps = gaps_under(solution);
    if (report)
      report(round, static_cast<int>(solution.active_set.size()));
    const auto worst = most_violated(gaps, compliance_, tolerance);
    previous_active_set_.clear();
    for (const int c : solution.active_set)
      previous_active_set_.push_back(compliance_.candidates()[c]);
    if (!worst.empty()) {
      flipping = pair_label(gaps_.points[worst.front()]);
      compliance_.add(worst);
      continue;
    }
    ContactResult found = contact_under(program, solution, std::move(gaps), round);
    if (growing_ != nullptr && between < max_intermediate && add_intermediate(found, tolerance)) {
      before_between = std::move(found);
      ++between;
      continue;
    }
    return found;
  }
  throw ComputeError(fmt::format("contact: the touching places still changed after {} rounds, the "
                                 "last one {}; try another mesh "
                                 "level in [accuracy], or a clearance that is not near zero",
                                 max_rounds, flipping));
}

ContactResult solve_contact(const std::vector<BodyResponse>& bodies,
                            const std::vector<RigidMode>& modes,
                            const std::vector<ContactPair>& pairs,
                            const std::function<void(int round, int carrying)>& report)
{
  return ContactSolver(bodies, modes, pairs).solve(report);
}

std::vector<ActiveContact> ContactSolver::active_contacts() const
{
  std::vector<ActiveContact> result;
  for (const int p : previous_active_set_)
    if (const ContactPair& pair = gaps_.points[p]; at_hinge(pair))
      result.push_back({pair.kind, pair.hinge, pair.knuckle, pair.place});
  return result;
}

AdjointSolution ContactSolver::solve_adjoint(const ContactState& state, int on,
                                             const elasticity::NodeField& forces) const
{
  const ContactQP program = reduced_qp(gaps_, compliance_);
  const elasticity::NodeField under =
      gaps_.bodies[on].elastic->solve(forces, contact_nodes(gaps_.points, on));
  std::vector<double> open;
  for (const int c : compliance_.candidates())
    open.push_back(gap_change(gaps_.points[c], on, [&](int node) { return under[node]; }));
  const ContactState unit =
      contact_state(gaps_, compliance_,
                    solve_fixed_active_set(program, compliance_.places(state.active_set), open,
                                           mode_loads(gaps_, on, forces)));
  AdjointSolution answer{unit.contact_force, {}};
  for (std::size_t b = 0; b < gaps_.bodies.size(); ++b) {
    const int index = static_cast<int>(b);
    elasticity::NodeField all = contact_nodal_forces(gaps_.points, unit.contact_force, index,
                                                     gaps_.bodies[b].mesh->nodes.size());
    for (std::size_t n = 0; index == on && n < all.size(); ++n)
      all[n] += forces[n];
    answer.displacements.push_back(
        displacements_under(gaps_.bodies[b], index, gaps_.modes, unit.amplitude, all));
  }
  return answer;
}

} // namespace hangtrue::contact
