// SPDX-License-Identifier: GPL-3.0-or-later
// Uncertainty of the results, in words and in results.
#pragma once

#include "cases/check/uncertainty_result.hpp"
#include "cases/input/units.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace hangtrue::output
{

/// The ranges for a terminal, each with its main reasons.
std::string uncertainty_text(const check::UncertaintyResult& sureness, input::UnitSystem units);

/// Tolerances, ranges and sensitivities, SI.
nlohmann::ordered_json uncertainty_json(const check::UncertaintyResult& sureness);

} // namespace hangtrue::output
