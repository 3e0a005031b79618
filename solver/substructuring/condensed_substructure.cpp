// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/substructuring/condensed_substructure.hpp"

#include "meshing/common/errors.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/substructuring/substructures.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace hangtrue::substructuring
{

namespace
{

constexpr std::size_t columns_per_block = 32; // right-hand sides per block: enough for level-3 BLAS
// The same where a column must not depend on its position in the block: widths of 16 and 32 do with
// OpenBLAS's kernels for AVX-512, 4, 8, 12 and 24 do not (tests/unit/solver/factor_test.cpp).
constexpr std::size_t block_width = 12;

linear_algebra::BlockMatrix stiffness(const SubstructureContent& content)
{
  return elasticity::assemble_stiffness(fe::Discretization(body_of(content), content.groups),
                                        content.elasticity);
}

std::vector<char> held_marks(const SubstructureContent& content)
{
  std::vector<char> mark(3 * content.nodes.size(), 0);
  for (const auto& h : content.fixed_dofs)
    mark[3 * h.node + h.component] = 1;
  return mark;
}

// Interface and retained unknowns: eliminated last.
std::vector<int> waiting(const SubstructureContent& content)
{
  std::vector<int> last;
  for (const auto& s : content.retained)
    last.push_back(3 * s.node + s.component);
  for (const int n : content.interface)
    last.insert(last.end(), {3 * n, 3 * n + 1, 3 * n + 2});
  return last;
}

// A hinge substructure has no support but its interface: springs, N/m, as stiff as the steel there,
// so that it can be factorized. They act on what is eliminated last only, and are subtracted again
// there.
std::vector<double> add_interface_springs(const SubstructureContent& content,
                                          linear_algebra::BlockMatrix& matrix)
{
  std::vector<double> springs;
  for (const int n : content.interface) {
    auto& block = matrix.block[matrix.start[n]]; // the diagonal one comes first
    for (const int i : {0, 4, 8}) {
      springs.push_back(block[i]);
      block[i] *= 2.0;
    }
  }
  return springs;
}

std::vector<double> by_unknown(const std::vector<Vec3>& forces)
{
  std::vector<double> result;
  result.reserve(3 * forces.size());
  for (const auto& f : forces)
    result.insert(result.end(), {f.x, f.y, f.z});
  return result;
}

std::vector<Vec3> by_node(const std::vector<double>& values)
{
  std::vector<Vec3> result;
  result.reserve(values.size() / 3);
  for (std::size_t n = 0; n + 2 < values.size(); n += 3)
    result.push_back({values[n], values[n + 1], values[n + 2]});
  return result;
}

} // namespace

CondensedSubstructure::CondensedSubstructure(
    SubstructureKey content, std::shared_ptr<const linear_algebra::FactorOrdering> like,
    std::size_t loads)
    : key_(std::move(content)), content_(*key_), solutions_({.count = loads}),
      forward_solutions_({.count = loads})
{
  const std::size_t nodes = content_.nodes.size();
  linear_algebra::BlockMatrix matrix = stiffness(content_);
  if (content_.is_hinge_substructure)
    springs_ = add_interface_springs(content_, matrix);
  // The matrix is of the size of the factor's half: it goes before that comes.
  factor_.emplace(std::move(matrix), held_marks(content_), std::move(like), waiting(content_));
  if (content_.is_hinge_substructure)
    find_constraint_modes();
  Substructure shape;
  shape.corners = content_.cells;
  boundary_ = boundary_nodes(shape, nodes);
  boundary_index_.assign(nodes, -1);
  for (std::size_t i = 0; i < boundary_.size(); ++i)
    boundary_index_[boundary_[i]] = static_cast<int>(i);
}

std::vector<double> CondensedSubstructure::schur_complement() const
{
  std::vector<double> result = factor_->schur_complement();
  for (std::size_t u = 0; u < springs_.size(); ++u)
    result[u * (springs_.size() + 1)] -= springs_[u];
  return result;
}

// Constraint modes: displacements of all nodes for one metre of one interface unknown, the others
// fixed.
void CondensedSubstructure::find_constraint_modes()
{
  const std::size_t count = interface_dofs();
  const std::size_t unknowns = 3 * content_.nodes.size();
  constraint_modes_.assign(unknowns * count, 0.0);
  for (std::size_t first = 0; first < count; first += columns_per_block) {
    const std::size_t last = std::min(count, first + columns_per_block);
    std::vector<std::vector<double>> unit(last - first, std::vector<double>(count, 0.0));
    for (std::size_t u = first; u < last; ++u)
      unit[u - first][u] = 1.0;
    const auto found = factor_->back_substitute(factor_->zero_forward(last - first), unit);
    for (std::size_t u = first; u < last; ++u)
      for (std::size_t i = 0; i < unknowns; ++i)
        constraint_modes_[count * i + u] = found[u - first][i];
  }
}

std::vector<Vec3> CondensedSubstructure::solve(const std::vector<Vec3>& forces)
{
  if (auto known = solutions_.find(forces))
    return *std::move(known);
  std::vector<Vec3> displacements =
      by_node(solve_fixed_at_interface({by_unknown(forces)}).displacements.front());
  solutions_.insert(forces, displacements);
  return displacements;
}

std::shared_ptr<const linear_algebra::BlockCholesky::ForwardSolution>
CondensedSubstructure::forward_eliminate(const std::vector<Vec3>& forces)
{
  if (auto known = forward_solutions_.find(forces))
    return *std::move(known);
  auto forward = std::make_shared<const linear_algebra::BlockCholesky::ForwardSolution>(
      std::move(factor_->forward_eliminate({by_unknown(forces)}).front()));
  forward_solutions_.insert(forces, forward);
  return forward;
}

const CondensedSubstructure::ComplianceColumn&
CondensedSubstructure::column(std::size_t place) const
{
  const std::lock_guard<std::mutex> lock(mutex_);
  return columns_[place];
}

std::vector<Vec3> CondensedSubstructure::back_substitute(
    const linear_algebra::BlockCholesky::ForwardSolution& forward,
    const std::vector<double>& at_interface) const
{
  return by_node(factor_->back_substitute({forward}, {at_interface}).front());
}

// Forces on a grid as fine as the rounding of a rotation, for the same reason as coordinates.
std::vector<elasticity::NodeForce>
CondensedSubstructure::rounded(const std::vector<elasticity::NodeForce>& set)
{
  constexpr double grain = 0x1p-40; // of a unit force
  std::vector<elasticity::NodeForce> result = set;
  for (auto& f : result)
    f.force = {grain * std::round(f.force.x / grain), grain * std::round(f.force.y / grain),
               grain * std::round(f.force.z / grain)};
  return result;
}

std::vector<std::size_t> CondensedSubstructure::compliance_columns(
    const std::vector<std::vector<elasticity::NodeForce>>& sets)
{
  std::vector<std::vector<double>> keys;
  std::vector<std::vector<elasticity::NodeForce>> fresh;
  std::vector<std::vector<double>> fresh_keys;
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    std::set<std::vector<double>> requested;
    for (const auto& given : sets) {
      std::vector<elasticity::NodeForce> set = rounded(given);
      std::vector<double> key;
      for (const auto& f : set)
        key.insert(key.end(), {static_cast<double>(f.node), f.force.x, f.force.y, f.force.z});
      if (column_index_.count(key) == 0 && requested.insert(key).second) {
        fresh.push_back(std::move(set));
        fresh_keys.push_back(key);
      }
      keys.push_back(std::move(key));
    }
  }
  std::vector<ComplianceColumn> result;
  for (std::size_t first = 0; first < fresh.size(); first += block_width) {
    const auto from = fresh.begin() + static_cast<std::ptrdiff_t>(first);
    const auto width = static_cast<std::ptrdiff_t>(std::min(block_width, fresh.size() - first));
    for (auto& answer : column_block({from, from + width}))
      result.push_back(std::move(answer));
  }
  const std::lock_guard<std::mutex> lock(mutex_);
  for (std::size_t i = 0; i < result.size(); ++i) // unless another thread came first
    if (column_index_.try_emplace(fresh_keys[i], columns_.size()).second)
      columns_.push_back(std::move(result[i]));
  std::vector<std::size_t> places;
  places.reserve(keys.size());
  for (const auto& key : keys)
    places.push_back(column_index_.at(key));
  return places;
}

