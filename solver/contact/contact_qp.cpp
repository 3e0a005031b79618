// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/contact_qp.hpp"

#include "meshing/common/errors.hpp"
#include "solver/linear_algebra/goldfarb_idnani.hpp"

#include <Eigen/Dense>
#include <Eigen/QR>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace hangtrue::contact
{

namespace
{

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

Eigen::Map<const Matrix> view(const linear_algebra::DenseMatrix& m)
{
  return {m.value.data(), m.rows, m.columns};
}

// Solves k x = right; a rigid displacement that no active contact opposes stays at zero.
Vector solve_saddle_point(const Matrix& k, const Vector& right)
{
  auto refined = [&](const auto& factor) {
    Vector x = factor.solve(right);
    for (int refinement = 0; refinement < 2; ++refinement)
      x += factor.solve(right - k * x);
    return x;
  };
  const Eigen::PartialPivLU<Matrix> plain(k);
  constexpr double sound = 1e-11; // such a displacement gives a condition of rounding, near 1e-16
  if (plain.rcond() > sound)
    if (Vector x = refined(plain); x.allFinite()) // a pivot of exactly zero escapes `rcond`
      return x;
  return refined(Eigen::CompleteOrthogonalDecomposition<Matrix>(k));
}

} // namespace

ContactQPSolution solve_fixed_active_set(const ContactQP& program,
                                         const std::vector<int>& active_set,
                                         const std::vector<double>& gap,
                                         const std::vector<double>& load)
{
  const auto f = view(program.compliance);
  const auto g = view(program.rigid);
  const int n = static_cast<int>(active_set.size());
  const int m = static_cast<int>(g.cols());
  // Amplitudes are in m, contact forces in N: scale F to order one.
  const double unit = f.diagonal().maxCoeff();
  Matrix k = Matrix::Zero(n + m, n + m);
  Vector right(n + m);
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j)
      k(i, j) = f(active_set[i], active_set[j]) / unit;
    k.row(i).tail(m) = g.row(active_set[i]);
    k.col(i).tail(m) = g.row(active_set[i]).transpose();
    right[i] = -gap[active_set[i]] / unit;
  }
  for (int r = 0; r < m; ++r)
    right[n + r] = load[r];
  const Vector x = solve_saddle_point(k, right);

  ContactQPSolution solution;
  solution.contact_force.assign(program.gap.size(), 0.0);
  for (int i = 0; i < n; ++i)
    solution.contact_force[active_set[i]] = x[i];
  for (int r = 0; r < m; ++r)
    solution.amplitude.push_back(unit * x[n + r]);
  solution.active_set = active_set;
  return solution;
}

