// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear_algebra/goldfarb_idnani.hpp"

#include "meshing/common/errors.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

namespace hangtrue::linear_algebra
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
class GoldfarbIdnani
{
public:
  GoldfarbIdnani(const Matrix& hessian, const Vector& linear) : n_(static_cast<int>(linear.size()))
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
      throw ComputeError("contact: two rigid movements of the door are opposed by the same "
                         "contacts only; look for a hinge or pin without support");
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
      const int i = most_violated();
      if (i < 0)
        return;
      if (++steps_ > limit)
        throw ComputeError("contact: the active set was not found after " + std::to_string(limit) +
                           " steps; try another mesh level");
      bound(i);
    }
  }

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

  int most_violated()
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

BoundedMinimum goldfarb_idnani(const DenseMatrix& hessian, const std::vector<double>& linear,
                               const DenseMatrix& normals, const std::vector<double>& values,
                               int limit)
{
  const auto n = static_cast<Eigen::Index>(linear.size());
  const auto equations = view(normals);
  GoldfarbIdnani method(view(hessian), Eigen::Map<const Vector>(linear.data(), n));
  for (Eigen::Index r = 0; r < equations.cols(); ++r)
    method.add_equation(equations.col(r), values[r]);
  method.add_bounds(limit);
  BoundedMinimum minimum;
  for (const int c : method.constraints())
    if (c >= 0)
      minimum.at_bound.push_back(c);
  minimum.steps = method.steps();
  return minimum;
}

} // namespace hangtrue::linear_algebra
