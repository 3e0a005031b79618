// Gaps of all contact pairs by what opens them, the contact programme of those in question, and
// what its solution means for all.
#pragma once

#include "solver/contact/compliance_matrix.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_qp.hpp"
#include "solver/contact/contact_response.hpp"

#include <optional>
#include <vector>

namespace hangtrue
{

/// What changes the gaps besides the contact forces. Bodies, modes and points must outlive it.
struct GapData {
  const std::vector<LoadedBody>& bodies;
  const std::vector<RigidMode>& modes;
  const std::vector<ContactPoint>& points;
  std::vector<double> drawn{};      ///< m, per point, as set
  std::vector<double> compliance{}; ///< m/N, per point, of what lies between its sides
  std::vector<double> by_load{};    ///< m, per point, under the loads
  std::vector<double> by_heat{};    ///< m, per point, under the heat
  std::vector<double> load{};       ///< N, per mode, generalised forces to be balanced
  DenseMatrix rigid{};              ///< change of gap, m/m, of all pairs per mode
  std::optional<int> other_heat{};  ///< a body whose displacement by heat differs from its own
  NodeField heat_move{};            ///< m, of that body

  /// Displacement by heat, m per node; empty where there is none.
  [[nodiscard]] const NodeField& heat_of(int body) const
  {
    return body == other_heat ? heat_move : bodies[body].heat_move;
  }
};

/// The data of all pairs, with nominal gaps.
GapData gap_data(const std::vector<LoadedBody>& bodies, const std::vector<RigidMode>& modes,
                 const std::vector<ContactPoint>& points);

/// Gap changes of new pairs by loads, heat and rigid displacements.
void add_gap_changes(GapData& data);

/// Sets another displacement by heat of one body, m per node; empty for none.
void set_heat(GapData& data, int body, const NodeField& heat_move);

/// Forces, N, on one body along the modes, with the sign of `GapData::load`.
std::vector<double> mode_loads(const GapData& data, int body, const NodeField& forces);

/// The contact programme among the candidates.
ContactProgram reduced_qp(const GapData& data, const ComplianceMatrix& compliance);

/// Gaps of all points, m, for a solution among the candidates.
std::vector<double> all_gaps(const GapData& data, const ComplianceMatrix& compliance,
                             const ContactSolution& solution);

/// A solution among the candidates as the state of all points.
ContactState contact_state(const GapData& data, const ComplianceMatrix& compliance,
                           const ContactSolution& solution);

/// Pairs that are penetrated by more than `tolerance`, m, and are no candidates yet, the deepest
/// first; at most as many as are worth one round of columns.
std::vector<int> most_violated(const std::vector<double>& gaps, const ComplianceMatrix& compliance,
                               double tolerance);

/// Three solutions of one linear problem, the active set fixed: by loads, nominal gaps and heat.
struct SplitState {
  ContactState by_load;
  ContactState by_gap;
  ContactState by_heat;
};

/// A solution taken apart while its carried set stays.
SplitState split_state(const GapData& data, const ComplianceMatrix& compliance,
                       const ContactProgram& program, const ContactSolution& solution);

} // namespace hangtrue
