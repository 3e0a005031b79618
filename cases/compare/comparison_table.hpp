// SPDX-License-Identifier: GPL-3.0-or-later
// A comparison as a table for the terminal, as CSV and as JSON.
#pragma once

#include "cases/compare/variant_result.hpp"

#include <string>
#include <vector>

namespace hangtrue::compare
{

/// A comparison that is ready to be shown; one row for each variant.
struct Comparison {
  std::string door;
  input::UnitSystem units = input::UnitSystem::us;
  std::string currency;
  std::vector<Variant> variants;
  std::vector<VariantResult> rows;
};

/// A readable table in the user's units; the lightest and the cheapest variant that holds are
/// marked, and what could not be built or computed is explained below.
std::string comparison_text(const Comparison& comparison);

/// The same for spreadsheets: comma-separated, one line of headings with units, SI.
std::string comparison_csv(const Comparison& comparison);

/// The same for scripts, SI; without anything that changes from run to run.
std::string comparison_json(const Comparison& comparison);

} // namespace hangtrue::compare
