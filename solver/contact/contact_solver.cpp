#include "solver/contact/contact_solver.hpp"

#include "meshing/common/errors.hpp"
#include "solver/contact/initial_working_set.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>

namespace hangtrue
{

ContactSolver::ContactSolver(const std::vector<LoadedBody>& bodies,
                             const std::vector<RigidMode>& modes,
                             const std::vector<ContactPoint>& points,
                             const std::vector<Touch>& foreseen, KeptColumns* kept)
    : gaps_(gap_data(bodies, modes, points)), compliance_(bodies, points, kept)
{
  compliance_.add(first_contacts(points, foreseen));
}

void ContactSolver::set(int point, double gap, double compliance)
{
  gaps_.drawn[point] = gap;
  gaps_.compliance[point] = compliance;
}

void ContactSolver::set_heat(int body, const NodeField& heat_move)
{
  hangtrue::set_heat(gaps_, body, heat_move);
}

void ContactSolver::follow_circles(std::vector<ContactPoint>& points)
{
  growing_ = &points;
  if (!known_.empty()) {
    take_between_out();
    return;
  }
  circles_ = contact_circles(points);
  known_.resize(circles_.size());
}

// Starts from the nodes again: pairs between nodes leave the programme, and where they carried the
// nodes beside them are tried first.
void ContactSolver::take_between_out()
{
  for (auto& circle : circles_)
    circle.between.clear();
  std::vector<int> nodes;
  for (const int p : last_) {
    const ContactPoint& pair = gaps_.points[p];
    nodes.push_back(between_nodes(pair) ? pair.node_before : p);
  }
  std::erase_if(nodes, [&](int p) { return !compliance_.has(p); });
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  last_ = std::move(nodes);
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
std::vector<int> ContactSolver::taking_part() const
{
  const std::vector<char> out = left_out(circles_, known_, gaps_.points.size());
  std::vector<int> result;
  for (std::size_t c = 0; c < compliance_.candidates().size(); ++c)
    if (out[compliance_.candidates()[c]] == 0)
      result.push_back(static_cast<int>(c));
  return result;
}

// Adds pairs where the solution passes a circle between its nodes; false when none does.
bool ContactSolver::add_between(const HingeContact& found, double tolerance)
{
  std::vector<int> taken; // again or anew
  std::vector<int> fresh;
  const std::vector<ContactPoint>& points = *growing_;
  for (const auto& place :
       places_beyond_circles(circles_, points, found.gap, found.state.push, tolerance)) {
    ContactCircle& circle = circles_[place.circle];
    double gap = 0.0; // of the nodes, as they are set now
    for (const auto& w : weights_between(circle, place.step))
      gap += w.weight * gaps_.drawn[w.node];
    const auto [known, is_new] =
        known_[place.circle].try_emplace(place.step, static_cast<int>(points.size()));
    if (is_new) {
      growing_->push_back(pair_between(points, circle, place.step));
      gaps_.drawn.push_back(gap);
      gaps_.compliance.push_back(0.0);
      fresh.push_back(known->second);
    }
    gaps_.drawn[known->second] = gap;
    circle.between[place.step] = known->second;
    taken.push_back(known->second);
  }
  if (taken.empty())
    return false;
  // Together with the active pairs of their circle: alone they may not constrain the door.
  last_.insert(last_.end(), taken.begin(), taken.end());
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
ContactSolution solve_close_pairs(ContactProgram program, const std::vector<int>& part,
                                  const std::vector<int>& likely)
{
  try {
    return solve_part(program, part, likely);
  } catch (const ComputeError&) {
    constexpr double spring = 1e-8;
    double softest = 0.0;
    for (const int c : part)
      softest = std::max(softest, program.flexibility(c, c));
    for (const int c : part)
      program.flexibility(c, c) += spring * softest;
    return solve_part(program, part, {});
  }
}

// A solution with more pairs, none of which is active.
HingeContact with_pairs(HingeContact contact, std::size_t pairs)
{
  contact.state.push.resize(pairs, 0.0);
  contact.gap.resize(pairs, 0.0);
  for (ContactState* part : {&contact.split.by_load, &contact.split.by_gap, &contact.split.by_heat})
    part->push.resize(pairs, 0.0);
  return contact;
}

} // namespace

// The solution of the programme, from the set that carried last.
ContactSolution ContactSolver::solve_candidates(const ContactProgram& program) const
{
  const std::vector<int> likely = compliance_.places(last_);
  return growing_ == nullptr ? solve_contact(program, likely)
                             : solve_close_pairs(program, taking_part(), likely);
}

// Gaps of all points; pairs that are not in the programme now count as open.
std::vector<double> ContactSolver::gaps_under(const ContactSolution& solution) const
{
  std::vector<double> gaps = all_gaps(gaps_, compliance_, solution);
  const std::vector<char> out = left_out(circles_, known_, gaps.size());
  for (std::size_t p = 0; p < gaps.size(); ++p)
    if (out[p] != 0)
      gaps[p] = std::max(gaps[p], 0.0);
  return gaps;
}

// A solution that presses nothing through, in full.
HingeContact ContactSolver::contact_under(const ContactProgram& program,
                                          const ContactSolution& solution, std::vector<double> gaps,
                                          int round) const
{
  HingeContact found;
  found.state = contact_state(gaps_, compliance_, solution);
  found.state.least_gap = std::min(0.0, *std::min_element(gaps.begin(), gaps.end()));
  found.state.rounds = round;
  found.gap = std::move(gaps);
  for (const int p : found.state.carrying)
    found.gap[p] -= found.state.push[p] * gaps_.compliance[p];
  found.split = split_state(gaps_, compliance_, program, solution);
  return found;
}

namespace
{

// A millionth of the play in the bores, m. Not of the end float, which is an inch in some doors and
// far more where a door is solved as if it had ample.
double penetration_tolerance(const std::vector<ContactPoint>& points)
{
  double scale = 0.0;
  for (const auto& point : points)
    if (point.kind == ContactKind::bore)
      scale = std::max(scale, point.gap);
  constexpr double without_play = 1e-3; // m, in place of none
  return 1e-6 * (scale > 0.0 ? scale : without_play);
}

} // namespace

HingeContact ContactSolver::solve(const std::function<void(int round, int carrying)>& told)
{
  const double tolerance = penetration_tolerance(gaps_.points);
  // Each round adds columns or pairs between nodes. No source.
  constexpr int most_rounds = 60;
  // Without extrapolation a position between nodes is halved five times down to one step.
  constexpr int most_between = 8;
  int between = 0;
  std::optional<HingeContact> before_between;
  std::string flipping; // the pair that was penetrated last
  for (int round = 1; round <= most_rounds; ++round) {
    const ContactProgram program = reduced_qp(gaps_, compliance_);
    ContactSolution solution;
    try {
      solution = solve_candidates(program);
    } catch (const ComputeError&) {
      // Rounding decides among pairs that are so close together: the solution before them stays,
      // and its error at the circle is estimated separately (solver/error/bore_facet_error).
      if (!before_between)
        throw;
      last_ = before_between->state.carrying;
      return with_pairs(std::move(*before_between), gaps_.points.size());
    }
    std::vector<double> gaps = gaps_under(solution);
    if (told)
      told(round, static_cast<int>(solution.carrying.size()));
    const auto worst = most_violated(gaps, compliance_, tolerance);
    last_.clear();
    for (const int c : solution.carrying)
      last_.push_back(compliance_.candidates()[c]);
    if (!worst.empty()) {
      flipping = place_words(gaps_.points[worst.front()]);
      compliance_.add(worst);
      continue;
    }
    HingeContact found = contact_under(program, solution, std::move(gaps), round);
    if (growing_ != nullptr && between < most_between && add_between(found, tolerance)) {
      before_between = std::move(found);
      ++between;
      continue;
    }
    return found;
  }
  throw ComputeError(fmt::format("contact: the touching places still changed after {} rounds, the "
                                 "last one {}; try another mesh "
                                 "level in [accuracy], or a clearance that is not near zero",
                                 most_rounds, flipping));
}

HingeContact solve_hinges(const std::vector<LoadedBody>& bodies,
                          const std::vector<RigidMode>& modes,
                          const std::vector<ContactPoint>& points,
                          const std::function<void(int round, int carrying)>& told)
{
  return ContactSolver(bodies, modes, points).solve(told);
}

std::vector<Touch> ContactSolver::touches() const
{
  std::vector<Touch> made;
  for (const int p : last_)
    if (const ContactPoint& point = gaps_.points[p]; at_hinge(point))
      made.push_back({point.kind, point.hinge, point.knuckle, point.place});
  return made;
}

UnitAnswer ContactSolver::answer_to(const ContactState& state, int on,
                                    const NodeField& forces) const
{
  const ContactProgram program = reduced_qp(gaps_, compliance_);
  const NodeField under = gaps_.bodies[on].elastic->solve(forces, touching_nodes(gaps_.points, on));
  std::vector<double> open;
  for (const int c : compliance_.candidates())
    open.push_back(gap_change(gaps_.points[c], on, [&](int node) { return under[node]; }));
  const ContactState unit = contact_state(
      gaps_, compliance_,
      respond(program, compliance_.places(state.carrying), open, mode_loads(gaps_, on, forces)));
  UnitAnswer answer{unit.push, {}};
  for (std::size_t b = 0; b < gaps_.bodies.size(); ++b) {
    const int index = static_cast<int>(b);
    NodeField all = push_forces(gaps_.points, unit.push, index, gaps_.bodies[b].mesh->nodes.size());
    for (std::size_t n = 0; index == on && n < all.size(); ++n)
      all[n] += forces[n];
    answer.moves.push_back(moves_under(gaps_.bodies[b], index, gaps_.modes, unit.amplitude, all));
  }
  return answer;
}

} // namespace hangtrue
