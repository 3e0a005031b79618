// One answer taken apart into shares that add up to it.
#pragma once

#include "meshing/common/vec3.hpp"
#include "solver/system/error_by_region.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// What a share comes from.
enum class ShareCause {
  drawn,   ///< a size as drawn or set: gasket height and set gap, warp, draw of a latch
  play,    ///< in bores and along pins, and of a loose skin
  give,    ///< of what lies between door and frame: gasket, rod and strike of a latch
  bending, ///< elastic strain of a part
  heat,    ///< free strain of a part
  load     ///< weight and handle
};

/// One share: "hinge play 1", "heat of the inner skin", "weight".
struct AnswerShare {
  std::string part;
  ShareCause cause = ShareCause::bending;
  double value = 0.0; ///< m, negative where it takes from the answer
};

/// Names of the answers that are split.
inline constexpr const char* drop_answer = "drop of the latch corner";
inline constexpr const char* bow_answer = "bow, middle of the outer skin against its corners";
inline constexpr const char* squeeze_answer = "least squeeze of the gasket";

/// Name of the share that the gasket takes by being pressed together.
inline constexpr const char* gasket_give = "give of the gasket";

/// One answer, split exactly in two ways: by what yields (strain of every part, gaps and what
/// lies in them) and by what drives it (loads, heat of every part, sizes as drawn). Both add up to
/// the whole.
struct AnswerSplit {
  std::string answer; ///< one of the names above; empty: none made
  Vec3 place;         ///< m
  double whole = 0.0; ///< m
  std::vector<AnswerShare> by_part;
  std::vector<AnswerShare> by_cause;
  double miss = 0.0; ///< m, by which the worse of both sums misses the whole
  /// m, by which the true answer is more than the whole, estimated on this mesh (answer_error).
  std::optional<double> missing{};
  MissingIn missing_in{}; ///< the same by where, m
};

} // namespace hangtrue
