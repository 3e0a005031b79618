// SPDX-License-Identifier: GPL-3.0-or-later
// The dual active-set method for a convex quadratic programme with bounds.
#pragma once

#include "solver/linear_algebra/dense_matrix.hpp"

#include <vector>

namespace hangtrue::linear_algebra
{

/// Active bounds at the minimum, in the order in which they were added, and the steps taken.
struct BoundedMinimum {
  std::vector<int> at_bound;
  int steps = 0;
};

/// Active bounds of the minimum of 1/2 x^T H x + c^T x with x >= 0 and N^T x = `values`, where the
/// columns of `normals` are N, by the dual active-set method of Goldfarb and Idnani (Mathematical
/// Programming 27, 1983, 1-33). The units are the caller's. Throws ComputeError when H is not
/// positive, when equations depend on each other, when no x meets them, or after `limit` steps.
BoundedMinimum goldfarb_idnani(const DenseMatrix& hessian, const std::vector<double>& linear,
                               const DenseMatrix& normals, const std::vector<double>& values,
                               int limit);

} // namespace hangtrue::linear_algebra
