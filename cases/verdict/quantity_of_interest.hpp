// SPDX-License-Identifier: GPL-3.0-or-later
// One quantity of interest: its value, its limit, and what is known of its errors.
#pragma once

#include "cases/input/door_case.hpp"
#include "solver/qoi/qoi_id.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue::verdict
{

/// One number of one state. Values come first; errors and ranges are added, and a check uses all
/// three.
struct QuantityOfInterest {
  qoi::QoiId id;
  double value = 0.0;                  ///< SI
  std::optional<input::Limit> limit{}; ///< of a check; it may depend on the temperatures
  std::string reason{};                ///< of a check: a sentence in the user's words
  double model_error = 0.0;            ///< SI, of inexact model inputs; no mesh reduces it
  /// SI, where `value` leaves out a sign or what is below zero: the number with it.
  std::optional<double> with_sign{};

  // Data for the estimate of its discretization error.
  /// SI, true less computed value, by its dual on this mesh (solver/error/qoi_error).
  std::optional<double> estimated_error{};
  /// SI, the force of a knuckle with a lever arm as long as the knuckle: where along it a pin bears
  /// is known to a fraction of a cell only.
  double per_knuckle_length = 0.0;
  /// SI, its change with the loads of a lid offset slightly (solver/error/load_offset).
  double load_offset_change = 0.0;
  /// SI, of what it is a small difference of: its relative error is at least that of this.
  double scale = 0.0;

  // Results of the estimates.
  std::optional<double> error{};                           ///< SI, estimated from the mesh
  bool inherited = false;                                  ///< the error is that of other states
  std::optional<std::pair<double, double>> likely_range{}; ///< SI, range from [spread]; on request
};

/// A number that is read and not checked.
QuantityOfInterest reading(const qoi::QoiId& id, double value);

/// A number with its limit and the reason for a check of it.
QuantityOfInterest limited(const qoi::QoiId& id, double value, const input::Limit& limit,
                           const std::string& reason);

/// That number of that state, or null.
const QuantityOfInterest* find_quantity(const std::vector<QuantityOfInterest>& all,
                                        const qoi::QoiId& id);
QuantityOfInterest* find_quantity(std::vector<QuantityOfInterest>& all, const qoi::QoiId& id);

/// The same number in whatever state, the first, or null.
const QuantityOfInterest* find_number(const std::vector<QuantityOfInterest>& all,
                                      const qoi::QoiId& id);

/// Widens QuantityOfInterest::load_offset_change of each number to its difference from the same
/// number under slightly offset loads.
void add_load_offset_change(const std::vector<QuantityOfInterest>& offset,
                            std::vector<QuantityOfInterest>& all);

/// The error, SI, of that number; 0 where it is not known.
double error_of(const std::vector<QuantityOfInterest>& all, const qoi::QoiId& id);

} // namespace hangtrue::verdict
