#include "solver/symmetric_factor.hpp"

#include "meshing/errors.hpp"
#include "meshing/random_alone.hpp"
#include "solver/library_memory.hpp"

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

struct SymmetricFactor::Parts {
  mutable cholmod_common common{};
  cholmod_factor* factor = nullptr;
  std::vector<int> unknown; // of 3 node + component, -1 when held
  std::vector<int> order;
  std::vector<int> place;         // in the order of the factor, of 3 node + component, -1 when held
  std::vector<double> last_lower; // L of the last unknowns, by columns
  int count = 0;
  int last = 0; // unknowns that are eliminated last

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

// Nested dissection of the nodes, those named `last` behind all others; three unknowns of a node
// stay together.
std::vector<int> node_order(const BlockMatrix& matrix, const std::vector<int>& last,
                            cholmod_common& common)
{
  std::vector<int> number(matrix.size(), 0);
  for (const int l : last)
    number[l] = -1;
  std::vector<int> node;
  for (int i = 0; i < matrix.size(); ++i)
    if (number[i] == 0) {
      number[i] = static_cast<int>(node.size());
      node.push_back(i);
    }
  const auto n = node.size();
  cholmod_sparse* graph =
      there(cholmod_allocate_sparse(n, n, matrix.row.size(), 1, 1, -1, CHOLMOD_PATTERN, &common),
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
  const auto alone = random_alone();
  const int done = cholmod_metis(graph, nullptr, 0, 1, order.data(), &common);
  cholmod_free_sparse(&graph, &common);
  if (done == 0)
    std::iota(order.begin(), order.end(), 0);
  for (int& i : order)
    i = node[i];
  order.insert(order.end(), last.begin(), last.end());
  return order;
}

// Place of every unknown in the order of the factor.
std::vector<int> places(const cholmod_factor& factor, const std::vector<int>& unknown)
{
  std::vector<int> inverse(factor.n);
  for (std::size_t i = 0; i < factor.n; ++i)
    inverse[static_cast<const int*>(factor.Perm)[i]] = static_cast<int>(i);
  std::vector<int> place(unknown.size(), -1);
  for (std::size_t u = 0; u < unknown.size(); ++u)
    if (unknown[u] >= 0)
      place[u] = inverse[unknown[u]];
  return place;
}

// The lower right corner of a factor kept in dense groups of columns.
std::vector<double> last_corner(const cholmod_factor& factor, int last)
{
  const auto count = static_cast<std::size_t>(last);
  const int first = static_cast<int>(factor.n) - last;
  const auto* group = static_cast<const int*>(factor.super);
  const auto* rows_of = static_cast<const int*>(factor.pi);
  const auto* values_of = static_cast<const int*>(factor.px);
  const auto* row = static_cast<const int*>(factor.s);
  const auto* value = static_cast<const double*>(factor.x);
  std::vector<double> lower(count * count, 0.0);
  for (std::size_t g = 0; g < factor.nsuper; ++g) {
    const int rows = rows_of[g + 1] - rows_of[g];
    for (int column = std::max(first, group[g]); column < group[g + 1]; ++column)
      for (int i = 0; i < rows; ++i) {
        const int at = row[rows_of[g] + i];
        if (at >= column)
          lower[static_cast<std::size_t>(at - first) + count * (column - first)] =
              value[static_cast<std::size_t>(values_of[g]) + i +
                    static_cast<std::size_t>(rows) * (column - group[g])];
      }
  }
  return lower;
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
  cholmod_sparse* a = there(
      cholmod_allocate_sparse(count, count, 9 * matrix.row.size(), 1, 1, -1, CHOLMOD_REAL, &common),
      "stiffness");
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
                                 const SymmetricFactor* like, const std::vector<int>& last)
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
                : expand(node_order(matrix, last, p.common), p.unknown);
  cholmod_sparse* a = compress(matrix, p.unknown, p.count, p.common);
  p.last = 3 * static_cast<int>(last.size());
  p.factor = cholmod_analyze_p(a, p.order.data(), nullptr, 0, &p.common);
  auto out_of_place = [&] {
    p.place = places(*p.factor, p.unknown);
    for (int l = 0; l < p.last; ++l)
      if (p.place[3 * last[l / 3] + l % 3] != p.count - p.last + l)
        return true;
    return false;
  };
  // Postordering keeps the last ones last when all the rest hangs together; without, they stay.
  if (p.factor != nullptr && out_of_place()) {
    cholmod_free_factor(&p.factor, &p.common);
    p.common.postorder = 0;
    p.factor = cholmod_analyze_p(a, p.order.data(), nullptr, 0, &p.common);
    if (p.factor != nullptr && out_of_place())
      throw ComputeError("stiffness: the joints of a part could not be put last");
  }
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
  if (p.last > 0)
    p.last_lower = last_corner(*p.factor, p.last);
}

SymmetricFactor::~SymmetricFactor() = default;
SymmetricFactor::SymmetricFactor(SymmetricFactor&&) noexcept = default;
SymmetricFactor& SymmetricFactor::operator=(SymmetricFactor&&) noexcept = default;

std::vector<std::vector<double>>
SymmetricFactor::solve(const std::vector<std::vector<double>>& right_sides) const
{
  const Parts& p = *parts_;
  const std::size_t columns = right_sides.size();
  cholmod_dense* b = there(
      cholmod_allocate_dense(p.count, columns, p.count, CHOLMOD_REAL, &p.common), "stiffness");
  auto* values = static_cast<double*>(b->x);
  for (std::size_t k = 0; k < columns; ++k)
    for (std::size_t u = 0; u < p.unknown.size(); ++u)
      if (p.unknown[u] >= 0)
        values[k * p.count + p.unknown[u]] = right_sides[k][u];
  cholmod_dense* x = cholmod_solve(CHOLMOD_A, p.factor, b, &p.common);
  cholmod_free_dense(&b, &p.common);
  there(x, "stiffness");
  const auto* found = static_cast<const double*>(x->x);
  std::vector<std::vector<double>> solutions(columns, std::vector<double>(p.unknown.size(), 0.0));
  for (std::size_t k = 0; k < columns; ++k)
    for (std::size_t u = 0; u < p.unknown.size(); ++u)
      if (p.unknown[u] >= 0)
        solutions[k][u] = found[k * p.count + p.unknown[u]];
  cholmod_free_dense(&x, &p.common);
  return solutions;
}

std::vector<double> SymmetricFactor::last_matrix() const
{
  const auto n = static_cast<std::size_t>(parts_->last);
  const std::vector<double>& lower = parts_->last_lower;
  std::vector<double> made(n * n, 0.0);
  for (std::size_t k = 0; k < n; ++k) // L L^T, one column of L after the other
    for (std::size_t j = k; j < n; ++j)
      for (std::size_t i = j; i < n; ++i)
        made[i + n * j] += lower[i + n * k] * lower[j + n * k];
  for (std::size_t j = 0; j < n; ++j)
    for (std::size_t i = j + 1; i < n; ++i)
      made[j + n * i] = made[i + n * j];
  return made;
}

std::vector<SymmetricFactor::Begun>
SymmetricFactor::begin(const std::vector<std::vector<double>>& right_sides) const
{
  const Parts& p = *parts_;
  const auto count = static_cast<std::size_t>(p.count);
  const auto last = static_cast<std::size_t>(p.last);
  cholmod_dense* b =
      there(cholmod_allocate_dense(count, right_sides.size(), count, CHOLMOD_REAL, &p.common),
            "stiffness");
  auto* values = static_cast<double*>(b->x);
  for (std::size_t k = 0; k < right_sides.size(); ++k)
    for (std::size_t u = 0; u < p.place.size(); ++u)
      if (p.place[u] >= 0)
        values[k * count + p.place[u]] = right_sides[k][u];
  cholmod_dense* y = cholmod_solve(CHOLMOD_L, p.factor, b, &p.common);
  cholmod_free_dense(&b, &p.common);
  there(y, "stiffness");
  std::vector<Begun> made(right_sides.size());
  for (std::size_t k = 0; k < made.size(); ++k) {
    const double* found = static_cast<const double*>(y->x) + k * count;
    made[k].rest.assign(found, found + (count - last));
    made[k].last.assign(last, 0.0);
    for (std::size_t j = 0; j < last; ++j) // what the last columns of L would take up
      for (std::size_t i = j; i < last; ++i)
        made[k].last[i] += p.last_lower[i + last * j] * found[count - last + j];
  }
  cholmod_free_dense(&y, &p.common);
  return made;
}

std::vector<std::vector<double>>
SymmetricFactor::finish(const std::vector<Begun>& begun,
                        const std::vector<std::vector<double>>& last_values) const
{
  const Parts& p = *parts_;
  const auto count = static_cast<std::size_t>(p.count);
  const auto last = static_cast<std::size_t>(p.last);
  cholmod_dense* y = there(
      cholmod_allocate_dense(count, begun.size(), count, CHOLMOD_REAL, &p.common), "stiffness");
  for (std::size_t k = 0; k < begun.size(); ++k) {
    double* values = static_cast<double*>(y->x) + k * count;
    std::copy(begun[k].rest.begin(), begun[k].rest.end(), values);
    for (std::size_t j = 0; j < last; ++j) { // L^T of the last ones, undone by the solve
      double sum = 0.0;
      for (std::size_t i = j; i < last; ++i)
        sum += p.last_lower[i + last * j] * last_values[k][i];
      values[count - last + j] = sum;
    }
  }
  cholmod_dense* x = cholmod_solve(CHOLMOD_Lt, p.factor, y, &p.common);
  cholmod_free_dense(&y, &p.common);
  there(x, "stiffness");
  std::vector<std::vector<double>> made(begun.size(), std::vector<double>(p.place.size(), 0.0));
  for (std::size_t k = 0; k < made.size(); ++k) {
    const double* found = static_cast<const double*>(x->x) + k * count;
    for (std::size_t u = 0; u < p.place.size(); ++u)
      if (p.place[u] >= 0)
        made[k][u] = found[p.place[u]];
  }
  cholmod_free_dense(&x, &p.common);
  return made;
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
