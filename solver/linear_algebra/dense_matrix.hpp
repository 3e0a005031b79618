// SPDX-License-Identifier: GPL-3.0-or-later
// A small dense matrix without a library's header.
#pragma once

#include <cstddef>
#include <vector>

namespace hangtrue::linear_algebra
{

/// Dense symmetric or rectangular matrix by columns.
struct DenseMatrix {
  int rows = 0;
  int columns = 0;
  std::vector<double> value;

  DenseMatrix() = default;
  DenseMatrix(int r, int c) : rows(r), columns(c), value(static_cast<std::size_t>(r) * c, 0.0) {}
  double& operator()(int r, int c) { return value[r + static_cast<std::size_t>(rows) * c]; }
  double operator()(int r, int c) const { return value[r + static_cast<std::size_t>(rows) * c]; }
};

} // namespace hangtrue::linear_algebra
