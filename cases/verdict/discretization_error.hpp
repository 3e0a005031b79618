// SPDX-License-Identifier: GPL-3.0-or-later
// Discretization errors of quantities of interest: by the dual of the drop, and by the change from
// a coarser mesh.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/heat/thermal_state.hpp"

#include <cstddef>
#include <memory>
#include <vector>

namespace hangtrue::verdict
{

/// The open cold door on the last mesh that was coarser in every part, with its factors.
struct CoarseSolution {
  door::RefinementLevel level{0, 0}; ///< zero: none
  mesh::Mesh mesh;
  analysis::OpenDoorResult open;
  std::vector<contact::ActiveContact>
      closed_active_contacts; ///< of the closed cold door on the last level
  analysis::AnalysisCache* cache = nullptr;
  std::shared_ptr<const quality::CachedMesh> closed_mesh; ///< where it can be
  std::shared_ptr<firing::CachedHeating> heat;            ///< with a fire
};

/// How a quantity was computed on both meshes.
struct MeshPair {
  door::RefinementLevel fine{2, 2};
  door::RefinementLevel coarse{1, 1}; ///< coarser in every part
  bool in_time = false;               ///< both also took their own time steps through the firing
};

/// Error of a quantity from its change between two meshes, in the unit of `last`: three times
/// Richardson's change / (r^p - 1) (1927), p the order by which it converges (`ConvergenceClass`),
/// r the ratio of the cell sizes that it depends on: of the panel (last + 1) / (before + 1), along
/// a knuckle last / before, between the skins 2 from level 1. Three is the factor of safety of
/// Roache (1994) for two grids whose order was not observed. At least the whole change where time
/// steps differ too. Never below a fraction of the largest of the value, QuantityOfInterest::scale
/// and a tenth of its limit, by class (docs/mesh-error.md): 0.5 % on hinges and of a bow, 1 % of
/// the closed panel, 2 % of hinge forces and of stress in plates, 3 % of hinge forces of a closed
/// door; nor below QuantityOfInterest::per_knuckle_length / (50 cells along a knuckle),
/// QuantityOfInterest::load_offset_change or a tenth of a micrometre. Where a limit depends on the
/// temperatures, the utilisation is compared.
double richardson_error(const QuantityOfInterest& last, const QuantityOfInterest& coarse,
                        const MeshPair& levels);

/// Error of a quantity from its dual on its own mesh (QuantityOfInterest::estimated_error), in its
/// unit: 9/5 of the estimate, and never below 0.5 % of the value. Where the solution is smooth the
/// estimate is the whole error. At an edge where stress diverges the error in energy falls as p^-2
/// from order p to p + 1 (Babuska and Suri, SIAM Review 36, 1994, from memory; for a crack, the
/// worst edge), so the estimate has 1 - (2/3)^2 = 5/9 of it and 9/5 is right; that is taken
/// everywhere. Nor below QuantityOfInterest::load_offset_change.
double dwr_error(const QuantityOfInterest& quantity);

/// The same from the dual-weighted estimate and the value, in their unit.
double dwr_error(double missing, double value);

/// The error that is reported: by the dual for the drop, where time steps differ the greater of
/// dual and change; by the change between meshes for all else.
double reported_error(const QuantityOfInterest& last, const QuantityOfInterest& coarse,
                      const MeshPair& levels);

/// A thermal state on the coarser mesh and its quantities, open and closed.
struct CoarseState {
  std::size_t replay = 0; ///< its index among the thermal states of the last mesh
  heat::ThermalState heat;
  std::vector<QuantityOfInterest> open;
  std::vector<QuantityOfInterest> closed;
};

/// Quantities on the coarser mesh: closed cold, and the most bowed and the steady state.
struct CoarseQois {
  std::vector<QuantityOfInterest> closed_cold;
  std::vector<CoarseState> states;
};

/// Places of those of so many warm states that are computed on the coarser mesh again: the most
/// bowed and the steady one.
std::vector<std::size_t> replayed_states(std::size_t states);

/// The most bowed and the steady state on the coarser mesh, through the same firing to the same
/// instants, not solved yet; `thermal` are the thermal states of the last mesh, the most bowed
/// first, the steady one (or skins as measured) last. Throws ComputeError like the heat.
std::vector<CoarseState> coarse_thermal_states(const std::vector<heat::ThermalState>& thermal,
                                               const CoarseSolution& coarse);

/// Solves such a state, open and, where the door can be closed, closed. Throws ComputeError.
void coarse_quantities(const input::DoorCase& door_case, const CoarseSolution& coarse,
                       CoarseState& state);

/// Quantities of the closed cold door, none where it cannot be closed. Throws ComputeError.
std::vector<QuantityOfInterest> coarse_closed_cold(const input::DoorCase& door_case,
                                                   const CoarseSolution& coarse);

/// Quantities of all states of a check, state by state.
struct StateQuantities {
  std::vector<std::vector<QuantityOfInterest>> open;   ///< cold, then thermal: most bowed first
  std::vector<std::vector<QuantityOfInterest>> closed; ///< cold, thermal in that order, others
};

/// Puts errors beside all quantities of mesh `last` by those on the coarser one; a state that was
/// not computed there inherits the largest error that the others have for the same number.
void estimate_errors(const input::DoorCase& door_case, const door::RefinementLevel& last,
                     const CoarseSolution& coarse, const CoarseQois& coarse_qois,
                     StateQuantities& states);

/// The same with one mesh alone, which gives an error of the drop only: its error, m, is used for
/// all displacements of the open door that have a limit.
void estimate_errors(double drop_error, StateQuantities& states);

} // namespace hangtrue::verdict
