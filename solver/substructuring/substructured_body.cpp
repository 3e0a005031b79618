#include "solver/substructuring/substructured_body.hpp"

#include "meshing/common/errors.hpp"
#include "solver/substructuring/condensed_substructure.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Dense>

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue
{

namespace
{

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

Vec3 turned(const Vec3& v, double angle)
{
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * v.x - s * v.y, s * v.x + c * v.y, v.z};
}

// Coordinates in the substructure's own frame: turned back, from its first node.
PartContent content_of(const BodyMesh& mesh, const std::vector<Elasticity>& elasticity,
                       const BodyPart& part, const PartFrame& frame, bool piece)
{
  PartContent made;
  made.piece = piece;
  made.cells = part.corners;
  const Vec3 origin = mesh.nodes[part.node.front()];
  for (const int n : part.node)
    made.nodes.push_back(turned(mesh.nodes[n] - origin, -frame.turn));
  made.axis = turned(Vec3{frame.axis.x, frame.axis.y, origin.z} - origin, -frame.turn);
  for (const int c : part.cell)
    made.elasticity.push_back(elasticity[c]);
  return made;
}

BodyMesh bare_mesh(const PartContent& content)
{
  BodyMesh mesh;
  mesh.nodes = content.nodes;
  for (const auto& c : content.cells) {
    mesh.cells.push_back({});
    mesh.cells.back().node = c;
    mesh.cells.back().part = Part::ring; // some steel
  }
  return mesh;
}

// Divides by the shear modulus of the first steel and returns it, Pa. A body that is softer by one
// factor is displaced like the cold one but for that factor, and reuses its condensed
// substructures. Ratios are rounded: equal ones have the same bits.
double take_out_stiffness(std::vector<Elasticity>& elasticity)
{
  const auto steel = std::find_if(elasticity.begin(), elasticity.end(),
                                  [](const Elasticity& e) { return e.mu > 0.0; });
  if (steel == elasticity.end())
    return 1.0;
  const double mu = steel->mu;
  constexpr double grain = 0x1p-44;
  for (auto& e : elasticity)
    e = {grain * std::round(e.lambda / mu / grain), grain * std::round(e.mu / mu / grain)};
  return mu;
}

using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// Displacements by those of the interface (or by the forces on it).
void add_spread(const FactoredPart& part, const double* joints, std::vector<Vec3>& moves)
{
  const auto count = static_cast<Eigen::Index>(part.joint_unknowns());
  const auto unknowns = static_cast<Eigen::Index>(3 * moves.size());
  const Vector along = Eigen::Map<const Rows>(part.spread(0), unknowns, count) *
                       Eigen::Map<const Vector>(joints, count);
  for (std::size_t n = 0; n < moves.size(); ++n) {
    const auto i = static_cast<Eigen::Index>(3 * n);
    moves[n] += Vec3{along[i], along[i + 1], along[i + 2]};
  }
}

Eigen::Map<const Matrix> square(const std::vector<double>& values)
{
  const auto n = static_cast<Eigen::Index>(std::llround(std::sqrt(values.size())));
  return {values.data(), n, n};
}

} // namespace

JoinedBody::JoinedBody(const BodyMesh& mesh, const ElasticityOf& elasticity_of,
                       const std::vector<HeldUnknown>& held, const PartFrame& frame,
                       FactoredBodies& kept, const std::vector<HeldUnknown>& seats)
    : parts_(cut_body(mesh)), frame_(frame), cosine_(std::cos(frame.turn)),
      sine_(std::sin(frame.turn))
{
  std::vector<Elasticity> elasticity;
  elasticity.reserve(mesh.cells.size());
  for (const auto& cell : mesh.cells)
    elasticity.push_back(is_steel(cell) ? elasticity_of(cell) : Elasticity{});
  softness_ = 1.0 / take_out_stiffness(elasticity);
  const int pieces = static_cast<int>(parts_.part.size()) - 1;
  PartContent carrier = content_of(mesh, elasticity, parts_.part[0], frame, false);
  for (int p = 1; p <= pieces; ++p) {
    first_joint_.push_back(joints_);
    joints_ += 3 * parts_.part[p].joint.size();
    for (const int n : parts_.part[p].joint)
      carrier.joint.push_back(parts_.local_of[parts_.part[p].node[n]]);
  }
  for (const auto& h : held)
    if (parts_.part_of[h.node] == 0)
      carrier.held.push_back({parts_.local_of[h.node], h.component});
  if (held.empty())
    carrier.held = hold_lightly(bare_mesh(carrier));
  take_seats(seats, carrier);
  factored_.push_back(factored(std::move(carrier), kept));
  for (int p = 1; p <= pieces; ++p) {
    PartContent piece = content_of(mesh, elasticity, parts_.part[p], frame, true);
    piece.joint = parts_.part[p].joint;
    factored_.push_back(factored(std::move(piece), kept));
  }
  join();
}

