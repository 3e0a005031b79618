// What an answer misses because movements are triquadratic in a cell: its error from the mesh,
// from the mesh itself.
#pragma once

#include "solver/elasticity/elastic_body.hpp"

#include <vector>

namespace hangtrue
{

/// One body with what it really does and what it does under the unit load of an answer (its dual),
/// all per node.
struct GoalFields {
  const BodyMesh& body;
  const ElasticityOf& of;
  const NodeField& real;                  ///< m
  const NodeField& dual;                  ///< m per N
  const std::vector<double>& free_strain; ///< m/m, empty: none
  NodeField real_push;                    ///< N, of contact, on the nodes of faces that touch
  NodeField dual_push;                    ///< N per N
  std::vector<char> touching;             ///< nodes of faces that can touch
  std::vector<char> held;                 ///< nodes that cannot move
};

/// What the true answer is more than the computed one, in its unit, cell by cell of the body.
///
/// The error of an answer is a(e_u, e_z), e_u the error of the real movement and e_z that of the
/// dual one (Becker and Rannacher, Acta Numerica 10, 2001; Prudhomme and Oden, Comput. Methods
/// Appl. Mech. Engrg. 176, 1999; from memory). Both are sought in what the next order adds to a
/// cell: along every line of three nodes the cubic that is zero at the three (Bank and Smith, SIAM
/// J. Numer. Anal. 30, 1993: a posteriori error estimates by hierarchic bases; from memory). The
/// residual of each field on these cubics is assembled, shared out among the cells of a line by
/// their stiffness, and each cell answers its share by itself: r_u A^-1 r_z per direction and cell.
std::vector<double> goal_error(const GoalFields& fields);

} // namespace hangtrue
