// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/plate_buckling.hpp"

#include "meshing/common/errors.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Dense>
#include <Eigen/Eigenvalues>
#include <deal.II/base/quadrature_lib.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace hangtrue::strength
{

namespace
{

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

// Functions of one direction and their first two derivatives at one place, by the place s in -1..1.
struct Functions {
  std::array<Vector, 3> order; // value, d/ds, d^2/ds^2
};

// Legendre polynomials 0 to `last` at s (Bonnet's recursion).
std::vector<double> legendre(double s, int last)
{
  std::vector<double> p{1.0, s};
  for (int k = 1; k < last; ++k)
    p.push_back(((2.0 * k + 1.0) * s * p[k] - k * p[k - 1]) / (k + 1.0));
  return p;
}

// Hermite's cubics for deflection and slope at the ends as far as these are free.
void add_ends(double s, EdgeSupport low, EdgeSupport high, std::vector<std::array<double, 3>>& all)
{
  if (low != EdgeSupport::clamped)
    all.push_back({0.25 * (1.0 - s) * (1.0 - s) * (1.0 + s), 0.25 * (1.0 - s) * (-1.0 - 3.0 * s),
                   0.5 * (3.0 * s - 1.0)});
  if (high != EdgeSupport::clamped)
    all.push_back({-0.25 * (1.0 + s) * (1.0 + s) * (1.0 - s), 0.25 * (1.0 + s) * (3.0 * s - 1.0),
                   0.5 * (3.0 * s + 1.0)});
  if (low == EdgeSupport::free)
    all.push_back({0.25 * (1.0 - s) * (1.0 - s) * (2.0 + s), 0.75 * (s * s - 1.0), 1.5 * s});
  if (high == EdgeSupport::free)
    all.push_back({0.25 * (1.0 + s) * (1.0 + s) * (2.0 - s), 0.75 * (1.0 - s * s), -1.5 * s});
}

// The first `count` functions. After those of the ends: second derivative L_k, k from 2, scaled to
// unit energy, so integrated twice they and their slopes are zero at both ends.
Functions functions_at(double s, EdgeSupport low, EdgeSupport high, int count)
{
  std::vector<std::array<double, 3>> all;
  add_ends(s, low, high, all);
  const std::vector<double> p = legendre(s, count + 3);
  for (int k = 2; static_cast<int>(all.size()) < count; ++k) {
    const double unit = std::sqrt(0.5 * (2.0 * k + 1.0));
    const double slope = (p[k + 1] - p[k - 1]) / (2.0 * k + 1.0);
    const double value =
        ((p[k + 2] - p[k]) / (2.0 * k + 3.0) - (p[k] - p[k - 2]) / (2.0 * k - 1)) / (2.0 * k + 1.0);
    all.push_back({unit * value, unit * slope, unit * p[k]});
  }
  Functions result;
  for (std::size_t d = 0; d < 3; ++d) {
    result.order[d].resize(count);
    for (int i = 0; i < count; ++i)
      result.order[d][i] = all[static_cast<std::size_t>(i)][d];
  }
  return result;
}

// One direction of a field.
struct Side {
  const std::vector<double>& lines; // m
  EdgeSupport low;
  EdgeSupport high;
  int count;

  [[nodiscard]] double length() const { return lines.back() - lines.front(); }
  [[nodiscard]] std::size_t intervals() const { return lines.size() - 1; }

  // Functions at a place in m, derivatives by m.
  [[nodiscard]] Functions at(double place) const
  {
    const double scale = 2.0 / length();
    Functions result = functions_at(scale * (place - lines.front()) - 1.0, low, high, count);
    result.order[1] *= scale;
    result.order[2] *= scale * scale;
    return result;
  }
};

// Integrals over each interval of products of derivatives of order a and b: exact for polynomials.
std::vector<Matrix> products(const Side& side, std::size_t a, std::size_t b)
{
  const dealii::QGauss<1> gauss(static_cast<unsigned>(side.count) + 4U);
  std::vector<Matrix> result;
  for (std::size_t c = 0; c < side.intervals(); ++c) {
    const double from = side.lines[c];
    const double width = side.lines[c + 1] - from;
    Matrix sum = Matrix::Zero(side.count, side.count);
    for (unsigned q = 0; q < gauss.size(); ++q) {
      const Functions f = side.at(from + width * gauss.point(q)[0]);
      sum += width * gauss.weight(q) * f.order[a] * f.order[b].transpose();
    }
    result.push_back(sum);
  }
  return result;
}

// The integrals that stiffness and work take.
struct Products {
  std::array<std::array<std::vector<Matrix>, 3>, 3> of; // [order of the first][of the second]

  explicit Products(const Side& side)
  {
    for (const auto& [a, b] : {std::pair{0, 0}, {1, 1}, {2, 2}, {2, 0}, {1, 0}})
      of[a][b] = products(side, a, b);
    for (const auto& [a, b] : {std::pair{0, 2}, {0, 1}})
      for (const auto& m : of[b][a])
        of[a][b].push_back(m.transpose());
  }
};

// Adds the sum over all rectangles of value x (integral along x) (integral along z).
void add_products(const PlateField& field, double times, double PlateCell::*value,
                  const std::vector<Matrix>& along_x, const std::vector<Matrix>& along_z,
                  Matrix& to)
{
  const Eigen::Index n = along_z.front().rows();
  for (std::size_t r = 0; r < along_z.size(); ++r) {
    Matrix row = Matrix::Zero(along_x.front().rows(), along_x.front().cols());
    for (std::size_t c = 0; c < along_x.size(); ++c)
      row += times * field.pieces[c + r * along_x.size()].*value * along_x[c];
    for (Eigen::Index k = 0; k < row.cols(); ++k)
      for (Eigen::Index i = 0; i < row.rows(); ++i)
        to.block(i * n, k * n, n, n) += row(i, k) * along_z[r];
  }
}

Matrix bending(const PlateField& field, const Products& x, const Products& z, Eigen::Index size)
{
  Matrix k = Matrix::Zero(size, size);
  const auto add = [&](double times, int a, int b, int c, int d) {
    add_products(field, times, &PlateCell::stiffness, x.of[a][b], z.of[c][d], k);
  };
  add(1.0, 2, 2, 0, 0);
  add(1.0, 0, 0, 2, 2);
  add(field.poisson, 2, 0, 0, 2);
  add(field.poisson, 0, 2, 2, 0);
  add(2.0 * (1.0 - field.poisson), 1, 1, 1, 1);
  return k;
}

Matrix work(const PlateField& field, const Products& x, const Products& z, Eigen::Index size)
{
  Matrix g = Matrix::Zero(size, size);
  add_products(field, -1.0, &PlateCell::n_x, x.of[1][1], z.of[0][0], g);
  add_products(field, -1.0, &PlateCell::n_z, x.of[0][0], z.of[1][1], g);
  add_products(field, -1.0, &PlateCell::n_xz, x.of[1][0], z.of[0][1], g);
  add_products(field, -1.0, &PlateCell::n_xz, x.of[0][1], z.of[1][0], g);
  return g;
}

// Half waves along a line: runs of one sign that reach a twentieth of the crest.
int half_waves(const Vector& w, double crest)
{
  int waves = 0;
  double sign = 0.0;
  for (const double here : w)
    if (std::abs(here) > 0.05 * std::abs(crest) && here * sign <= 0.0) {
      ++waves;
      sign = here;
    }
  return waves;
}

// Eigenvector of the greatest eigenvalue by inverse iteration (Golub and Van Loan, Matrix
// Computations, section 8.2.2) from just above it, where the factor is definite; a tenth of the
// work of all eigenvectors. A component a relative distance s below it decays by 1e-9 / s in every
// step.
Vector vector_of(const Matrix& symmetric, double greatest)
{
  const Eigen::Index n = symmetric.rows();
  constexpr double above = 1e-9;
  const Matrix shifted = (1.0 + above) * greatest * Matrix::Identity(n, n) - symmetric;
  const Eigen::LLT<Matrix> factor(shifted);
  Vector v = Vector::LinSpaced(n, 1.0, 2.0); // has a component of every shape
  for (int step = 0; step < 3; ++step)
    v = factor.solve(v).normalized();
  return v;
}

// Samples the mode on a raster of its field.
void put_shape(const Side& x, const Side& z, const Matrix& amplitude, BucklingMode& mode)
{
  constexpr int raster = 81;
  const auto places = [&](const Side& side) {
    Matrix f(raster, side.count);
    for (int i = 0; i < raster; ++i)
      f.row(i) = side.at(side.lines.front() + side.length() * i / (raster - 1)).order[0];
    return f;
  };
  const Matrix w = places(x) * amplitude * places(z).transpose();
  int at_x = 0;
  int at_z = 0;
  for (int j = 0; j < raster; ++j)
    for (int i = 0; i < raster; ++i) // of equal crests the first, whatever rounding made of them
      if (std::abs(w(i, j)) > (1.0 + 1e-6) * std::abs(w(at_x, at_z))) {
        at_x = i;
        at_z = j;
      }
  mode.crest_x = x.lines.front() + x.length() * at_x / (raster - 1);
  mode.crest_z = z.lines.front() + z.length() * at_z / (raster - 1);
  mode.waves_x = half_waves(w.col(at_z), w(at_x, at_z));
  mode.waves_z = half_waves(w.row(at_x), w(at_x, at_z));
}

// Least principal force, N/m: the greatest compression with its sign reversed.
double min_principal(const PlateCell& n)
{
  return 0.5 * (n.n_x + n.n_z) - std::hypot(0.5 * (n.n_x - n.n_z), n.n_xz);
}

// Greatest compression of the mean force where the mode is displaced.
double compression_under(const PlateField& field, const Side& x, const Side& z,
                         const Matrix& amplitude)
{
  PlateCell mean;
  double whole = 0.0;
  for (std::size_t r = 0; r < z.intervals(); ++r) {
    const Vector line = amplitude * z.at(0.5 * (z.lines[r] + z.lines[r + 1])).order[0];
    for (std::size_t c = 0; c < x.intervals(); ++c) {
      const double w = x.at(0.5 * (x.lines[c] + x.lines[c + 1])).order[0].dot(line);
      const double weight = w * w * (x.lines[c + 1] - x.lines[c]) * (z.lines[r + 1] - z.lines[r]);
      const PlateCell& cell = field.pieces[c + r * x.intervals()];
      whole += weight;
      mean.n_x += weight * cell.n_x;
      mean.n_z += weight * cell.n_z;
      mean.n_xz += weight * cell.n_xz;
    }
  }
  return -min_principal(mean) / whole;
}

} // namespace

BucklingMode buckling_mode(const PlateField& field, const FieldEdges& edges, int functions_x,
                           int functions_z)
{
  const Side x{field.x, edges.x_low, edges.x_high, functions_x};
  const Side z{field.z, edges.z_low, edges.z_high, functions_z};
  const Products along_x(x);
  const Products along_z(z);
  const Eigen::Index size = Eigen::Index{functions_x} * functions_z;
  const Eigen::LLT<Matrix> factor(bending(field, along_x, along_z, size));
  if (factor.info() != Eigen::Success)
    throw ComputeError("the buckling of a skin was not computed: nothing holds one of its fields; "
                       "check skins, stiffeners and inner_hold of the door file");
  Matrix turned = factor.matrixL().solve(work(field, along_x, along_z, size));
  turned = factor.matrixL().solve(turned.transpose()).eval();
  turned = 0.5 * (turned + turned.transpose()).eval();
  const Eigen::SelfAdjointEigenSolver<Matrix> modes(turned, Eigen::EigenvaluesOnly);
  BucklingMode mode;
  mode.inverse_factor = modes.eigenvalues()[size - 1];
  if (!(mode.inverse_factor > 0.0))
    return {};
  const Vector shape = factor.matrixU().solve(vector_of(turned, mode.inverse_factor));
  const Matrix amplitude =
      Eigen::Map<const Matrix>(shape.data(), functions_z, functions_x).transpose();
  put_shape(x, z, amplitude, mode);
  mode.compression = compression_under(field, x, z, amplitude);
  return mode;
}

BucklingMode buckling_mode(const PlateField& field, const FieldEdges& edges)
{
  constexpr int maximum = 900; // products
  constexpr double close = 2e-3;
  const double a = field.x.back() - field.x.front();
  const double b = field.z.back() - field.z.front();
  // A half wave is about as long as the shorter side and needs some three functions.
  int along_x = static_cast<int>(std::lround(6.0 + 4.0 * std::max(1.0, std::min(a / b, 100.0))));
  int along_z = static_cast<int>(std::lround(6.0 + 4.0 * std::max(1.0, std::min(b / a, 100.0))));
  BucklingMode before;
  for (bool first = true; along_x * along_z <= maximum; first = false) {
    const BucklingMode mode = buckling_mode(field, edges, along_x, along_z);
    if (!first &&
        std::abs(mode.inverse_factor - before.inverse_factor) <= close * mode.inverse_factor)
      return mode;
    before = mode;
    along_x += 4;
    along_z += 4;
  }
  before.settled = false;
  return before;
}

double greatest_inverse_factor(const PlateField& field, const FieldEdges& edges)
{
  const auto all = [&](EdgeSupport hold) {
    return edges.x_low == hold && edges.x_high == hold && edges.z_low == hold &&
           edges.z_high == hold;
  };
  for (const EdgeSupport hold : {edges.x_low, edges.x_high, edges.z_low, edges.z_high})
    if (hold == EdgeSupport::free)
      return 1e300;
  double pressed = 0.0;
  double stiffness = 1e300;
  for (const auto& cell : field.pieces) {
    pressed = std::max(pressed, -min_principal(cell));
    stiffness = std::min(stiffness, cell.stiffness);
  }
  const double a = field.x.back() - field.x.front();
  const double b = field.z.back() - field.z.front();
  double square = 1.0 / (a * a) + 1.0 / (b * b);
  if (all(EdgeSupport::clamped))
    square = std::max(square, 4.0 / std::pow(std::min(a, b), 2.0));
  return pressed / (std::numbers::pi * std::numbers::pi * stiffness * square);
}

} // namespace hangtrue::strength
