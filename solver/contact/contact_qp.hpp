// SPDX-License-Identifier: GPL-3.0-or-later
// The quadratic programme of unilateral contact in its dual form.
#pragma once

#include "solver/linear_algebra/dense_matrix.hpp"

#include <vector>

namespace hangtrue::contact
{

/// Find contact forces p >= 0 with gaps F p + g + G a >= 0, p . gap = 0 and G^T p = load: the
/// minimum of 1/2 p^T F p + g^T p under these equations.
struct ContactQP {
  linear_algebra::DenseMatrix compliance; ///< F, m/N, symmetric, no eigenvalue below zero
  linear_algebra::DenseMatrix rigid;      ///< G, gap per rigid amplitude
  std::vector<double> gap;                ///< g, m, without contact forces and rigid displacement
  std::vector<double> load; ///< generalised forces that the contact forces must balance, N
};

/// Contact forces, N; rigid amplitudes; active set; steps taken.
struct ContactQPSolution {
  std::vector<double> contact_force;
  std::vector<double> amplitude;
  std::vector<int> active_set;
  int steps = 0;
};

/// Dual active-set method of Goldfarb and Idnani (Mathematical Programming 27, 1983, 1-33): every
/// step raises the objective, so it cannot cycle; the active set is then solved once more directly.
/// `initial_active_set` is the active set of a neighbouring problem (warm start), or empty: it is
/// corrected by a primal-dual active-set iteration (Hintermueller, Ito and Kunisch, SIAM J. Optim.
/// 13, 2002, 865-888), and the result accepted only where the KKT conditions hold; else the dual
/// method runs on these pairs and those that its solution violates, and failing that on all. Throws
/// ComputeError when no contact forces can balance the load.
ContactQPSolution solve_contact_qp(const ContactQP& program,
                                   const std::vector<int>& initial_active_set = {});

/// The same on a subset of the pairs, which contains `initial_active_set`; the others are known to
/// be open.
ContactQPSolution solve_reduced_qp(const ContactQP& program, const std::vector<int>& part,
                                   const std::vector<int>& initial_active_set);

/// Contact forces and amplitudes with the active set fixed and another gap and load: the linear
/// response used to split a displacement into its causes. Values outside the set are zero.
ContactQPSolution solve_fixed_active_set(const ContactQP& program,
                                         const std::vector<int>& active_set,
                                         const std::vector<double>& gap,
                                         const std::vector<double>& load);

} // namespace hangtrue::contact
