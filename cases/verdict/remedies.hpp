// SPDX-License-Identifier: GPL-3.0-or-later
// What to change so that a closed door seals: each single change computed, ranked by how little it
// is.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/check_result.hpp"
#include "meshing/common/progress.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_analysis.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue::verdict
{

/// One change and the closed door with it, state by state in the order of the check.
struct Remedy {
  std::string text; ///< "draw every latch in by 1/32 in"
  analysis::ClosingSetup closing;
  std::optional<analysis::ClosingSetup>
      cooled; ///< from the first fire on, when that is what changes
  std::vector<analysis::ClosedDoorResult> states;
  Verdict verdict = Verdict::holds; ///< worst over all states
  double min_margin = 0.0;          ///< of the worst check: 1 - utilisation
};

/// Changes of latch, gasket and hinge, the least first; nothing is computed yet.
std::vector<Remedy> possible_remedies(const input::DoorCase& door_case);

/// All latch positions that these changes need, the door's own first.
std::vector<door::Latch> latch_places(const door::Door& door, const std::vector<Remedy>& changes);

/// The door closed in one state with every change; cooled, the gasket has the permanent set of the
/// states before.
std::vector<analysis::ClosedDoorResult> try_remedies(analysis::ClosedDoorTrial& closed,
                                                     const system::StateId& state,
                                                     const std::vector<Remedy>& changes);

/// Evaluates the next state of every change, as tried.
void record_trial(const input::DoorCase& door_case, std::vector<analysis::ClosedDoorResult> tried,
                  std::vector<Remedy>& changes);

/// Changes of the panel: an inner skin that floats, a rim half as deep again; each heated and
/// closed anew on the coarsest mesh through its own states (cold, most bowed, steady, cooled). For
/// a door whose hot states fail. Throws ComputeError when one does not converge.
std::vector<Remedy> panel_remedies(const input::DoorCase& door_case, const Progress& progress);

/// The best of them, in words: the first three that hold, or else the three that come nearest.
std::vector<std::string> remedy_texts(const std::vector<Remedy>& changes);

} // namespace hangtrue::verdict
