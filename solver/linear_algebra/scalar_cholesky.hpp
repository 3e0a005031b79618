// SPDX-License-Identifier: GPL-3.0-or-later
// A sparse symmetric matrix with one unknown per node, and its factor (CHOLMOD), for repeated use
// with one pattern.
#pragma once

#include <array>
#include <memory>
#include <vector>

namespace hangtrue::linear_algebra
{

/// Lower triangle by columns: column `a` has rows `row[k]` >= a, rising, for k from `start[a]` to
/// `start[a + 1]`.
struct ScalarMatrix {
  std::vector<int> start;
  std::vector<int> row;
  std::vector<double> value;

  [[nodiscard]] int size() const { return static_cast<int>(start.size()) - 1; }
};

/// The empty pattern of a matrix whose cells couple the listed nodes with each other.
ScalarMatrix scalar_pattern(int nodes, const std::vector<std::array<int, 27>>& cells);

/// Place of (row, column), row >= column, among the values.
int position_of(const ScalarMatrix& matrix, int row, int column);

/// Factor of such a matrix; the ordering is found once.
class ScalarCholesky
{
public:
  /// Orders by the pattern. Throws ComputeError when memory is short.
  explicit ScalarCholesky(const ScalarMatrix& pattern);
  ~ScalarCholesky();
  ScalarCholesky(ScalarCholesky&&) noexcept;
  ScalarCholesky& operator=(ScalarCholesky&&) noexcept;
  ScalarCholesky(const ScalarCholesky&) = delete;
  ScalarCholesky& operator=(const ScalarCholesky&) = delete;

  /// Factors the values of a matrix of the same pattern. Throws ComputeError when it is not
  /// positive definite.
  void factor(const ScalarMatrix& matrix);

  /// Solves for one right-hand side.
  [[nodiscard]] std::vector<double> solve(const std::vector<double>& right) const;

private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

} // namespace hangtrue::linear_algebra