namespace
{

// True where the contact forces balance the load.
bool balances(const ContactQP& program, const ContactQPSolution& solution)
{
  const auto g = view(program.rigid);
  const Eigen::Map<const Vector> contact_force(solution.contact_force.data(), g.rows());
  if (!contact_force.allFinite())
    return false; // no comparison below would notice
  const double greatest = contact_force.cwiseAbs().maxCoeff();
  double left = 0.0;
  for (Eigen::Index r = 0; r < g.cols(); ++r)
    left = std::max(left, std::abs(g.col(r).dot(contact_force) - program.load[r]));
  return left <= 1e-9 * std::max(1.0, greatest);
}

// True when the forces of an active set satisfy the KKT conditions; else `next` is the set to try.
bool is_optimal(const ContactQP& program, const ContactQPSolution& tried, std::vector<int>& next)
{
  const auto f = view(program.compliance);
  const auto g = view(program.rigid);
  const Eigen::Map<const Vector> contact_force(tried.contact_force.data(), f.rows());
  const Eigen::Map<const Vector> amplitude(tried.amplitude.data(), g.cols());
  const Eigen::Map<const Vector> apart(program.gap.data(), f.rows());
  Vector gap = apart + g * amplitude;
  for (const int c : tried.active_set)
    gap += tried.contact_force[c] * f.col(c);
  const double greatest = contact_force.cwiseAbs().maxCoeff();
  const double small_force = 1e-11 * std::max(1.0, greatest);
  const double small_gap = 1e-11 * apart.cwiseAbs().maxCoeff();
  std::vector<char> carries(program.gap.size(), 0);
  for (const int c : tried.active_set)
    carries[c] = 1;
  bool stays = true;
  next.clear();
  for (std::size_t i = 0; i < carries.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    const bool should = carries[i] != 0 ? contact_force[at] > -small_force : gap[at] < -small_gap;
    stays = stays && should == (carries[i] != 0);
    if (should)
      next.push_back(static_cast<int>(i));
  }
  double open = 0.0; // of contacts that should be closed
  for (const int c : tried.active_set)
    open = std::max(open, std::abs(gap[c]));
  return stays && balances(program, tried) && open <= 100.0 * small_gap;
}

// Primal-dual active-set iteration until the set is stationary; nothing where that takes too long.
std::optional<ContactQPSolution> primal_dual_active_set(const ContactQP& program,
                                                        std::vector<int> set)
{
  constexpr int maximum = 30; // the dual method takes as long as some forty of these steps
  std::vector<int> next;
  for (int step = 1; step <= maximum && !set.empty(); ++step) {
    ContactQPSolution tried = solve_fixed_active_set(program, set, program.gap, program.load);
    if (is_optimal(program, tried, next)) {
      tried.steps = step;
      return tried;
    }
    if (next == set)
      break;
    set = next;
  }
  return std::nullopt;
}

} // namespace

