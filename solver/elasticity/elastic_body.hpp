// SPDX-License-Identifier: GPL-3.0-or-later
// One elastic body: its stiffness, factorized once, and its displacements under loads.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/fe/shape_functions.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"

#include <functional>
#include <vector>

namespace hangtrue::elasticity
{

/// Lame's constants, Pa.
struct Elasticity {
  double lambda = 0.0;
  double mu = 0.0;
};

/// Lame's constants from Young's modulus, Pa, and Poisson's ratio.
Elasticity elasticity(double youngs_modulus, double poisson);

/// Elasticity by cell.
using CellElasticity = std::function<Elasticity(const mesh::Hex27&)>;

/// One value for every node of a body, in the body's node order; m or N.
using NodeField = std::vector<Vec3>;

/// True when both have the same numbers.
bool same_field(const NodeField& a, const NodeField& b);

/// The same as a predicate, for keys of a cache.
struct SameField {
  bool operator()(const NodeField& a, const NodeField& b) const { return same_field(a, b); }
};

/// A force on one node, N.
struct NodeForce {
  int node = 0;
  Vec3 force;
};

/// One unknown of one node that is fixed at zero: component 0, 1, 2 for x, y, z.
struct FixedDof {
  int node = 0;
  int component = 0;
};

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
  ElasticBody(const mesh::BodyMesh& mesh, const CellElasticity& elasticity_of,
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

/// Stiffness of a mesh whose every cell is steel, N/m, with the elasticity of each cell.
linear_algebra::BlockMatrix assemble_stiffness(const mesh::BodyMesh& mesh,
                                               const std::vector<Elasticity>& elasticity);

/// Nodal forces, N, that the strained cells for which `include` is true put on their nodes: the
/// integral of B^T sigma, which balances the outer forces where the body is in equilibrium.
NodeField internal_forces(const mesh::BodyMesh& mesh, const fe::CellPredicate& include,
                          const CellElasticity& elasticity_of, const NodeField& displacements);

/// Stress at the 27 points of a cell: xx, yy, zz, yz, xz, xy, Pa.
using Stress = std::array<double, 6>;
/// Stress, Pa, at the 27 points of a cell under displacements, m per node.
std::array<Stress, 27> stresses(const mesh::Hex27& cell, const fe::CellShape& shape,
                                const Elasticity& e, const NodeField& displacements);

/// Work of a stress, Pa, on the strain of a displacement, m per node, at point `q` of a cell,
/// J/m^3.
double work_density(const Stress& stress, const mesh::Hex27& cell, const fe::CellShape& shape,
                    int q, const NodeField& displacements);

/// Nodal forces, N, of a free strain (thermal elongation at the nodes, m/m, isotropic) on a body:
/// the integral of B^T (3 lambda + 2 mu) strain. They are self-equilibrated.
NodeField free_strain_forces(const mesh::BodyMesh& mesh, const CellElasticity& elasticity_of,
                             const std::vector<double>& strain);

/// Internal nodal forces of a stressed cell, N: the integral of B^T sigma.
std::array<Vec3, 27> cell_forces(const fe::CellShape& shape, const std::array<Stress, 27>& stress);

} // namespace hangtrue::elasticity
