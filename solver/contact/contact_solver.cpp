#include "solver/contact/contact_solver.hpp"

#include "meshing/common/errors.hpp"
#include "solver/contact/contact_state.hpp"
#include "solver/contact/initial_working_set.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace hangtrue
{

namespace
{

using Whole = ContactSolver::Whole;
using Columns = ContactSolver::Columns;

Whole prepare(const std::vector<LoadedBody>& bodies, const std::vector<RigidMode>& modes,
              const std::vector<ContactPoint>& points)
{
  Whole whole{bodies, modes, points, {}, {}, {}, {}, {}, {}};
  for (const auto& point : points) {
    whole.drawn.push_back(point.gap);
    whole.compliance.push_back(point.compliance);
  }
  add_openings(whole);
  for (const auto& mode : modes) {
    double force = 0.0;
    const auto& body = bodies[mode.body];
    for (std::size_t n = 0; n < body.load.size(); ++n)
      force += dot(body.load[n], rigid_move(mode, body.mesh->nodes[n]));
    whole.load.push_back(-force);
  }
  return whole;
}

ContactProgram restrict_to(const Whole& whole, const Columns& columns)
{
  const auto& chosen = columns.candidate;
  const int n = static_cast<int>(chosen.size());
  ContactProgram program;
  program.flexibility = columns.flexibility;
  program.rigid = DenseMatrix(n, whole.rigid.columns);
  program.load = whole.load;
  for (int i = 0; i < n; ++i) {
    program.gap.push_back(whole.drawn[chosen[i]] + whole.by_load[chosen[i]] +
                          whole.by_heat[chosen[i]]);
    for (int m = 0; m < whole.rigid.columns; ++m)
      program.rigid(i, m) = whole.rigid(chosen[i], m);
    program.flexibility(i, i) += whole.compliance[chosen[i]];
    const ContactPoint& one = whole.points[chosen[i]];
    for (int j = 0; one.shared > 0.0 && j < n; ++j)
      if (on_one_circle(one, whole.points[chosen[j]]))
        program.flexibility(i, j) += one.shared;
  }
  return program;
}

// Gaps of all points for a solution on the candidates.
std::vector<double> all_gaps(const Whole& whole, const Columns& columns,
                             const ContactSolution& solution)
{
  std::vector<double> gaps(whole.points.size());
  for (std::size_t p = 0; p < gaps.size(); ++p) {
    gaps[p] = whole.drawn[p] + whole.by_load[p] + whole.by_heat[p];
    for (int m = 0; m < whole.rigid.columns; ++m)
      gaps[p] += whole.rigid(static_cast<int>(p), m) * solution.amplitude[m];
    for (const int c : solution.carrying)
      gaps[p] += solution.push[c] * columns.column[c][p];
  }
  for (const int c : solution.carrying) {
    const int carrying = columns.candidate[c];
    gaps[carrying] += solution.push[c] * whole.compliance[carrying];
    const ContactPoint& one = whole.points[carrying];
    for (std::size_t p = 0; one.shared > 0.0 && p < gaps.size(); ++p)
      if (on_one_circle(one, whole.points[p]))
        gaps[p] += solution.push[c] * one.shared;
  }
  return gaps;
}

ContactState to_state(const Whole& whole, const Columns& columns, const ContactSolution& solution)
{
  ContactState state;
  state.push.assign(whole.points.size(), 0.0);
  for (const int c : solution.carrying) {
    const int point = columns.candidate[c];
    state.push[point] = solution.push[c];
    state.carrying.push_back(point);
    state.least_push = std::min(state.least_push, solution.push[c]);
  }
  state.amplitude = solution.amplitude;
  state.columns = static_cast<int>(columns.candidate.size());
  return state;
}

std::vector<int> worst_penetrations(const std::vector<double>& gaps, const Columns& columns,
                                    double tolerance)
{
  constexpr std::size_t most = 96; // per round
  std::vector<char> known(gaps.size(), 0);
  for (const int c : columns.candidate)
    known[c] = 1;
  std::vector<int> worst;
  for (std::size_t p = 0; p < gaps.size(); ++p)
    if (known[p] == 0 && gaps[p] < -tolerance)
      worst.push_back(static_cast<int>(p));
  std::sort(worst.begin(), worst.end(), [&](int a, int b) { return gaps[a] < gaps[b]; });
  if (worst.size() > most)
    worst.resize(most);
  return worst;
}

// The answer taken apart while the carried set stays: loads, drawn gaps, heat.
void add_split(const Whole& whole, const Columns& columns, const ContactProgram& program,
               const ContactSolution& solution, SplitState& split)
{
  std::vector<double> load_gap;
  std::vector<double> drawn_gap;
  std::vector<double> heat_gap;
  for (const int c : columns.candidate) {
    load_gap.push_back(whole.by_load[c]);
    drawn_gap.push_back(whole.drawn[c]);
    heat_gap.push_back(whole.by_heat[c]);
  }
  const std::vector<double> no_load(whole.load.size(), 0.0);
  const auto& set = solution.carrying;
  split.by_load = to_state(whole, columns, respond(program, set, load_gap, whole.load));
  split.by_gap = to_state(whole, columns, respond(program, set, drawn_gap, no_load));
  split.by_heat = to_state(whole, columns, respond(program, set, heat_gap, no_load));
}

} // namespace

ContactSolver::ContactSolver(const std::vector<LoadedBody>& bodies,
                             const std::vector<RigidMode>& modes,
                             const std::vector<ContactPoint>& points,
                             const std::vector<Touch>& foreseen, KeptColumns* kept)
    : whole_(std::make_unique<Whole>(prepare(bodies, modes, points))),
      columns_(std::make_unique<Columns>(bodies, points, kept))
{
  columns_->add(first_contacts(points, foreseen));
}

ContactSolver::~ContactSolver() = default;

void ContactSolver::set(int point, double gap, double compliance)
{
  whole_->drawn[point] = gap;
  whole_->compliance[point] = compliance;
}

void ContactSolver::set_heat(int body, const NodeField& heat_move)
{
  Whole& w = *whole_;
  w.other_heat = body;
  w.heat_move = heat_move;
  for (std::size_t p = 0; p < w.points.size(); ++p) {
    w.by_heat[p] = 0.0;
    for (std::size_t b = 0; b < w.bodies.size(); ++b) {
      const int index = static_cast<int>(b);
      const NodeField& moves = w.heat_of(index);
      if (!moves.empty())
        w.by_heat[p] += opening(w.points[p], index, [&](int node) { return moves[node]; });
    }
  }
}

namespace
{

// The solution among a part of the pairs, which may stand so close together that rounding can make
// their flexibility singular: a hundred millionth of the softest pair as a spring under each of
// them then decides.
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

// A solution among more pairs, none of which carries.
HingeContact with_pairs(HingeContact contact, std::size_t pairs)
{
  contact.state.push.resize(pairs, 0.0);
  contact.gap.resize(pairs, 0.0);
  for (ContactState* part : {&contact.split.by_load, &contact.split.by_gap, &contact.split.by_heat})
    part->push.resize(pairs, 0.0);
  return contact;
}

} // namespace

HingeContact ContactSolver::solve(const std::function<void(int round, int carrying)>& told)
{
  // A millionth of the play in the bores. Not of the end float, which is an inch in some doors and
  // far more where a door is solved as if it had ample.
  double scale = 0.0;
  for (const auto& point : whole_->points)
    if (point.kind == ContactKind::bore)
      scale = std::max(scale, point.gap);
  const double tolerance = 1e-6 * (scale > 0.0 ? scale : 1e-3);
  constexpr int most_rounds = 60;
  // Without extrapolation a place between nodes is halved five times down to one step.
  constexpr int most_between = 8;
  int between = 0;
  std::optional<HingeContact> before_between;
  std::string flipping; // the place that was pressed through last
  for (int round = 1; round <= most_rounds; ++round) {
    const ContactProgram program = restrict_to(*whole_, *columns_);
    ContactSolution solution;
    try {
      solution = growing_ == nullptr
                     ? solve_contact(program, columns_->places(last_))
                     : solve_close_pairs(program, taking_part(), columns_->places(last_));
    } catch (const ComputeError&) {
      // Rounding decides among pairs that are so close together: the solution before them stays,
      // and what it misses of the circle is estimated beside it (solver/error/bore_facet_error).
      if (!before_between)
        throw;
      last_ = before_between->state.carrying;
      return with_pairs(std::move(*before_between), whole_->points.size());
    }
    auto gaps = all_gaps(*whole_, *columns_, solution);
    const std::vector<char> out = left_out(circles_, known_, gaps.size());
    for (std::size_t p = 0; p < gaps.size(); ++p)
      if (out[p] != 0)
        gaps[p] = std::max(gaps[p], 0.0);
    if (told)
      told(round, static_cast<int>(solution.carrying.size()));
    const auto worst = worst_penetrations(gaps, *columns_, tolerance);
    last_.clear();
    for (const int c : solution.carrying)
      last_.push_back(columns_->candidate[c]);
    if (!worst.empty()) {
      flipping = place_words(whole_->points[worst.front()]);
      columns_->add(worst);
      continue;
    }
    HingeContact found;
    found.state = to_state(*whole_, *columns_, solution);
    found.state.least_gap = std::min(0.0, *std::min_element(gaps.begin(), gaps.end()));
    found.state.rounds = round;
    found.gap = gaps;
    for (const int p : found.state.carrying)
      found.gap[p] -= found.state.push[p] * whole_->compliance[p];
    add_split(*whole_, *columns_, program, solution, found.split);
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
    if (const ContactPoint& point = whole_->points[p]; at_hinge(point))
      made.push_back({point.kind, point.hinge, point.knuckle, point.place});
  return made;
}

UnitAnswer ContactSolver::answer_to(const ContactState& state, int on,
                                    const NodeField& forces) const
{
  const Whole& w = *whole_;
  const ContactProgram program = restrict_to(w, *columns_);
  const NodeField under = w.bodies[on].elastic->solve(forces, touching_nodes(w.points, on));
  std::vector<double> open;
  for (const int c : columns_->candidate)
    open.push_back(opening(w.points[c], on, [&](int node) { return under[node]; }));
  std::vector<double> load;
  for (const auto& mode : w.modes) {
    double force = 0.0;
    if (mode.body == on)
      for (std::size_t n = 0; n < forces.size(); ++n)
        force += dot(forces[n], rigid_move(mode, w.bodies[on].mesh->nodes[n]));
    load.push_back(-force);
  }
  std::vector<int> set;
  for (const int p : state.carrying)
    set.push_back(static_cast<int>(columns_->place_of.at(p)));
  const ContactState unit = to_state(w, *columns_, respond(program, set, open, load));
  UnitAnswer answer{unit.push, {}};
  for (std::size_t b = 0; b < w.bodies.size(); ++b) {
    const int index = static_cast<int>(b);
    NodeField all = push_forces(w.points, unit.push, index, w.bodies[b].mesh->nodes.size());
    for (std::size_t n = 0; index == on && n < all.size(); ++n)
      all[n] += forces[n];
    answer.moves.push_back(moves_under(w.bodies[b], index, w.modes, unit.amplitude, all));
  }
  return answer;
}

} // namespace hangtrue
