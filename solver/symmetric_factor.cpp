#include "solver/symmetric_factor.hpp"

#include "meshing/errors.hpp"

#include <cholmod.h>

#include <algorithm>
#include <numeric>
#include <string>

namespace hangtrue
{

BlockMatrix block_pattern(int nodes, const std::vector<std::array<int, 27>>& cells)
{
  std::vector<std::vector<int>> below(nodes);
  for (const auto& cell : cells)
    for (const int a : cell)
      for (const int b : cell)
        if (b >= a)
          below[a].push_back(b);
  BlockMatrix matrix;
  matrix.start.push_back(0);
  for (auto& column : below) {
    std::sort(column.begin(), column.end());
    column.erase(std::unique(column.begin(), column.end()), column.end());
    matrix.row.insert(matrix.row.end(), column.begin(), column.end());
    matrix.start.push_back(static_cast<int>(matrix.row.size()));
    column = {};
  }
  matrix.block.assign(matrix.row.size(), {});
  return matrix;
}

void add_block(BlockMatrix& matrix, int row, int column, const std::array<double, 9>& value)
{
  const auto first = matrix.row.begin() + matrix.start[column];
  const auto last = matrix.row.begin() + matrix.start[column + 1];
  const auto place = std::lower_bound(first, last, row) - matrix.row.begin();
  auto& block = matrix.block[place];
  for (int k = 0; k < 9; ++k)
    block[k] += value[k];
}

namespace
{

// The library gives nothing where there is no memory.
template <class T>
T* there(T* made)
{
  if (made == nullptr)
    throw ComputeError("stiffness: there is not enough memory; ask for a coarser answer "
                       "([accuracy] in the door file)");
  return made;
}

} // namespace

struct SymmetricFactor::Parts {
  mutable cholmod_common common{};
  cholmod_factor* factor = nullptr;
  std::vector<int> unknown; // of 3 node + component, -1 when held
  std::vector<int> order;
  int count = 0;

