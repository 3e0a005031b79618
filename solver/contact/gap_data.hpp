// SPDX-License-Identifier: GPL-3.0-or-later
// Gaps of all contact pairs by what opens them, the contact programme of those in question, and
// what its solution means for all.
#pragma once

#include "solver/contact/compliance_matrix.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_qp.hpp"
#include "solver/contact/contact_response.hpp"

#include <optional>
#include <vector>

namespace hangtrue::contact
{

/// What changes the gaps besides the contact forces. Bodies, modes and points must outlive it.
struct GapData {
  const std::vector<BodyResponse>& bodies;
  const std::vector<RigidMode>& modes;
  const std::vector<ContactPair>& points;
  std::vector<double> nominal{};       ///< m, per point, as set
  std::vector<double> compliance{};    ///< m/N, per point, of what lies between its sides
  std::vector<double> by_load{};       ///< m, per point, under the loads
  std::vector<double> by_heat{};       ///< m, per point, under the heat
  std::vector<double> load{};          ///< N, per mode, generalised forces to be balanced
  linear_algebra::DenseMatrix rigid{}; ///< change of gap, m/m, of all pairs per mode
  std::optional<int>
      other_thermal_displacement{}; ///< a body whose displacement by heat differs from its own
  elasticity::NodeField thermal_displacement{}; ///< m, of that body
  std::optional<int> other_load{};              ///< a body whose loads differ from its own
  elasticity::NodeField load_displacement{};    ///< m, of that body by them

  /// Displacement by load, m per node.
  [[nodiscard]] const elasticity::NodeField& load_displacement_of(int body) const
  {
    return body == other_load ? load_displacement : bodies[body].load_displacement;
  }
  /// Displacement by heat, m per node; empty where there is none.
  [[nodiscard]] const elasticity::NodeField& thermal_displacement_of(int body) const
  {
    return body == other_thermal_displacement ? thermal_displacement
                                              : bodies[body].thermal_displacement;
  }
};

/// The data of all pairs, with nominal gaps.
GapData gap_data(const std::vector<BodyResponse>& bodies, const std::vector<RigidMode>& modes,
                 const std::vector<ContactPair>& pairs);

/// Gap changes of new pairs by loads, heat and rigid displacements.
void add_gap_changes(GapData& data);

/// Sets another displacement by heat of one body, m per node; empty for none.
void set_thermal_displacements(GapData& data, int body,
                               const elasticity::NodeField& thermal_displacement);

/// Sets other loads of one body, N per node, and its displacement by them, m per node. Those of the
/// others are unchanged.
void set_loads(GapData& data, int body, const elasticity::NodeField& load,
               const elasticity::NodeField& load_displacement);

/// Forces, N, on one body along the modes, with the sign of `GapData::load`.
std::vector<double> mode_loads(const GapData& data, int body, const elasticity::NodeField& forces);

/// The contact programme among the candidates.
ContactQP reduced_qp(const GapData& data, const ComplianceMatrix& compliance);

/// Gaps of all points, m, for a solution among the candidates.
std::vector<double> all_gaps(const GapData& data, const ComplianceMatrix& compliance,
                             const ContactQPSolution& solution);

/// A solution among the candidates as the state of all points.
ContactState contact_state(const GapData& data, const ComplianceMatrix& compliance,
                           const ContactQPSolution& solution);

/// Pairs that are penetrated by more than `tolerance`, m, and are no candidates yet, the deepest
/// first; at most as many as are worth one round of columns.
std::vector<int> most_violated(const std::vector<double>& gaps, const ComplianceMatrix& compliance,
                               double tolerance);

/// Three solutions of one linear problem, the active set fixed: by loads, nominal gaps and heat.
struct LoadCaseSplit {
  ContactState by_load;
  ContactState by_gap;
  ContactState by_heat;
};

/// A solution split into its load cases with the active set fixed.
LoadCaseSplit split_load_cases(const GapData& data, const ComplianceMatrix& compliance,
                               const ContactQP& program, const ContactQPSolution& solution);

} // namespace hangtrue::contact
