// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/compliance_matrix.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue::contact
{

namespace
{

// The columns of the panel's points are there before them; those between nodes are not in these.
bool knows_hinges_alone(const ContactPair& pair)
{
  return at_hinge(pair) && !is_intermediate(pair);
}

// Pairs between nodes at the same steps of the same circles.
bool same_places(const std::vector<ContactPair>& a, const std::vector<ContactPair>& b)
{
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
    return x.node_before == y.node_before && x.step == y.step;
  });
}

} // namespace

ComplianceMatrix::ComplianceMatrix(const std::vector<BodyResponse>& bodies,
                                   const std::vector<ContactPair>& pairs,
                                   ComplianceColumnCache* cached)
    : bodies_(bodies), points_(pairs), cached_(cached)
{
}

void ComplianceMatrix::add(const std::vector<int>& target)
{
  const std::size_t first = column_.size();
  for (const int c : target) {
    place_of_[c] = candidate_.size();
    candidate_.push_back(c);
  }
  if (cached_ == nullptr || !find_cached(target)) {
    compute(first);
    if (cached_ != nullptr)
      cached_->batches.push_back(
          {target, between(target), {column_.begin() + std::ptrdiff_t(first), column_.end()}});
  }
  ++batches_;
  for (std::size_t c = 0; c < first; ++c)
    for (std::size_t p = column_[c].size(); p < points_.size(); ++p)
      column_[c].push_back(column_[place_of_.at(static_cast<int>(p))][candidate_[c]]);
  widen(static_cast<int>(first));
}

std::vector<int> ComplianceMatrix::places(const std::vector<int>& points) const
{
  std::vector<int> result;
  for (const int p : points)
    result.push_back(index_of(p));
  return result;
}

ComplianceMatrix::Nodes ComplianceMatrix::nodes_of(int body, Reach reach) const
{
  Nodes nodes;
  nodes.place.assign(bodies_[body].mesh->nodes.size(), -1);
  for (const auto& pair : points_)
    if (at_hinge(pair) || reach == Reach::all)
      for (const auto* side : {&pair.outer, &pair.inner})
        if (side->body == body)
          for (const auto& w : side->nodes)
            if (int& place = nodes.place[w.node]; place < 0) {
              place = static_cast<int>(nodes.list.size());
              nodes.list.push_back(w.node);
            }
  return nodes;
}

std::vector<ContactPair> ComplianceMatrix::between(const std::vector<int>& target) const
{
  std::vector<ContactPair> result;
  for (const int p : target)
    if (is_intermediate(points_[p]))
      result.push_back(points_[p]);
  return result;
}

// The columns of a batch that was requested after the same ones before; else what was cached of
// others cannot be used.
bool ComplianceMatrix::find_cached(const std::vector<int>& target)
{
  if (batches_ < cached_->batches.size() && cached_->batches[batches_].points == target &&
      same_places(cached_->batches[batches_].between, between(target))) {
    const auto& found = cached_->batches[batches_].column;
    column_.insert(column_.end(), found.begin(), found.end());
    return true;
  }
  cached_->batches.resize(batches_);
  return false;
}

void ComplianceMatrix::compute(std::size_t first)
{
  if (all_nodes_.empty())
    for (std::size_t b = 0; b < bodies_.size(); ++b) {
      hinge_nodes_.push_back(nodes_of(static_cast<int>(b), Reach::hinges));
      all_nodes_.push_back(nodes_of(static_cast<int>(b), Reach::all));
    }
  column_.resize(candidate_.size(), std::vector<double>(points_.size(), 0.0));
  for (const Reach reach : {Reach::all, Reach::hinges})
    for (std::size_t b = 0; b < bodies_.size(); ++b)
      add_body(static_cast<int>(b), first, reach);
  for (std::size_t c = first; c < candidate_.size(); ++c)
    if (knows_hinges_alone(points_[candidate_[c]]))
      for (std::size_t p = 0; p < points_.size(); ++p)
        if (const auto known = place_of_.find(static_cast<int>(p));
            !at_hinge(points_[p]) && known != place_of_.end())
          column_[c][p] = column_[known->second][candidate_[c]];
}

void ComplianceMatrix::add_body(int body, std::size_t first, Reach reach)
{
  const bool hinge = reach == Reach::hinges;
  const Nodes& nodes = hinge ? hinge_nodes_[body] : all_nodes_[body];
  std::vector<std::vector<elasticity::NodeForce>> sets;
  std::vector<std::size_t> of;
  for (std::size_t c = first; c < candidate_.size(); ++c) {
    if (knows_hinges_alone(points_[candidate_[c]]) != hinge)
      continue;
    auto forces = unit_contact_force(points_[candidate_[c]], body);
    if (forces.empty())
      continue;
    sets.push_back(std::move(forces));
    of.push_back(c);
  }
  const auto displacements = bodies_[body].elastic->solve(sets, nodes.list);
  for (std::size_t s = 0; s < sets.size(); ++s)
    for (std::size_t p = 0; p < points_.size(); ++p)
      if (at_hinge(points_[p]) || !hinge)
        column_[of[s]][p] += gap_change(
            points_[p], body, [&](int node) { return displacements[s][nodes.place[node]]; });
}

// Appends the compliance of candidates from `first` on to that of the others: symmetric to
// rounding, then symmetrized exactly.
void ComplianceMatrix::widen(int first)
{
  const int n = static_cast<int>(candidate_.size());
  linear_algebra::DenseMatrix wider(n, n);
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i)
      wider(i, j) = i < first && j < first
                        ? compliance_(i, j)
                        : 0.5 * (column_[j][candidate_[i]] + column_[i][candidate_[j]]);
  compliance_ = std::move(wider);
}

} // namespace hangtrue::contact
