// One elastic body assembled from condensed substructures, which may come from the cache.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/substructuring/factorization_cache.hpp"
#include "solver/substructuring/substructures.hpp"

#include <memory>
#include <vector>

namespace hangtrue
{

/// Position of a body relative to the frame of its cached substructures.
struct PartFrame {
  AxisPlace axis;    ///< m, the pin axis
  double turn = 0.0; ///< rad, about the axis: how far the body was turned after meshing
};

/// A body with factorized substructures. It solves what ElasticBody does, but a change near the pin
/// costs only the hinge substructures there, and a uniform factor on its stiffness costs nothing;
/// forces on hinge substructures only never need the base.
class JoinedBody
{
public:
  /// Partitions the body, finds or factorizes its substructures in `kept`, and couples them. `held`
  /// are fixed unknowns of the base (all three of a node where the body is turned); without any,
  /// six of the base are fixed, as by hold_lightly. `seats` are the retained unknowns of a base
  /// that is not turned: forces on them and displacements of them need no further solution of the
  /// base. Throws ComputeError when a substructure cannot be factorized.
  JoinedBody(const BodyMesh& mesh, const ElasticityOf& elasticity_of,
             const std::vector<HeldUnknown>& held, const PartFrame& frame, FactoredBodies& kept,
             const std::vector<HeldUnknown>& seats = {});

  /// From now on the answers to the last few forces on all nodes are kept, for the next door that
  /// brings the same.
  void keep_answers() { keeps_answers_ = true; }

  /// Displacement, m, of every node under nodal forces, N; zero at nodes without steel.
  [[nodiscard]] NodeField solve(const NodeField& forces) const;

  /// The same, valid at the nodes `at` only, of a base's node at its retained unknowns only where
  /// it has any: then the base needs its forward elimination only. The rest is left at zero.
  [[nodiscard]] NodeField solve(const NodeField& forces, const std::vector<int>& at) const;

  /// Displacements, m, of the nodes `at` under several sets of a few forces each; where forces and
  /// nodes are on retained unknowns and hinge substructures only, those of a retained node in its
  /// own directions.
  [[nodiscard]] std::vector<NodeField> solve(const std::vector<std::vector<NodeForce>>& sets,
                                             const std::vector<int>& at) const;

  /// Displacements, m, of the retained unknowns alone, in a field over all nodes, under forces, N,
  /// on retained unknowns and hinge substructures; nothing else is solved for.
  [[nodiscard]] NodeField solve_seats(const NodeField& forces) const;

  /// Takes the factor of its carrier out of `kept`; the body itself goes on with it. Nothing where
  /// there are no seats and no pieces.
  void forget_carrier(FactoredBodies& kept) const;

  /// Lets the carrier's factor go. What its seats and pieces answer stays; every other question
  /// throws std::logic_error from then on.
  void let_carrier_go();

  /// Displacement unknowns, fixed ones included.
  [[nodiscard]] int unknowns() const;

  /// Memory, byte, besides its substructures.
  [[nodiscard]] std::size_t bytes() const;

private:
  BodyParts parts_;
  std::vector<std::shared_ptr<FactoredPart>> factored_; // like parts_.part
  PartFrame frame_;
  double cosine_ = 1.0; // of the turn
  double sine_ = 0.0;
  double softness_ = 1.0; // 1/Pa: substructures are scaled as if the shear modulus of the first
                          // were 1 Pa
  std::vector<std::size_t> first_joint_; // per hinge substructure, among all interface unknowns
  std::size_t seats_ = 0;
  std::size_t joints_ = 0;    // interface unknowns of all hinge substructures
  std::vector<int> seat_of_;  // per unknown of the base: index among retained and interface ones
  std::vector<double> lower_; // Cholesky factor L of the coupled Schur complement, by columns

  bool keeps_answers_ = false;
  // Movements by forces: of a door all loads, those without heat, heat alone, duals.
  mutable LruCache<NodeField, NodeField, SameField> known_{
      CacheLimits{.count = 6}, [](const NodeField& forces, const NodeField& moves) {
        return sizeof(Vec3) * (forces.size() + moves.size());
      }};

  [[nodiscard]] NodeField solve(const NodeField& forces, bool carrier_too) const;
  [[nodiscard]] Vec3 inward(const Vec3& force) const; // into the frame of the substructures
  [[nodiscard]] Vec3 outward(const Vec3& move) const; // and back, times the inverse modulus
  void take_seats(const std::vector<HeldUnknown>& seats, PartContent& carrier);
  void join();
  // Retained and interface unknowns: what the rest of the base is solved from.
  [[nodiscard]] std::size_t waiting() const { return seats_ + joints_; }
  [[nodiscard]] bool is_seat(int node) const;
  [[nodiscard]] double at_seat(const double* u, std::size_t unknown) const;
  [[nodiscard]] std::vector<Vec3> seat_moves(const std::vector<double>& u) const;
  void push_seats(const NodeForce& f, double* on_seats) const;
  [[nodiscard]] FactoredPart& carrier() const;
  // Displacements of retained and interface unknowns under forces on them: on the interface from
  // the side of the hinge substructures, and the forward-eliminated forces on the base.
  [[nodiscard]] std::vector<double> joint_moves(const std::vector<double>& of_pieces,
                                                const std::vector<double>& of_carrier) const;
  struct Pushed; // sets of forces, by substructure, and their results
  [[nodiscard]] Pushed push_parts(const std::vector<std::vector<NodeForce>>& sets) const;
  void move_joints(const std::vector<int>& at, Pushed& pushed) const;
  void add_own_moves(int part, const std::vector<int>& at, const std::vector<std::size_t>& here,
                     const Pushed& pushed, std::vector<NodeField>& made) const;
  void add_seat_moves(const std::vector<int>& at, const std::vector<std::size_t>& here,
                      const Pushed& pushed, std::vector<NodeField>& made) const;
  void add_joint_moves(int part, const std::vector<int>& at, const std::vector<std::size_t>& here,
                       const Pushed& pushed, std::vector<NodeField>& made) const;
  [[nodiscard]] std::vector<NodeField>
  solve_through_carrier(const std::vector<std::vector<NodeForce>>& sets,
                        const std::vector<int>& at) const;
  void spread_force(const NodeForce& f, std::vector<double>& on_carrier,
                    std::vector<double>& on_joints) const;
  [[nodiscard]] NodeField moves_at(const std::vector<int>& at, const std::vector<NodeForce>& set,
                                   const std::vector<double>& carrier,
                                   const std::vector<double>& joint_moves_now) const;
  [[nodiscard]] bool answers_can_do(const std::vector<std::vector<NodeForce>>& sets,
                                    const std::vector<int>& at) const;
};

} // namespace hangtrue
