// SPDX-License-Identifier: GPL-3.0-or-later
// Elastic buckling of a thin rectangular plate under any membrane stress, by Ritz's method.
//
// Kirchhoff plate of a stiffness that may vary over the field: the bending energy
//   1/2 integral of D (w_xx^2 + w_zz^2 + 2 nu w_xx w_zz + 2 (1 - nu) w_xz^2)
// against the work of the membrane forces, -1/2 integral of N_x w_x^2 + N_z w_z^2 + 2 N_xz w_x w_z
// (Timoshenko and Gere, Theory of Elastic Stability, chapter 9, from memory). Forces may be
// compressive here and tensile there: with K from the first and G from the second, G x = mu K x is
// solved and the greatest mu taken. It is the inverse of the factor by which all forces may grow.
#pragma once

#include <vector>

namespace hangtrue::strength
{

/// A small rectangle of a plate, everything constant over it.
struct PlateCell {
  double stiffness = 0.0; ///< N m, D = E t^3 / (12 (1 - nu^2)); above zero
  double n_x = 0.0;       ///< N/m, membrane forces, tension positive
  double n_z = 0.0;       ///< N/m
  double n_xz = 0.0;      ///< N/m
};

/// A rectangular field on a grid of its own.
struct PlateField {
  std::vector<double> x;         ///< m, grid lines, rising, two or more
  std::vector<double> z;         ///< m
  std::vector<PlateCell> pieces; ///< that of interval i of x and j of z is i + j (x.size() - 1)
  double poisson = 0.3;
};

/// What an edge of a plate may do: turn only, nothing, or all.
enum class EdgeSupport { supported, clamped, free };

/// The four edges of a field.
struct FieldEdges {
  EdgeSupport x_low = EdgeSupport::supported;
  EdgeSupport x_high = EdgeSupport::supported;
  EdgeSupport z_low = EdgeSupport::supported;
  EdgeSupport z_high = EdgeSupport::supported;
};

/// The mode in which a field buckles first.
struct BucklingMode {
  double inverse_factor = 0.0; ///< 1 / the factor by which all forces may grow; 0: never
  double crest_x = 0.0;        ///< m, position of its maximum
  double crest_z = 0.0;        ///< m
  int waves_x = 0;             ///< half waves on the line through the crest along x
  int waves_z = 0;             ///< and along z
  double compression = 0.0;    ///< N/m, greatest principal compression of the mean of the membrane
                               ///< forces by the weight w^2; below zero: tension
  bool settled = true;         ///< more functions change the inverse factor by less than 0.2 %
};

/// The mode by `functions_x` times `functions_z` products of polynomials that satisfy the
/// conditions on w and its slope at the edges: Hermite's cubics for what an edge leaves free, then
/// functions whose second derivatives are Legendre polynomials. The factor converges from above.
/// Throws ComputeError where the edges leave the field a rigid displacement.
BucklingMode buckling_mode(const PlateField& field, const FieldEdges& edges, int functions_x,
                           int functions_z);

/// The same with as many functions as it takes until four more in each direction change the factor
/// by less than 0.2 %; more along the longer side. `is_optimal` is false where 900 products do not
/// suffice.
BucklingMode buckling_mode(const PlateField& field, const FieldEdges& edges);

/// An upper bound of the inverse factor, for fields without a free edge: the greatest compression,
/// as if it acted all over in both directions, on the least stiffness; pi^2 (1/a^2 + 1/b^2) D / N
/// supported, and 4 pi^2 D / (N b^2), b the shorter side, clamped (an infinite strip bounds every
/// rectangle of its width). 1e300 with a free edge.
double greatest_inverse_factor(const PlateField& field, const FieldEdges& edges);

} // namespace hangtrue::strength
