// One elastic body put together from factored parts that may have been there before.
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

/// Where a body stands against the frame that its parts are kept in.
struct PartFrame {
  AxisPlace axis;    ///< m, the pin axis
  double turn = 0.0; ///< rad, about the axis: how far the body was turned after it was drawn
};

/// A body whose parts are factored. It answers like ElasticBody, but a change near the pin costs
/// only the pieces there, and one that makes all of it softer alike costs nothing; forces that act
/// on pieces only never touch the carrier.
class JoinedBody
{
public:
  /// Cuts the body, finds or factors its parts in `kept`, and joins them. `held` are unknowns
  /// of the carrier (all three of a node where the body is turned); without any, six of the carrier
  /// are held, as hold_lightly does. `seats` are unknowns of a carrier that is not turned: forces
  /// on them and movements of them are had without another solution of the carrier.
  /// Throws ComputeError when a part cannot be factored.
  JoinedBody(const BodyMesh& mesh, const ElasticityOf& elasticity_of,
             const std::vector<HeldUnknown>& held, const PartFrame& frame, FactoredBodies& kept,
             const std::vector<HeldUnknown>& seats = {});

  /// From now on the answers to the last few forces on all nodes are kept, for the next door that
  /// brings the same.
  void keep_answers() { keeps_answers_ = true; }

  /// Movement, m, of every node under nodal forces, N; zero at nodes that no steel touches.
  [[nodiscard]] NodeField solve(const NodeField& forces) const;

  /// The same, right at the nodes `at` only, of a carrier's node at its seats only where it has
  /// any: then the carrier is spared half of its work. The rest is left at zero.
  [[nodiscard]] NodeField solve(const NodeField& forces, const std::vector<int>& at) const;

  /// Movements, m, of the nodes `at` under several sets of a few forces each; where forces and
  /// nodes lie on seats and pieces only, those of a seat's node in its own directions.
  [[nodiscard]] std::vector<NodeField> solve(const std::vector<std::vector<NodeForce>>& sets,
                                             const std::vector<int>& at) const;

  /// Movements, m, of the seats alone, in a field over all nodes, under forces, N, on seats and
  /// pieces; nothing else is solved for.
  [[nodiscard]] NodeField solve_seats(const NodeField& forces) const;

  /// Takes the factor of its carrier out of `kept`; the body itself goes on with it. Nothing where
  /// there are no seats and no pieces.
  void forget_carrier(FactoredBodies& kept) const;

  /// Lets the carrier's factor go. What its seats and pieces answer stays; every other question
  /// throws std::logic_error from then on.
  void let_carrier_go();

  /// Displacement unknowns, held ones included.
  [[nodiscard]] int unknowns() const;

  /// Memory, byte, that it takes besides its parts.
  [[nodiscard]] std::size_t bytes() const;

private:
  BodyParts parts_;
  std::vector<std::shared_ptr<FactoredPart>> factored_; // like parts_.part
  PartFrame frame_;
  double cosine_ = 1.0; // of the turn
  double sine_ = 0.0;
  double softness_ = 1.0; // 1/Pa: parts are as stiff as if the shear modulus of the first were 1 Pa
  std::vector<std::size_t> first_joint_; // per piece, among all joint unknowns
  std::size_t seats_ = 0;
  std::size_t joints_ = 0;    // joint unknowns of all pieces
  std::vector<int> seat_of_;  // per unknown of the carrier: its place among seats and joints
  std::vector<double> lower_; // L of the stiffness of seats and joints of all parts, by columns

  bool keeps_answers_ = false;
  // Movements by forces: of a door all loads, those without heat, heat alone, duals.
  mutable LruCache<NodeField, NodeField, SameField> known_{
      CacheLimits{.count = 6}, [](const NodeField& forces, const NodeField& moves) {
        return sizeof(Vec3) * (forces.size() + moves.size());
      }};

  [[nodiscard]] NodeField solve(const NodeField& forces, bool carrier_too) const;
  [[nodiscard]] Vec3 inward(const Vec3& force) const; // into the frame of the parts
  [[nodiscard]] Vec3 outward(const Vec3& move) const; // and back, times softness
  void take_seats(const std::vector<HeldUnknown>& seats, PartContent& carrier);
  void join();
  // Seats and joints: what the rest of the carrier is solved from.
  [[nodiscard]] std::size_t waiting() const { return seats_ + joints_; }
  [[nodiscard]] bool is_seat(int node) const;
  [[nodiscard]] double at_seat(const double* u, std::size_t unknown) const;
  [[nodiscard]] std::vector<Vec3> seat_moves(const std::vector<double>& u) const;
  void push_seats(const NodeForce& f, double* on_seats) const;
  [[nodiscard]] FactoredPart& carrier() const;
  // Movements of seats and joints under forces on them: on the joints from the pieces' side, and
  // what those on the carrier come to.
  [[nodiscard]] std::vector<double> joint_moves(const std::vector<double>& of_pieces,
                                                const std::vector<double>& of_carrier) const;
  struct Pushed; // sets of forces, part by part, and what comes of them
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
