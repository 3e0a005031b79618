// SPDX-License-Identifier: GPL-3.0-or-later
// A symmetric positive definite sparse matrix of 3 x 3 node blocks and its factor (CHOLMOD).
#pragma once

#include "meshing/common/vec3.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

namespace hangtrue::linear_algebra
{

/// Lower triangle by block columns: column `a` has blocks of rows `row[k]` >= a, rising, for k from
/// `start[a]` to `start[a + 1]`; block values run down columns, 9 to a block.
struct BlockMatrix {
  std::vector<int> start;
  std::vector<int> row;
  std::vector<std::array<double, 9>> block;

  [[nodiscard]] int size() const { return static_cast<int>(start.size()) - 1; }
};

/// The empty pattern of a matrix whose cells couple the listed nodes with each other.
BlockMatrix block_pattern(int nodes, const std::vector<std::array<int, 27>>& cells);

/// Adds to the block (row, column) with row >= column.
void add_block(BlockMatrix& matrix, int row, int column, const std::array<double, 9>& value);

/// The order in which unknowns are eliminated, with the places that a factor then fills: good for
/// every matrix of the same pattern and the same held unknowns. Several factors may share one.
class FactorOrdering
{
public:
  ~FactorOrdering();
  FactorOrdering(const FactorOrdering&) = delete;
  FactorOrdering& operator=(const FactorOrdering&) = delete;

  /// True where these unknowns are held and so many eliminated last.
  [[nodiscard]] bool fits(const std::vector<char>& held, std::size_t last) const;

private:
  friend class BlockCholesky; // which finds it
  FactorOrdering();
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// Cholesky factor of the matrix with some unknowns held at zero.
class BlockCholesky
{
public:
  /// Orders (nested dissection on the node graph) and factors; `fixed` marks unknowns 3 node +
  /// component that are zero. `like` is the ordering of a matrix of the same pattern, taken over
  /// where it `fits`. The unknowns `last`, none of them held, are eliminated last, in this order,
  /// so that other bodies can be joined there. Throws ComputeError when the matrix is not positive
  /// definite.
  BlockCholesky(BlockMatrix matrix, const std::vector<char>& held,
                std::shared_ptr<const FactorOrdering> like = nullptr,
                const std::vector<int>& last = {});
  ~BlockCholesky();
  BlockCholesky(BlockCholesky&&) noexcept;
  BlockCholesky& operator=(BlockCholesky&&) noexcept;
  BlockCholesky(const BlockCholesky&) = delete;
  BlockCholesky& operator=(const BlockCholesky&) = delete;

  /// Solves for several right-hand sides, each of 3 x nodes values; fixed unknowns come out zero.
  [[nodiscard]] std::vector<std::vector<double>>
  solve(const std::vector<std::vector<double>>& right_sides) const;

  /// What all other unknowns leave of the matrix at the unknowns of `last` (Schur complement), in
  /// their order, by columns.
  [[nodiscard]] std::vector<double> schur_complement() const;

  /// A forward elimination: all but the `last` unknowns eliminated from one right-hand side.
  struct ForwardSolution {
    std::vector<double> rest;      ///< in the order of the factor
    std::vector<double> interface; ///< remaining right-hand side of `last_matrix`
  };
  [[nodiscard]] std::vector<ForwardSolution>
  forward_eliminate(const std::vector<std::vector<double>>& right_sides) const;

  /// Forward eliminations of right-hand sides that are all zero.
  [[nodiscard]] std::vector<ForwardSolution> zero_forward(std::size_t count) const;

  /// The back substitution, once the values of the `last` unknowns are known, per right-hand side.
  [[nodiscard]] std::vector<std::vector<double>>
  back_substitute(const std::vector<ForwardSolution>& forward,
                  const std::vector<std::vector<double>>& last) const;

  /// Its ordering, for the next matrix of the same pattern.
  [[nodiscard]] std::shared_ptr<const FactorOrdering> ordering() const;

  /// Bytes of the factor.
  [[nodiscard]] std::size_t bytes() const;

  /// Operations that the factorisation took.
  [[nodiscard]] double operations() const;

private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

} // namespace hangtrue::linear_algebra
