#include "solver/hinge_contact.hpp"

#include "meshing/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace hangtrue
{

Vec3 rigid_move(const RigidMode& mode, const Vec3& place)
{
  return mode.translation + cross(mode.rotation, place - mode.about);
}

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

std::vector<NodeForce> unit_push(const ContactPoint& point, int body)
{
  std::vector<NodeForce> forces;
  auto add = [&](const ContactSide& side, double sign) {
    if (side.body == body)
      for (const auto& w : side.nodes)
        forces.push_back({w.node, sign * w.weight * point.normal});
  };
  add(point.outer, 1.0);
  add(point.inner, -1.0);
  return forces;
}

// Openings of all points under a unit push at some of them, found when first asked for.
class Columns
{
public:
  Columns(const std::vector<LoadedBody>& bodies, const std::vector<ContactPoint>& points)
      : bodies_(bodies), points_(points)
  {
    for (std::size_t b = 0; b < bodies.size(); ++b) {
      std::unordered_map<int, int> place;
      std::vector<int> nodes;
      for (const auto& point : points)
        for (const auto* side : {&point.outer, &point.inner})
          if (side->body == static_cast<int>(b))
            for (const auto& w : side->nodes)
              if (place.try_emplace(w.node, static_cast<int>(nodes.size())).second)
                nodes.push_back(w.node);
      nodes_.push_back(nodes);
      place_.push_back(place);
    }
  }

  // Computes the columns of candidates that are new.
  void add(const std::vector<int>& candidates)
  {
    const std::size_t first = column_.size();
    for (const int c : candidates) {
      candidate_.push_back(c);
      column_.emplace_back(points_.size(), 0.0);
    }
    for (std::size_t b = 0; b < bodies_.size(); ++b) {
      std::vector<std::vector<NodeForce>> sets;
      std::vector<std::size_t> of;
      for (std::size_t c = first; c < candidate_.size(); ++c) {
        auto forces = unit_push(points_[candidate_[c]], static_cast<int>(b));
        if (forces.empty())
          continue;
        sets.push_back(std::move(forces));
        of.push_back(c);
      }
      const auto moves = bodies_[b].elastic->solve(sets, nodes_[b]);
      for (std::size_t s = 0; s < sets.size(); ++s)
        for (std::size_t p = 0; p < points_.size(); ++p)
          column_[of[s]][p] += opening(points_[p], static_cast<int>(b),
                                       [&](int node) { return moves[s][place_[b].at(node)]; });
    }
  }

  [[nodiscard]] const std::vector<int>& candidates() const { return candidate_; }
  [[nodiscard]] const std::vector<double>& column(std::size_t c) const { return column_[c]; }

private:
  const std::vector<LoadedBody>& bodies_;
  const std::vector<ContactPoint>& points_;
  std::vector<std::vector<int>> nodes_;
  std::vector<std::unordered_map<int, int>> place_;
  std::vector<int> candidate_;
  std::vector<std::vector<double>> column_;
};

// Enough directions at both ends of every knuckle that some of them can carry any load.
std::vector<int> first_candidates(const std::vector<ContactPoint>& points)
{
  struct Group {
    ContactKind kind;
    int hinge;
    int knuckle;
    std::vector<int> members;
  };
  std::vector<Group> groups;
  for (std::size_t p = 0; p < points.size(); ++p) {
    const auto& point = points[p];
    if (groups.empty() || groups.back().kind != point.kind || groups.back().hinge != point.hinge ||
        groups.back().knuckle != point.knuckle)
      groups.push_back({point.kind, point.hinge, point.knuckle, {}});
    groups.back().members.push_back(static_cast<int>(p));
  }
  std::vector<int> chosen;
  for (const auto& group : groups) {
    // Members run round the circle, plane after plane (circle after circle): the first and the
    // last round hold the ends of a bore and the rims of a thrust face.
    const auto first = points[group.members.front()].round;
    const auto length =
        static_cast<std::size_t>(std::count_if(group.members.begin(), group.members.end(),
                                               [&](int p) { return points[p].round == first; }));
    const std::size_t count = group.members.size();
    constexpr std::size_t directions = 8;
    const std::size_t step = std::max<std::size_t>(1, length / directions);
    for (std::size_t i = 0; i < length; i += step) {
      chosen.push_back(group.members[i]);
      if (count > length)
        chosen.push_back(group.members[count - length + i]);
    }
  }
  std::sort(chosen.begin(), chosen.end());
  chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
  return chosen;
}

struct Whole {
  const std::vector<LoadedBody>& bodies;
  const std::vector<RigidMode>& modes;
  const std::vector<ContactPoint>& points;
  std::vector<double> drawn;   // gaps as drawn
  std::vector<double> by_load; // openings under the loads
  std::vector<double> by_heat; // openings under the heat
  std::vector<double> load;    // generalised forces to be balanced
  DenseMatrix rigid;           // openings of all points per mode
};

Whole prepare(const std::vector<LoadedBody>& bodies, const std::vector<RigidMode>& modes,
              const std::vector<ContactPoint>& points)
{
  Whole whole{
      bodies, modes, points, {},
      {},     {},    {},     {static_cast<int>(points.size()), static_cast<int>(modes.size())}};
  for (std::size_t p = 0; p < points.size(); ++p) {
    whole.drawn.push_back(points[p].gap);
    double open = 0.0;
    double warm = 0.0;
    for (std::size_t b = 0; b < bodies.size(); ++b) {
      const int index = static_cast<int>(b);
      open += opening(points[p], index, [&](int node) { return bodies[b].load_move[node]; });
      if (!bodies[b].heat_move.empty())
        warm += opening(points[p], index, [&](int node) { return bodies[b].heat_move[node]; });
    }
    whole.by_load.push_back(open);
    whole.by_heat.push_back(warm);
    for (std::size_t m = 0; m < modes.size(); ++m)
      whole.rigid(static_cast<int>(p), static_cast<int>(m)) =
          opening(points[p], modes[m].body, [&](int node) {
            return rigid_move(modes[m], bodies[modes[m].body].mesh->nodes[node]);
          });
  }
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
  const auto& chosen = columns.candidates();
  const int n = static_cast<int>(chosen.size());
  ContactProgram program;
  program.flexibility = DenseMatrix(n, n);
  program.rigid = DenseMatrix(n, whole.rigid.columns);
  program.load = whole.load;
  for (int i = 0; i < n; ++i) {
    program.gap.push_back(whole.drawn[chosen[i]] + whole.by_load[chosen[i]] +
                          whole.by_heat[chosen[i]]);
    for (int m = 0; m < whole.rigid.columns; ++m)
      program.rigid(i, m) = whole.rigid(chosen[i], m);
    for (int j = 0; j < n; ++j) // symmetric to rounding; made exactly so
      program.flexibility(i, j) =
          0.5 * (columns.column(j)[chosen[i]] + columns.column(i)[chosen[j]]);
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
      gaps[p] += solution.push[c] * columns.column(c)[p];
  }
  return gaps;
}

ContactState to_state(const Whole& whole, const Columns& columns, const ContactSolution& solution)
{
  ContactState state;
  state.push.assign(whole.points.size(), 0.0);
  for (const int c : solution.carrying) {
    const int point = columns.candidates()[c];
    state.push[point] = solution.push[c];
    state.carrying.push_back(point);
    state.least_push = std::min(state.least_push, solution.push[c]);
  }
  state.amplitude = solution.amplitude;
  state.columns = static_cast<int>(columns.candidates().size());
  return state;
}

std::vector<int> worst_penetrations(const std::vector<double>& gaps, const Columns& columns,
                                    double tolerance)
{
  constexpr std::size_t most = 48; // per round; two blocks of right-hand sides
  std::vector<char> known(gaps.size(), 0);
  for (const int c : columns.candidates())
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
  for (const int c : columns.candidates()) {
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

HingeContact solve_hinges(const std::vector<LoadedBody>& bodies,
                          const std::vector<RigidMode>& modes,
                          const std::vector<ContactPoint>& points,
                          const std::function<void(int round, int carrying)>& told)
{
  const Whole whole = prepare(bodies, modes, points);
  double scale = 0.0;
  for (const auto& point : points)
    scale = std::max(scale, point.gap);
  const double tolerance = 1e-6 * scale;
  Columns columns(bodies, points);
  columns.add(first_candidates(points));
  constexpr int most_rounds = 60;
  for (int round = 1; round <= most_rounds; ++round) {
    const ContactProgram program = restrict_to(whole, columns);
    const ContactSolution solution = solve_contact(program);
    const auto gaps = all_gaps(whole, columns, solution);
    if (told)
      told(round, static_cast<int>(solution.carrying.size()));
    const auto worst = worst_penetrations(gaps, columns, tolerance);
    if (!worst.empty()) {
      columns.add(worst);
      continue;
    }
    HingeContact found;
    found.state = to_state(whole, columns, solution);
    found.state.least_gap = std::min(0.0, *std::min_element(gaps.begin(), gaps.end()));
    found.state.rounds = round;
    add_split(whole, columns, program, solution, found.split);
    return found;
  }
  throw ComputeError(fmt::format(
      "contact at the hinges: the touching places still changed after {} rounds; try another mesh "
      "level in [accuracy], or a clearance that is not near zero",
      most_rounds));
}

NodeField push_forces(const std::vector<ContactPoint>& points, const std::vector<double>& push,
                      int body, std::size_t nodes)
{
  NodeField forces(nodes);
  for (std::size_t p = 0; p < points.size(); ++p)
    if (push[p] != 0.0)
      for (const auto& f : unit_push(points[p], body))
        forces[f.node] += push[p] * f.force;
  return forces;
}

NodeField body_moves(const LoadedBody& body, int index, const std::vector<RigidMode>& modes,
                     const std::vector<ContactPoint>& points, const ContactState& state,
                     const Acting& acting)
{
  const std::size_t nodes = body.mesh->nodes.size();
  NodeField forces = push_forces(points, state.push, index, nodes);
  for (std::size_t n = 0; n < nodes; ++n) {
    if (acting.load)
      forces[n] += body.load[n];
    if (acting.heat && !body.heat.empty())
      forces[n] += body.heat[n];
  }
  NodeField moves = body.elastic->solve(forces);
  for (std::size_t m = 0; m < modes.size(); ++m)
    if (modes[m].body == index)
      for (std::size_t n = 0; n < nodes; ++n)
        moves[n] += state.amplitude[m] * rigid_move(modes[m], body.mesh->nodes[n]);
  return moves;
}

UnitAnswer carried_response(const std::vector<LoadedBody>& bodies,
                            const std::vector<RigidMode>& modes,
                            const std::vector<ContactPoint>& points,
                            const std::vector<int>& carrying, int on, const NodeField& forces)
{
  std::vector<LoadedBody> loaded = bodies;
  for (std::size_t b = 0; b < loaded.size(); ++b) {
    const bool here = static_cast<int>(b) == on;
    const std::size_t nodes = loaded[b].mesh->nodes.size();
    loaded[b].load = here ? forces : NodeField(nodes);
    loaded[b].load_move = here ? loaded[b].elastic->solve(forces) : NodeField(nodes);
    loaded[b].heat.clear();
    loaded[b].heat_move.clear();
  }
  const Whole whole = prepare(loaded, modes, points);
  Columns columns(loaded, points);
  columns.add(carrying);
  const ContactProgram program = restrict_to(whole, columns);
  std::vector<double> open;
  std::vector<int> all;
  for (const int c : columns.candidates()) {
    all.push_back(static_cast<int>(open.size()));
    open.push_back(whole.by_load[c]);
  }
  const ContactState state = to_state(whole, columns, respond(program, all, open, whole.load));
  UnitAnswer answer{state.push, {}};
  for (std::size_t b = 0; b < loaded.size(); ++b)
    answer.moves.push_back(
        body_moves(loaded[b], static_cast<int>(b), modes, points, state, {true, false}));
  return answer;
}

} // namespace hangtrue
