// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear_algebra/scalar_cholesky.hpp"

#include "meshing/common/c_rand_lock.hpp"
#include "meshing/common/errors.hpp"
#include "solver/linear_algebra/cholmod_check.hpp"
#include "solver/linear_algebra/cholmod_workspace.hpp"
#include "solver/linear_algebra/lower_pattern.hpp"

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <utility>

namespace hangtrue::linear_algebra
{

ScalarMatrix scalar_pattern(int nodes, const std::vector<std::array<int, 27>>& cells)
{
  LowerPattern pattern = lower_pattern(nodes, cells);
  const std::size_t entries = pattern.row.size();
  return {std::move(pattern.start), std::move(pattern.row), std::vector<double>(entries, 0.0)};
}

int position_of(const ScalarMatrix& matrix, int row, int column)
{
  return position_in(matrix.start, matrix.row, row, column);
}

struct ScalarCholesky::Parts {
  mutable CholmodWorkspace work;
  cholmod_factor* factor = nullptr;
  cholmod_sparse* matrix = nullptr; // lower triangle in the order of the factor
  std::vector<int> place;           // of an unknown in that order
  std::vector<int> value_at;        // of a value of the pattern among the matrix's

  Parts() = default;
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;
  ~Parts()
  {
    cholmod_free_sparse(&matrix, &work.common);
    cholmod_free_factor(&factor, &work.common);
  }
};

namespace
{

// Nested dissection, columns of one group together: place of every unknown in that order.
std::vector<int> order_of(const ScalarMatrix& pattern, cholmod_common& common)
{
  common.method[0].ordering = CHOLMOD_NESDIS;
  common.postorder = 1;
  cholmod_sparse* matrix =
      check_allocation(cholmod_allocate_sparse(pattern.size(), pattern.size(), pattern.row.size(),
                                               1, 1, -1, CHOLMOD_PATTERN, &common),
                       "heat");
  std::copy(pattern.start.begin(), pattern.start.end(), static_cast<int*>(matrix->p));
  std::copy(pattern.row.begin(), pattern.row.end(), static_cast<int*>(matrix->i));
  const auto lock = lock_c_rand();
  cholmod_factor* factor = cholmod_analyze(matrix, &common);
  cholmod_free_sparse(&matrix, &common);
  check_allocation(factor, "heat");
  std::vector<int> place(pattern.size());
  for (int i = 0; i < pattern.size(); ++i)
    place[static_cast<const int*>(factor->Perm)[i]] = i;
  cholmod_free_factor(&factor, &common);
  return place;
}

// The empty matrix in the order of the factor, and where each value of the pattern goes.
template <typename Parts>
void put_in_order(const ScalarMatrix& pattern, Parts& p)
{
  const int n = pattern.size();
  p.matrix = check_allocation(
      cholmod_allocate_sparse(n, n, pattern.row.size(), 0, 1, -1, CHOLMOD_REAL, &p.work.common),
      "heat");
  auto visit = [&](const auto& entry) {
    for (int column = 0; column < n; ++column)
      for (int k = pattern.start[column]; k < pattern.start[column + 1]; ++k)
        entry(std::minmax(p.place[column], p.place[pattern.row[k]]), k);
  };
  std::vector<int> length(n, 0);
  visit([&](const std::pair<int, int>& index, int) { ++length[index.first]; });
  int* start = static_cast<int*>(p.matrix->p);
  start[0] = 0;
  std::partial_sum(length.begin(), length.end(), start + 1);
  std::vector<int> next(start, start + n);
  p.value_at.resize(pattern.row.size());
  visit([&](const std::pair<int, int>& index, int k) {
    p.value_at[k] = next[index.first];
    static_cast<int*>(p.matrix->i)[next[index.first]++] = index.second;
  });
}

} // namespace

ScalarCholesky::ScalarCholesky(const ScalarMatrix& pattern) : parts_(std::make_unique<Parts>())
{
  Parts& p = *parts_;
  p.work.use_given_order();
  p.place = order_of(pattern, p.work.common);
  put_in_order(pattern, p);
  // The library would sort a matrix in any other order anew before every factorization.
  p.work.use_given_order();
  p.factor = check_allocation(cholmod_analyze(p.matrix, &p.work.common), "heat");
}

ScalarCholesky::~ScalarCholesky() = default;
ScalarCholesky::ScalarCholesky(ScalarCholesky&&) noexcept = default;
ScalarCholesky& ScalarCholesky::operator=(ScalarCholesky&&) noexcept = default;

void ScalarCholesky::factor(const ScalarMatrix& matrix)
{
  Parts& p = *parts_;
  for (std::size_t k = 0; k < matrix.value.size(); ++k)
    static_cast<double*>(p.matrix->x)[p.value_at[k]] = matrix.value[k];
  cholmod_factorize(p.matrix, p.factor, &p.work.common);
  if (p.work.common.status == CHOLMOD_OUT_OF_MEMORY)
    check_allocation<void>(nullptr, "heat");
  if (p.work.common.status != CHOLMOD_OK)
    throw ComputeError("heat: a part of the door has no way to take up or give off heat");
}

std::vector<double> ScalarCholesky::solve(const std::vector<double>& right) const
{
  const Parts& p = *parts_;
  cholmod_dense* b = check_allocation(
      cholmod_allocate_dense(right.size(), 1, right.size(), CHOLMOD_REAL, &p.work.common), "heat");
  for (std::size_t u = 0; u < right.size(); ++u)
    static_cast<double*>(b->x)[p.place[u]] = right[u];
  cholmod_dense* x = cholmod_solve(CHOLMOD_A, p.factor, b, &p.work.common);
  cholmod_free_dense(&b, &p.work.common);
  check_allocation(x, "heat");
  const auto* found = static_cast<const double*>(x->x);
  std::vector<double> solution(right.size());
  for (std::size_t u = 0; u < right.size(); ++u)
    solution[u] = found[p.place[u]];
  cholmod_free_dense(&x, &p.work.common);
  return solution;
}

} // namespace hangtrue::linear_algebra
