#include "solver/contact/contact_solver.hpp"

#include "meshing/common/errors.hpp"
#include "solver/contact/initial_working_set.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <unordered_map>

namespace hangtrue
{

namespace
{

// Opening of a point's gap when the nodes of one body move as `move_of` says.
template <typename MoveOf>
double opening(const ContactPoint& point, int body, const MoveOf& move_of)
{
  double open = 0.0;
  auto add = [&](const ContactSide& side, double sign) {
    if (side.body != body)
      return;
    for (const auto& w : side.nodes)
      open += sign * w.weight * dot(point.normal, move_of(w.node));
  };
  add(point.outer, 1.0);
  add(point.inner, -1.0);
  return open;
}

// The columns of the panel's points are there before them; those between nodes are not in these.
bool knows_hinges_alone(const ContactPoint& point)
{
  return at_hinge(point) && point.node_before < 0;
}

// Points between nodes that stand at the same steps of the same circles.
bool same_places(const std::vector<ContactPoint>& a, const std::vector<ContactPoint>& b)
{
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
    return x.node_before == y.node_before && x.step == y.step;
  });
}

} // namespace

// Openings of all points under a unit push at some of them, found when first asked for. Those of
// the hinges are found lazily and need no word of the panel: it stands in the columns of the
// panel's points, by symmetry.
struct ContactSolver::Columns {
  Columns(const std::vector<LoadedBody>& all_bodies, const std::vector<ContactPoint>& all_points,
          KeptColumns* kept_before)
      : bodies(all_bodies), points(all_points), kept(kept_before)
  {
  }

  // Nodes of one body that take part, and the place of each in the list, -1 for the others.
  struct Nodes {
    std::vector<int> list;
    std::vector<int> place;
  };

  [[nodiscard]] Nodes nodes_of(int body, bool hinge_only) const
  {
    Nodes made;
    made.place.assign(bodies[body].mesh->nodes.size(), -1);
    for (const auto& point : points)
      if (at_hinge(point) || !hinge_only)
        for (const auto* side : {&point.outer, &point.inner})
          if (side->body == body)
            for (const auto& w : side->nodes)
              if (int& place = made.place[w.node]; place < 0) {
                place = static_cast<int>(made.list.size());
                made.list.push_back(w.node);
              }
    return made;
  }

  // Places of points among the candidates.
  [[nodiscard]] std::vector<int> places(const std::vector<int>& of) const
  {
    std::vector<int> made;
    for (const int p : of)
      made.push_back(static_cast<int>(place_of.at(p)));
    return made;
  }

  // Adds candidates that are new. All points of the panel come in the first call. Points between
  // nodes come as soon as they are there: the columns before know of them by symmetry.
  void add(const std::vector<int>& wanted)
  {
    const std::size_t first = column.size();
    for (const int c : wanted) {
      place_of[c] = candidate.size();
      candidate.push_back(c);
    }
    if (kept == nullptr || !find_again(wanted)) {
      compute(first);
      if (kept != nullptr)
        kept->batches.push_back(
            {wanted, between(wanted), {column.begin() + std::ptrdiff_t(first), column.end()}});
    }
    ++batches;
    for (std::size_t c = 0; c < first; ++c)
      for (std::size_t p = column[c].size(); p < points.size(); ++p)
        column[c].push_back(column[place_of.at(static_cast<int>(p))][candidate[c]]);
    widen(static_cast<int>(first));
  }

  [[nodiscard]] std::vector<ContactPoint> between(const std::vector<int>& wanted) const
  {
    std::vector<ContactPoint> result;
    for (const int p : wanted)
      if (points[p].node_before >= 0)
        result.push_back(points[p]);
    return result;
  }

  // The columns of a batch that was asked for after the same ones before; else what was kept of
  // others is of no use.
  bool find_again(const std::vector<int>& wanted)
  {
    if (batches < kept->batches.size() && kept->batches[batches].points == wanted &&
        same_places(kept->batches[batches].between, between(wanted))) {
      const auto& found = kept->batches[batches].column;
      column.insert(column.end(), found.begin(), found.end());
      return true;
    }
    kept->batches.resize(batches);
    return false;
  }

  void compute(std::size_t first)
  {
    if (all_nodes.empty())
      for (std::size_t b = 0; b < bodies.size(); ++b) {
        hinge_nodes.push_back(nodes_of(static_cast<int>(b), true));
        all_nodes.push_back(nodes_of(static_cast<int>(b), false));
      }
    column.resize(candidate.size(), std::vector<double>(points.size(), 0.0));
    for (const bool hinge : {false, true})
      for (std::size_t b = 0; b < bodies.size(); ++b)
        add_body(static_cast<int>(b), first, hinge);
    for (std::size_t c = first; c < candidate.size(); ++c)
      if (knows_hinges_alone(points[candidate[c]]))
        for (std::size_t p = 0; p < points.size(); ++p)
          if (const auto known = place_of.find(static_cast<int>(p));
              !at_hinge(points[p]) && known != place_of.end())
            column[c][p] = column[known->second][candidate[c]];
  }

