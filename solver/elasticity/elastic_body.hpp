// SPDX-License-Identifier: GPL-3.0-or-later
// One elastic body: its stiffness, factorized once, and its displacements under loads.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/isotropic_elasticity.hpp"
#include "solver/elasticity/node_field.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"

#include <functional>
#include <vector>

namespace hangtrue::elasticity
{

/// Every component of the listed nodes.
std::vector<FixedDof> fix_all(const std::vector<int>& nodes);

/// Isostatic supports of a free body, six unknowns: loads in equilibrium leave no reaction there,
/// so any solution differs from theirs by a rigid displacement only.
std::vector<FixedDof> isostatic_supports(const mesh::BodyMesh& body);

/// A body with factorized stiffness.
class ElasticBody
{
public:
  /// Assembles (small strain, isotropic, triquadratic) and factorizes.
  /// Throws ComputeError when the fixed unknowns leave it free.
  ElasticBody(const fe::Discretization& space, const CellElasticity& elasticity_of,
              const std::vector<FixedDof>& fixed);

  /// Displacement, m, of every node under nodal forces, N; zero at nodes without steel.
  [[nodiscard]] NodeField solve(const NodeField& forces) const;

  /// Displacements, m, of the nodes `at` under several sets of a few forces each.
  [[nodiscard]] std::vector<NodeField> solve(const std::vector<std::vector<NodeForce>>& sets,
                                             const std::vector<int>& nodes) const;

  /// Displacement unknowns, fixed ones included.
  [[nodiscard]] int unknowns() const { return 3 * steel_nodes_; }

  /// Bytes of the factor.
  [[nodiscard]] std::size_t bytes() const { return factor_.bytes(); }

  /// Operations that its factorisation took.
  [[nodiscard]] double operations() const { return factor_.operations(); }

private:
  int steel_nodes_ = 0;     // set while numbering, so declared before it
  std::vector<int> number_; // steel node of every node, -1 without steel
  linear_algebra::BlockCholesky factor_;
};

} // namespace hangtrue::elasticity
