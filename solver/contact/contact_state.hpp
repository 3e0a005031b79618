// What a contact solver holds: gaps of all pairs by what acts, and columns of their compliance.
#pragma once

#include "solver/contact/contact_solver.hpp"

#include <map>
#include <unordered_map>
#include <vector>

namespace hangtrue
{

// Opening of a point's gap when the nodes of one body move as `move_of` says.
template <typename MoveOf>
double opening(const ContactPoint& point, int body, const MoveOf& move_of)
{
  double open = 0.0;
  auto add = [&](const ContactSide& side, double sign) {
    if (side.body != body)
      return;
    for (const auto& w : side.nodes)
      open += sign * w.weight * dot(point.normal, move_of(w.node));
  };
  add(point.outer, 1.0);
  add(point.inner, -1.0);
  return open;
}

// The columns of the panel's points are there before them; those between nodes are not in these.
inline bool knows_hinges_alone(const ContactPoint& point)
{
  return at_hinge(point) && point.node_before < 0;
}

// Points between nodes that stand at the same steps of the same circles.
inline bool same_places(const std::vector<ContactPoint>& a, const std::vector<ContactPoint>& b)
{
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
    return x.node_before == y.node_before && x.step == y.step;
  });
}

// Openings of all points under a unit push at some of them, found when first asked for. Those of
// the hinges are found lazily and need no word of the panel: it stands in the columns of the
// panel's points, by symmetry.
struct ContactSolver::Columns {
  Columns(const std::vector<LoadedBody>& all_bodies, const std::vector<ContactPoint>& all_points,
          KeptColumns* kept_before)
      : bodies(all_bodies), points(all_points), kept(kept_before)
  {
  }

  // Nodes of one body that take part, and the place of each in the list, -1 for the others.
  struct Nodes {
    std::vector<int> list;
    std::vector<int> place;
  };

  [[nodiscard]] Nodes nodes_of(int body, bool hinge_only) const
  {
    Nodes made;
    made.place.assign(bodies[body].mesh->nodes.size(), -1);
    for (const auto& point : points)
      if (at_hinge(point) || !hinge_only)
        for (const auto* side : {&point.outer, &point.inner})
          if (side->body == body)
            for (const auto& w : side->nodes)
              if (int& place = made.place[w.node]; place < 0) {
                place = static_cast<int>(made.list.size());
                made.list.push_back(w.node);
              }
    return made;
  }

  // Places of points among the candidates.
  [[nodiscard]] std::vector<int> places(const std::vector<int>& of) const
  {
    std::vector<int> made;
    for (const int p : of)
      made.push_back(static_cast<int>(place_of.at(p)));
    return made;
  }

  // Adds candidates that are new. All points of the panel come in the first call. Points between
  // nodes come as soon as they are there: the columns before know of them by symmetry.
  void add(const std::vector<int>& wanted)
  {
    const std::size_t first = column.size();
    for (const int c : wanted) {
      place_of[c] = candidate.size();
      candidate.push_back(c);
    }
    if (kept == nullptr || !find_again(wanted)) {
      compute(first);
      if (kept != nullptr)
        kept->batches.push_back(
            {wanted, between(wanted), {column.begin() + std::ptrdiff_t(first), column.end()}});
    }
    ++batches;
    for (std::size_t c = 0; c < first; ++c)
      for (std::size_t p = column[c].size(); p < points.size(); ++p)
        column[c].push_back(column[place_of.at(static_cast<int>(p))][candidate[c]]);
    widen(static_cast<int>(first));
  }

  [[nodiscard]] std::vector<ContactPoint> between(const std::vector<int>& wanted) const
  {
    std::vector<ContactPoint> result;
    for (const int p : wanted)
      if (points[p].node_before >= 0)
        result.push_back(points[p]);
    return result;
  }

  // The columns of a batch that was asked for after the same ones before; else what was kept of
  // others is of no use.
  bool find_again(const std::vector<int>& wanted)
  {
    if (batches < kept->batches.size() && kept->batches[batches].points == wanted &&
        same_places(kept->batches[batches].between, between(wanted))) {
      const auto& found = kept->batches[batches].column;
      column.insert(column.end(), found.begin(), found.end());
      return true;
    }
    kept->batches.resize(batches);
    return false;
  }

