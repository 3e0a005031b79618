// One number that a check answers with, with its mesh error.
#pragma once

#include "cases/input/units.hpp"
#include "solver/system/state_id.hpp"

#include <optional>
#include <string>

namespace hangtrue
{

/// How an answer settles as cells shrink, as observed (docs/mesh-error.md): movements of a door on
/// its hinges by order 2 in the cells of the panel, since fillets are singular; forces at hinges by
/// 2 in the cells along a knuckle; a bow by heat by 3 in the cells between the skins; a panel that
/// is bent between gasket and latches by 3 in its own; stress in skins and rim, a mean over patches
/// of one size, by 2 in the panel's. Forces at the hinges of a shut door hang on both the cells
/// along a knuckle and the bent panel: the slower of both is taken.
enum class Settling { on_hinges, hinge_forces, shut, shut_hinge_forces, bow, plates };

/// One number of one state.
struct Answer {
  StateId state;
  std::string name;
  double value = 0.0; ///< SI
  Kind kind = Kind::length;
  bool plain = false; ///< a share without unit
  double limit = 0.0; ///< SI, of a check; it may move with the temperatures; 0 where there is none
  Settling settling = Settling::on_hinges;
  double error = 0.0;   ///< SI, estimated from the mesh
  bool checked = false; ///< a check has this as what it found
  bool error_known = false;
  bool taken_over = false; ///< the error is that of other states
  /// SI, by which the true answer is more, by its dual on this mesh (solver/error/qoi_error).
  std::optional<double> missing{};
  /// SI, what the force of a knuckle would change with a lever as long as the knuckle: where along
  /// it a pin bears is known to a share of a cell only.
  double by_lever = 0.0;
  /// SI, what it changes with the loads of a lid a hair off (solver/error/load_offset_check).
  double by_hair = 0.0;
  /// SI, of what it is a small difference of: its error is no smaller than the same share of that.
  double scale = 0.0;
};

} // namespace hangtrue
