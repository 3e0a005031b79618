// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/substructuring/substructured_body.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/mesh/joint_group.hpp"
#include "solver/substructuring/condensed_substructure.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Dense>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace hangtrue::substructuring
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

// Numbers from 0 in the order in which they appear: the same for a hinge elsewhere.
std::vector<int> renumbered(const std::vector<int>& groups)
{
  std::map<int, int> number;
  std::vector<int> result;
  result.reserve(groups.size());
  for (const int g : groups)
    result.push_back(number.try_emplace(g, static_cast<int>(number.size())).first->second);
  return result;
}

// Coordinates in the substructure's own frame: turned back, from its first node.
SubstructureContent content_of(const mesh::BodyMesh& mesh,
                               const std::vector<elasticity::Elasticity>& elasticity,
                               const std::vector<int>& joint_groups, const Substructure& part,
                               const LocalFrame& frame, bool piece)
{
  SubstructureContent result;
  result.is_hinge_substructure = piece;
  result.cells = part.corners;
  const Vec3 origin = mesh.nodes[part.node.front()];
  for (const int n : part.node)
    result.nodes.push_back(turned(mesh.nodes[n] - origin, -frame.turn));
  result.axis = turned(Vec3{frame.axis.x, frame.axis.y, origin.z} - origin, -frame.turn);
  std::vector<int> groups;
  for (const int c : part.cell) {
    result.elasticity.push_back(elasticity[c]);
    groups.push_back(joint_groups[c]);
  }
  result.groups = renumbered(groups);
  return result;
}

// Divides by the shear modulus of the first steel and returns it, Pa. A body that is softer by one
// factor is displaced like the cold one but for that factor, and reuses its condensed
// substructures. Ratios are rounded: equal ones have the same bits.
double normalize_by_shear_modulus(std::vector<elasticity::Elasticity>& elasticity)
{
  const auto steel = std::find_if(elasticity.begin(), elasticity.end(),
                                  [](const elasticity::Elasticity& e) { return e.mu > 0.0; });
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
void add_constraint_modes(const CondensedSubstructure& part, const double* on_interface,
                          std::vector<Vec3>& displacements)
{
  const auto count = static_cast<Eigen::Index>(part.interface_dofs());
  const auto unknowns = static_cast<Eigen::Index>(3 * displacements.size());
  const Vector along = Eigen::Map<const Rows>(part.constraint_mode(0), unknowns, count) *
                       Eigen::Map<const Vector>(on_interface, count);
  for (std::size_t n = 0; n < displacements.size(); ++n) {
    const auto i = static_cast<Eigen::Index>(3 * n);
    displacements[n] += Vec3{along[i], along[i + 1], along[i + 2]};
  }
}

Eigen::Map<const Matrix> square(const std::vector<double>& values)
{
  const auto n = static_cast<Eigen::Index>(std::llround(std::sqrt(values.size())));
  return {values.data(), n, n};
}

} // namespace

SubstructuredBody::SubstructuredBody(const mesh::BodyMesh& mesh,
                                     const elasticity::CellElasticity& elasticity_of,
                                     const std::vector<elasticity::FixedDof>& fixed,
                                     const LocalFrame& frame, FactorizationCache& cache,
                                     const std::vector<elasticity::FixedDof>& retained)
    : parts_(partition_body(mesh)), frame_(frame), cosine_(std::cos(frame.turn)),
      sine_(std::sin(frame.turn))
{
  std::vector<elasticity::Elasticity> elasticity;
  elasticity.reserve(mesh.cells.size());
  for (const auto& cell : mesh.cells)
    elasticity.push_back(fe::is_steel(cell) ? elasticity_of(cell) : elasticity::Elasticity{});
  inverse_modulus_ = 1.0 / normalize_by_shear_modulus(elasticity);
  const std::vector<int> groups = mesh::joint_groups(mesh);
  const int pieces = static_cast<int>(parts_.substructures.size()) - 1;
  SubstructureContent base =
      content_of(mesh, elasticity, groups, parts_.substructures[0], frame, false);
  for (int p = 1; p <= pieces; ++p) {
    first_interface_.push_back(interfaces_);
    interfaces_ += 3 * parts_.substructures[p].interface.size();
    for (const int n : parts_.substructures[p].interface)
      base.interface.push_back(parts_.local_of[parts_.substructures[p].node[n]]);
  }
  for (const auto& h : fixed)
    if (parts_.substructure_of[h.node] == 0)
      base.fixed_dofs.push_back({parts_.local_of[h.node], h.component});
  if (fixed.empty())
    base.fixed_dofs = elasticity::isostatic_supports(body_of(base));
  set_retained(retained, base);
  substructures_.push_back(find_or_factorize(std::move(base), cache));
  for (int p = 1; p <= pieces; ++p) {
    SubstructureContent piece =
        content_of(mesh, elasticity, groups, parts_.substructures[p], frame, true);
    piece.interface = parts_.substructures[p].interface;
    substructures_.push_back(find_or_factorize(std::move(piece), cache));
  }
  join();
}

