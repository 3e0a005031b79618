// The quadratic programme of unilateral contact in its dual form.
#pragma once

#include <vector>

namespace hangtrue
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

/// Find pushes p >= 0 with gaps F p + g + G a >= 0, p . gap = 0 and G^T p = load: the least of
/// 1/2 p^T F p + g^T p under these equations.
struct ContactProgram {
  DenseMatrix flexibility;  ///< F, m/N, symmetric, no eigenvalue below zero
  DenseMatrix rigid;        ///< G, gap per rigid amplitude
  std::vector<double> gap;  ///< g, m, with no pushes and no rigid movement
  std::vector<double> load; ///< generalised forces that the pushes must balance, N
};

/// Pushes, N; rigid amplitudes; which pushes are carried; steps taken.
struct ContactSolution {
  std::vector<double> push;
  std::vector<double> amplitude;
  std::vector<int> carrying;
  int steps = 0;
};

/// Dual active-set method of Goldfarb and Idnani (Mathematical Programming 27, 1983, 1-33): every
/// step raises the objective, so it cannot cycle; the carried set is then solved once more
/// directly. `likely` is a set that carried a neighbouring program, or empty: it is corrected all
/// at once (primal-dual active set, Hintermueller, Ito and Kunisch, SIAM J. Optim. 13, 2002,
/// 865-888), and the answer taken only where pushes, gaps and equations all hold; else the dual
/// method runs among these and what its answer presses through, and failing that among all. Throws
/// ComputeError when no pushes can balance the load.
ContactSolution solve_contact(const ContactProgram& program, const std::vector<int>& likely = {});

/// The same among a part of the pairs, which holds `likely`; the others are known to be open.
ContactSolution solve_part(const ContactProgram& program, const std::vector<int>& part,
                           const std::vector<int>& likely);

/// Pushes and amplitudes when the carried set stays as it is and gap and load are others: the
/// linear answer used to split a movement into its causes. Values outside the set are zero.
ContactSolution respond(const ContactProgram& program, const std::vector<int>& carrying,
                        const std::vector<double>& gap, const std::vector<double>& load);

} // namespace hangtrue
