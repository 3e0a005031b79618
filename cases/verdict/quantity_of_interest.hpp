// One quantity of interest: its value, what limits it, and what is known of its errors.
#pragma once

#include "cases/input/door_case.hpp"
#include "solver/qoi/qoi_id.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue
{

/// One number of one state. Values come first; errors and ranges are put beside them, and a check
/// is made of all three.
struct QuantityOfInterest {
  QoiId id;
  double value = 0.0;           ///< SI
  std::optional<Limit> limit{}; ///< of a check; it may move with the temperatures
  std::string reason{};         ///< of a check: a sentence in the user's words
  double model_error = 0.0;     ///< SI, of what the model takes to a share only; no mesh mends it

  // What its mesh error is estimated from.
  /// SI, by which the true value is more, by its dual on this mesh (solver/error/qoi_error).
  std::optional<double> estimated_error{};
  /// SI, what the force of a knuckle would change with a lever as long as the knuckle: where along
  /// it a pin bears is known to a share of a cell only.
  double per_knuckle_length = 0.0;
  /// SI, what it changes with the loads of a lid a hair off (solver/error/load_offset_check).
  double load_offset_change = 0.0;
  /// SI, of what it is a small difference of: its error is no smaller than the same share of that.
  double scale = 0.0;

  // What is then known of it.
  std::optional<double> error{};                     ///< SI, estimated from the mesh
  bool inherited = false;                            ///< the error is that of other states
  std::optional<std::pair<double, double>> likely{}; ///< SI, range from [spread]; where asked for
};

/// A number that is read and not checked.
QuantityOfInterest reading(const QoiId& id, double value);

/// A number with its limit and the reason that a check of it gives.
QuantityOfInterest limited(const QoiId& id, double value, const Limit& limit,
                           const std::string& reason);

/// That number of that state, or null.
const QuantityOfInterest* find_quantity(const std::vector<QuantityOfInterest>& all,
                                        const QoiId& id);
QuantityOfInterest* find_quantity(std::vector<QuantityOfInterest>& all, const QoiId& id);

/// The same number in whatever state, the first, or null.
const QuantityOfInterest* find_number(const std::vector<QuantityOfInterest>& all, const QoiId& id);

/// The error, SI, of that number; 0 where it is not known.
double error_of(const std::vector<QuantityOfInterest>& all, const QoiId& id);

} // namespace hangtrue
