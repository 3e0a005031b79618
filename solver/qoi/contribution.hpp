// SPDX-License-Identifier: GPL-3.0-or-later
// A quantity of interest taken apart into contributions that add up to it.
#pragma once

#include "meshing/common/vec3.hpp"
#include "solver/qoi/qoi_id.hpp"
#include "solver/system/error_by_region.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue::qoi
{

/// What a contribution comes from.
enum class ContributionSource {
  nominal,    ///< a nominal or set size: gasket height and set gap, warp, draw of a latch
  play,       ///< in bores and along pins, and of a loose skin
  compliance, ///< of what lies between door and frame: gasket, rod and strike of a latch
  bending,    ///< elastic strain of a part
  heat,       ///< free strain of a part
  load        ///< weight and handle
};

/// Contributing part: a group of parts that a shop can change on its own, a gap, or the loads.
enum class ContributingPart {
  pins,
  door_knuckles,
  frame_knuckles,
  door_leaves,
  frame_leaves,
  inner_skin,
  outer_skin,
  rim,
  stiffeners,
  strip,
  jamb,
  panel, ///< skins, rim, stiffeners and strip together
  hinge_play,
  end_float,
  loose_skin,
  gasket,
  gasket_height, ///< less its set gap
  frame_warp,
  gasket_set,
  gasket_curve, ///< where it bends
  latches,
  stops,
  applied_load
};

/// One contribution.
struct Contribution {
  ContributingPart part = ContributingPart::applied_load;
  ContributionSource source = ContributionSource::bending;
  double value = 0.0; ///< m, negative where it reduces the whole
  int hinge = -1;     ///< of hinge play: which hinge
};

/// "play in hinge 1", "heat of the inner skin", "weight and handle". For texts alone, never to
/// compare.
std::string contribution_label(const Contribution& contribution);

/// One quantity of interest, split exactly in two ways: by what yields (strain of every part, gaps
/// and their compliance) and by what drives it (loads, heat of every part, nominal sizes). Both add
/// up to the whole.
struct ContributionSplit {
  Quantity quantity = Quantity::drop;
  Vec3 place;         ///< m
  double whole = 0.0; ///< m
  std::vector<Contribution> by_part;
  std::vector<Contribution> by_cause;
  double closure_error = 0.0; ///< m, closure error of the worse of both sums
  /// m, true less computed value, estimated on this mesh (qoi_error).
  std::optional<double> estimated_error{};
  system::ErrorByRegion error_by_region{}; ///< the same by where, m
};

/// The split of that quantity, or null.
const ContributionSplit* find_split(const std::vector<ContributionSplit>& splits,
                                    Quantity quantity);

} // namespace hangtrue::qoi
