#include "solver/contact/gap_data.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace hangtrue
{

namespace
{

// Change of the gap of one pair by the heat of all bodies.
double by_heat(const GapData& data, const ContactPoint& point)
{
  double open = 0.0;
  for (std::size_t b = 0; b < data.bodies.size(); ++b) {
    const int body = static_cast<int>(b);
    const NodeField& moves = data.heat_of(body);
    if (!moves.empty())
      open += gap_change(point, body, [&](int node) { return moves[node]; });
  }
  return open;
}

// Force along a mode, N per unit amplitude.
double along(const RigidMode& mode, const NodeField& forces, const BodyMesh& mesh)
{
  double force = 0.0;
  for (std::size_t n = 0; n < forces.size(); ++n)
    force += dot(forces[n], rigid_move(mode, mesh.nodes[n]));
  return force;
}

} // namespace

void add_gap_changes(GapData& data)
{
  const auto& points = data.points;
  DenseMatrix rigid(static_cast<int>(points.size()), static_cast<int>(data.modes.size()));
  for (int m = 0; m < rigid.columns; ++m)
    for (int p = 0; p < data.rigid.rows; ++p)
      rigid(p, m) = data.rigid(p, m);
  for (std::size_t p = data.by_load.size(); p < points.size(); ++p) {
    double open = 0.0;
    for (std::size_t b = 0; b < data.bodies.size(); ++b) {
      const NodeField& moves = data.bodies[b].load_move;
      open += gap_change(points[p], static_cast<int>(b), [&](int node) { return moves[node]; });
    }
    data.by_load.push_back(open);
    data.by_heat.push_back(by_heat(data, points[p]));
    for (int m = 0; m < rigid.columns; ++m) {
      const RigidMode& mode = data.modes[m];
      rigid(static_cast<int>(p), m) = gap_change(points[p], mode.body, [&](int node) {
        return rigid_move(mode, data.bodies[mode.body].mesh->nodes[node]);
      });
    }
  }
  data.rigid = std::move(rigid);
}

GapData gap_data(const std::vector<LoadedBody>& bodies, const std::vector<RigidMode>& modes,
                 const std::vector<ContactPoint>& points)
{
  GapData data{.bodies = bodies, .modes = modes, .points = points};
  for (const auto& point : points) {
    data.drawn.push_back(point.gap);
    data.compliance.push_back(point.compliance);
  }
  add_gap_changes(data);
  for (const auto& mode : modes)
    data.load.push_back(-along(mode, bodies[mode.body].load, *bodies[mode.body].mesh));
  return data;
}

void set_heat(GapData& data, int body, const NodeField& heat_move)
{
  data.other_heat = body;
  data.heat_move = heat_move;
  for (std::size_t p = 0; p < data.points.size(); ++p)
    data.by_heat[p] = by_heat(data, data.points[p]);
}

std::vector<double> mode_loads(const GapData& data, int body, const NodeField& forces)
{
  std::vector<double> load;
  for (const auto& mode : data.modes) {
    const double force = mode.body == body ? along(mode, forces, *data.bodies[body].mesh) : 0.0;
    load.push_back(-force);
  }
  return load;
}

ContactProgram reduced_qp(const GapData& data, const ComplianceMatrix& compliance)
{
  const auto& chosen = compliance.candidates();
  const int n = static_cast<int>(chosen.size());
  ContactProgram program;
  program.flexibility = compliance.of_candidates();
  program.rigid = DenseMatrix(n, data.rigid.columns);
  program.load = data.load;
  for (int i = 0; i < n; ++i) {
    program.gap.push_back(data.drawn[chosen[i]] + data.by_load[chosen[i]] +
                          data.by_heat[chosen[i]]);
    for (int m = 0; m < data.rigid.columns; ++m)
      program.rigid(i, m) = data.rigid(chosen[i], m);
    program.flexibility(i, i) += data.compliance[chosen[i]];
    const ContactPoint& one = data.points[chosen[i]];
    for (int j = 0; one.shared > 0.0 && j < n; ++j)
      if (on_one_circle(one, data.points[chosen[j]]))
        program.flexibility(i, j) += one.shared;
  }
  return program;
}

std::vector<double> all_gaps(const GapData& data, const ComplianceMatrix& compliance,
                             const ContactSolution& solution)
{
  std::vector<double> gaps(data.points.size());
  for (std::size_t p = 0; p < gaps.size(); ++p) {
    gaps[p] = data.drawn[p] + data.by_load[p] + data.by_heat[p];
    for (int m = 0; m < data.rigid.columns; ++m)
      gaps[p] += data.rigid(static_cast<int>(p), m) * solution.amplitude[m];
    for (const int c : solution.carrying)
      gaps[p] += solution.push[c] * compliance.column(c)[p];
  }
  for (const int c : solution.carrying) {
    const int carrying = compliance.candidates()[c];
    gaps[carrying] += solution.push[c] * data.compliance[carrying];
    const ContactPoint& one = data.points[carrying];
    for (std::size_t p = 0; one.shared > 0.0 && p < gaps.size(); ++p)
      if (on_one_circle(one, data.points[p]))
        gaps[p] += solution.push[c] * one.shared;
  }
  return gaps;
}

ContactState contact_state(const GapData& data, const ComplianceMatrix& compliance,
                           const ContactSolution& solution)
{
  ContactState state;
  state.push.assign(data.points.size(), 0.0);
  for (const int c : solution.carrying) {
    const int point = compliance.candidates()[c];
    state.push[point] = solution.push[c];
    state.carrying.push_back(point);
    state.least_push = std::min(state.least_push, solution.push[c]);
  }
  state.amplitude = solution.amplitude;
  state.columns = static_cast<int>(compliance.candidates().size());
  return state;
}

std::vector<int> most_violated(const std::vector<double>& gaps, const ComplianceMatrix& compliance,
                               double tolerance)
{
  constexpr std::size_t most = 96; // per round; no source
  std::vector<char> known(gaps.size(), 0);
  for (const int c : compliance.candidates())
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

SplitState split_state(const GapData& data, const ComplianceMatrix& compliance,
                       const ContactProgram& program, const ContactSolution& solution)
{
  std::vector<double> load_gap;
  std::vector<double> drawn_gap;
  std::vector<double> heat_gap;
  for (const int c : compliance.candidates()) {
    load_gap.push_back(data.by_load[c]);
    drawn_gap.push_back(data.drawn[c]);
    heat_gap.push_back(data.by_heat[c]);
  }
  const std::vector<double> no_load(data.load.size(), 0.0);
  const auto state = [&](const std::vector<double>& gap, const std::vector<double>& load) {
    return contact_state(data, compliance, respond(program, solution.carrying, gap, load));
  };
  return {state(load_gap, data.load), state(drawn_gap, no_load), state(heat_gap, no_load)};
}

} // namespace hangtrue
