// One check: what was found against what is allowed, with margin, origin and reason.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/input/units.hpp"
#include "solver/system/state_id.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue
{

enum class Verdict {
  holds,
  close, ///< within the error estimate of the limit, or above 90 % of it
  fails
};

std::string verdict_word(Verdict verdict);

/// Unit of a check: a kind of quantity, or none for a plain share.
struct Finding {
  std::string name;
  StateId state;
  double found = 0.0; ///< SI
  double limit = 0.0; ///< SI
  Kind kind = Kind::length;
  bool plain = false;    ///< a share without unit
  bool at_least = false; ///< the limit is the least, not the most
  std::string limit_origin;
  double use = 0.0;         ///< found / limit; of a limit of nothing 0, or 9.99 where it fails
  double error = 0.0;       ///< SI, estimated error of `found` from the mesh
  bool error_known = false; ///< with a single mesh level there is no estimate
  double model_error = 0.0; ///< SI, of what the model takes to a share only; no mesh mends it
  std::optional<std::pair<double, double>> likely; ///< SI, range from [spread]; where asked for
  Verdict verdict = Verdict::holds;
  std::string reason; ///< a sentence in the user's words
};

/// Error told beside what was found, SI: of the mesh and of the model together; nothing where
/// neither is known.
std::optional<double> told_error(const Finding& finding);

/// SI unit of a finding as written into results: "m", "Pa" or "1".
std::string si_unit(const Finding& finding);

/// SI unit of what checks and readings are measured in: "m", "Pa", "N", "N/m" or "degC".
std::string si_unit(Kind kind);

/// Verdict by the rule of the program: fails above the limit, close when the error estimate reaches
/// it or above 90 % of it, holds otherwise.
Verdict judge_value(double found, double limit, double error);

/// The word for a finding with the error that it has now.
Verdict judge_again(const Finding& finding);

/// A finding with its use and verdict filled in; `error` in the unit of `found`.
Finding make_finding(const std::string& name, const StateId& state, double found,
                     const Limit& limit, Kind kind, double error, const std::string& reason);

/// A finding that has to be at least the limit: its use is limit over found.
Finding make_floor(const std::string& name, const StateId& state, double found, const Limit& limit,
                   Kind kind, const std::string& reason);

/// The worst verdict; `holds` for an empty list.
Verdict worst(const std::vector<Finding>& findings);

} // namespace hangtrue
