// An error from the mesh beside every answer: the same state on the level before.
#pragma once

#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/substructuring/factorization_cache.hpp"

#include <memory>
#include <string>
#include <vector>

namespace hangtrue
{

/// The open cold door on the last mesh that was coarser in every part, with its factors.
struct LevelBefore {
  Levels levels{0, 0}; ///< zero: none
  Mesh mesh;
  Deflection open;
  std::vector<Touch> shut_touches; ///< of the closed cold door on the last level
  FactoredBodies* parts = nullptr;
  std::shared_ptr<const KeptMesh> shut; ///< where it can be
  std::shared_ptr<KeptHeat> heat;       ///< with a fire
};

/// The states of a check on its last level; without a fire or a latch the lists are empty.
struct StatesFound {
  Levels levels;
  const Deflection& open;
  const std::vector<Deflection>& warm;   ///< most bowed first, steady last
  const std::vector<ClosedDoor>& closed; ///< cold, in the order of `warm`, then others
};

/// How an answer was come by on both levels.
struct LevelPair {
  Levels last{2, 2};
  Levels before{1, 1};  ///< coarser in every part
  bool in_time = false; ///< both also took their own steps through the firing
};

/// Error of an answer from its change between two levels, in the unit of `last`: Richardson's
/// change / (r^p - 1) (1927), p the order by which such an answer settles (`Settling`), r the ratio
/// of the cell sizes that it hangs on: of the panel (last + 1) / (before + 1), along a knuckle last
/// / before, between the skins 2 from level 1. The whole change where steps in time differ too.
/// Never below 0.2 % of the answer, 0.5 % of forces at hinges and of stress in plates: two levels
/// cannot tell less (docs/mesh-error.md); nor below Answer::by_lever / (50 cells along a knuckle)
/// or Answer::by_hair.
/// Where a limit moves with the temperatures, the use is compared.
double error_by_change(const Answer& last, const Answer& before, const LevelPair& levels);

/// Error of an answer from its dual on its own mesh (Answer::missing), in the unit of the answer:
/// 4/3 of what is estimated to be missing, and never below 0.2 %. Where the solution is smooth the
/// estimate is the whole error. At an edge where stress has no limit the error in energy falls as
/// p^-2 from order p to p + 1 (Babuska and Suri, SIAM Review 36, 1994, from memory; for a crack,
/// the worst edge), so 1 - (2/3)^2 = 5/9 of it is seen and 9/5 would be right; 4/3 is between both.
/// Nor below Answer::by_hair.
double error_by_dual(const Answer& answer);

/// The same from what the dual says is missing and from the answer's value, in their unit.
double error_by_dual(double missing, double value);

/// The error that is told: by the dual for the drop, where steps in time differ the greater of dual
/// and change; by the change between levels for all else.
double error_told(const Answer& last, const Answer& before, const LevelPair& levels);

/// A warm state on the level before and what it answers, open and closed.
struct StateBefore {
  std::size_t again = 0; ///< its place among the warm states of the last level
  WarmDoor heat;
  std::vector<Answer> open;
  std::vector<Answer> closed;
};

/// What the level before answers: closed cold, and the most bowed and the steady state.
struct AnswersBefore {
  std::vector<Answer> closed_cold;
  std::vector<StateBefore> states;
};

/// The most bowed and the steady state on the level before, through the same firing to the same
/// instants, not answered yet; `warm` are the warm states of the last level, the most bowed first,
/// the steady one (or skins as measured) last. Throws ComputeError like the heat.
std::vector<StateBefore> heat_before(const std::vector<WarmDoor>& warm, const LevelBefore& before);

/// Answers such a state, open and, where the door can be shut, closed. Throws ComputeError.
void answer_before(const DoorCase& door_case, const LevelBefore& before, StateBefore& state);

/// Answers of the closed cold door, none where it cannot be shut. Throws ComputeError.
std::vector<Answer> closed_cold_before(const DoorCase& door_case, const LevelBefore& before);

/// All answers of all states with their errors by what the level before answered; a state that was
/// not computed there takes the largest error that the others have for the same answer and says so
/// (`taken_over`).
std::vector<Answer> answers_with_errors(const DoorCase& door_case, const StatesFound& found,
                                        const LevelBefore& before, const AnswersBefore& answered);

/// Puts the errors of the answers beside the checks of the same state and name and judges anew.
void judge_with_errors(const std::vector<Answer>& answers, std::vector<Finding>& findings);

/// True where the error is more than the asked share of the limit.
bool above_tolerance(const Finding& finding, double tolerance);

/// True where besides the limit lies within the error, so that a finer mesh could turn the word.
bool hangs_in_the_error(const Finding& finding, double tolerance);

} // namespace hangtrue
