// Uncertainty of the results, in words and in results.
#pragma once

#include "cases/check/uncertainty_result.hpp"
#include "cases/input/units.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace hangtrue
{

/// The ranges for a terminal, each with its main reasons.
std::string spread_text(const Sureness& sureness, Units units);

/// Tolerances, ranges and sensitivities, SI.
nlohmann::ordered_json spread_json(const Sureness& sureness);

} // namespace hangtrue
