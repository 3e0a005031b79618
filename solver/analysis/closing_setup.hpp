// SPDX-License-Identifier: GPL-3.0-or-later
// What a closed door is set up from: its mesh, what closes it, and its contact points.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "meshing/quality/mesh_cache.hpp"
#include "solver/contact/axial_play.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/heat/thermal_state.hpp"

#include <cstddef>
#include <memory>
#include <vector>

namespace hangtrue::analysis
{

/// Mesh of the closed door: the same, its frame not turned. Throws like `make_mesh`.
mesh::Mesh make_closed_mesh(const door::Door& door, int level);
mesh::Mesh make_closed_mesh(const door::Door& door, const door::RefinementLevel& level);

/// The same, from the cache or added to it.
std::shared_ptr<const quality::CachedMesh> make_closed_mesh(const door::Door& door,
                                                            const door::RefinementLevel& level,
                                                            quality::MeshCache& cache);

/// What can change on a panel whose stiffness and heat stay: gasket, latches, how far the frame
/// halves of the hinges are shimmed towards the fire, m, and end floats (empty: as drawn).
struct ClosingSetup {
  door::Gasket gasket;
  std::vector<door::Latch> latches;
  double shim = 0.0;
  std::vector<contact::EndFloatSetting> floats{};
};
/// Gasket, latches, opening and end floats as the door file sets them.
ClosingSetup closing_setup(const door::Door& door);

/// Contact pairs of a closed door, its latches among them, with their gaps and compliances when the
/// gasket is squeezed as in `line`; `first_gasket` is the first gasket pair.
struct ClosedPairs {
  std::vector<contact::ContactPair> pairs;
  std::size_t first_gasket = 0;
};
/// Pairs of a closed door at its hinges, its latches, its stops and the lengths of gasket on
/// `line`.
ClosedPairs closed_pairs(const door::Door& closed_door, const mesh::Mesh& closed_mesh,
                         const ClosingSetup& closing,
                         const std::vector<contact::GasketPoint>& line);

/// Temperatures of the inner skin along the line of the gasket, degC; 20 without heat.
std::vector<double> line_temperatures(const mesh::BodyMesh& body,
                                      const std::vector<contact::GasketSegment>& line,
                                      const heat::ThermalState* thermal);

/// Nominal gap, m, between the inner skin and the uncompressed gasket at a point, door closed;
/// negative where the gasket is squeezed.
double nominal_gasket_gap(const door::Door& closed_door, const door::Gasket& gasket,
                          const contact::GasketPoint& g);

/// The law of one length of gasket linearized at its squeeze, as a gap and a compliance.
struct LinearizedGasket {
  double gap = 0.0;        ///< m
  double compliance = 0.0; ///< m/N
};

/// contact force = length (load + slope (s - squeeze)); `drawn`, m, is the gap without the law.
LinearizedGasket linearized_gasket(const door::Gasket& gasket, const contact::GasketPoint& g,
                                   double drawn);

} // namespace hangtrue::analysis
