// SPDX-License-Identifier: GPL-3.0-or-later
// Compliance between contact pairs: how the gaps change under unit forces, column by column.
#pragma once

#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_qp.hpp"
#include "solver/contact/contact_response.hpp"

#include <cstddef>
#include <unordered_map>
#include <vector>

namespace hangtrue::contact
{

/// Gap changes of all pairs, m/N, under a unit force at some of them, in the batches in which they
/// were requested. They depend on bodies and positions alone, not on gaps and loads.
struct ComplianceColumnCache {
  struct Batch {
    std::vector<int> points;
    std::vector<ContactPair> between;        ///< of them those between nodes
    std::vector<std::vector<double>> column; ///< of each, over all points
  };
  std::vector<Batch> batches;
};

/// Gap changes of all pairs under a unit force at some of them, the candidates, computed on first
/// use. Those of the hinges need no solution of the panel: by reciprocity (Maxwell and Betti) the
/// entries are already in the columns of the panel's pairs.
class ComplianceMatrix
{
public:
  /// Bodies, points and `cached` must outlive it; `cached`, which may be null, holds columns of the
  /// same bodies and positions from before, and receives those of this one.
  ComplianceMatrix(const std::vector<BodyResponse>& bodies, const std::vector<ContactPair>& pairs,
                   ComplianceColumnCache* cached);

  /// Adds candidates that are new. All pairs of the panel come in the first call. Pairs between
  /// nodes come as soon as they exist: earlier columns get their entries by symmetry.
  void add(const std::vector<int>& target);

  /// Pairs whose columns are computed, in that order.
  [[nodiscard]] const std::vector<int>& candidates() const { return candidate_; }
  [[nodiscard]] bool has(int point) const { return place_of_.count(point) > 0; }
  /// Place of a candidate in that order. Throws std::out_of_range for any other point.
  [[nodiscard]] int index_of(int point) const { return static_cast<int>(place_of_.at(point)); }
  [[nodiscard]] std::vector<int> places(const std::vector<int>& points) const;

  /// Gap changes of all pairs, m/N, under a unit force at the candidate with that index.
  [[nodiscard]] const std::vector<double>& column(int place) const { return column_[place]; }
  /// Of the candidates among each other, m/N, without what lies between the sides of a pair.
  [[nodiscard]] const linear_algebra::DenseMatrix& of_candidates() const { return compliance_; }

private:
  // Nodes of one body that take part, and the index of each in the list, -1 for the others.
  struct Nodes {
    std::vector<int> list;
    std::vector<int> place;
  };
  // The pairs of a body whose columns are requested: those that need all nodes, or hinges alone.
  enum class Reach { all, hinges };

  const std::vector<BodyResponse>& bodies_;
  const std::vector<ContactPair>& points_;
  ComplianceColumnCache* cached_;
  std::size_t batches_ = 0;
  std::vector<Nodes> hinge_nodes_;
  std::vector<Nodes> all_nodes_;
  std::vector<int> candidate_;
  std::unordered_map<int, std::size_t> place_of_;
  std::vector<std::vector<double>> column_;
  linear_algebra::DenseMatrix compliance_;

  [[nodiscard]] Nodes nodes_of(int body, Reach reach) const;
  [[nodiscard]] std::vector<ContactPair> between(const std::vector<int>& target) const;
  bool find_cached(const std::vector<int>& target);
  void compute(std::size_t first);
  void add_body(int body, std::size_t first, Reach reach);
  void widen(int first);
};

} // namespace hangtrue::contact
