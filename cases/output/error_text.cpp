#include "cases/output/error_text.hpp"

#include "cases/check/refinement_strategy.hpp"
#include "cases/input/units.hpp"
#include "cases/verdict/discretization_error.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue
{

std::string error_text(double error, Kind kind, bool plain, Units units)
{
  std::string text;
  if (plain)
    text = fmt::format("{:.3f}", error);
  else if (kind == Kind::temperature)
    text = units == Units::us ? fmt::format("{:.1f} degF", unit::fahrenheit_difference(error))
                              : fmt::format("{:.1f} degC", error);
  else
    text = format_short(error, kind, units);
  const std::size_t end = text.find(' ');
  const std::string number = text.substr(0, end);
  if (error <= 0.0 || number.find_first_of("123456789") != std::string::npos)
    return text;
  text[number.rfind('0')] = '1';
  return "<" + text;
}

std::string plus_minus(const CheckRun& run, const std::string& state, const std::string& name,
                       Units units)
{
  for (const auto& a : run.answers)
    if (a.state == state && a.name == name && a.error_known)
      return " +- " + error_text(a.error, a.kind, a.plain, units);
  return "";
}

std::vector<std::string> error_sentences(const DoorCase& door_case, const CheckRun& run)
{
  if (run.answers.empty())
    return {"A single mesh level tells nothing about its error; take accuracy.finest = 2 or more."};
  std::vector<std::string> made{
      fmt::format("Errors from the mesh: of the drop by its dual on the last mesh, of all else "
                  "changes from level {} to level {}; states that were not computed on both take "
                  "the largest error of those that were.",
                  level_words(run.compared_with), level_words(run.levels.back().levels))};
  const double tolerance = door_case.accuracy.tolerance;
  for (const auto& f : run.findings)
    if (above_tolerance(f, tolerance))
      made.push_back(fmt::format(
          "Mesh error {}, {:.1f} % asked: {}, {}; {}.",
          f.limit > 0.0 ? fmt::format("{:.1f} % of the limit", 100.0 * f.error / f.limit)
                        : "beside a limit of nothing",
          100.0 * tolerance, f.name, f.state,
          hangs_in_the_error(f, tolerance) ? "ITS VERDICT HANGS IN IT" : "no verdict hangs in it"));
  return made;
}

} // namespace hangtrue
