// SPDX-License-Identifier: GPL-3.0-or-later
// One row of a comparison: the result of a variant, stored in its own folder.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/compare/variants.hpp"
#include "cases/figures/drop_contribution_chart.hpp"
#include "cases/input/door_case.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue::compare
{

/// The status of a variant.
enum class VariantState {
  missing,    ///< not worked on yet
  impossible, ///< its keys contradict each other
  no_number,  ///< no result that can be trusted
  holds,
  close,
  fails
};

/// The state as tables write it.
std::string state_text(VariantState state);

/// The outcome of one variant; SI.
struct VariantResult {
  VariantState state = VariantState::missing;
  std::string note;        ///< why there is no number
  double weight = 0.0;     ///< N, door with its hinge halves and the pins
  double drop = 0.0;       ///< m, open and cold
  double drop_error = 0.0; ///< m
  double play_drop = 0.0;  ///< m, part of the drop
  double steel_drop = 0.0; ///< m, part of the drop
  double drop_limit = 0.0; ///< m, of that door
  std::vector<case_figures::NamedContribution>
      shares;               ///< to the drop; empty in rows of an earlier program
  double utilisation = 0.0; ///< of the check that is nearest to its limit, or most above
  std::string tightest;     ///< that check, with its state
  double cost = -1.0;       ///< in the money of the door file; negative without prices
  double seconds = 0.0;     ///< that the work took, by the wall clock
};

/// Row of a check.
VariantResult make_result(const input::DoorCase& door_case, const check::CheckRun& run);

/// Text of row.json and back; nothing when the text is no such row.
std::string result_json(const VariantResult& row);
/// The row of such a text; nothing when it is not one of ours.
std::optional<VariantResult> read_result(const std::string& text);

/// Row of a variant as stored in its folder below `folder`: `missing` unless the folder has the
/// identical door file and a row.
VariantResult stored_result(const std::string& folder, const Variant& variant);

/// Indices of the marked rows, -1 where no variant holds.
struct BestVariants {
  int lightest = -1;
  int cheapest = -1;
};
/// The lightest and the cheapest of the rows that hold every check.
BestVariants best_variants(const std::vector<VariantResult>& rows);

} // namespace hangtrue::compare