// Base and hinge substructures are coupled by (S_base + sum of S_hinge) u = f.
void SubstructuredBody::join()
{
  if (unsolved() == 0)
    return;
  const std::vector<double> of_base = substructures_[0]->schur_complement();
  Matrix all = square(of_base);
  for (std::size_t p = 0; p < first_interface_.size(); ++p) {
    const std::vector<double> of_hinge = substructures_[p + 1]->schur_complement();
    const auto s = square(of_hinge);
    const auto at = static_cast<Eigen::Index>(retained_ + first_interface_[p]);
    all.block(at, at, s.rows(), s.cols()) += 0.5 * (s + s.transpose());
  }
  const Eigen::LLT<Matrix> joined(all);
  if (joined.info() != Eigen::Success)
    throw ComputeError("stiffness: knuckle and leaf do not join; a leaf is not joined to anything "
                       "that holds it, or their sizes are too far apart to compute with");
  const Matrix lower = joined.matrixL();
  lower_.assign(lower.data(), lower.data() + lower.size());
}

Vec3 SubstructuredBody::inward(const Vec3& v) const
{
  return {cosine_ * v.x + sine_ * v.y, cosine_ * v.y - sine_ * v.x, v.z};
}

Vec3 SubstructuredBody::outward(const Vec3& v) const
{
  return inverse_modulus_ * Vec3{cosine_ * v.x - sine_ * v.y, sine_ * v.x + cosine_ * v.y, v.z};
}

std::vector<double>
SubstructuredBody::interface_displacements(const std::vector<double>& of_hinges,
                                           const std::vector<double>& of_base) const
{
  const auto lower = square(lower_).triangularView<Eigen::Lower>();
  Vector u = Eigen::Map<const Vector>(of_base.data(), static_cast<Eigen::Index>(unsolved()));
  const auto n = static_cast<Eigen::Index>(interfaces_);
  u.tail(n) += Eigen::Map<const Vector>(of_hinges.data(), n);
  lower.solveInPlace(u);
  lower.transpose().solveInPlace(u);
  return {u.data(), u.data() + u.size()};
}

elasticity::NodeField SubstructuredBody::solve(const elasticity::NodeField& forces) const
{
  if (!caches_solutions_)
    return solve(forces, true);
  if (auto known = solutions_.find(forces))
    return *std::move(known);
  elasticity::NodeField displacements = solve(forces, true);
  solutions_.insert(forces, displacements);
  return displacements;
}

elasticity::NodeField SubstructuredBody::solve(const elasticity::NodeField& forces,
                                               const std::vector<int>& nodes) const
{
  return solve(forces, unsolved() == 0 || std::any_of(nodes.begin(), nodes.end(), [&](int node) {
                         return parts_.substructure_of[node] == 0 && !is_retained(node);
                       }));
}

elasticity::NodeField SubstructuredBody::solve(const elasticity::NodeField& forces,
                                               bool with_base) const
{
  std::vector<std::vector<Vec3>> own;
  for (const auto& part : parts_.substructures)
    own.emplace_back(part.node.size());
  for (std::size_t n = 0; n < forces.size(); ++n)
    if (const int p = parts_.substructure_of[n]; p >= 0)
      own[p][parts_.local_of[n]] = inward(forces[n]);
  std::vector<std::vector<Vec3>> displacements;
  for (std::size_t p = 0; p < substructures_.size(); ++p)
    displacements.push_back(p == 0 && unsolved() > 0 ? std::vector<Vec3>{}
                                                     : substructures_[p]->solve(own[p]));
  if (unsolved() > 0) {
    std::vector<double> on_interface(interfaces_, 0.0);
    for (std::size_t p = 1; p < substructures_.size(); ++p) {
      const CondensedSubstructure& piece = *substructures_[p];
      double* position = &on_interface[first_interface_[p - 1]];
      for (std::size_t n = 0; n < own[p].size(); ++n) {
        const Vec3& f = own[p][n];
        if (f.x == 0.0 && f.y == 0.0 && f.z == 0.0)
          continue;
        const double* s = piece.constraint_mode(3 * static_cast<int>(n));
        const std::size_t count = piece.interface_dofs();
        for (std::size_t j = 0; j < count; ++j)
          position[j] += f.x * s[j] + f.y * s[count + j] + f.z * s[2 * count + j];
      }
    }
    const auto forward = base().forward_eliminate(own[0]);
    const auto u = interface_displacements(on_interface, forward->interface);
    displacements[0] = with_base ? base().back_substitute(*forward, u) : retained_displacements(u);
    for (std::size_t p = 1; p < substructures_.size(); ++p)
      add_constraint_modes(*substructures_[p], &u[retained_ + first_interface_[p - 1]],
                           displacements[p]);
  }
  elasticity::NodeField result(forces.size());
  for (std::size_t n = 0; n < forces.size(); ++n)
    if (const int p = parts_.substructure_of[n]; p >= 0)
      result[n] = outward(displacements[p][parts_.local_of[n]]);
  return result;
}

