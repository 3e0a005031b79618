// One factorized substructure, condensed to its interface, and its columns for unit forces,
// computed on first use.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"
#include "solver/substructuring/part_content.hpp"

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
  /// Assembles and factors. `like` is the ordering of a part of the same pattern, if there is one;
  /// the answers to the last `loads` loads are cached. Throws ComputeError when nothing holds it.
  explicit FactoredPart(PartKey content, std::shared_ptr<const FactorOrdering> like = nullptr,
                        std::size_t loads = 6);

  [[nodiscard]] const PartContent& content() const { return content_; }
  [[nodiscard]] const PartKey& key() const { return key_; }

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

  /// Its factor; the ordering of that is good for every part of the same pattern.
  [[nodiscard]] const SymmetricFactor& factor() const { return *factor_; }

  /// Memory that it takes.
  [[nodiscard]] std::size_t bytes() const;

private:
  PartKey key_;
  const PartContent& content_; // of the key
  std::optional<SymmetricFactor> factor_;
  std::vector<double> springs_; // N/m, at the joints of a piece, in its factor and not in it
  std::vector<double> spread_;  // of unknown u from joint unknown j at joint_unknowns() * u + j
  std::vector<int> outside_;
  std::vector<int> outside_place_;
  // Responses are asked for by place and held by reference, so none may move or be evicted.
  mutable std::mutex alone_;                                         // over these two
  std::map<std::vector<double>, std::size_t> answer_place_;          // by rounded forces
  std::deque<Answer> answers_;                                       // none moves when others come
  LruCache<std::vector<Vec3>, std::vector<Vec3>, SameField> solved_; // movements by forces
  LruCache<std::vector<Vec3>, std::shared_ptr<const SymmetricFactor::Begun>, SameField> started_;

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
