// One elastic body: its stiffness, factorized once, and its displacements under loads.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/fe/shape_functions.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"

#include <functional>
#include <vector>

namespace hangtrue
{

/// Lame's constants, Pa.
struct Elasticity {
  double lambda = 0.0;
  double mu = 0.0;
};

/// Lame's constants from Young's modulus, Pa, and Poisson's ratio.
Elasticity elasticity(double youngs_modulus, double poisson);

/// Elasticity by cell.
using ElasticityOf = std::function<Elasticity(const Hex&)>;

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
struct HeldUnknown {
  int node = 0;
  int component = 0;
};

/// Every component of the listed nodes.
std::vector<HeldUnknown> hold_all(const std::vector<int>& nodes);

/// Isostatic supports of a free body, six unknowns: loads in equilibrium leave no reaction there,
/// so any solution differs from theirs by a rigid displacement only.
std::vector<HeldUnknown> hold_lightly(const BodyMesh& body);

/// A body with factorized stiffness.
class ElasticBody
{
public:
  /// Assembles (small strain, isotropic, triquadratic) and factorizes.
  /// Throws ComputeError when the fixed unknowns leave it free.
  ElasticBody(const BodyMesh& mesh, const ElasticityOf& elasticity_of,
              const std::vector<HeldUnknown>& held);

  /// Displacement, m, of every node under nodal forces, N; zero at nodes without steel.
  [[nodiscard]] NodeField solve(const NodeField& forces) const;

  /// Displacements, m, of the nodes `at` under several sets of a few forces each.
  [[nodiscard]] std::vector<NodeField> solve(const std::vector<std::vector<NodeForce>>& sets,
                                             const std::vector<int>& at) const;

  /// Displacement unknowns, fixed ones included.
  [[nodiscard]] int unknowns() const { return 3 * steel_nodes_; }

  /// Bytes of the factor.
  [[nodiscard]] std::size_t bytes() const { return factor_.bytes(); }

  /// Operations that its factorisation took.
  [[nodiscard]] double operations() const { return factor_.operations(); }

private:
  int steel_nodes_ = 0;     // set while numbering, so declared before it
  std::vector<int> number_; // steel node of every node, -1 without steel
  SymmetricFactor factor_;
};

/// Stiffness of a mesh whose every cell is steel, N/m, with the elasticity of each cell.
BlockMatrix assemble_stiffness(const BodyMesh& mesh, const std::vector<Elasticity>& elasticity);

/// Nodal forces, N, that the strained cells `wanted` put on their nodes: the integral of
/// B^T sigma, which balances the outer forces where the body is in equilibrium.
NodeField internal_forces(const BodyMesh& mesh, const WantedCell& wanted,
                          const ElasticityOf& elasticity_of, const NodeField& moves);

/// Stress at the 27 points of a cell: xx, yy, zz, yz, xz, xy, Pa.
using Stress = std::array<double, 6>;
/// Stress, Pa, at the 27 points of a cell under displacements, m per node.
std::array<Stress, 27> stresses(const Hex& cell, const CellShape& shape, const Elasticity& e,
                                const NodeField& moves);

/// Work of a stress, Pa, on the strain of a displacement, m per node, at point `q` of a cell,
/// J/m^3.
double work_density(const Stress& stress, const Hex& cell, const CellShape& shape, int q,
                    const NodeField& moves);

/// Nodal forces, N, of a free strain (thermal elongation at the nodes, m/m, isotropic) on a body:
/// the integral of B^T (3 lambda + 2 mu) strain. They are self-equilibrated.
NodeField free_strain_forces(const BodyMesh& mesh, const ElasticityOf& elasticity_of,
                             const std::vector<double>& strain);

/// Internal nodal forces of a stressed cell, N: the integral of B^T sigma.
std::array<Vec3, 27> cell_forces(const CellShape& shape, const std::array<Stress, 27>& stress);

} // namespace hangtrue
