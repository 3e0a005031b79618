// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/gap_data.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace hangtrue::contact
{

namespace
{

// Change of the gap of one pair by the heat of all bodies.
double by_heat(const GapData& data, const ContactPair& pair)
{
  double open = 0.0;
  for (std::size_t b = 0; b < data.bodies.size(); ++b) {
    const int body = static_cast<int>(b);
    const elasticity::NodeField& displacements = data.thermal_displacement_of(body);
    if (!displacements.empty())
      open += gap_change(pair, body, [&](int node) { return displacements[node]; });
  }
  return open;
}

// Change of the gap of one pair by the loads of all bodies.
double by_load(const GapData& data, const ContactPair& pair)
{
  double open = 0.0;
  for (std::size_t b = 0; b < data.bodies.size(); ++b) {
    const int body = static_cast<int>(b);
    const elasticity::NodeField& displacements = data.load_displacement_of(body);
    open += gap_change(pair, body, [&](int node) { return displacements[node]; });
  }
  return open;
}

// Force along a mode, N per unit amplitude.
double along(const RigidMode& mode, const elasticity::NodeField& forces, const mesh::BodyMesh& mesh)
{
  double force = 0.0;
  for (std::size_t n = 0; n < forces.size(); ++n)
    force += dot(forces[n], rigid_displacement(mode, mesh.nodes[n]));
  return force;
}

} // namespace

void add_gap_changes(GapData& data)
{
  const auto& pairs = data.points;
  linear_algebra::DenseMatrix rigid(static_cast<int>(pairs.size()),
                                    static_cast<int>(data.modes.size()));
  for (int m = 0; m < rigid.columns; ++m)
    for (int p = 0; p < data.rigid.rows; ++p)
      rigid(p, m) = data.rigid(p, m);
  for (std::size_t p = data.by_load.size(); p < pairs.size(); ++p) {
    data.by_load.push_back(by_load(data, pairs[p]));
    data.by_heat.push_back(by_heat(data, pairs[p]));
    for (int m = 0; m < rigid.columns; ++m) {
      const RigidMode& mode = data.modes[m];
      rigid(static_cast<int>(p), m) = gap_change(pairs[p], mode.body, [&](int node) {
        return rigid_displacement(mode, data.bodies[mode.body].mesh->nodes[node]);
      });
    }
  }
  data.rigid = std::move(rigid);
}

GapData gap_data(const std::vector<BodyResponse>& bodies, const std::vector<RigidMode>& modes,
                 const std::vector<ContactPair>& pairs)
{
  GapData data{.bodies = bodies, .modes = modes, .points = pairs};
  for (const auto& pair : pairs) {
    data.nominal.push_back(pair.gap);
    data.compliance.push_back(pair.compliance);
  }
  add_gap_changes(data);
  for (const auto& mode : modes)
    data.load.push_back(-along(mode, bodies[mode.body].load, *bodies[mode.body].mesh));
  return data;
}

void set_thermal_displacements(GapData& data, int body,
                               const elasticity::NodeField& thermal_displacement)
{
  data.other_thermal_displacement = body;
  data.thermal_displacement = thermal_displacement;
  for (std::size_t p = 0; p < data.points.size(); ++p)
    data.by_heat[p] = by_heat(data, data.points[p]);
}

void set_loads(GapData& data, int body, const elasticity::NodeField& load,
               const elasticity::NodeField& load_displacement)
{
  data.other_load = body;
  data.load_displacement = load_displacement;
  for (std::size_t p = 0; p < data.points.size(); ++p)
    data.by_load[p] = by_load(data, data.points[p]);
  for (std::size_t m = 0; m < data.modes.size(); ++m)
    if (data.modes[m].body == body)
      data.load[m] = -along(data.modes[m], load, *data.bodies[body].mesh);
}

std::vector<double> mode_loads(const GapData& data, int body, const elasticity::NodeField& forces)
{
  std::vector<double> load;
  for (const auto& mode : data.modes) {
    const double force = mode.body == body ? along(mode, forces, *data.bodies[body].mesh) : 0.0;
    load.push_back(-force);
  }
  return load;
}

ContactQP reduced_qp(const GapData& data, const ComplianceMatrix& compliance)
{
  const auto& chosen = compliance.candidates();
  const int n = static_cast<int>(chosen.size());
  ContactQP program;
  program.compliance = compliance.of_candidates();
  program.rigid = linear_algebra::DenseMatrix(n, data.rigid.columns);
  program.load = data.load;
  for (int i = 0; i < n; ++i) {
    program.gap.push_back(data.nominal[chosen[i]] + data.by_load[chosen[i]] +
                          data.by_heat[chosen[i]]);
    for (int m = 0; m < data.rigid.columns; ++m)
      program.rigid(i, m) = data.rigid(chosen[i], m);
    program.compliance(i, i) += data.compliance[chosen[i]];
    const ContactPair& one = data.points[chosen[i]];
    for (int j = 0; one.circle_compliance > 0.0 && j < n; ++j)
      if (on_one_circle(one, data.points[chosen[j]]))
        program.compliance(i, j) += one.circle_compliance;
  }
  return program;
}

std::vector<double> all_gaps(const GapData& data, const ComplianceMatrix& compliance,
                             const ContactQPSolution& solution)
{
  std::vector<double> gaps(data.points.size());
  for (std::size_t p = 0; p < gaps.size(); ++p) {
    gaps[p] = data.nominal[p] + data.by_load[p] + data.by_heat[p];
    for (int m = 0; m < data.rigid.columns; ++m)
      gaps[p] += data.rigid(static_cast<int>(p), m) * solution.amplitude[m];
    for (const int c : solution.active_set)
      gaps[p] += solution.contact_force[c] * compliance.column(c)[p];
  }
  for (const int c : solution.active_set) {
    const int active_set = compliance.candidates()[c];
    gaps[active_set] += solution.contact_force[c] * data.compliance[active_set];
    const ContactPair& one = data.points[active_set];
    for (std::size_t p = 0; one.circle_compliance > 0.0 && p < gaps.size(); ++p)
      if (on_one_circle(one, data.points[p]))
        gaps[p] += solution.contact_force[c] * one.circle_compliance;
  }
  return gaps;
}

ContactState contact_state(const GapData& data, const ComplianceMatrix& compliance,
                           const ContactQPSolution& solution)
{
  ContactState state;
  state.contact_force.assign(data.points.size(), 0.0);
  for (const int c : solution.active_set) {
    const int point = compliance.candidates()[c];
    state.contact_force[point] = solution.contact_force[c];
    state.active_set.push_back(point);
    state.min_contact_force = std::min(state.min_contact_force, solution.contact_force[c]);
  }
  state.amplitude = solution.amplitude;
  state.columns = static_cast<int>(compliance.candidates().size());
  return state;
}

std::vector<int> most_violated(const std::vector<double>& gaps, const ComplianceMatrix& compliance,
                               double tolerance)
{
  constexpr std::size_t maximum = 96; // per round; no source
  std::vector<char> known(gaps.size(), 0);
  for (const int c : compliance.candidates())
    known[c] = 1;
  std::vector<int> worst;
  for (std::size_t p = 0; p < gaps.size(); ++p)
    if (known[p] == 0 && gaps[p] < -tolerance)
      worst.push_back(static_cast<int>(p));
  std::sort(worst.begin(), worst.end(), [&](int a, int b) { return gaps[a] < gaps[b]; });
  if (worst.size() > maximum)
    worst.resize(maximum);
  return worst;
}

LoadCaseSplit split_load_cases(const GapData& data, const ComplianceMatrix& compliance,
                               const ContactQP& program, const ContactQPSolution& solution)
{
  std::vector<double> load_gap;
  std::vector<double> nominal_gap;
  std::vector<double> heat_gap;
  for (const int c : compliance.candidates()) {
    load_gap.push_back(data.by_load[c]);
    nominal_gap.push_back(data.nominal[c]);
    heat_gap.push_back(data.by_heat[c]);
  }
  const std::vector<double> no_load(data.load.size(), 0.0);
  const auto state = [&](const std::vector<double>& gap, const std::vector<double>& load) {
    return contact_state(data, compliance,
                         solve_fixed_active_set(program, solution.active_set, gap, load));
  };
  return {state(load_gap, data.load), state(nominal_gap, no_load), state(heat_gap, no_load)};
}

} // namespace hangtrue::contact
