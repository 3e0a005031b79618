// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear_algebra/block_cholesky.hpp"

#include "meshing/common/c_rand_lock.hpp"
#include "meshing/common/errors.hpp"
#include "solver/linear_algebra/cholmod_check.hpp"
#include "solver/linear_algebra/cholmod_workspace.hpp"
#include "solver/linear_algebra/lower_pattern.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <numeric>
#include <string>
#include <utility>

namespace hangtrue::linear_algebra
{

BlockMatrix block_pattern(int nodes, const std::vector<std::array<int, 27>>& cells)
{
  LowerPattern pattern = lower_pattern(nodes, cells);
  BlockMatrix matrix{std::move(pattern.start), std::move(pattern.row), {}};
  matrix.block.assign(matrix.row.size(), {});
  return matrix;
}

void add_block(BlockMatrix& matrix, int row, int column, const std::array<double, 9>& value)
{
  auto& block = matrix.block[position_in(matrix.start, matrix.row, row, column)];
  for (int k = 0; k < 9; ++k)
    block[k] += value[k];
}

struct FactorOrdering::Parts {
  CholmodWorkspace work;
  cholmod_factor* shape = nullptr; // of the factor, without values
  std::vector<int> place; // in the order of the factor, of 3 node + component, -1 when held
  int count = 0;
  int last = 0; // unknowns that are eliminated last

  ~Parts() { cholmod_free_factor(&shape, &work.common); }
};

struct BlockCholesky::Parts {
  CholmodWorkspace work;
  cholmod_factor* factor = nullptr;
  std::shared_ptr<const FactorOrdering> ordering;

