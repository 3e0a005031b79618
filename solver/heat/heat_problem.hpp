// SPDX-License-Identifier: GPL-3.0-or-later
// A heat conduction problem in a body of 27-node hexahedra, and its solution.
//
// Temperatures are in degC at the nodes.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/fe/discretization.hpp"
#include "solver/heat/boundary_faces.hpp"

#include <functional>
#include <vector>

namespace hangtrue::heat
{

/// Thermal material of a cell.
struct HeatMaterial {
  std::function<double(double)> conductivity; ///< W/(m K) at degC
  std::function<double(double)> enthalpy;     ///< J/m^3 from 0 degC, at degC, rising
  std::function<double(double)> capacity;     ///< J/(m^3 K) at degC, its derivative
};

/// Heat into the body through its surface, W/m^2, and how it changes with the surface temperature.
struct SurfaceFlux {
  double into = 0.0;  ///< W/m^2
  double slope = 0.0; ///< W/(m^2 K), derivative by the surface temperature; negative where stable
};

/// Flux of a kind of surface at a place, surface temperature (degC) and time (s).
using SurfaceFluxFunction =
    std::function<SurfaceFlux(int kind, const Vec3& place, double temperature, double time)>;

/// A node with a prescribed temperature over time, degC.
struct PrescribedTemperature {
  int node = 0;
  std::function<double(double)> temperature;
};

/// Everything that a heat problem consists of.
struct HeatProblem {
  fe::Discretization space;
  std::function<bool(const mesh::Hex27&)> conducts{};
  std::vector<HeatMaterial> materials{};
  std::function<int(const mesh::Hex27&)> material_of{}; ///< index into materials
  std::vector<HeatFace> faces{};
  SurfaceFluxFunction flux{};
  SurfaceFluxFunction
      steady_flux{}; ///< in place of `flux` when steady: the surroundings are steady as well
  std::vector<PrescribedTemperature> prescribed{};
};

/// Temperatures, degC at every node (those that do not conduct stay at `start`), and heat flows, W.
struct TemperatureField {
  std::vector<double> value;
  std::vector<double> through; ///< W into the body per kind of surface
  double imbalance = 0.0;      ///< heat in less heat out and stored, relative to the throughput
  int iterations = 0;
};

} // namespace hangtrue::heat
