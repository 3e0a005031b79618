// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/error_text.hpp"

#include "cases/check/refinement_strategy.hpp"
#include "cases/input/units.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_table.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue::output
{

std::string error_text(double error, qoi::Quantity quantity, input::UnitSystem units)
{
  std::string text;
  if (verdict::row_of(quantity).dimension == input::Dimension::temperature)
    text = units == input::UnitSystem::us
               ? fmt::format("{:.1f} degF", input::unit::fahrenheit_difference(error))
               : fmt::format("{:.1f} degC", error);
  else
    text = verdict::value_text(quantity, error, units);
  const std::size_t end = text.find(' ');
  const std::string number = text.substr(0, end);
  if (error <= 0.0 || number.find_first_of("123456789") != std::string::npos)
    return text;
  text[number.rfind('0')] = '1';
  return "<" + text;
}

std::string plus_minus(const check::CheckRun& run, const qoi::QoiId& id, input::UnitSystem units)
{
  const verdict::QuantityOfInterest* q = verdict::find_quantity(run.quantities, id);
  if (!run.compared_with || q == nullptr || !q->error)
    return "";
  return " +- " + error_text(*q->error, id.quantity, units);
}

std::vector<std::string> error_sentences(const input::DoorCase& door_case,
                                         const check::CheckRun& run)
{
  if (!run.compared_with)
    return {"A single mesh level says nothing of its error; take accuracy.finest = 2 or more."};
  std::vector<std::string> result{fmt::format(
      "Errors from the mesh: of the drop by its dual on the last mesh, of all else "
      "changes from level {} to level {}; states that were not computed on both take "
      "the largest error of those that were.",
      check::level_text(*run.compared_with), check::level_text(run.steps.back().level))};
  const double tolerance = door_case.accuracy.tolerance;
  for (const auto& check : run.checks)
    if (verdict::above_tolerance(check, tolerance))
      result.push_back(
          fmt::format("Mesh error {}, {:.1f} % asked: {}, {}; {}.",
                      check.limit > 0.0
                          ? fmt::format("{:.1f} % of the limit", 100.0 * *check.error / check.limit)
                          : "beside a limit of nothing",
                      100.0 * tolerance, verdict::quantity_label(door_case, check.id),
                      system::state_label(check.id.state),
                      verdict::verdict_undecided(check, tolerance) ? "ITS VERDICT DEPENDS ON IT"
                                                                   : "no verdict depends on it"));
  return result;
}

} // namespace hangtrue::output
