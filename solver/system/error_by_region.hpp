// SPDX-License-Identifier: GPL-3.0-or-later
// Estimated discretization error of a quantity of interest, by region of the door.
#pragma once

#include "solver/elasticity/elastic_body.hpp"

#include <vector>

namespace hangtrue::system
{

/// Estimated discretization error, by region, in the unit of the quantity; all add up to the whole.
struct ErrorByRegion {
  double panel = 0.0;  ///< panel, rim and jamb
  double hinges = 0.0; ///< leaves, lugs, barrels and pins
  double bores = 0.0; ///< bores that touch their pins at nodes only (solver/error/bore_facet_error)
};

/// A cached error estimate of a drop, and the displacements it belongs to (`qoi_error`).
struct CachedErrorEstimate {
  std::vector<elasticity::NodeField> displacements; ///< m, of all bodies
  std::vector<elasticity::NodeField> dual;          ///< m per N
  std::vector<double> primal_contact_force;         ///< N
  std::vector<double> dual_contact_force;           ///< N per N
  ErrorByRegion by_region;                          ///< m
};

} // namespace hangtrue::system