  Parts() { cholmod_start(&common); }
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;
  ~Parts()
  {
    cholmod_free_factor(&factor, &common);
    cholmod_finish(&common);
  }
};

namespace
{

// Nested dissection of the nodes; three unknowns of a node stay together.
std::vector<int> node_order(const BlockMatrix& matrix, cholmod_common& common)
{
  const int n = matrix.size();
  cholmod_sparse* graph =
      there(cholmod_allocate_sparse(n, n, matrix.row.size(), 1, 1, -1, CHOLMOD_PATTERN, &common));
  std::copy(matrix.start.begin(), matrix.start.end(), static_cast<int*>(graph->p));
  std::copy(matrix.row.begin(), matrix.row.end(), static_cast<int*>(graph->i));
  std::vector<int> order(n);
  const int done = cholmod_metis(graph, nullptr, 0, 1, order.data(), &common);
  cholmod_free_sparse(&graph, &common);
  if (done == 0)
    std::iota(order.begin(), order.end(), 0);
  return order;
}

std::vector<int> expand(const std::vector<int>& nodes, const std::vector<int>& unknown)
{
  std::vector<int> order;
  for (const int n : nodes)
    for (int c = 0; c < 3; ++c)
      if (unknown[3 * n + c] >= 0)
        order.push_back(unknown[3 * n + c]);
  return order;
}

cholmod_sparse* compress(const BlockMatrix& matrix, const std::vector<int>& unknown, int count,
                         cholmod_common& common)
{
  cholmod_sparse* a = there(cholmod_allocate_sparse(count, count, 9 * matrix.row.size(), 1, 1, -1,
                                                    CHOLMOD_REAL, &common));
  int* start = static_cast<int*>(a->p);
  int* row = static_cast<int*>(a->i);
  double* value = static_cast<double*>(a->x);
  int filled = 0;
  for (int node = 0; node < matrix.size(); ++node)
    for (int c = 0; c < 3; ++c) {
      const int column = unknown[3 * node + c];
      if (column < 0)
        continue;
      start[column] = filled;
      for (int k = matrix.start[node]; k < matrix.start[node + 1]; ++k)
        for (int r = 0; r < 3; ++r) {
          const int at = unknown[3 * matrix.row[k] + r];
          if (at < column)
            continue;
          row[filled] = at;
          value[filled++] = matrix.block[k][3 * c + r];
        }
    }
  start[count] = filled;
  return a;
}

} // namespace

SymmetricFactor::SymmetricFactor(const BlockMatrix& matrix, const std::vector<char>& held,
                                 const SymmetricFactor* like)
    : parts_(std::make_unique<Parts>())
{
  Parts& p = *parts_;
  p.unknown.assign(3 * matrix.size(), -1);
  for (std::size_t u = 0; u < p.unknown.size(); ++u)
    if (held[u] == 0)
      p.unknown[u] = p.count++;
  p.common.supernodal = CHOLMOD_SUPERNODAL;
  p.common.print = 0;
  p.common.nmethods = 1;
  p.common.method[0].ordering = CHOLMOD_GIVEN;
  p.common.postorder = 1;
  p.order = like != nullptr && like->parts_->unknown == p.unknown
                ? like->parts_->order
                : expand(node_order(matrix, p.common), p.unknown);
  cholmod_sparse* a = compress(matrix, p.unknown, p.count, p.common);
  p.factor = cholmod_analyze_p(a, p.order.data(), nullptr, 0, &p.common);
  if (p.factor != nullptr)
    cholmod_factorize(a, p.factor, &p.common);
  cholmod_free_sparse(&a, &p.common);
  if (p.common.status == CHOLMOD_OUT_OF_MEMORY)
    throw ComputeError("stiffness: not enough memory to factor " + std::to_string(p.count) +
                       " unknowns; ask for a coarser answer ([accuracy] in the door file)");
  if (p.common.status != CHOLMOD_OK)
    throw ComputeError(
        "stiffness: a part of the door is not held by anything, or its sizes are too "
        "far apart to compute with; look for a part that is not welded on");
}

SymmetricFactor::~SymmetricFactor() = default;
SymmetricFactor::SymmetricFactor(SymmetricFactor&&) noexcept = default;
SymmetricFactor& SymmetricFactor::operator=(SymmetricFactor&&) noexcept = default;

std::vector<std::vector<double>>
SymmetricFactor::solve(const std::vector<std::vector<double>>& right_sides) const
{
  const Parts& p = *parts_;
  const std::size_t columns = right_sides.size();
  cholmod_dense* b =
      there(cholmod_allocate_dense(p.count, columns, p.count, CHOLMOD_REAL, &p.common));
  auto* values = static_cast<double*>(b->x);
  for (std::size_t k = 0; k < columns; ++k)
    for (std::size_t u = 0; u < p.unknown.size(); ++u)
      if (p.unknown[u] >= 0)
        values[k * p.count + p.unknown[u]] = right_sides[k][u];
  cholmod_dense* x = cholmod_solve(CHOLMOD_A, p.factor, b, &p.common);
  cholmod_free_dense(&b, &p.common);
  there(x);
  const auto* found = static_cast<const double*>(x->x);
  std::vector<std::vector<double>> solutions(columns, std::vector<double>(p.unknown.size(), 0.0));
  for (std::size_t k = 0; k < columns; ++k)
    for (std::size_t u = 0; u < p.unknown.size(); ++u)
      if (p.unknown[u] >= 0)
        solutions[k][u] = found[k * p.count + p.unknown[u]];
  cholmod_free_dense(&x, &p.common);
  return solutions;
}

std::size_t SymmetricFactor::bytes() const
{
  return parts_->factor == nullptr ? 0 : parts_->factor->xsize * sizeof(double);
}

double SymmetricFactor::operations() const
{
  return parts_->common.fl;
}

} // namespace hangtrue
