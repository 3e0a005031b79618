#include "solver/contact/contact_qp.hpp"

#include "meshing/common/errors.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Dense>
#include <Eigen/QR>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace hangtrue
{

namespace
{

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

Eigen::Map<const Matrix> view(const DenseMatrix& m)
{
  return {m.value.data(), m.rows, m.columns};
}

// The working state of the method; names as in the paper: J = L^-T Q, R upper triangular.
class DualMethod
{
public:
  DualMethod(const Matrix& hessian, const Vector& linear) : n_(static_cast<int>(linear.size()))
  {
    Eigen::LLT<Matrix> cholesky(hessian);
    // Rigid stops closer together than the nodes of the mesh have linearly dependent gaps, and
    // which of them is active is undetermined: 1e-10 of the largest compliance, as a
    // regularization, decides.
    constexpr double tie_break = 1e-10;
    if (cholesky.info() != Eigen::Success)
      cholesky.compute(hessian +
                       tie_break * hessian.diagonal().maxCoeff() * Matrix::Identity(n_, n_));
    if (cholesky.info() != Eigen::Success)
      throw ComputeError("contact: the flexibility at the hinges is not positive; a part is not "
                         "joined to the rest");
    j_ = cholesky.matrixL().solve(Matrix::Identity(n_, n_)).transpose();
    x_ = -cholesky.solve(linear);
    r_ = Matrix::Zero(n_, n_);
    negligible_ = 1e-12 * j_.norm();
  }

  // Equation normal . x = value, in either sense.
  void add_equation(const Vector& normal, double value)
  {
    directions(normal);
    const double along = z_.dot(normal);
    if (z_.norm() <= negligible_ * normal.norm() || along <= 0.0)
      throw ComputeError("contact: two ways of moving the door are held by the same contacts only");
    const double t = (value - normal.dot(x_)) / along;
    x_ += t * z_;
    for (int k = 0; k < active(); ++k)
      u_[k] -= t * q_[k];
    u_.push_back(t);
    constraint_.push_back(-1);
    append();
  }

  // Makes x >= 0 in every component.
  void add_bounds(int limit)
  {
    while (true) {
      const int i = most_negative();
      if (i < 0)
        return;
      if (++steps_ > limit)
        throw ComputeError("contact: the contact points did not settle after " +
                           std::to_string(limit) + " steps; try another mesh level");
      bound(i);
    }
  }

  [[nodiscard]] const Vector& x() const { return x_; }
  [[nodiscard]] int steps() const { return steps_; }
  [[nodiscard]] const std::vector<int>& constraints() const { return constraint_; }

private:
  int n_;
  Matrix j_;
  Matrix r_;
  Vector x_;
  Vector d_;
  Vector z_;
  Vector q_;
  std::vector<double> u_;
  std::vector<int> constraint_; // -1 for an equation, else the bounded component
  double negligible_ = 0.0;
  int steps_ = 0;

  [[nodiscard]] int active() const { return static_cast<int>(u_.size()); }

  void directions(const Vector& normal)
  {
    d_ = j_.transpose() * normal;
    const int q = active();
    z_ = j_.rightCols(n_ - q) * d_.tail(n_ - q);
    q_ = q == 0 ? Vector()
                : Vector(r_.topLeftCorner(q, q).triangularView<Eigen::Upper>().solve(d_.head(q)));
  }

  void directions_of_bound(int i)
  {
    d_ = j_.row(i).transpose();
    const int q = active();
    z_ = j_.rightCols(n_ - q) * d_.tail(n_ - q);
    q_ = q == 0 ? Vector()
                : Vector(r_.topLeftCorner(q, q).triangularView<Eigen::Upper>().solve(d_.head(q)));
  }

  int most_negative()
  {
    // Relative to the largest contact force: below this a force counts as zero.
    const double small = 1e-11 * std::max(1.0, x_.cwiseAbs().maxCoeff());
    Eigen::Index i = 0;
    return x_.minCoeff(&i) < -small ? static_cast<int>(i) : -1;
  }

  // Turns d so that only its head remains and takes it up as a column of R.
  void append()
  {
    const int q = active() - 1;
    for (int k = n_ - 1; k > q; --k) {
      const double h = std::hypot(d_[k - 1], d_[k]);
      if (h == 0.0)
        continue;
      rotate(k - 1, k, d_[k - 1] / h, d_[k] / h);
      d_[k - 1] = h;
      d_[k] = 0.0;
    }
    r_.col(q).head(q + 1) = d_.head(q + 1);
  }

  void rotate(int a, int b, double c, double s)
  {
    const Vector first = j_.col(a);
    j_.col(a) = c * first + s * j_.col(b);
    j_.col(b) = -s * first + c * j_.col(b);
  }

  void drop(int k)
  {
    const int q = active();
    for (int col = k; col + 1 < q; ++col)
      r_.col(col).head(col + 2) = r_.col(col + 1).head(col + 2);
    u_.erase(u_.begin() + k);
    constraint_.erase(constraint_.begin() + k);
    for (int row = k; row + 1 < q; ++row) { // back to upper triangular
      const double h = std::hypot(r_(row, row), r_(row + 1, row));
      if (h == 0.0)
        continue;
      const double c = r_(row, row) / h;
      const double s = r_(row + 1, row) / h;
      for (int col = row; col + 1 < q; ++col) {
        const double a = r_(row, col);
        const double b = r_(row + 1, col);
        r_(row, col) = c * a + s * b;
        r_(row + 1, col) = -s * a + c * b;
      }
      rotate(row, row + 1, c, s);
    }
  }

  // The dual step and the primal step of the paper's step 2, until component i is bounded.
  void bound(int i)
  {
    double mine = 0.0;
    while (true) {
      directions_of_bound(i);
      double dual_step = std::numeric_limits<double>::infinity();
      int leaving = -1;
      for (int k = 0; k < active(); ++k)
        if (constraint_[k] >= 0 && q_[k] > 0.0 && u_[k] / q_[k] < dual_step) {
          dual_step = u_[k] / q_[k];
          leaving = k;
        }
      const bool blocked = z_.norm() <= negligible_ || z_[i] <= 0.0;
      const double primal_step = blocked ? std::numeric_limits<double>::infinity() : -x_[i] / z_[i];
      const double t = std::min(dual_step, primal_step);
      if (!std::isfinite(t))
        throw ComputeError("contact: nothing can carry the door as it is drawn; look at which "
                           "hinge carries the weight and at the end floats");
      if (!blocked)
        x_ += t * z_;
      for (int k = 0; k < active(); ++k)
        u_[k] -= t * q_[k];
      mine += t;
      if (t == primal_step) {
        u_.push_back(mine);
        constraint_.push_back(i);
        append();
        return;
      }
      drop(leaving);
    }
  }
};

} // namespace

namespace
{

// Solves k x = right; a rigid displacement that no active contact opposes stays at zero.
Vector balanced(const Matrix& k, const Vector& right)
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
    return refined(plain);
  return refined(Eigen::CompleteOrthogonalDecomposition<Matrix>(k));
}

} // namespace

