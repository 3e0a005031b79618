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

namespace hangtrue
{

/// Mesh of the closed door: the same, its frame not turned. Throws like `loft`.
Mesh shut_mesh(const Door& door, int level);
Mesh shut_mesh(const Door& door, const Levels& levels);

/// The same, from the cache or added to it.
std::shared_ptr<const KeptMesh> shut_mesh(const Door& door, const Levels& levels, KeptMeshes& kept);

/// What can change on a panel whose stiffness and heat stay: gasket, latches, how far the frame
/// halves of the hinges are shimmed towards the fire, m, and end floats (empty: as drawn).
struct Closing {
  Gasket gasket;
  std::vector<Latch> latches;
  double shim = 0.0;
  std::vector<FloatSetting> floats{};
};
/// Gasket, latches, opening and end floats as the door file sets them.
Closing closing_of(const Door& door);

/// Contact pairs of a closed door, its latches among them, with their gaps and compliances when the
/// gasket is squeezed as in `line`; `first_gasket` is the first gasket pair.
struct ShutContacts {
  std::vector<ContactPoint> points;
  std::size_t first_gasket = 0;
};
/// Pairs of a closed door at its hinges, its latches, its stops and the lengths of gasket on
/// `line`.
ShutContacts shut_contacts(const Door& shut_door, const Mesh& shut, const Closing& closing,
                           const std::vector<GasketAt>& line);

/// Temperatures of the inner skin along the line of the gasket, degC; 20 without heat.
std::vector<double> line_temperatures(const BodyMesh& body, const std::vector<GasketPiece>& line,
                                      const WarmDoor* thermal);

/// Nominal gap, m, between the inner skin and the uncompressed gasket at a point, door closed;
/// negative where the gasket is squeezed.
double drawn_gasket_gap(const Door& shut_door, const Gasket& gasket, const GasketAt& g);

/// The law of one length of gasket linearized at its squeeze, as a gap and a compliance.
struct LinearizedGasket {
  double gap = 0.0;        ///< m
  double compliance = 0.0; ///< m/N
};

/// contact force = length (load + slope (s - squeeze)); `drawn`, m, is the gap without the law.
LinearizedGasket linearized_gasket(const Gasket& gasket, const GasketAt& g, double drawn);

} // namespace hangtrue