// Forces anywhere on the boundary, readings anywhere on it: one solution of the base for a block of
// sets.
std::vector<elasticity::NodeField>
SubstructuredBody::solve_through_base(const std::vector<std::vector<elasticity::NodeForce>>& sets,
                                      const std::vector<int>& nodes) const
{
  constexpr std::size_t together = 32; // right-hand sides per block: enough for level-3 BLAS
  const linear_algebra::BlockCholesky& factor = base().factor();
  const std::size_t unknowns = 3 * parts_.substructures[0].node.size();
  std::vector<elasticity::NodeField> result;
  for (std::size_t first = 0; first < sets.size(); first += together) {
    const std::size_t last = std::min(sets.size(), first + together);
    std::vector<std::vector<double>> right(last - first, std::vector<double>(unknowns, 0.0));
    std::vector<std::vector<double>> on_interface(last - first,
                                                  std::vector<double>(interfaces_, 0.0));
    for (std::size_t s = first; s < last; ++s)
      for (const auto& f : sets[s])
        distribute_force(f, right[s - first], on_interface[s - first]);
    std::vector<std::vector<double>> displacements(last - first);
    std::vector<std::vector<double>> found;
    if (unsolved() > 0) {
      const auto forward = factor.forward_eliminate(right);
      for (std::size_t s = 0; s < right.size(); ++s)
        displacements[s] = interface_displacements(on_interface[s], forward[s].interface);
      found = factor.back_substitute(forward, displacements);
    } else {
      found = factor.solve(right);
    }
    for (std::size_t s = first; s < last; ++s)
      result.push_back(
          displacements_at(nodes, sets[s], found[s - first], displacements[s - first]));
  }
  return result;
}

void SubstructuredBody::distribute_force(const elasticity::NodeForce& f,
                                         std::vector<double>& on_base,
                                         std::vector<double>& on_interface) const
{
  const int p = parts_.substructure_of[f.node];
  if (p < 0)
    return;
  const auto local = static_cast<std::size_t>(parts_.local_of[f.node]);
  const Vec3 force = inward(f.force);
  if (p == 0) {
    on_base[3 * local] += force.x;
    on_base[3 * local + 1] += force.y;
    on_base[3 * local + 2] += force.z;
    return;
  }
  const double* s = substructures_[p]->constraint_mode(static_cast<int>(3 * local));
  const std::size_t count = substructures_[p]->interface_dofs();
  for (std::size_t j = 0; j < count; ++j)
    on_interface[first_interface_[p - 1] + j] +=
        force.x * s[j] + force.y * s[count + j] + force.z * s[2 * count + j];
}

// Displacements of some nodes from those of the base and of the interface, and of loaded hinge
// substructures from their own columns.
elasticity::NodeField SubstructuredBody::displacements_at(
    const std::vector<int>& nodes, const std::vector<elasticity::NodeForce>& set,
    const std::vector<double>& base, const std::vector<double>& at_interface_now) const
{
  std::vector<std::vector<Vec3>> own(substructures_.size()); // of loaded hinge substructures
  for (const auto& f : set)
    if (const int p = parts_.substructure_of[f.node]; p > 0)
      own[p].resize(parts_.substructures[p].node.size());
  for (std::size_t p = 1; p < own.size(); ++p) {
    if (own[p].empty())
      continue;
    for (const auto& f : set)
      if (parts_.substructure_of[f.node] == static_cast<int>(p))
        own[p][parts_.local_of[f.node]] += inward(f.force);
    own[p] = substructures_[p]->solve(own[p]);
  }
  elasticity::NodeField there;
  there.reserve(nodes.size());
  for (const int n : nodes) {
    const int p = parts_.substructure_of[n];
    const auto local = static_cast<std::size_t>(std::max(0, parts_.local_of[n]));
    Vec3 sum;
    if (p == 0)
      sum = {base[3 * local], base[3 * local + 1], base[3 * local + 2]};
    if (p > 0) {
      const std::size_t count = substructures_[p]->interface_dofs();
      const double* s = substructures_[p]->constraint_mode(static_cast<int>(3 * local));
      const double* u = &at_interface_now[retained_ + first_interface_[p - 1]];
      for (std::size_t j = 0; j < count; ++j)
        sum += u[j] * Vec3{s[j], s[count + j], s[2 * count + j]};
      if (!own[p].empty())
        sum += own[p][local];
    }
    there.push_back(outward(sum));
  }
  return there;
}

std::size_t SubstructuredBody::bytes() const
{
  return sizeof(double) * lower_.size() + solutions_.bytes();
}

int SubstructuredBody::unknowns() const
{
  return 3 * static_cast<int>(std::count_if(parts_.substructure_of.begin(),
                                            parts_.substructure_of.end(),
                                            [](int p) { return p >= 0; }));
}

} // namespace hangtrue::substructuring
