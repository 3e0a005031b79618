// One factored part of a body, and its answers to unit forces, found when first asked for.
#pragma once

#include "solver/factored_bodies.hpp"
#include "solver/symmetric_factor.hpp"

#include <optional>
#include <vector>

namespace hangtrue
{

/// A part with its factor. A carrier is free at its joints; a piece is held there.
class FactoredPart
{
public:
  /// Assembles and factors. Throws ComputeError when nothing holds it.
  explicit FactoredPart(PartContent content);

  [[nodiscard]] const PartContent& content() const { return content_; }

  /// By columns, 3 x joints square: of a carrier the movements, m, of its joints under unit forces
  /// on them; of a piece the forces, N, that move its joints by one metre.
  [[nodiscard]] const std::vector<double>& joint_matrix() const { return joint_matrix_; }

  /// Movements, m, of all nodes under forces, N, on them (joints held for a piece).
  [[nodiscard]] std::vector<Vec3> solve(const std::vector<Vec3>& forces) const;

  /// The same for several sets of forces at once, unknown by unknown (3 node + component).
  [[nodiscard]] std::vector<std::vector<double>>
  solve_block(const std::vector<std::vector<double>>& forces) const
  {
    return factor_->solve(forces);
  }

  /// Of a piece: movement of unknown `u` (3 node + component) per unit movement of its joints'
  /// unknowns, in the order of `joint`.
  [[nodiscard]] const double* spread(int u) const { return &spread_[joint_unknowns() * u]; }
  [[nodiscard]] std::size_t joint_unknowns() const { return 3 * content_.joint.size(); }

  /// Radial, tangential and axial direction of a node.
  [[nodiscard]] std::array<Vec3, 3> directions(int node) const;

  /// Place of a node among the outside ones, -1 for one inside.
  [[nodiscard]] int outside(int node) const { return outside_place_[node]; }

  /// Answers to unit forces in a direction (3 node + direction) are found for all `wanted` at once;
  /// `answer` gives movements of the outside nodes, m/N.
  void answer_to(const std::vector<int>& wanted);
  [[nodiscard]] const std::vector<Vec3>& answer(int node_direction) const
  {
    return answers_[answer_place_[node_direction]];
  }

  /// Memory that it takes.
  [[nodiscard]] std::size_t bytes() const;

private:
  PartContent content_;
  std::optional<SymmetricFactor> factor_;
  std::vector<double> joint_matrix_;
  std::vector<double> spread_; // of unknown u from joint unknown j at joint_unknowns() * u + j
  std::vector<int> outside_;
  std::vector<int> outside_place_;
  std::vector<int> answer_place_; // per 3 node + direction
  std::vector<std::vector<Vec3>> answers_;

  void condense_piece(const BlockMatrix& matrix);
  void condense_carrier();
};

} // namespace hangtrue