// Base and hinge substructures are coupled by (S_base + sum of S_hinge) u = f.
void JoinedBody::join()
{
  if (waiting() == 0)
    return;
  const std::vector<double> of_carrier = factored_[0]->joint_matrix();
  Matrix all = square(of_carrier);
  for (std::size_t p = 0; p < first_joint_.size(); ++p) {
    const std::vector<double> of_piece = factored_[p + 1]->joint_matrix();
    const auto s = square(of_piece);
    const auto at = static_cast<Eigen::Index>(seats_ + first_joint_[p]);
    all.block(at, at, s.rows(), s.cols()) += 0.5 * (s + s.transpose());
  }
  const Eigen::LLT<Matrix> joined(all);
  if (joined.info() != Eigen::Success)
    throw ComputeError("stiffness: knuckle and leaf do not join; a leaf is not joined to anything "
                       "that holds it, or their sizes are too far apart to compute with");
  const Matrix lower = joined.matrixL();
  lower_.assign(lower.data(), lower.data() + lower.size());
}

Vec3 JoinedBody::inward(const Vec3& v) const
{
  return {cosine_ * v.x + sine_ * v.y, cosine_ * v.y - sine_ * v.x, v.z};
}

Vec3 JoinedBody::outward(const Vec3& v) const
{
  return softness_ * Vec3{cosine_ * v.x - sine_ * v.y, sine_ * v.x + cosine_ * v.y, v.z};
}

std::vector<double> JoinedBody::joint_moves(const std::vector<double>& of_pieces,
                                            const std::vector<double>& of_carrier) const
{
  const auto lower = square(lower_).triangularView<Eigen::Lower>();
  Vector u = Eigen::Map<const Vector>(of_carrier.data(), static_cast<Eigen::Index>(waiting()));
  const auto n = static_cast<Eigen::Index>(joints_);
  u.tail(n) += Eigen::Map<const Vector>(of_pieces.data(), n);
  lower.solveInPlace(u);
  lower.transpose().solveInPlace(u);
  return {u.data(), u.data() + u.size()};
}

NodeField JoinedBody::solve(const NodeField& forces) const
{
  if (!keeps_answers_)
    return solve(forces, true);
  if (auto known = known_.find(forces))
    return *std::move(known);
  NodeField moves = solve(forces, true);
  known_.insert(forces, moves);
  return moves;
}

NodeField JoinedBody::solve(const NodeField& forces, const std::vector<int>& at) const
{
  return solve(forces, waiting() == 0 || std::any_of(at.begin(), at.end(), [&](int node) {
                         return parts_.part_of[node] == 0 && !is_seat(node);
                       }));
}

NodeField JoinedBody::solve(const NodeField& forces, bool carrier_too) const
{
  std::vector<std::vector<Vec3>> own;
  for (const auto& part : parts_.part)
    own.emplace_back(part.node.size());
  for (std::size_t n = 0; n < forces.size(); ++n)
    if (const int p = parts_.part_of[n]; p >= 0)
      own[p][parts_.local_of[n]] = inward(forces[n]);
  std::vector<std::vector<Vec3>> moves;
  for (std::size_t p = 0; p < factored_.size(); ++p)
    moves.push_back(p == 0 && waiting() > 0 ? std::vector<Vec3>{} : factored_[p]->solve(own[p]));
  if (waiting() > 0) {
    std::vector<double> on_joints(joints_, 0.0);
    for (std::size_t p = 1; p < factored_.size(); ++p) {
      const FactoredPart& piece = *factored_[p];
      double* at = &on_joints[first_joint_[p - 1]];
      for (std::size_t n = 0; n < own[p].size(); ++n) {
        const Vec3& f = own[p][n];
        if (f.x == 0.0 && f.y == 0.0 && f.z == 0.0)
          continue;
        const double* s = piece.spread(3 * static_cast<int>(n));
        const std::size_t count = piece.joint_unknowns();
        for (std::size_t j = 0; j < count; ++j)
          at[j] += f.x * s[j] + f.y * s[count + j] + f.z * s[2 * count + j];
      }
    }
    const auto begun = carrier().begin(own[0]);
    const auto u = joint_moves(on_joints, begun->last);
    moves[0] = carrier_too ? carrier().finish(*begun, u) : seat_moves(u);
    for (std::size_t p = 1; p < factored_.size(); ++p)
      add_spread(*factored_[p], &u[seats_ + first_joint_[p - 1]], moves[p]);
  }
  NodeField made(forces.size());
  for (std::size_t n = 0; n < forces.size(); ++n)
    if (const int p = parts_.part_of[n]; p >= 0)
      made[n] = outward(moves[p][parts_.local_of[n]]);
  return made;
}

