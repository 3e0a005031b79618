// A symmetric positive definite sparse matrix of 3 x 3 node blocks and its factor (CHOLMOD).
#pragma once

#include "meshing/common/vec3.hpp"

#include <array>
#include <memory>
#include <vector>

namespace hangtrue
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

/// Cholesky factor of the matrix with some unknowns fixed at zero.
class SymmetricFactor
{
public:
  /// Orders (nested dissection on the node graph) and factorizes; `held` marks unknowns 3 node +
  /// component that are fixed. `like` is a factor of a matrix of the same pattern and the same
  /// fixed unknowns, whose ordering is reused. The unknowns `last`, none of them fixed, are
  /// eliminated last, in this order, so that their Schur complement remains and other bodies can be
  /// coupled there. Throws ComputeError when the matrix is not positive definite.
  SymmetricFactor(BlockMatrix matrix, const std::vector<char>& held,
                  const SymmetricFactor* like = nullptr, const std::vector<int>& last = {});
  ~SymmetricFactor();
  SymmetricFactor(SymmetricFactor&&) noexcept;
  SymmetricFactor& operator=(SymmetricFactor&&) noexcept;
  SymmetricFactor(const SymmetricFactor&) = delete;
  SymmetricFactor& operator=(const SymmetricFactor&) = delete;

  /// Solves for several right-hand sides, each of 3 x nodes values; fixed unknowns come out zero.
  [[nodiscard]] std::vector<std::vector<double>>
  solve(const std::vector<std::vector<double>>& right_sides) const;

  /// What all other unknowns leave of the matrix at the unknowns of `last` (Schur complement), in
  /// their order, by columns.
  [[nodiscard]] std::vector<double> last_matrix() const;

  /// A forward elimination: all but the `last` unknowns eliminated from one right-hand side.
  struct Begun {
    std::vector<double> rest; ///< in the order of the factor
    std::vector<double> last; ///< remaining right-hand side of `last_matrix`
  };
  [[nodiscard]] std::vector<Begun> begin(const std::vector<std::vector<double>>& right_sides) const;

  /// Forward eliminations of right-hand sides that are all zero.
  [[nodiscard]] std::vector<Begun> nothing(std::size_t count) const;

  /// The back substitution, once the values of the `last` unknowns are known, per right-hand side.
  [[nodiscard]] std::vector<std::vector<double>>
  finish(const std::vector<Begun>& begun, const std::vector<std::vector<double>>& last) const;

  /// Releases the values; the ordering stays, for the next matrix of the same pattern. Nothing else
  /// may be called from then on; a solution throws std::logic_error.
  void keep_order_only();

  /// Bytes of the factor.
  [[nodiscard]] std::size_t bytes() const;

  /// Operations that the factorisation took.
  [[nodiscard]] double operations() const;

private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

} // namespace hangtrue
