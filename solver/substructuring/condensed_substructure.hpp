// One factorized substructure, condensed to its interface, and its columns for unit forces,
// computed on first use.
#pragma once

#include "solver/linear_algebra/block_cholesky.hpp"
#include "solver/substructuring/factorization_cache.hpp"

#include <deque>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

namespace hangtrue
{

/// A substructure with its factor, free at its interface unknowns, which are eliminated last.
/// Thread-safe for two threads.
class FactoredPart
{
public:
  /// Assembles and factorizes. Throws ComputeError when it is unsupported.
  /// `like` has the same cells, so that its ordering can be reused.
  explicit FactoredPart(PartContent content, const FactoredPart* like = nullptr);

  [[nodiscard]] const PartContent& content() const { return content_; }

  /// Schur complement, by columns, over the retained unknowns of a base and then the three unknowns
  /// of every interface node: the forces, N, for one metre of one of them while the others are
  /// fixed.
  [[nodiscard]] std::vector<double> joint_matrix() const;

  /// Displacements, m, of all nodes of a hinge substructure or of a body that is one substructure,
  /// under forces, N, on them (interface fixed). The solutions for the last few loads are cached: a
  /// pin weighs the same in the next door.
  [[nodiscard]] std::vector<Vec3> solve(const std::vector<Vec3>& forces);

  /// Forward elimination of forces, N, on all nodes of a base: what they come to at retained and
  /// interface unknowns. Cached like the solutions of `solve`: a door weighs the same from one
  /// hinge to the next.
  [[nodiscard]] std::shared_ptr<const SymmetricFactor::Begun>
  begin(const std::vector<Vec3>& forces);

  /// Back substitution: displacements, m, of all its nodes from those of retained and interface
  /// unknowns.
  [[nodiscard]] std::vector<Vec3> finish(const SymmetricFactor::Begun& begun,
                                         const std::vector<double>& joint_moves) const;

  /// Constraint modes of a hinge substructure: displacement of unknown `u` (3 node + component) per
  /// unit displacement of its interface unknowns, in the order of `joint`.
  [[nodiscard]] const double* spread(int u) const { return &spread_[joint_unknowns() * u]; }
  [[nodiscard]] std::size_t joint_unknowns() const { return 3 * content_.joint.size(); }

  /// Place of a node among the outside ones, -1 for one inside.
  [[nodiscard]] int outside(int node) const { return outside_place_[node]; }

  /// What a few forces on outside nodes do.
  struct Answer {
    std::vector<Vec3> moves;       ///< m, of the boundary nodes (interface fixed)
    std::vector<double> on_joints; ///< N, reactions on the interface of a hinge substructure
  };

  /// Computes the columns of all sets that are new, in blocks, and returns their indices. A column
  /// is bit-identical whatever was requested before it and with it.
  std::vector<std::size_t> answer_to(const std::vector<std::vector<NodeForce>>& sets);
  [[nodiscard]] const Answer& answer(std::size_t place) const;

  /// The ordering of its factor; valid for every substructure of the same cells.
  [[nodiscard]] const SymmetricFactor& factor() const { return *factor_; }

  /// Releases all but the ordering, which serves the next substructure of the same cells. Nothing
  /// else may be called from then on; a solution throws std::logic_error.
  void keep_order_only();
  [[nodiscard]] bool order_only() const { return order_only_; }

  /// How many loads its solutions are cached for at a time, six by default.
  void remember(std::size_t loads) { loads_kept_ = loads; }

  /// Memory that it takes.
  [[nodiscard]] std::size_t bytes() const;

private:
  PartContent content_;
  std::optional<SymmetricFactor> factor_;
  bool order_only_ = false;
  std::size_t loads_kept_ = 6;
  std::vector<double> springs_; // N/m, at the interface of a hinge substructure, in its factor and
                                // subtracted in its Schur complement
  std::vector<double> spread_;  // of unknown u for interface unknown j at joint_unknowns() * u + j
  std::vector<int> outside_;
  std::vector<int> outside_place_;
  mutable std::mutex alone_;                                // guards all caches below
  std::map<std::vector<double>, std::size_t> answer_place_; // by rounded forces
  std::deque<Answer> answers_;                              // references stay valid as it grows
  struct Solved {
    std::vector<Vec3> forces;
    std::vector<Vec3> moves;
  };
  std::vector<Solved> solved_; // the latest last
  struct Started {
    std::vector<Vec3> forces;
    std::shared_ptr<const SymmetricFactor::Begun> begun;
  };
  std::vector<Started> started_; // the latest last

  static std::vector<NodeForce> rounded(const std::vector<NodeForce>& set);
  [[nodiscard]] std::vector<Answer>
  answer_block(const std::vector<std::vector<NodeForce>>& sets) const;
  struct Held {
    std::vector<std::vector<double>> moves;     // m, per unknown
    std::vector<std::vector<double>> on_joints; // N
  };
  [[nodiscard]] Held held_at_joints(const std::vector<std::vector<double>>& right_sides) const;
  void spread_joints();
};

} // namespace hangtrue