  void compute(std::size_t first)
  {
    if (all_nodes.empty())
      for (std::size_t b = 0; b < bodies.size(); ++b) {
        hinge_nodes.push_back(nodes_of(static_cast<int>(b), true));
        all_nodes.push_back(nodes_of(static_cast<int>(b), false));
      }
    column.resize(candidate.size(), std::vector<double>(points.size(), 0.0));
    for (const bool hinge : {false, true})
      for (std::size_t b = 0; b < bodies.size(); ++b)
        add_body(static_cast<int>(b), first, hinge);
    for (std::size_t c = first; c < candidate.size(); ++c)
      if (knows_hinges_alone(points[candidate[c]]))
        for (std::size_t p = 0; p < points.size(); ++p)
          if (const auto known = place_of.find(static_cast<int>(p));
              !at_hinge(points[p]) && known != place_of.end())
            column[c][p] = column[known->second][candidate[c]];
  }

  // The flexibility of candidates from `first` on joins that of the others: symmetric to rounding,
  // made exactly so.
  void widen(int first)
  {
    const int n = static_cast<int>(candidate.size());
    DenseMatrix wider(n, n);
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i)
        wider(i, j) = i < first && j < first
                          ? flexibility(i, j)
                          : 0.5 * (column[j][candidate[i]] + column[i][candidate[j]]);
    flexibility = std::move(wider);
  }

  void add_body(int body, std::size_t first, bool hinge)
  {
    const Nodes& nodes = hinge ? hinge_nodes[body] : all_nodes[body];
    std::vector<std::vector<NodeForce>> sets;
    std::vector<std::size_t> of;
    for (std::size_t c = first; c < candidate.size(); ++c) {
      if (knows_hinges_alone(points[candidate[c]]) != hinge)
        continue;
      auto forces = unit_push(points[candidate[c]], body);
      if (forces.empty())
        continue;
      sets.push_back(std::move(forces));
      of.push_back(c);
    }
    const auto moves = bodies[body].elastic->solve(sets, nodes.list);
    for (std::size_t s = 0; s < sets.size(); ++s)
      for (std::size_t p = 0; p < points.size(); ++p)
        if (at_hinge(points[p]) || !hinge)
          column[of[s]][p] +=
              opening(points[p], body, [&](int node) { return moves[s][nodes.place[node]]; });
  }

  const std::vector<LoadedBody>& bodies;
  const std::vector<ContactPoint>& points;
  KeptColumns* kept;
  std::size_t batches = 0;
  std::vector<Nodes> hinge_nodes;
  std::vector<Nodes> all_nodes;
  std::vector<int> candidate;
  std::unordered_map<int, std::size_t> place_of;
  std::vector<std::vector<double>> column;
  DenseMatrix flexibility; // of the candidates, without what lies between the sides
};

struct ContactSolver::Whole {
  const std::vector<LoadedBody>& bodies;
  const std::vector<RigidMode>& modes;
  const std::vector<ContactPoint>& points;
  std::vector<double> drawn;      // gaps as drawn
  std::vector<double> by_load;    // openings under the loads
  std::vector<double> by_heat;    // openings under the heat
  std::vector<double> load;       // generalised forces to be balanced
  DenseMatrix rigid;              // openings of all points per mode
  std::vector<double> compliance; // of what lies between the sides of a point
  int other_heat = -1;            // a body that moves otherwise by heat than it says itself
  NodeField heat_move{};          // m, of that body

  [[nodiscard]] const NodeField& heat_of(int body) const
  {
    return body == other_heat ? heat_move : bodies[body].heat_move;
  }
};

/// What loads, heat and rigid movements do to the gaps, m, of pairs at the end of the list that are
/// new.
void add_openings(ContactSolver::Whole& whole);

/// Pairs between nodes that are known, by circle and step, and not in the programme now: one mark
/// for each of so many pairs.
std::vector<char> left_out(const std::vector<ContactCircle>& circles,
                           const std::vector<std::map<int, int>>& known, std::size_t pairs);

} // namespace hangtrue
