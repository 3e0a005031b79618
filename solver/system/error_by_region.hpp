// What an answer misses on its mesh, by the region that it is missing in.
#pragma once

#include "solver/elasticity/elastic_body.hpp"

#include <vector>

namespace hangtrue
{

/// What an answer misses, by where, in its unit; all add up to the whole.
struct MissingIn {
  double panel = 0.0;  ///< panel, rim and jamb
  double hinges = 0.0; ///< leaves, lugs, barrels and pins
  double bores = 0.0; ///< bores that touch their pins at nodes only (solver/error/bore_facet_error)
};

/// What a drop was found to miss, and of what (`answer_error`).
struct KnownError {
  std::vector<NodeField> real;   ///< m, of all bodies
  std::vector<NodeField> dual;   ///< m per N
  std::vector<double> real_push; ///< N
  std::vector<double> dual_push; ///< N per N
  MissingIn missing;             ///< m
};

} // namespace hangtrue
