// SPDX-License-Identifier: GPL-3.0-or-later
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

namespace hangtrue::analysis
{

/// The closed door in one thermal state: factorized once, closed with many setups. All six rigid
/// displacements of the door are constrained by pins, thrust faces, gasket, latches and stops
/// together.
class ClosedDoorAnalysis
{
public:
  /// `latches` are all latch positions that `close` may be called with, the door's own among them;
  /// a position is listed as often as latches are used at it at once. `warm_start` is the active
  /// contact at the hinges of a similar state (ClosedDoorResult::active_contacts), a warm start
  /// that saves work. Door, mesh, heat and `cache` must outlive it. Throws ComputeError when a body
  /// cannot be factorized.
  ClosedDoorAnalysis(const door::Door& door, const mesh::Mesh& closed_mesh,
                     const heat::ThermalState* thermal, const std::vector<door::Latch>& latches,
                     AnalysisCache& cache,
                     const std::vector<contact::ActiveContact>& warm_start = {});
  ~ClosedDoorAnalysis();
  ClosedDoorAnalysis(const ClosedDoorAnalysis&) = delete;
  ClosedDoorAnalysis& operator=(const ClosedDoorAnalysis&) = delete;

  /// How much of a closed door is computed: all of it, or what its checks need, the reveal read at
  /// corners and quarter points of the edges and no `door_move`.
  enum class CachedDetail { all, checks };

  /// `after` are earlier states whose greatest squeeze has left a permanent set in the gasket, or
  /// none. The gasket's law is solved by Newton's method, exact in finitely many rounds for a
  /// piecewise linear law. Throws ComputeError when it does not converge or the equilibrium check
  /// fails.
  ClosedDoorResult solve(const ClosingSetup& closing,
                         const std::vector<const ClosedDoorResult*>& after,
                         CachedDetail detail = CachedDetail::all);

  /// The least squeeze of the gasket at its place as an answer with its shares; of what was
  /// closed last, which `closed` came from. Throws ComputeError when nothing was.
  [[nodiscard]] qoi::QoiSolution least_squeeze(const ClosingSetup& closing,
                                               const ClosedDoorResult& closed) const;

  /// The bodies as they are assembled.
  [[nodiscard]] const system::DoorSystem& assembly() const;

  /// Gasket and latches with the door at other temperatures, degC per node, and the jamb at one:
  /// the stiffness stays that of this state, which hardly shapes a free bow, so an instant costs no
  /// factor. For choosing among instants and for curves over time; `time` is left to the caller.
  /// Throws like `close`.
  ClosedDoorSample sample_at(const ClosingSetup& closing, const std::vector<double>& temperature,
                             double jamb);

private:
  friend class ClosedDoorTrial;
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// A closed door of which only the checks with other setups are computed: remedies that are
/// tried. The factor of its panel, which the rest needs, is freed unless the cache lends the door's
/// system to the next door.
class ClosedDoorTrial
{
public:
  explicit ClosedDoorTrial(std::unique_ptr<ClosedDoorAnalysis> door);

  /// ClosedDoorAnalysis::solve as far as its checks need it. Throws like that.
  ClosedDoorResult solve(const ClosingSetup& closing,
                         const std::vector<const ClosedDoorResult*>& after);

private:
  std::unique_ptr<ClosedDoorAnalysis> door_;
};

} // namespace hangtrue::analysis
