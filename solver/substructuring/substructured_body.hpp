// SPDX-License-Identifier: GPL-3.0-or-later
// One elastic body assembled from condensed substructures, which may come from the cache.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/substructuring/factorization_cache.hpp"
#include "solver/substructuring/substructures.hpp"

#include <memory>
#include <vector>

namespace hangtrue::substructuring
{

/// Position of a body relative to the frame of its cached substructures.
struct LocalFrame {
  door::AxisPosition axis; ///< m, the pin axis
  double turn = 0.0;       ///< rad, about the axis: how far the body was turned after meshing
};

/// A body with factorized substructures. It solves what ElasticBody does, but a change near the pin
/// costs only the hinge substructures there, and a uniform factor on its stiffness costs nothing;
/// forces on hinge substructures only never need the base.
class SubstructuredBody
{
public:
  /// Partitions the body, finds or factorizes its substructures in `cache`, and couples them.
  /// `fixed` are fixed unknowns of the base (all three of a node where the body is turned); without
  /// any, six of the base are fixed, as by isostatic_supports. `retained` are the retained unknowns
  /// of a base that is not turned: forces on them and displacements of them need no further
  /// solution of the base. Throws ComputeError when a substructure cannot be factorized.
  SubstructuredBody(const mesh::BodyMesh& mesh, const elasticity::CellElasticity& elasticity_of,
                    const std::vector<elasticity::FixedDof>& fixed, const LocalFrame& frame,
                    FactorizationCache& cache,
                    const std::vector<elasticity::FixedDof>& retained = {});

  /// From now on the solutions for the last few forces on all nodes are cached for the next door
  /// with the same forces.
  void cache_solutions() { caches_solutions_ = true; }

  /// Displacement, m, of every node under nodal forces, N; zero at nodes without steel.
  [[nodiscard]] elasticity::NodeField solve(const elasticity::NodeField& forces) const;

  /// The same, valid at the nodes `at` only, of a base's node at its retained unknowns only where
  /// it has any: then the base needs its forward elimination only. The rest is left at zero.
  [[nodiscard]] elasticity::NodeField solve(const elasticity::NodeField& forces,
                                            const std::vector<int>& nodes) const;

  /// Displacements, m, of the nodes `at` under several sets of a few forces each; where forces and
  /// nodes are on retained unknowns and hinge substructures only, those of a retained node in its
  /// own directions.
  [[nodiscard]] std::vector<elasticity::NodeField>
  solve(const std::vector<std::vector<elasticity::NodeForce>>& sets,
        const std::vector<int>& nodes) const;

  /// Displacements, m, of the retained unknowns alone, in a field over all nodes, under forces, N,
  /// on retained unknowns and hinge substructures; nothing else is solved for.
  [[nodiscard]] elasticity::NodeField solve_retained(const elasticity::NodeField& forces) const;

  /// Removes the factor of its base from `cache`; the body itself still uses it. Does nothing where
  /// there are neither retained unknowns nor hinge substructures.
  void evict_base(FactorizationCache& cache) const;

  /// Releases the factor of the base. Solutions at retained unknowns and hinge substructures remain
  /// available; every other solution throws std::logic_error from then on.
  void release_base_factor();

  /// Displacement unknowns, fixed ones included.
  [[nodiscard]] int unknowns() const;

  /// Memory, byte, besides its substructures.
  [[nodiscard]] std::size_t bytes() const;

private:
  Substructures parts_;
  std::vector<std::shared_ptr<CondensedSubstructure>> substructures_; // like parts_.part
  LocalFrame frame_;
  double cosine_ = 1.0; // of the turn
  double sine_ = 0.0;
  double inverse_modulus_ = 1.0; // 1/Pa: substructures are scaled as if the shear modulus of the
                                 // first were 1 Pa
  std::vector<std::size_t> first_interface_; // per hinge substructure, among all interface unknowns
  std::size_t retained_ = 0;
  std::size_t interfaces_ = 0; // interface unknowns of all hinge substructures
  std::vector<int>
      retained_index_;        // per unknown of the base: index among retained and interface ones
  std::vector<double> lower_; // Cholesky factor L of the coupled Schur complement, by columns

  bool caches_solutions_ = false;
  // Movements by forces: of a door all loads, those without heat, heat alone, duals.
  mutable LruCache<elasticity::NodeField, elasticity::NodeField, elasticity::SameField> solutions_{
      CacheLimits{.count = 6},
      [](const elasticity::NodeField& forces, const elasticity::NodeField& displacements) {
        return sizeof(Vec3) * (forces.size() + displacements.size());
      }};

  [[nodiscard]] elasticity::NodeField solve(const elasticity::NodeField& forces,
                                            bool with_base) const;
  [[nodiscard]] Vec3 inward(const Vec3& force) const; // into the frame of the substructures
  [[nodiscard]] Vec3 outward(const Vec3& move) const; // and back, times the inverse modulus
  void set_retained(const std::vector<elasticity::FixedDof>& retained, SubstructureContent& base);
  void join();
  // Retained and interface unknowns: what the rest of the base is solved from.
  [[nodiscard]] std::size_t unsolved() const { return retained_ + interfaces_; }
  [[nodiscard]] bool is_retained(int node) const;
  [[nodiscard]] double at_retained(const double* u, std::size_t unknown) const;
  [[nodiscard]] std::vector<Vec3> retained_displacements(const std::vector<double>& u) const;
  void load_retained(const elasticity::NodeForce& f, double* on_retained) const;
  [[nodiscard]] CondensedSubstructure& base() const;
  // Displacements of retained and interface unknowns under forces on them: on the interface from
  // the side of the hinge substructures, and the forward-eliminated forces on the base.
  [[nodiscard]] std::vector<double>
  interface_displacements(const std::vector<double>& of_pieces,
                          const std::vector<double>& of_carrier) const;
  struct LoadedSets; // sets of forces, by substructure, and their results
  [[nodiscard]] LoadedSets
  load_substructures(const std::vector<std::vector<elasticity::NodeForce>>& sets) const;
  void displace_interfaces(const std::vector<int>& nodes, LoadedSets& loaded) const;
  void add_interior_displacements(int part, const std::vector<int>& nodes,
                                  const std::vector<std::size_t>& here, const LoadedSets& loaded,
                                  std::vector<elasticity::NodeField>& result) const;
  void add_retained_displacements(const std::vector<int>& nodes,
                                  const std::vector<std::size_t>& here, const LoadedSets& loaded,
                                  std::vector<elasticity::NodeField>& result) const;
  void add_interface_displacements(int part, const std::vector<int>& nodes,
                                   const std::vector<std::size_t>& here, const LoadedSets& loaded,
                                   std::vector<elasticity::NodeField>& result) const;
  [[nodiscard]] std::vector<elasticity::NodeField>
  solve_through_base(const std::vector<std::vector<elasticity::NodeForce>>& sets,
                     const std::vector<int>& nodes) const;
  void distribute_force(const elasticity::NodeForce& f, std::vector<double>& on_base,
                        std::vector<double>& on_interface) const;
  [[nodiscard]] elasticity::NodeField
  displacements_at(const std::vector<int>& nodes, const std::vector<elasticity::NodeForce>& set,
                   const std::vector<double>& base,
                   const std::vector<double>& at_interface_now) const;
  [[nodiscard]] bool columns_suffice(const std::vector<std::vector<elasticity::NodeForce>>& sets,
                                     const std::vector<int>& nodes) const;
};

} // namespace hangtrue::substructuring
