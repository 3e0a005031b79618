// SPDX-License-Identifier: GPL-3.0-or-later
// Discretization error of a quantity of interest with triquadratic displacements: a dual-weighted
// estimate on the mesh itself.
#pragma once

#include "solver/elasticity/elastic_body.hpp"

#include <vector>

namespace hangtrue::error
{

/// One body with its primal solution and its dual solution (under the unit load of a quantity of
/// interest), all per node.
struct PrimalDualFields {
  const fe::Discretization& space;
  const elasticity::CellElasticity& elasticity;
  const elasticity::NodeField& primal;        ///< m
  const elasticity::NodeField& dual;          ///< m per N
  const std::vector<double>& free_strain;     ///< m/m, empty: none
  elasticity::NodeField primal_contact_force; ///< N, of contact, on the nodes of faces in contact
  elasticity::NodeField dual_contact_force;   ///< N per N
  std::vector<char> active;                   ///< nodes of faces that can be in contact
  std::vector<char> fixed_dofs;               ///< nodes that are fixed
};

/// True less computed value of the quantity of interest, in its unit, cell by cell of the body.
///
/// The error is a(e_u, e_z), e_u the error of the primal and e_z that of the dual solution (Becker
/// and Rannacher, Acta Numerica 10, 2001; Prudhomme and Oden, Comput. Methods Appl. Mech. Engrg.
/// 176, 1999; from memory). Both are estimated in what the next order adds to a cell: along every
/// line of three nodes the cubic that is zero at the three (Bank and Smith, SIAM J. Numer. Anal.
/// 30, 1993: a posteriori error estimates by hierarchic bases; from memory). The residual of each
/// field on these cubics is assembled, distributed to the cells of a line by their stiffness, and
/// solved cell by cell: r_u A^-1 r_z per direction and cell.
std::vector<double> dual_weighted_error(const PrimalDualFields& fields);

} // namespace hangtrue::error