// Always of the same width, the rest zero: BLAS takes another path for other widths, and the last
// digits of a column would depend on its neighbours in the block.
std::vector<CondensedSubstructure::ComplianceColumn> CondensedSubstructure::column_block(
    const std::vector<std::vector<elasticity::NodeForce>>& sets) const
{
  std::vector<std::vector<double>> right(block_width,
                                         std::vector<double>(3 * content_.nodes.size(), 0.0));
  for (std::size_t s = 0; s < sets.size(); ++s)
    for (const auto& f : sets[s]) {
      right[s][3 * f.node] += f.force.x;
      right[s][3 * f.node + 1] += f.force.y;
      right[s][3 * f.node + 2] += f.force.z;
    }
  const FixedInterfaceSolution all = solve_fixed_at_interface(right);
  std::vector<ComplianceColumn> answers;
  for (std::size_t s = 0; s < sets.size(); ++s) {
    ComplianceColumn result;
    result.displacements.reserve(boundary_.size());
    for (const int n : boundary_)
      result.displacements.push_back({all.displacements[s][3 * n], all.displacements[s][3 * n + 1],
                                      all.displacements[s][3 * n + 2]});
    if (content_.is_hinge_substructure)
      result.on_interface = all.on_interface[s];
    answers.push_back(std::move(result));
  }
  return answers;
}

CondensedSubstructure::FixedInterfaceSolution CondensedSubstructure::solve_fixed_at_interface(
    const std::vector<std::vector<double>>& right_sides) const
{
  FixedInterfaceSolution result;
  if (!content_.is_hinge_substructure || content_.interface.empty()) {
    result.displacements = factor_->solve(right_sides);
    return result;
  }
  const auto forward = factor_->forward_eliminate(right_sides);
  const std::vector<std::vector<double>> still(forward.size(),
                                               std::vector<double>(interface_dofs(), 0.0));
  result.displacements = factor_->back_substitute(forward, still);
  for (const auto& b : forward)
    result.on_interface.push_back(b.interface);
  return result;
}

std::size_t CondensedSubstructure::bytes() const
{
  const std::lock_guard<std::mutex> lock(mutex_);
  return factor_->bytes() + sizeof(double) * constraint_modes_.size() +
         columns_.size() * boundary_.size() * sizeof(Vec3) +
         2 * (solutions_.size() + forward_solutions_.size()) * content_.nodes.size() *
             sizeof(Vec3) +
         content_.cells.size() * sizeof(std::array<int, 27>);
}

} // namespace hangtrue::substructuring
