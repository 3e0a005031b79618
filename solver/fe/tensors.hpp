// SPDX-License-Identifier: GPL-3.0-or-later
// Between the vectors of the meshes and deal.II's tensors.
#pragma once

#include "meshing/common/vec3.hpp"

#include <deal.II/base/tensor.h>

namespace hangtrue::fe
{

/// The vector as a tensor of rank 1.
inline dealii::Tensor<1, 3> tensor(const Vec3& v)
{
  dealii::Tensor<1, 3> result;
  result[0] = v.x;
  result[1] = v.y;
  result[2] = v.z;
  return result;
}

/// The tensor of rank 1 as a vector.
inline Vec3 vec3(const dealii::Tensor<1, 3>& t)
{
  return {t[0], t[1], t[2]};
}

} // namespace hangtrue::fe