namespace
{

// The problem reduced to some of the pairs.
ContactQP submatrix_of(const ContactQP& program, const std::vector<int>& part)
{
  const int n = static_cast<int>(part.size());
  ContactQP smaller;
  smaller.load = program.load;
  smaller.compliance = linear_algebra::DenseMatrix(n, n);
  smaller.rigid = linear_algebra::DenseMatrix(n, program.rigid.columns);
  for (int i = 0; i < n; ++i) {
    smaller.gap.push_back(program.gap[part[i]]);
    for (int m = 0; m < program.rigid.columns; ++m)
      smaller.rigid(i, m) = program.rigid(part[i], m);
    for (int j = 0; j < n; ++j)
      smaller.compliance(i, j) = program.compliance(part[i], part[j]);
  }
  return smaller;
}

// The solution of a reduced problem as one of all pairs, the others inactive.
ContactQPSolution among_all(ContactQPSolution solution, const std::vector<int>& part,
                            std::size_t all)
{
  std::vector<double> contact_force(all, 0.0);
  for (int& c : solution.active_set) {
    contact_force[part[c]] = solution.contact_force[c];
    c = part[c];
  }
  solution.contact_force = std::move(contact_force);
  return solution;
}

// The dual method from a cold start.
ContactQPSolution solve_from_start(const ContactQP& program)
{
  const double unit = view(program.compliance).diagonal().maxCoeff();
  linear_algebra::DenseMatrix scaled = program.compliance;
  for (double& value : scaled.value)
    value /= unit;
  std::vector<double> linear = program.gap;
  for (double& value : linear)
    value /= unit;
  // It ends by itself in finitely many steps; far more than there are pairs means that rounding
  // leads it round in a circle. No source.
  const int limit = 20 * static_cast<int>(linear.size()) + 200;
  const linear_algebra::BoundedMinimum minimum =
      linear_algebra::goldfarb_idnani(scaled, linear, program.rigid, program.load, limit);

  std::vector<char> bounded(program.gap.size(), 0);
  for (const int c : minimum.at_bound)
    bounded[c] = 1;
  std::vector<int> active_set;
  for (std::size_t i = 0; i < bounded.size(); ++i)
    if (bounded[i] == 0)
      active_set.push_back(static_cast<int>(i));
  // Where pairs are close together rounding may leave one with a tensile force in the set.
  if (auto polished = primal_dual_active_set(program, active_set))
    return *polished;
  ContactQPSolution solution =
      solve_fixed_active_set(program, active_set, program.gap, program.load);
  solution.steps = minimum.steps;
  return solution;
}

// Pairs that a solution presses through.
std::vector<int> has_penetration(const ContactQP& program, const ContactQPSolution& solution)
{
  const auto f = view(program.compliance);
  const auto g = view(program.rigid);
  const Eigen::Map<const Vector> amplitude(solution.amplitude.data(), g.cols());
  const Eigen::Map<const Vector> apart(program.gap.data(), f.rows());
  Vector gap = apart + g * amplitude;
  for (const int c : solution.active_set)
    gap += solution.contact_force[c] * f.col(c);
  const double small_gap = 1e-11 * apart.cwiseAbs().maxCoeff();
  std::vector<int> result;
  for (Eigen::Index i = 0; i < gap.size(); ++i)
    if (gap[i] < -small_gap && solution.contact_force[i] == 0.0)
      result.push_back(static_cast<int>(i));
  return result;
}

// The solution on a reduced set of pairs, to which violated pairs are added until there are none:
// then it is the solution of all. The cost of the dual method is cubic in the pairs, and a tenth of
// them decide. Nothing where the reduced set alone cannot carry the load.
std::optional<ContactQPSolution> solve_among_few(const ContactQP& program, std::vector<int> part)
{
  constexpr double few = 0.7; // of all: they cost a third
  const std::size_t all = program.gap.size();
  try {
    for (int steps = 0; static_cast<double>(part.size()) < few * static_cast<double>(all);) {
      ContactQPSolution found = among_all(solve_from_start(submatrix_of(program, part)), part, all);
      if (!balances(program, found)) // they barely constrain the door in some direction
        return std::nullopt;
      const std::vector<int> more = has_penetration(program, found);
      steps += found.steps;
      found.steps = steps;
      if (more.empty())
        return found;
      part.insert(part.end(), more.begin(), more.end());
      std::sort(part.begin(), part.end());
    }
  } catch (const ComputeError&) {
    return std::nullopt;
  }
  return std::nullopt;
}

// A reduced set and the pairs that came first, which constrain bodies on all sides: a pin without
// load has no active contact.
std::vector<int> with_first(std::vector<int> part, std::size_t all)
{
  constexpr std::size_t first = 3; // one in so many
  std::vector<char> taken(all, 0);
  for (const int p : part)
    taken[p] = 1;
  for (std::size_t p = 0; p < all / first; ++p)
    if (taken[p] == 0)
      part.push_back(static_cast<int>(p));
  std::sort(part.begin(), part.end());
  return part;
}

} // namespace

ContactQPSolution solve_contact_qp(const ContactQP& program,
                                   const std::vector<int>& initial_active_set)
{
  if (auto found = primal_dual_active_set(program, initial_active_set))
    return *found;
  if (!initial_active_set.empty()) {
    if (auto found = solve_among_few(program, initial_active_set))
      return *found;
    if (auto found = solve_among_few(program, with_first(initial_active_set, program.gap.size())))
      return *found;
  }
  return solve_from_start(program);
}

ContactQPSolution solve_reduced_qp(const ContactQP& program, const std::vector<int>& part,
                                   const std::vector<int>& initial_active_set)
{
  const std::size_t all = program.gap.size();
  if (part.size() == all)
    return solve_contact_qp(program, initial_active_set);
  std::vector<int> place(all, -1);
  for (std::size_t i = 0; i < part.size(); ++i)
    place[part[i]] = static_cast<int>(i);
  std::vector<int> start;
  for (const int c : initial_active_set)
    start.push_back(place[c]);
  return among_all(solve_contact_qp(submatrix_of(program, part), start), part, all);
}

} // namespace hangtrue::contact
