// SPDX-License-Identifier: GPL-3.0-or-later
// One factorized substructure, condensed to its interface, and its columns for unit forces,
// computed on first use.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"
#include "solver/substructuring/substructure_content.hpp"

#include <deque>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

namespace hangtrue::substructuring
{

/// A substructure with its factor, free at its interface unknowns, which are eliminated last.
/// Thread-safe for two threads.
class CondensedSubstructure
{
public:
  /// Assembles and factorizes. `like` is the ordering of a substructure of the same pattern, if
  /// there is one; the solutions for the last `loads` loads are cached. Throws ComputeError when
  /// nothing holds it.
  explicit CondensedSubstructure(
      SubstructureKey content, std::shared_ptr<const linear_algebra::FactorOrdering> like = nullptr,
      std::size_t loads = 6);

  [[nodiscard]] const SubstructureContent& content() const { return content_; }
  [[nodiscard]] const SubstructureKey& key() const { return key_; }

  /// Schur complement, by columns, over the retained unknowns of a base and then the three unknowns
  /// of every interface node: the forces, N, for one metre of one of them while the others are
  /// fixed.
  [[nodiscard]] std::vector<double> schur_complement() const;

  /// Displacements, m, of all nodes of a hinge substructure or of a body that is one substructure,
  /// under forces, N, on them (interface fixed). The solutions for the last few loads are cached: a
  /// pin weighs the same in the next door.
  [[nodiscard]] std::vector<Vec3> solve(const std::vector<Vec3>& forces);

  /// Forward elimination of forces, N, on all nodes of a base: what they come to at retained and
  /// interface unknowns. Cached like the solutions of `solve`: a door weighs the same from one
  /// hinge to the next.
  [[nodiscard]] std::shared_ptr<const linear_algebra::BlockCholesky::ForwardSolution>
  forward_eliminate(const std::vector<Vec3>& forces);

  /// Back substitution: displacements, m, of all its nodes from those of retained and interface
  /// unknowns.
  [[nodiscard]] std::vector<Vec3>
  back_substitute(const linear_algebra::BlockCholesky::ForwardSolution& forward,
                  const std::vector<double>& at_interface) const;

  /// Constraint modes of a hinge substructure: displacement of unknown `u` (3 node + component) per
  /// unit displacement of its interface unknowns, in the order of `interface`.
  [[nodiscard]] const double* constraint_mode(int u) const
  {
    return &constraint_modes_[interface_dofs() * u];
  }
  [[nodiscard]] std::size_t interface_dofs() const { return 3 * content_.interface.size(); }

  /// Index of a node among the boundary nodes, -1 for an interior one.
  [[nodiscard]] int boundary_index(int node) const { return boundary_index_[node]; }

  /// Response to a few forces on boundary nodes.
  struct ComplianceColumn {
    std::vector<Vec3> displacements;  ///< m, of the boundary nodes (interface fixed)
    std::vector<double> on_interface; ///< N, reactions on the interface of a hinge substructure
  };

  /// Computes the columns of all sets that are new, in blocks, and returns their indices. A column
  /// is bit-identical whatever was requested before it and with it.
  std::vector<std::size_t>
  compliance_columns(const std::vector<std::vector<elasticity::NodeForce>>& sets);
  [[nodiscard]] const ComplianceColumn& column(std::size_t place) const;

  /// Its factor; the ordering of that is good for every part of the same pattern.
  [[nodiscard]] const linear_algebra::BlockCholesky& factor() const { return *factor_; }

  /// Memory that it takes.
  [[nodiscard]] std::size_t bytes() const;

private:
  SubstructureKey key_;
  const SubstructureContent& content_; // of the key
  std::optional<linear_algebra::BlockCholesky> factor_;
  std::vector<double> springs_; // N/m, at the interface of a hinge substructure, in its factor only
  std::vector<double>
      constraint_modes_; // of unknown u from interface unknown j at interface_dofs() * u + j
  std::vector<int> boundary_;
  std::vector<int> boundary_index_;
  // Columns are requested by index and held by reference, so none may move or be evicted.
  mutable std::mutex mutex_;                                // over these two
  std::map<std::vector<double>, std::size_t> column_index_; // by rounded forces
  std::deque<ComplianceColumn> columns_;                    // no reference changes when others come
  LruCache<std::vector<Vec3>, std::vector<Vec3>, elasticity::SameField>
      solutions_; // displacements by forces
  LruCache<std::vector<Vec3>, std::shared_ptr<const linear_algebra::BlockCholesky::ForwardSolution>,
           elasticity::SameField>
      forward_solutions_;

  static std::vector<elasticity::NodeForce> rounded(const std::vector<elasticity::NodeForce>& set);
  [[nodiscard]] std::vector<ComplianceColumn>
  column_block(const std::vector<std::vector<elasticity::NodeForce>>& sets) const;
  struct FixedInterfaceSolution {
    std::vector<std::vector<double>> displacements; // m, per unknown
    std::vector<std::vector<double>> on_interface;  // N
  };
  [[nodiscard]] FixedInterfaceSolution
  solve_fixed_at_interface(const std::vector<std::vector<double>>& right_sides) const;
  void find_constraint_modes();
};

} // namespace hangtrue::substructuring
