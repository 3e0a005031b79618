// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies meeting at contact points: flexibility column by column, and the contact solution.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "solver/contact/compliance_matrix.hpp"
#include "solver/contact/contact_circles.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_qp.hpp"
#include "solver/contact/contact_response.hpp"
#include "solver/contact/gap_data.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/substructuring/substructured_body.hpp"

#include <functional>
#include <map>
#include <vector>

namespace hangtrue::contact
{

/// The whole contact solution with its split.
struct ContactResult {
  ContactState state;
  std::vector<double> gap; ///< m, between the sides of every point, what lies between them left out
  LoadCaseSplit split;
};

/// Response to forces on one body with the active contacts closed: contact forces, N, at all pairs,
/// and displacements, m, of every body.
struct AdjointSolution {
  std::vector<double> contact_force;
  std::vector<elasticity::NodeField> displacements;
};

/// The unilateral contact of all bodies, for one or several sets of gaps and compliances. At hinges
/// compliance columns are computed only for pairs of the working set: first a few directions per
/// knuckle, then whatever a solution would penetrate; they are cached.
class ContactSolver
{
public:
  /// Bodies, modes, points and `cache` must outlive it. `warm_start` is the active contact of a
  /// similar state (warm start), on this mesh or another. `cache` are columns of the same bodies
  /// and positions from before; those that are requested in the same batches are taken from there,
  /// which gives the same bits, and the batches of this solver are added to it.
  ContactSolver(const std::vector<BodyResponse>& bodies, const std::vector<RigidMode>& modes,
                const std::vector<ContactPair>& pairs,
                const std::vector<ActiveContact>& warm_start = {},
                ComplianceColumnCache* cache = nullptr);
  ContactSolver(const ContactSolver&) = delete;
  ContactSolver& operator=(const ContactSolver&) = delete;

  /// Treats bores and edges of thrust faces as the true circles that they are: wherever a solution
  /// penetrates one between its nodes, `solve` adds pairs there, at the end of `points`, which must
  /// be the list given to the constructor. Each call starts from the nodes again: a solution then
  /// does not depend on earlier ones.
  void follow_circles(std::vector<ContactPair>& pairs);

  /// Sets another gap, m, and compliance, m/N, of a pair for the next solution.
  void set(int point, double gap, double compliance);

  /// Sets another displacement by heat of one body, m per node, for the next solution; empty for
  /// none. The other bodies are unchanged.
  void set_thermal_displacements(int body, const elasticity::NodeField& thermal_displacement);

  /// Sets other loads of one body, N per node, and its displacement by them, m per node, for the
  /// next solution; displacements of that body read from a solution lack the difference.
  void set_loads(int body, const elasticity::NodeField& load,
                 const elasticity::NodeField& load_displacement);

  /// Throws ComputeError when it does not converge; `report` is called in every round.
  ContactResult solve(const std::function<void(int round, int carrying)>& report);

  /// The active contact of the last solution at the hinges.
  [[nodiscard]] std::vector<ActiveContact> active_contacts() const;

  /// The linear response to forces `on` one body, N, instead of all that acts, with the active
  /// pairs of the last solution closed (with the compliance between their sides as it was then) and
  /// all others open.
  [[nodiscard]] AdjointSolution solve_adjoint(const ContactState& state, int on,
                                              const elasticity::NodeField& forces) const;

private:
  GapData gaps_;
  ComplianceMatrix compliance_;
  std::vector<int>
      previous_active_set_; // points that carried in the solution before: where the next one starts
  std::vector<ContactPair>* growing_ = nullptr; // the points, where circles are followed
  std::vector<ContactCircle> circles_;
  std::vector<std::map<int, int>> known_; // all pairs between nodes so far, by circle and step

  void remove_intermediate();
  [[nodiscard]] std::vector<int> candidates() const;
  bool add_intermediate(const ContactResult& found, double tolerance);
  [[nodiscard]] ContactQPSolution solve_candidates(const ContactQP& program) const;
  [[nodiscard]] std::vector<double> gaps_under(const ContactQPSolution& solution) const;
  [[nodiscard]] ContactResult contact_under(const ContactQP& program,
                                            const ContactQPSolution& solution,
                                            std::vector<double> gaps, int round) const;
};

/// One solution with the gaps as they are. Throws like ContactSolver.
ContactResult solve_contact(const std::vector<BodyResponse>& bodies,
                            const std::vector<RigidMode>& modes,
                            const std::vector<ContactPair>& pairs,
                            const std::function<void(int round, int carrying)>& report);

} // namespace hangtrue::contact
