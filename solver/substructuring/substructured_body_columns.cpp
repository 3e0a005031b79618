// SPDX-License-Identifier: GPL-3.0-or-later
// Many sets of a few forces on a substructured body, solved with cached columns: without solving
// with the base.
#include "solver/substructuring/condensed_substructure.hpp"
#include "solver/substructuring/substructured_body.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace hangtrue::substructuring
{

namespace
{

using Matrix = Eigen::MatrixXd;
using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// Solves L L^T x = b, a column for each set of forces, where only the last `interface` rows of b
// may be nonzero, or only those of x are wanted.
void solve_substructured(const std::vector<double>& lower_of, Eigen::Index on_interface,
                         bool loaded, bool wanted, Matrix& x)
{
  const auto n = static_cast<Eigen::Index>(std::llround(std::sqrt(lower_of.size())));
  const Eigen::Map<const Matrix> lower(lower_of.data(), n, n);
  const auto corner =
      lower.bottomRightCorner(on_interface, on_interface).triangularView<Eigen::Lower>();
  if (loaded)
    lower.triangularView<Eigen::Lower>().solveInPlace(x);
  else if (on_interface > 0)
    corner.solveInPlace(x.bottomRows(on_interface));
  if (wanted)
    lower.triangularView<Eigen::Lower>().transpose().solveInPlace(x);
  else if (on_interface > 0)
    corner.transpose().solveInPlace(x.bottomRows(on_interface));
}

} // namespace

// A contact force acts on one substructure, or on two of one body.
struct SubstructuredBody::LoadedSets {
  std::vector<std::vector<std::vector<elasticity::NodeForce>>> sets; // of every loaded substructure
  std::vector<std::vector<std::size_t>> set_of;                      // whose they are
  std::vector<std::vector<std::size_t>> column_at;                   // of each, among its columns
  Matrix unsolved; // a column per set: forces on interface and retained, then displacements
  bool at_retained = false; // some of the forces
};

SubstructuredBody::LoadedSets SubstructuredBody::load_substructures(
    const std::vector<std::vector<elasticity::NodeForce>>& sets) const
{
  LoadedSets result;
  result.sets.resize(substructures_.size());
  result.set_of.resize(substructures_.size());
  result.unsolved =
      Matrix::Zero(static_cast<Eigen::Index>(unsolved()), static_cast<Eigen::Index>(sets.size()));
  for (std::size_t s = 0; s < sets.size(); ++s)
    for (const auto& f : sets[s]) {
      const int p = parts_.substructure_of[f.node];
      if (p == 0 && unsolved() > 0) {
        load_retained(f, result.unsolved.col(static_cast<Eigen::Index>(s)).data());
        result.at_retained = true;
        continue;
      }
      if (result.set_of[p].empty() || result.set_of[p].back() != s) {
        result.set_of[p].push_back(s);
        result.sets[p].emplace_back();
      }
      result.sets[p].back().push_back({parts_.local_of[f.node], inward(f.force)});
    }
  for (std::size_t p = 0; p < substructures_.size(); ++p) {
    result.column_at.push_back(result.sets[p].empty()
                                   ? std::vector<std::size_t>{}
                                   : substructures_[p]->compliance_columns(result.sets[p]));
    for (std::size_t i = 0; i < result.column_at[p].size() && p > 0; ++i) {
      const auto& own = substructures_[p]->column(result.column_at[p][i]).on_interface;
      for (std::size_t j = 0; j < own.size(); ++j)
        result.unsolved(static_cast<Eigen::Index>(retained_ + first_interface_[p - 1] + j),
                        static_cast<Eigen::Index>(result.set_of[p][i])) += own[j];
    }
  }
  return result;
}

void SubstructuredBody::displace_interfaces(const std::vector<int>& nodes, LoadedSets& loaded) const
{
  if (unsolved() == 0)
    return;
  const bool wanted = std::any_of(nodes.begin(), nodes.end(),
                                  [&](int n) { return parts_.substructure_of[n] == 0; });
  solve_substructured(lower_, static_cast<Eigen::Index>(interfaces_), loaded.at_retained, wanted,
                      loaded.unsolved);
}

// Displacements of a substructure under its own forces, interface fixed.
void SubstructuredBody::add_interior_displacements(int part, const std::vector<int>& nodes,
                                                   const std::vector<std::size_t>& here,
                                                   const LoadedSets& loaded,
                                                   std::vector<elasticity::NodeField>& result) const
{
  const auto& columns_at = loaded.column_at[part];
  for (std::size_t i = 0; i < columns_at.size(); ++i) {
    const auto& displacements = substructures_[part]->column(columns_at[i]).displacements;
    for (const std::size_t a : here)
      result[loaded.set_of[part][i]][a] +=
          displacements[substructures_[part]->boundary_index(parts_.local_of[nodes[a]])];
  }
}

void SubstructuredBody::add_retained_displacements(const std::vector<int>& nodes,
                                                   const std::vector<std::size_t>& here,
                                                   const LoadedSets& loaded,
                                                   std::vector<elasticity::NodeField>& result) const
{
  for (std::size_t s = 0; s < result.size(); ++s)
    for (const std::size_t a : here) {
      const auto first = 3 * static_cast<std::size_t>(parts_.local_of[nodes[a]]);
      const double* u = loaded.unsolved.col(static_cast<Eigen::Index>(s)).data();
      result[s][a] += {at_retained(u, first), at_retained(u, first + 1), at_retained(u, first + 2)};
    }
}

// Displacements of a hinge substructure by those of its interface.
void SubstructuredBody::add_interface_displacements(
    int part, const std::vector<int>& nodes, const std::vector<std::size_t>& here,
    const LoadedSets& loaded, std::vector<elasticity::NodeField>& result) const
{
  const auto count = static_cast<Eigen::Index>(substructures_[part]->interface_dofs());
  Rows rows(static_cast<Eigen::Index>(3 * here.size()), count);
  for (std::size_t a = 0; a < here.size(); ++a)
    rows.middleRows(static_cast<Eigen::Index>(3 * a), 3) = Eigen::Map<const Rows>(
        substructures_[part]->constraint_mode(3 * parts_.local_of[nodes[here[a]]]), 3, count);
  const auto first = static_cast<Eigen::Index>(retained_ + first_interface_[part - 1]);
  const Matrix along = rows * loaded.unsolved.middleRows(first, count);
  for (std::size_t s = 0; s < result.size(); ++s)
    for (std::size_t a = 0; a < here.size(); ++a) {
      const double* move =
          along.col(static_cast<Eigen::Index>(s)).data() + 3 * static_cast<std::ptrdiff_t>(a);
      result[s][here[a]] += Vec3{move[0], move[1], move[2]};
    }
}

std::vector<elasticity::NodeField>
SubstructuredBody::solve(const std::vector<std::vector<elasticity::NodeForce>>& sets,
                         const std::vector<int>& nodes) const
{
  if (sets.empty())
    return {};
  if (!columns_suffice(sets, nodes))
    return solve_through_base(sets, nodes);
  LoadedSets loaded = load_substructures(sets);
  displace_interfaces(nodes, loaded);
  std::vector<elasticity::NodeField> result(sets.size(), elasticity::NodeField(nodes.size()));
  for (int p = 0; p < static_cast<int>(substructures_.size()); ++p) {
    std::vector<std::size_t> here; // of `at`
    for (std::size_t a = 0; a < nodes.size(); ++a)
      if (parts_.substructure_of[nodes[a]] == p)
        here.push_back(a);
    add_interior_displacements(p, nodes, here, loaded, result);
    if (p == 0 && unsolved() > 0)
      add_retained_displacements(nodes, here, loaded, result);
    if (p > 0 && !here.empty())
      add_interface_displacements(p, nodes, here, loaded, result);
  }
  for (auto& field : result)
    for (auto& move : field)
      move = outward(move);
  return result;
}

} // namespace hangtrue::substructuring
