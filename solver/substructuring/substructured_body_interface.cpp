// SPDX-License-Identifier: GPL-3.0-or-later
// The retained unknowns of a substructured body, for forces and readings without solving with the
// base.
#include "solver/substructuring/condensed_substructure.hpp"
#include "solver/substructuring/substructured_body.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace hangtrue::substructuring
{

namespace
{

// Unknowns of a base that are solved with the rest of it, and those fixed at zero.
constexpr int none = -1;
constexpr int at_rest = -2;

} // namespace

// A retained unknown that is also on the interface, or fixed, or on a hinge substructure, is not
// listed again.
void SubstructuredBody::set_retained(const std::vector<elasticity::FixedDof>& retained,
                                     SubstructureContent& base)
{
  retained_index_.assign(3 * base.nodes.size(), none);
  for (const int n : base.interface)
    for (int c = 0; c < 3; ++c)
      retained_index_[3 * n + c] = at_rest;
  for (const auto& h : base.fixed_dofs)
    retained_index_[3 * h.node + h.component] = at_rest;
  for (const auto& s : retained)
    if (parts_.substructure_of[s.node] == 0) {
      const elasticity::FixedDof own{parts_.local_of[s.node], s.component};
      int& place = retained_index_[3 * own.node + own.component];
      if (place != none)
        continue;
      place = static_cast<int>(retained_++);
      base.retained.push_back(own);
    }
  for (std::size_t j = 0; j < interfaces_; ++j)
    retained_index_[3 * base.interface[j / 3] + static_cast<int>(j % 3)] =
        static_cast<int>(retained_ + j);
}

bool SubstructuredBody::is_retained(int node) const
{
  const int* place = &retained_index_[3 * static_cast<std::size_t>(parts_.local_of[node])];
  return std::any_of(place, place + 3, [](int p) { return p != none; });
}

// What a base's retained unknowns alone give of its displacements.
std::vector<Vec3> SubstructuredBody::retained_displacements(const std::vector<double>& u) const
{
  std::vector<Vec3> displacements(retained_index_.size() / 3);
  for (std::size_t n = 0; n < displacements.size(); ++n)
    displacements[n] = {at_retained(u.data(), 3 * n), at_retained(u.data(), 3 * n + 1),
                        at_retained(u.data(), 3 * n + 2)};
  return displacements;
}

double SubstructuredBody::at_retained(const double* u, std::size_t unknown) const
{
  return retained_index_[unknown] >= 0 ? u[retained_index_[unknown]] : 0.0;
}

// Forces and readings at retained unknowns or on the boundary of hinge substructures (or of a body
// without an interface) need no base.
bool SubstructuredBody::columns_suffice(const std::vector<std::vector<elasticity::NodeForce>>& sets,
                                        const std::vector<int>& nodes) const
{
  auto reachable = [&](int node) {
    const int p = parts_.substructure_of[node];
    if (p == 0 && unsolved() > 0)
      return is_retained(node);
    return p >= 0 && substructures_[p]->boundary_index(parts_.local_of[node]) >= 0;
  };
  auto loaded = [&](const elasticity::NodeForce& f) {
    if (!reachable(f.node))
      return false;
    if (parts_.substructure_of[f.node] > 0 || unsolved() == 0)
      return true;
    const auto first = 3 * static_cast<std::size_t>(parts_.local_of[f.node]);
    return (f.force.x == 0.0 || retained_index_[first] != none) &&
           (f.force.y == 0.0 || retained_index_[first + 1] != none) &&
           (f.force.z == 0.0 || retained_index_[first + 2] != none);
  };
  for (const auto& set : sets)
    if (!std::all_of(set.begin(), set.end(), loaded))
      return false;
  return std::all_of(nodes.begin(), nodes.end(), reachable);
}

elasticity::NodeField SubstructuredBody::solve_retained(const elasticity::NodeField& forces) const
{
  std::vector<double> on_base(unsolved(), 0.0);
  std::vector<double> on_interface(interfaces_, 0.0);
  std::vector<double> unused;
  for (std::size_t n = 0; n < forces.size(); ++n) {
    const Vec3& f = forces[n];
    if (f.x == 0.0 && f.y == 0.0 && f.z == 0.0)
      continue;
    const elasticity::NodeForce one{static_cast<int>(n), f};
    if (parts_.substructure_of[n] == 0)
      load_retained(one, on_base.data());
    else
      distribute_force(one, unused, on_interface);
  }
  const auto displacements = retained_displacements(interface_displacements(on_interface, on_base));
  elasticity::NodeField result(forces.size());
  for (std::size_t n = 0; n < forces.size(); ++n)
    if (parts_.substructure_of[n] == 0)
      result[n] = outward(displacements[parts_.local_of[n]]);
  return result;
}

void SubstructuredBody::evict_base(FactorizationCache& cache) const
{
  if (unsolved() > 0)
    evict(base(), cache);
}

void SubstructuredBody::release_base_factor()
{
  if (unsolved() > 0)
    substructures_[0].reset();
}

CondensedSubstructure& SubstructuredBody::base() const
{
  if (substructures_[0] == nullptr)
    throw std::logic_error("the carrier of this body was let go");
  return *substructures_[0];
}

void SubstructuredBody::load_retained(const elasticity::NodeForce& f, double* on_retained) const
{
  const auto first = 3 * static_cast<std::size_t>(parts_.local_of[f.node]);
  const std::array<double, 3> force{f.force.x, f.force.y, f.force.z};
  for (std::size_t c = 0; c < 3; ++c)
    if (retained_index_[first + c] >= 0)
      on_retained[retained_index_[first + c]] += force[c];
}

} // namespace hangtrue::substructuring
