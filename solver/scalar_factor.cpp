#include "solver/scalar_factor.hpp"

#include "meshing/errors.hpp"
#include "meshing/random_alone.hpp"
#include "solver/library_memory.hpp"

#include <cholmod.h>

#include <algorithm>

namespace hangtrue
{

ScalarMatrix scalar_pattern(int nodes, const std::vector<std::array<int, 27>>& cells)
{
  std::vector<std::vector<int>> below(nodes);
  for (const auto& cell : cells)
    for (const int a : cell)
      for (const int b : cell)
        if (b >= a)
          below[a].push_back(b);
  ScalarMatrix matrix;
  matrix.start.push_back(0);
  for (auto& column : below) {
    std::sort(column.begin(), column.end());
    column.erase(std::unique(column.begin(), column.end()), column.end());
    matrix.row.insert(matrix.row.end(), column.begin(), column.end());
    matrix.start.push_back(static_cast<int>(matrix.row.size()));
    column = {};
  }
  matrix.value.assign(matrix.row.size(), 0.0);
  return matrix;
}

int place_of(const ScalarMatrix& matrix, int row, int column)
{
  const auto first = matrix.row.begin() + matrix.start[column];
  const auto last = matrix.row.begin() + matrix.start[column + 1];
  return static_cast<int>(std::lower_bound(first, last, row) - matrix.row.begin());
}

struct ScalarFactor::Parts {
  mutable cholmod_common common{};
  cholmod_factor* factor = nullptr;
  cholmod_sparse* matrix = nullptr;

  Parts() { cholmod_start(&common); }
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;
  ~Parts()
  {
    cholmod_free_sparse(&matrix, &common);
    cholmod_free_factor(&factor, &common);
    cholmod_finish(&common);
  }
};

ScalarFactor::ScalarFactor(const ScalarMatrix& pattern) : parts_(std::make_unique<Parts>())
{
  Parts& p = *parts_;
  p.common.print = 0;
  p.common.supernodal = CHOLMOD_SUPERNODAL;
  p.common.nmethods = 1;
  p.common.method[0].ordering = CHOLMOD_METIS;
  p.common.postorder = 1;
  p.matrix = there(cholmod_allocate_sparse(pattern.size(), pattern.size(), pattern.row.size(), 1, 1,
                                           -1, CHOLMOD_REAL, &p.common),
                   "heat");
  std::copy(pattern.start.begin(), pattern.start.end(), static_cast<int*>(p.matrix->p));
  std::copy(pattern.row.begin(), pattern.row.end(), static_cast<int*>(p.matrix->i));
  {
    const auto alone = random_alone();
    p.factor = there(cholmod_analyze(p.matrix, &p.common), "heat");
  }
}

ScalarFactor::~ScalarFactor() = default;
ScalarFactor::ScalarFactor(ScalarFactor&&) noexcept = default;
ScalarFactor& ScalarFactor::operator=(ScalarFactor&&) noexcept = default;

void ScalarFactor::factor(const ScalarMatrix& matrix)
{
  Parts& p = *parts_;
  std::copy(matrix.value.begin(), matrix.value.end(), static_cast<double*>(p.matrix->x));
  cholmod_factorize(p.matrix, p.factor, &p.common);
  if (p.common.status == CHOLMOD_OUT_OF_MEMORY)
    there<void>(nullptr, "heat");
  if (p.common.status != CHOLMOD_OK)
    throw ComputeError("heat: a part of the door has no way to take up or give off heat");
}

std::vector<double> ScalarFactor::solve(const std::vector<double>& right) const
{
  const Parts& p = *parts_;
  cholmod_dense* b =
      there(cholmod_allocate_dense(right.size(), 1, right.size(), CHOLMOD_REAL, &p.common), "heat");
  std::copy(right.begin(), right.end(), static_cast<double*>(b->x));
  cholmod_dense* x = cholmod_solve(CHOLMOD_A, p.factor, b, &p.common);
  cholmod_free_dense(&b, &p.common);
  there(x, "heat");
  const auto* found = static_cast<const double*>(x->x);
  std::vector<double> solution(found, found + right.size());
  cholmod_free_dense(&x, &p.common);
  return solution;
}

} // namespace hangtrue