ContactSolution respond(const ContactProgram& program, const std::vector<int>& carrying,
                        const std::vector<double>& gap, const std::vector<double>& load)
{
  const auto f = view(program.flexibility);
  const auto g = view(program.rigid);
  const int n = static_cast<int>(carrying.size());
  const int m = static_cast<int>(g.cols());
  // Amplitudes are in m, contact forces in N: scale F to order one.
  const double unit = f.diagonal().maxCoeff();
  Matrix k = Matrix::Zero(n + m, n + m);
  Vector right(n + m);
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j)
      k(i, j) = f(carrying[i], carrying[j]) / unit;
    k.row(i).tail(m) = g.row(carrying[i]);
    k.col(i).tail(m) = g.row(carrying[i]).transpose();
    right[i] = -gap[carrying[i]] / unit;
  }
  for (int r = 0; r < m; ++r)
    right[n + r] = load[r];
  const Vector x = balanced(k, right);

  ContactSolution solution;
  solution.push.assign(program.gap.size(), 0.0);
  for (int i = 0; i < n; ++i)
    solution.push[carrying[i]] = x[i];
  for (int r = 0; r < m; ++r)
    solution.amplitude.push_back(unit * x[n + r]);
  solution.carrying = carrying;
  return solution;
}

namespace
{

// True where the contact forces balance the load.
bool balances(const ContactProgram& program, const ContactSolution& solution)
{
  const auto g = view(program.rigid);
  const Eigen::Map<const Vector> push(solution.push.data(), g.rows());
  const double greatest = push.cwiseAbs().maxCoeff();
  double left = 0.0;
  for (Eigen::Index r = 0; r < g.cols(); ++r)
    left = std::max(left, std::abs(g.col(r).dot(push) - program.load[r]));
  return left <= 1e-9 * std::max(1.0, greatest);
}

// True when the forces of an active set satisfy the KKT conditions; else `next` is the set to try.
bool settled(const ContactProgram& program, const ContactSolution& tried, std::vector<int>& next)
{
  const auto f = view(program.flexibility);
  const auto g = view(program.rigid);
  const Eigen::Map<const Vector> push(tried.push.data(), f.rows());
  const Eigen::Map<const Vector> amplitude(tried.amplitude.data(), g.cols());
  const Eigen::Map<const Vector> apart(program.gap.data(), f.rows());
  Vector gap = apart + g * amplitude;
  for (const int c : tried.carrying)
    gap += tried.push[c] * f.col(c);
  const double greatest = push.cwiseAbs().maxCoeff();
  const double small_push = 1e-11 * std::max(1.0, greatest);
  const double small_gap = 1e-11 * apart.cwiseAbs().maxCoeff();
  std::vector<char> carries(program.gap.size(), 0);
  for (const int c : tried.carrying)
    carries[c] = 1;
  bool stays = true;
  next.clear();
  for (std::size_t i = 0; i < carries.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    const bool should = carries[i] != 0 ? push[at] > -small_push : gap[at] < -small_gap;
    stays = stays && should == (carries[i] != 0);
    if (should)
      next.push_back(static_cast<int>(i));
  }
  double open = 0.0; // of contacts that should be closed
  for (const int c : tried.carrying)
    open = std::max(open, std::abs(gap[c]));
  return stays && balances(program, tried) && open <= 100.0 * small_gap;
}

// Primal-dual active-set iteration until the set is stationary; nothing where that takes too long.
std::optional<ContactSolution> correct(const ContactProgram& program, std::vector<int> set)
{
  constexpr int most = 30; // the dual method takes as long as some forty of these steps
  std::vector<int> next;
  for (int step = 1; step <= most && !set.empty(); ++step) {
    ContactSolution tried = respond(program, set, program.gap, program.load);
    if (settled(program, tried, next)) {
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
ContactProgram part_of(const ContactProgram& program, const std::vector<int>& part)
{
  const int n = static_cast<int>(part.size());
  ContactProgram smaller;
  smaller.load = program.load;
  smaller.flexibility = DenseMatrix(n, n);
  smaller.rigid = DenseMatrix(n, program.rigid.columns);
  for (int i = 0; i < n; ++i) {
    smaller.gap.push_back(program.gap[part[i]]);
    for (int m = 0; m < program.rigid.columns; ++m)
      smaller.rigid(i, m) = program.rigid(part[i], m);
    for (int j = 0; j < n; ++j)
      smaller.flexibility(i, j) = program.flexibility(part[i], part[j]);
  }
  return smaller;
}

// The solution of a reduced problem as one of all pairs, the others inactive.
ContactSolution among_all(ContactSolution solution, const std::vector<int>& part, std::size_t all)
{
  std::vector<double> push(all, 0.0);
  for (int& c : solution.carrying) {
    push[part[c]] = solution.push[c];
    c = part[c];
  }
  solution.push = std::move(push);
  return solution;
}

// The dual method from a cold start.
ContactSolution solve_from_start(const ContactProgram& program)
{
  const auto f = view(program.flexibility);
  const auto g = view(program.rigid);
  const double unit = f.diagonal().maxCoeff();
  const auto n = static_cast<Eigen::Index>(program.gap.size());
  DualMethod method(f / unit, Eigen::Map<const Vector>(program.gap.data(), n) / unit);
  for (Eigen::Index r = 0; r < g.cols(); ++r)
    method.add_equation(g.col(r), program.load[r]);
  // It ends by itself in finitely many steps; far more than there are pairs means that rounding
  // leads it round in a circle. No source.
  method.add_bounds(20 * static_cast<int>(n) + 200);

  std::vector<char> bounded(program.gap.size(), 0);
  for (const int c : method.constraints())
    if (c >= 0)
      bounded[c] = 1;
  std::vector<int> carrying;
  for (std::size_t i = 0; i < bounded.size(); ++i)
    if (bounded[i] == 0)
      carrying.push_back(static_cast<int>(i));
  // Where pairs are close together rounding may leave one with a tensile force in the set.
  if (auto polished = correct(program, carrying))
    return *polished;
  ContactSolution solution = respond(program, carrying, program.gap, program.load);
  solution.steps = method.steps();
  return solution;
}

// Pairs that a solution presses through.
std::vector<int> pressed_through(const ContactProgram& program, const ContactSolution& solution)
{
  const auto f = view(program.flexibility);
  const auto g = view(program.rigid);
  const Eigen::Map<const Vector> amplitude(solution.amplitude.data(), g.cols());
  const Eigen::Map<const Vector> apart(program.gap.data(), f.rows());
  Vector gap = apart + g * amplitude;
  for (const int c : solution.carrying)
    gap += solution.push[c] * f.col(c);
  const double small_gap = 1e-11 * apart.cwiseAbs().maxCoeff();
  std::vector<int> result;
  for (Eigen::Index i = 0; i < gap.size(); ++i)
    if (gap[i] < -small_gap && solution.push[i] == 0.0)
      result.push_back(static_cast<int>(i));
  return result;
}

// The solution on a reduced set of pairs, to which violated pairs are added until there are none:
// then it is the solution of all. The cost of the dual method is cubic in the pairs, and a tenth of
// them decide. Nothing where the reduced set alone cannot carry the load.
std::optional<ContactSolution> solve_among_few(const ContactProgram& program, std::vector<int> part)
{
  constexpr double few = 0.7; // of all: they cost a third
  const std::size_t all = program.gap.size();
  try {
    for (int steps = 0; static_cast<double>(part.size()) < few * static_cast<double>(all);) {
      ContactSolution found = among_all(solve_from_start(part_of(program, part)), part, all);
      if (!balances(program, found)) // they barely constrain the door in some direction
        return std::nullopt;
      const std::vector<int> more = pressed_through(program, found);
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

ContactSolution solve_contact(const ContactProgram& program, const std::vector<int>& likely)
{
  if (auto found = correct(program, likely))
    return *found;
  if (!likely.empty()) {
    if (auto found = solve_among_few(program, likely))
      return *found;
    if (auto found = solve_among_few(program, with_first(likely, program.gap.size())))
      return *found;
  }
  return solve_from_start(program);
}

ContactSolution solve_part(const ContactProgram& program, const std::vector<int>& part,
                           const std::vector<int>& likely)
{
  const std::size_t all = program.gap.size();
  if (part.size() == all)
    return solve_contact(program, likely);
  std::vector<int> place(all, -1);
  for (std::size_t i = 0; i < part.size(); ++i)
    place[part[i]] = static_cast<int>(i);
  std::vector<int> start;
  for (const int c : likely)
    start.push_back(place[c]);
  return among_all(solve_contact(part_of(program, part), start), part, all);
}

} // namespace hangtrue