  // The flexibility of candidates from `first` on joins that of the others: symmetric to rounding,
  // made exactly so.
  void widen(int first)
  {
    const int n = static_cast<int>(candidate.size());
    DenseMatrix wider(n, n);
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i)
        wider(i, j) = i < first && j < first
                          ? flexibility(i, j)
                          : 0.5 * (column[j][candidate[i]] + column[i][candidate[j]]);
    flexibility = std::move(wider);
  }

  void add_body(int body, std::size_t first, bool hinge)
  {
    const Nodes& nodes = hinge ? hinge_nodes[body] : all_nodes[body];
    std::vector<std::vector<NodeForce>> sets;
    std::vector<std::size_t> of;
    for (std::size_t c = first; c < candidate.size(); ++c) {
      if (knows_hinges_alone(points[candidate[c]]) != hinge)
        continue;
      auto forces = unit_push(points[candidate[c]], body);
      if (forces.empty())
        continue;
      sets.push_back(std::move(forces));
      of.push_back(c);
    }
    const auto moves = bodies[body].elastic->solve(sets, nodes.list);
    for (std::size_t s = 0; s < sets.size(); ++s)
      for (std::size_t p = 0; p < points.size(); ++p)
        if (at_hinge(points[p]) || !hinge)
          column[of[s]][p] +=
              opening(points[p], body, [&](int node) { return moves[s][nodes.place[node]]; });
  }

  const std::vector<LoadedBody>& bodies;
  const std::vector<ContactPoint>& points;
  KeptColumns* kept;
  std::size_t batches = 0;
  std::vector<Nodes> hinge_nodes;
  std::vector<Nodes> all_nodes;
  std::vector<int> candidate;
  std::unordered_map<int, std::size_t> place_of;
  std::vector<std::vector<double>> column;
  DenseMatrix flexibility; // of the candidates, without what lies between the sides
};

struct ContactSolver::Whole {
  const std::vector<LoadedBody>& bodies;
  const std::vector<RigidMode>& modes;
  const std::vector<ContactPoint>& points;
  std::vector<double> drawn;      // gaps as drawn
  std::vector<double> by_load;    // openings under the loads
  std::vector<double> by_heat;    // openings under the heat
  std::vector<double> load;       // generalised forces to be balanced
  DenseMatrix rigid;              // openings of all points per mode
  std::vector<double> compliance; // of what lies between the sides of a point
  int other_heat = -1;            // a body that moves otherwise by heat than it says itself
  NodeField heat_move{};          // m, of that body

  [[nodiscard]] const NodeField& heat_of(int body) const
  {
    return body == other_heat ? heat_move : bodies[body].heat_move;
  }
};

namespace
{

using Whole = ContactSolver::Whole;
using Columns = ContactSolver::Columns;

// What loads, heat and rigid movements do to the gaps of points that are new.
void add_openings(Whole& whole)
{
  const auto& points = whole.points;
  const auto& bodies = whole.bodies;
  DenseMatrix rigid(static_cast<int>(points.size()), static_cast<int>(whole.modes.size()));
  for (int m = 0; m < rigid.columns; ++m)
    for (int p = 0; p < whole.rigid.rows; ++p)
      rigid(p, m) = whole.rigid(p, m);
  for (std::size_t p = whole.by_load.size(); p < points.size(); ++p) {
    double open = 0.0;
    double warm = 0.0;
    for (std::size_t b = 0; b < bodies.size(); ++b) {
      const int index = static_cast<int>(b);
      open += opening(points[p], index, [&](int node) { return bodies[b].load_move[node]; });
      const NodeField& heat_move = whole.heat_of(index);
      if (!heat_move.empty())
        warm += opening(points[p], index, [&](int node) { return heat_move[node]; });
    }
    whole.by_load.push_back(open);
    whole.by_heat.push_back(warm);
    for (int m = 0; m < rigid.columns; ++m) {
      const RigidMode& mode = whole.modes[m];
      rigid(static_cast<int>(p), m) = opening(points[p], mode.body, [&](int node) {
        return rigid_move(mode, bodies[mode.body].mesh->nodes[node]);
      });
    }
  }
  whole.rigid = std::move(rigid);
}

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
    const ContactPoint& pair = whole_->points[p];
    nodes.push_back(pair.node_before >= 0 ? pair.node_before : p);
  }
  std::erase_if(nodes, [&](int p) { return columns_->place_of.count(p) == 0; });
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

// Places among the candidates that are in the programme.
std::vector<int> ContactSolver::taking_part() const
{
  const std::vector<char> out = left_out(circles_, known_, whole_->points.size());
  std::vector<int> result;
  for (std::size_t c = 0; c < columns_->candidate.size(); ++c)
    if (out[columns_->candidate[c]] == 0)
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
      gap += w.weight * whole_->drawn[w.node];
    const auto [known, is_new] =
        known_[place.circle].try_emplace(place.step, static_cast<int>(points.size()));
    if (is_new) {
      growing_->push_back(pair_between(points, circle, place.step));
      whole_->drawn.push_back(gap);
      whole_->compliance.push_back(0.0);
      fresh.push_back(known->second);
    }
    whole_->drawn[known->second] = gap;
    circle.between[place.step] = known->second;
    taken.push_back(known->second);
  }
  if (taken.empty())
    return false;
  // Beside what carried on their circle: alone they may not hold the door.
  last_.insert(last_.end(), taken.begin(), taken.end());
  if (fresh.empty())
    return true;
  add_openings(*whole_);
  columns_->add(fresh);
  return true;
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
