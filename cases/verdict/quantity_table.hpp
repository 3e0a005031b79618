// SPDX-License-Identifier: GPL-3.0-or-later
// The one table of quantities of interest: label, unit, convergence class and source of the limit
// of each.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/input/units.hpp"
#include "solver/qoi/qoi_id.hpp"

#include <optional>
#include <string>

namespace hangtrue::verdict
{

/// How a quantity converges as cells shrink, as observed (docs/mesh-error.md): displacements of a
/// door on its hinges by order 2 in the cells of the panel, since fillets are singular; forces at
/// hinges by 2 in the cells along a knuckle; a bow by heat by 3 in the cells between the skins; a
/// panel that is bent between gasket and latches by 3 in its own; stress in skins and rim, a mean
/// over patches of one size, by 2 in the panel's. Forces at the hinges of a closed door depend on
/// both the cells along a knuckle and the bent panel: the slower of both is taken.
enum class ConvergenceClass { on_hinges, hinge_forces, closed, closed_hinge_forces, bow, plates };

/// Where the limit of a quantity comes from.
enum class LimitSource {
  none,   ///< it is read, not checked
  limits, ///< [limits] of the door file
  steel,  ///< strength of its steel or weld at its temperature
  gasket, ///< data of the gasket
  drawn,  ///< a nominal size
  weight, ///< the door's own weight
  theory  ///< one: the quantity is a fraction of a critical value
};

/// What the index of a quantity counts, and replaces {} in its label.
enum class IndexOf { nothing, latch, plate, years };

/// One row of the table.
struct QuantityRow {
  qoi::Quantity quantity;
  const char* label;
  std::optional<input::Dimension> dimension; ///< nothing: a fraction without unit
  ConvergenceClass convergence;              ///< of the open door
  LimitSource limit = LimitSource::none;
  bool lower_bound = false; ///< the limit is the least, not the most
  IndexOf index = IndexOf::nothing;
  const char* goal_label = nullptr; ///< where it has contributions, if that differs
};

/// The row of a quantity.
const QuantityRow& row_of(qoi::Quantity quantity);

/// How it converges in its state: on a closed door all depends on the bent panel.
ConvergenceClass convergence_of(const qoi::QoiId& id);

/// What a reader calls it: "force of latch 1". For texts alone, never to compare.
std::string quantity_label(const input::DoorCase& door_case, const qoi::QoiId& id);

/// The same where it has contributions or sensitivities.
const char* goal_label(qoi::Quantity quantity);

/// SI unit as written into results: "m", "Pa" or "1".
std::string si_unit(qoi::Quantity quantity);

/// SI unit of what checks and readings are measured in: "m", "Pa", "N", "N/m" or "degC".
std::string si_unit(input::Dimension kind);

/// A value, SI, in the user's units; a fraction with so many digits.
std::string value_text(qoi::Quantity quantity, double value, input::UnitSystem units,
                       int digits = 3);

} // namespace hangtrue::verdict
