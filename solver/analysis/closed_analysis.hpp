// The closed door: gasket, latches, stops, hinges and pins in one contact solution.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/closing_setup.hpp"
#include "solver/contact/axial_play.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/system/door_system.hpp"

#include <memory>
#include <string>
#include <vector>

namespace hangtrue
{

/// The closed door in one thermal state: factorized once, closed with many setups. All six rigid
/// displacements of the door are constrained by pins, thrust faces, gasket, latches and stops
/// together.
class ShutDoor
{
public:
  /// `latches` are all latch positions that `close` may be called with, the door's own among them;
  /// a position is listed as often as latches are used at it at once. `foreseen` is the active
  /// contact at the hinges of a similar state (ClosedDoor::touches), a warm start that saves work.
  /// Door, mesh, heat and `kept` must outlive it. Throws ComputeError when a body cannot be
  /// factorized.
  ShutDoor(const Door& door, const Mesh& shut, const WarmDoor* warm,
           const std::vector<Latch>& latches, AnalysisCache& kept,
           const std::vector<Touch>& foreseen = {});
  ~ShutDoor();
  ShutDoor(const ShutDoor&) = delete;
  ShutDoor& operator=(const ShutDoor&) = delete;

  /// How much of a closed door is computed: all of it, or what its checks need, the reveal read at
  /// corners and quarter points of the edges and no `door_move`.
  enum class Detail { all, checks };

  /// `after` are earlier states whose greatest squeeze has left a permanent set in the gasket, or
  /// none. The gasket's law is solved by Newton's method, exact in finitely many rounds for a
  /// piecewise linear law. Throws ComputeError when it does not converge or the equilibrium check
  /// fails.
  ClosedDoor close(const Closing& closing, const std::vector<const ClosedDoor*>& after,
                   Detail detail = Detail::all);

  /// The least squeeze of the gasket at its place as an answer with its shares; of what was
  /// closed last, which `closed` came from. Throws ComputeError when nothing was.
  [[nodiscard]] SolvedAnswer least_squeeze(const Closing& closing, const ClosedDoor& closed) const;

  /// The bodies as they are assembled.
  [[nodiscard]] const Assembly& assembly() const;

  /// Gasket and latches with the door at other temperatures, degC per node, and the jamb at one:
  /// the stiffness stays that of this state, which hardly shapes a free bow, so an instant costs no
  /// factor. For choosing among instants and for curves over time; `time` is left to the caller.
  /// Throws like `close`.
  ShutInstant glance_at(const Closing& closing, const std::vector<double>& at, double jamb);

private:
  friend class TrialDoor;
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// A door standing shut of which only the checks of other closings are asked: changes that are
/// tried. The factor of its panel, which the rest needs, is freed unless the cache lends the door's
/// system to the next door.
class TrialDoor
{
public:
  explicit TrialDoor(std::unique_ptr<ShutDoor> door);

  /// ShutDoor::close as far as its checks need it. Throws like that.
  ClosedDoor close(const Closing& closing, const std::vector<const ClosedDoor*>& after);

private:
  std::unique_ptr<ShutDoor> door_;
};

} // namespace hangtrue
