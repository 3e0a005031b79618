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

namespace hangtrue
{

/// The whole contact solution with its split.
struct HingeContact {
  ContactState state;
  std::vector<double> gap; ///< m, between the sides of every point, what lies between them left out
  SplitState split;
};

/// What forces on one body do while the carried contacts stay closed: pushes, N, at all points, and
/// movements, m, of every body.
struct UnitAnswer {
  std::vector<double> push;
  std::vector<NodeField> moves;
};

/// The unilateral contact of all bodies, for one or several sets of gaps and compliances. At hinges
/// flexibility columns are computed only for points that come into question: first a few
/// directions per knuckle, then whatever a solution would penetrate; they are kept.
class ContactSolver
{
public:
  /// Bodies, modes, points and `kept` must outlive it. `foreseen` is where a solution of a like
  /// state touched, on this mesh or another. `kept` are columns of the same bodies and places from
  /// before; those that are asked for in the same batches are taken from there, which gives the
  /// same bits, and the batches of this solver are left there.
  ContactSolver(const std::vector<LoadedBody>& bodies, const std::vector<RigidMode>& modes,
                const std::vector<ContactPoint>& points, const std::vector<Touch>& foreseen = {},
                KeptColumns* kept = nullptr);
  ContactSolver(const ContactSolver&) = delete;
  ContactSolver& operator=(const ContactSolver&) = delete;

  /// Has bores and edges of thrust faces met as the true circles that they are: wherever a solution
  /// reaches beyond one between its nodes, `solve` adds pairs there, at the end of `points`, which
  /// must be the list that this was built with. Called again it starts from the nodes: a solution
  /// then hangs on none before it.
  void follow_circles(std::vector<ContactPoint>& points);

  /// Gives a point another gap, m, and compliance, m/N, for the next solution.
  void set(int point, double gap, double compliance);

  /// Gives one body another movement under heat, m per node, for the next solution; empty for none.
  /// The other bodies keep theirs.
  void set_heat(int body, const NodeField& heat_move);

  /// Throws ComputeError when it does not settle; `told` hears of every round.
  HingeContact solve(const std::function<void(int round, int carrying)>& told);

  /// Where the last solution touched at the hinges.
  [[nodiscard]] std::vector<Touch> touches() const;

  /// The linear answer to forces `on` one body, N, instead of all that acts, with the carried
  /// points of the last solution closed (what lies between their sides gives as it did then) and
  /// all others open.
  [[nodiscard]] UnitAnswer answer_to(const ContactState& state, int on,
                                     const NodeField& forces) const;

private:
  GapData gaps_;
  ComplianceMatrix compliance_;
  std::vector<int> last_; // points that carried in the solution before: where the next one starts
  std::vector<ContactPoint>* growing_ = nullptr; // the points, where circles are followed
  std::vector<ContactCircle> circles_;
  std::vector<std::map<int, int>> known_; // all pairs between nodes so far, by circle and step

  void take_between_out();
  [[nodiscard]] std::vector<int> taking_part() const;
  bool add_between(const HingeContact& found, double tolerance);
  [[nodiscard]] ContactSolution solve_candidates(const ContactProgram& program) const;
  [[nodiscard]] std::vector<double> gaps_under(const ContactSolution& solution) const;
  [[nodiscard]] HingeContact contact_under(const ContactProgram& program,
                                           const ContactSolution& solution,
                                           std::vector<double> gaps, int round) const;
};

/// One solution with the gaps as they are. Throws like ContactSolver.
HingeContact solve_hinges(const std::vector<LoadedBody>& bodies,
                          const std::vector<RigidMode>& modes,
                          const std::vector<ContactPoint>& points,
                          const std::function<void(int round, int carrying)>& told);

} // namespace hangtrue
