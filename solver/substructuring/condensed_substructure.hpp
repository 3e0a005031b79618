// One factored part of a body, and its answers to unit forces, found when first asked for.
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

/// A part with its factor, free at its joints, which are eliminated last. Two threads may ask it at
/// once.
class FactoredPart
{
public:
  /// Assembles and factors. `like` is the ordering of a part of the same pattern, if there is one;
  /// the answers to the last `loads` loads are cached. Throws ComputeError when nothing holds it.
  explicit FactoredPart(PartKey content, std::shared_ptr<const FactorOrdering> like = nullptr,
                        std::size_t loads = 6);

  [[nodiscard]] const PartContent& content() const { return content_; }
  [[nodiscard]] const PartKey& key() const { return key_; }

  /// By columns, square over the seats of a carrier and then the three unknowns of every joint: the
  /// forces, N, that move one of them by one metre while the others stay.
  [[nodiscard]] std::vector<double> joint_matrix() const;

  /// Movements, m, of all nodes of a piece or of a body that is one part, under forces, N, on them
  /// (joints held). The answers to the last few loads are kept: a pin weighs the same in the next
  /// door.
  [[nodiscard]] std::vector<Vec3> solve(const std::vector<Vec3>& forces);

  /// What forces, N, on all nodes of a carrier come to at seats and joints, before these are known.
  /// Kept like the answers of `solve`: a door weighs the same from one hinge to the next.
  [[nodiscard]] std::shared_ptr<const SymmetricFactor::Begun>
  begin(const std::vector<Vec3>& forces);

  /// Movements, m, of all its nodes once those of its seats and joints are known.
  [[nodiscard]] std::vector<Vec3> finish(const SymmetricFactor::Begun& begun,
                                         const std::vector<double>& joint_moves) const;

  /// Of a piece: movement of unknown `u` (3 node + component) per unit movement of its joints'
  /// unknowns, in the order of `joint`.
  [[nodiscard]] const double* spread(int u) const { return &spread_[joint_unknowns() * u]; }
  [[nodiscard]] std::size_t joint_unknowns() const { return 3 * content_.joint.size(); }

  /// Place of a node among the outside ones, -1 for one inside.
  [[nodiscard]] int outside(int node) const { return outside_place_[node]; }

  /// What a few forces on outside nodes do.
  struct Answer {
    std::vector<Vec3> moves;       ///< m, of the outside nodes (joints held for a piece)
    std::vector<double> on_joints; ///< N, that they put on the joints of a piece
  };

  /// Finds the answers to all sets that are new, in blocks, and gives their places. An answer is
  /// the same to the last bit whatever was asked before it and with it.
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