  [[nodiscard]] const FactorOrdering::Parts& in_order() const { return *ordering->parts_; }
  ~Parts() { cholmod_free_factor(&factor, &work.common); }
};

namespace
{

// Nested dissection of the nodes but those whose unknowns are all among the `last`.
std::vector<int> node_order(const BlockMatrix& matrix, const std::vector<int>& last,
                            cholmod_common& common)
{
  std::vector<int> waits(matrix.size(), 0);
  for (const int u : last)
    ++waits[u / 3];
  std::vector<int> number(matrix.size(), 0);
  for (int i = 0; i < matrix.size(); ++i)
    if (waits[i] == 3)
      number[i] = -1;
  std::vector<int> node;
  for (int i = 0; i < matrix.size(); ++i)
    if (number[i] == 0) {
      number[i] = static_cast<int>(node.size());
      node.push_back(i);
    }
  const auto n = node.size();
  cholmod_sparse* graph = check_allocation(
      cholmod_allocate_sparse(n, n, matrix.row.size(), 1, 1, -1, CHOLMOD_PATTERN, &common),
      "stiffness");
  int* start = static_cast<int*>(graph->p);
  int* row = static_cast<int*>(graph->i);
  int filled = 0;
  for (std::size_t i = 0; i < n; ++i) {
    start[i] = filled;
    for (int k = matrix.start[node[i]]; k < matrix.start[node[i] + 1]; ++k)
      if (number[matrix.row[k]] >= 0)
        row[filled++] = number[matrix.row[k]];
  }
  start[n] = filled;
  std::vector<int> order(n);
  const auto lock = lock_c_rand();
  std::vector<int> parent(n); // of the separators, not used
  std::vector<int> member(n);
  const auto done = cholmod_nested_dissection(graph, nullptr, 0, order.data(), parent.data(),
                                              member.data(), &common);
  cholmod_free_sparse(&graph, &common);
  if (done < 0)
    std::iota(order.begin(), order.end(), 0);
  for (int& i : order)
    i = node[i];
  return order;
}

// Visits L of the last unknowns, by columns, in a supernodal factor: (row, column, value), both
// from the first of the last.
template <typename Seen>
void visit_last_corner(const cholmod_factor& factor, int last, const Seen& seen)
{
  const int first = static_cast<int>(factor.n) - last;
  const auto* group = static_cast<const int*>(factor.super);
  const auto* rows_of = static_cast<const int*>(factor.pi);
  const auto* values_of = static_cast<const int*>(factor.px);
  const auto* row = static_cast<const int*>(factor.s);
  const auto* value = static_cast<const double*>(factor.x);
  for (std::size_t g = 0; g < factor.nsuper; ++g) {
    const int rows = rows_of[g + 1] - rows_of[g];
    for (int column = std::max(first, group[g]); column < group[g + 1]; ++column) {
      const double* down =
          value + values_of[g] + static_cast<std::ptrdiff_t>(rows) * (column - group[g]);
      for (int i = 0; i < rows; ++i)
        if (const int index = row[rows_of[g] + i]; index >= column)
          seen(static_cast<std::size_t>(index - first), static_cast<std::size_t>(column - first),
               down[i]);
    }
  }
}

// Numbers the free unknowns in the order of their nodes, the `last` ones behind.
std::vector<int> number(const std::vector<int>& nodes, const std::vector<char>& held,
                        const std::vector<int>& last)
{
  std::vector<char> waits = held;
  for (const int u : last)
    waits[u] = 1;
  std::vector<int> place(held.size(), -1);
  int count = 0;
  for (const int n : nodes)
    for (int u = 3 * n; u < 3 * n + 3; ++u)
      if (waits[u] == 0)
        place[u] = count++;
  for (const int u : last)
    place[u] = count++;
  return place;
}

bool same_held(const std::vector<int>& place, const std::vector<char>& held)
{
  return std::equal(place.begin(), place.end(), held.begin(), held.end(),
                    [](int index, char h) { return (index < 0) == (h != 0); });
}

// Lower triangle in the order of the factor: the library would otherwise sort a matrix in any other
// order twice. Rows of a column need not rise.
cholmod_sparse* compress(const BlockMatrix& matrix, const std::vector<int>& place, int count,
                         cholmod_common& common)
{
  std::vector<int> length(count, 0);
  auto visit = [&](const auto& entry) {
    for (int node = 0; node < matrix.size(); ++node)
      for (int k = matrix.start[node]; k < matrix.start[node + 1]; ++k) {
        const int other = matrix.row[k];
        for (int c = 0; c < 3; ++c)
          for (int r = node == other ? c : 0; r < 3; ++r) {
            const int column = place[3 * node + c];
            const int row = place[3 * other + r];
            if (column >= 0 && row >= 0)
              entry(std::min(column, row), std::max(column, row), matrix.block[k][3 * c + r]);
          }
      }
  };
  visit([&](int column, int, double) { ++length[column]; });
  const int all = std::accumulate(length.begin(), length.end(), 0);
  cholmod_sparse* a = check_allocation(
      cholmod_allocate_sparse(count, count, all, 0, 1, -1, CHOLMOD_REAL, &common), "stiffness");
  int* start = static_cast<int*>(a->p);
  int* row_of = static_cast<int*>(a->i);
  double* value = static_cast<double*>(a->x);
  start[0] = 0;
  std::partial_sum(length.begin(), length.end(), start + 1);
  std::vector<int> next(start, start + count);
  visit([&](int column, int row, double v) {
    row_of[next[column]] = row;
    value[next[column]++] = v;
  });
  return a;
}

// Reorders the unknowns so that the factor's supernodes are contiguous; true when those at the end
// stay at the end. Postordering leaves them there when the graph of all the rest is connected.
bool assign_groups(const BlockMatrix& matrix, int last, std::vector<int>& place, int count,
                   cholmod_common& common)
{
  cholmod_sparse* a = compress(matrix, place, count, common);
  common.postorder = 1;
  cholmod_factor* factor = cholmod_analyze(a, &common);
  cholmod_free_sparse(&a, &common);
  common.postorder = 0;
  if (factor == nullptr)
    return false;
  std::vector<int> moved(count);
  for (int i = 0; i < count; ++i)
    moved[static_cast<const int*>(factor->Perm)[i]] = i;
  cholmod_free_factor(&factor, &common);
  for (int i = count - last; i < count; ++i)
    if (moved[i] != i)
      return false;
  for (int& index : place)
    if (index >= 0)
      index = moved[index];
  return true;
}

} // namespace

FactorOrdering::FactorOrdering() : parts_(std::make_unique<Parts>()) {}
FactorOrdering::~FactorOrdering() = default;

bool FactorOrdering::fits(const std::vector<char>& held, std::size_t last) const
{
  return static_cast<std::size_t>(parts_->last) == last && same_held(parts_->place, held);
}

BlockCholesky::BlockCholesky(BlockMatrix matrix, const std::vector<char>& held,
                             std::shared_ptr<const FactorOrdering> like,
                             const std::vector<int>& last)
    : parts_(std::make_unique<Parts>())
{
  Parts& p = *parts_;
  p.work.use_given_order();
  std::shared_ptr<FactorOrdering> fresh;
  if (like != nullptr && like->fits(held, last.size())) {
    p.ordering = std::move(like);
  } else {
    fresh.reset(new FactorOrdering);
    FactorOrdering::Parts& o = *fresh->parts_;
    o.count = static_cast<int>(std::count(held.begin(), held.end(), 0));
    o.last = static_cast<int>(last.size());
    o.place = number(node_order(matrix, last, p.work.common), held, last);
    assign_groups(matrix, o.last, o.place, o.count, p.work.common);
    p.ordering = fresh;
  }
  const int count = p.in_order().count;
  cholmod_sparse* a = compress(matrix, p.in_order().place, count, p.work.common);
  matrix = {};
  if (fresh != nullptr)
    fresh->parts_->shape = cholmod_analyze(a, &p.work.common);
  if (p.in_order().shape != nullptr)
    p.factor = cholmod_copy_factor(p.in_order().shape, &p.work.common);
  if (p.factor != nullptr)
    cholmod_factorize(a, p.factor, &p.work.common);
  cholmod_free_sparse(&a, &p.work.common);
  const int status = p.work.common.status;
  cholmod_free_work(&p.work.common); // a twentieth of the factor, reused by the next one
  if (status == CHOLMOD_OUT_OF_MEMORY)
    throw ComputeError("stiffness: not enough memory to factor " + std::to_string(count) +
                       " unknowns; ask for a coarser answer ([accuracy] in the door file)");
  if (status != CHOLMOD_OK)
    throw ComputeError(
        "stiffness: a part of the door is not held by anything, or its sizes are too "
        "far apart to compute with; look for a part that is not welded on");
}

BlockCholesky::~BlockCholesky() = default;
BlockCholesky::BlockCholesky(BlockCholesky&&) noexcept = default;
BlockCholesky& BlockCholesky::operator=(BlockCholesky&&) noexcept = default;

std::vector<std::vector<double>>
BlockCholesky::solve(const std::vector<std::vector<double>>& right_sides) const
{
  const FactorOrdering::Parts& p = parts_->in_order();
  CholmodWorkspace work; // of this call: two threads may ask one factor
  const std::size_t columns = right_sides.size();
  cholmod_dense* b = check_allocation(
      cholmod_allocate_dense(p.count, columns, p.count, CHOLMOD_REAL, &work.common), "stiffness");
  auto* values = static_cast<double*>(b->x);
  for (std::size_t k = 0; k < columns; ++k)
    for (std::size_t u = 0; u < p.place.size(); ++u)
      if (p.place[u] >= 0)
        values[k * p.count + p.place[u]] = right_sides[k][u];
  cholmod_dense* x = cholmod_solve(CHOLMOD_A, parts_->factor, b, &work.common);
  cholmod_free_dense(&b, &work.common);
  check_allocation(x, "stiffness");
  const auto* found = static_cast<const double*>(x->x);
  std::vector<std::vector<double>> solutions(columns, std::vector<double>(p.place.size(), 0.0));
  for (std::size_t k = 0; k < columns; ++k)
    for (std::size_t u = 0; u < p.place.size(); ++u)
      if (p.place[u] >= 0)
        solutions[k][u] = found[k * p.count + p.place[u]];
  cholmod_free_dense(&x, &work.common);
  return solutions;
}

std::vector<double> BlockCholesky::schur_complement() const
{
  const auto n = static_cast<std::size_t>(parts_->in_order().last);
  std::vector<double> result(n * n, 0.0);
  if (n == 0) // BLAS takes no empty matrix
    return result;
  std::vector<double> lower(n * n, 0.0);
  visit_last_corner(*parts_->factor, parts_->in_order().last,
                    [&](std::size_t i, std::size_t j, double v) { lower[i + n * j] = v; });
  using Matrix = Eigen::MatrixXd;
  const auto size = static_cast<Eigen::Index>(n);
  const Eigen::Map<const Matrix> l(lower.data(), size, size);
  Eigen::Map<Matrix> s(result.data(), size, size);
  s.selfadjointView<Eigen::Lower>().rankUpdate(l);
  s.triangularView<Eigen::StrictlyUpper>() = s.transpose();
  return result;
}

std::vector<BlockCholesky::ForwardSolution>
BlockCholesky::forward_eliminate(const std::vector<std::vector<double>>& right_sides) const
{
  const FactorOrdering::Parts& p = parts_->in_order();
  CholmodWorkspace work; // of this call: two threads may ask one factor
  const auto count = static_cast<std::size_t>(p.count);
  const auto last = static_cast<std::size_t>(p.last);
  cholmod_dense* b = check_allocation(
      cholmod_allocate_dense(count, right_sides.size(), count, CHOLMOD_REAL, &work.common),
      "stiffness");
  auto* values = static_cast<double*>(b->x);
  for (std::size_t k = 0; k < right_sides.size(); ++k)
    for (std::size_t u = 0; u < p.place.size(); ++u)
      if (p.place[u] >= 0)
        values[k * count + p.place[u]] = right_sides[k][u];
  cholmod_dense* y = cholmod_solve(CHOLMOD_L, parts_->factor, b, &work.common);
  cholmod_free_dense(&b, &work.common);
  check_allocation(y, "stiffness");
  std::vector<ForwardSolution> result(right_sides.size());
  for (std::size_t k = 0; k < result.size(); ++k) {
    const double* found = static_cast<const double*>(y->x) + k * count;
    result[k].rest.assign(found, found + (count - last));
    result[k].interface.assign(last, 0.0);
    // What the last columns of L would take up.
    visit_last_corner(*parts_->factor, p.last, [&](std::size_t i, std::size_t j, double v) {
      result[k].interface[i] += v * found[count - last + j];
    });
  }
  cholmod_free_dense(&y, &work.common);
  return result;
}

std::vector<BlockCholesky::ForwardSolution> BlockCholesky::zero_forward(std::size_t count) const
{
  const auto last = static_cast<std::size_t>(parts_->in_order().last);
  const auto all = static_cast<std::size_t>(parts_->in_order().count);
  return {count, {std::vector<double>(all - last, 0.0), std::vector<double>(last, 0.0)}};
}

std::vector<std::vector<double>>
BlockCholesky::back_substitute(const std::vector<ForwardSolution>& forward,
                               const std::vector<std::vector<double>>& last_values) const
{
  const FactorOrdering::Parts& p = parts_->in_order();
  CholmodWorkspace work; // of this call: two threads may ask one factor
  const auto count = static_cast<std::size_t>(p.count);
  const auto last = static_cast<std::size_t>(p.last);
  cholmod_dense* y = check_allocation(
      cholmod_allocate_dense(count, forward.size(), count, CHOLMOD_REAL, &work.common),
      "stiffness");
  for (std::size_t k = 0; k < forward.size(); ++k) {
    double* values = static_cast<double*>(y->x) + k * count;
    std::copy(forward[k].rest.begin(), forward[k].rest.end(), values);
    std::fill(values + (count - last), values + count, 0.0);
    // L^T of the last ones, undone by the solve.
    visit_last_corner(*parts_->factor, p.last, [&](std::size_t i, std::size_t j, double v) {
      values[count - last + j] += v * last_values[k][i];
    });
  }
  cholmod_dense* x = cholmod_solve(CHOLMOD_Lt, parts_->factor, y, &work.common);
  cholmod_free_dense(&y, &work.common);
  check_allocation(x, "stiffness");
  std::vector<std::vector<double>> result(forward.size(), std::vector<double>(p.place.size(), 0.0));
  for (std::size_t k = 0; k < result.size(); ++k) {
    const double* found = static_cast<const double*>(x->x) + k * count;
    for (std::size_t u = 0; u < p.place.size(); ++u)
      if (p.place[u] >= 0)
        result[k][u] = found[p.place[u]];
  }
  cholmod_free_dense(&x, &work.common);
  return result;
}

std::shared_ptr<const FactorOrdering> BlockCholesky::ordering() const
{
  return parts_->ordering;
}

std::size_t BlockCholesky::bytes() const
{
  return parts_->factor->xsize * sizeof(double);
}

double BlockCholesky::operations() const
{
  return parts_->work.common.fl;
}

} // namespace hangtrue::linear_algebra