// Forces anywhere on the boundary, readings anywhere on it: one solution of the base for a block of
// sets.
std::vector<NodeField>
JoinedBody::solve_through_carrier(const std::vector<std::vector<NodeForce>>& sets,
                                  const std::vector<int>& at) const
{
  constexpr std::size_t together = 32; // right-hand sides per block: enough for level-3 BLAS
  const SymmetricFactor& factor = carrier().factor();
  const std::size_t unknowns = 3 * parts_.part[0].node.size();
  std::vector<NodeField> made;
  for (std::size_t first = 0; first < sets.size(); first += together) {
    const std::size_t last = std::min(sets.size(), first + together);
    std::vector<std::vector<double>> right(last - first, std::vector<double>(unknowns, 0.0));
    std::vector<std::vector<double>> on_joints(last - first, std::vector<double>(joints_, 0.0));
    for (std::size_t s = first; s < last; ++s)
      for (const auto& f : sets[s])
        spread_force(f, right[s - first], on_joints[s - first]);
    std::vector<std::vector<double>> moves(last - first);
    std::vector<std::vector<double>> found;
    if (waiting() > 0) {
      const auto begun = factor.begin(right);
      for (std::size_t s = 0; s < right.size(); ++s)
        moves[s] = joint_moves(on_joints[s], begun[s].last);
      found = factor.finish(begun, moves);
    } else {
      found = factor.solve(right);
    }
    for (std::size_t s = first; s < last; ++s)
      made.push_back(moves_at(at, sets[s], found[s - first], moves[s - first]));
  }
  return made;
}

void JoinedBody::spread_force(const NodeForce& f, std::vector<double>& on_carrier,
                              std::vector<double>& on_joints) const
{
  const int p = parts_.part_of[f.node];
  if (p < 0)
    return;
  const auto local = static_cast<std::size_t>(parts_.local_of[f.node]);
  const Vec3 force = inward(f.force);
  if (p == 0) {
    on_carrier[3 * local] += force.x;
    on_carrier[3 * local + 1] += force.y;
    on_carrier[3 * local + 2] += force.z;
    return;
  }
  const double* s = factored_[p]->spread(static_cast<int>(3 * local));
  const std::size_t count = factored_[p]->joint_unknowns();
  for (std::size_t j = 0; j < count; ++j)
    on_joints[first_joint_[p - 1] + j] +=
        force.x * s[j] + force.y * s[count + j] + force.z * s[2 * count + j];
}

// Displacements of some nodes from those of the base and of the interface, and of loaded hinge
// substructures from their own columns.
NodeField JoinedBody::moves_at(const std::vector<int>& at, const std::vector<NodeForce>& set,
                               const std::vector<double>& carrier,
                               const std::vector<double>& joint_moves_now) const
{
  std::vector<std::vector<Vec3>> own(factored_.size()); // of loaded hinge substructures
  for (const auto& f : set)
    if (const int p = parts_.part_of[f.node]; p > 0)
      own[p].resize(parts_.part[p].node.size());
  for (std::size_t p = 1; p < own.size(); ++p) {
    if (own[p].empty())
      continue;
    for (const auto& f : set)
      if (parts_.part_of[f.node] == static_cast<int>(p))
        own[p][parts_.local_of[f.node]] += inward(f.force);
    own[p] = factored_[p]->solve(own[p]);
  }
  NodeField there;
  there.reserve(at.size());
  for (const int n : at) {
    const int p = parts_.part_of[n];
    const auto local = static_cast<std::size_t>(std::max(0, parts_.local_of[n]));
    Vec3 sum;
    if (p == 0)
      sum = {carrier[3 * local], carrier[3 * local + 1], carrier[3 * local + 2]};
    if (p > 0) {
      const std::size_t count = factored_[p]->joint_unknowns();
      const double* s = factored_[p]->spread(static_cast<int>(3 * local));
      const double* u = &joint_moves_now[seats_ + first_joint_[p - 1]];
      for (std::size_t j = 0; j < count; ++j)
        sum += u[j] * Vec3{s[j], s[count + j], s[2 * count + j]};
      if (!own[p].empty())
        sum += own[p][local];
    }
    there.push_back(outward(sum));
  }
  return there;
}

std::size_t JoinedBody::bytes() const
{
  return sizeof(double) * lower_.size() + known_.bytes();
}

int JoinedBody::unknowns() const
{
  return 3 * static_cast<int>(std::count_if(parts_.part_of.begin(), parts_.part_of.end(),
                                            [](int p) { return p >= 0; }));
}

} // namespace hangtrue
