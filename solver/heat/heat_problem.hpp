// A heat conduction problem in a body of 27-node hexahedra, and its solution.
//
// Temperatures are in degC at the nodes.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/heat/boundary_faces.hpp"

#include <functional>
#include <vector>

namespace hangtrue
{

/// Thermal material of a cell.
struct HeatMaterial {
  std::function<double(double)> conductivity; ///< W/(m K) at degC
  std::function<double(double)> enthalpy;     ///< J/m^3 from 0 degC, at degC, rising
  std::function<double(double)> capacity;     ///< J/(m^3 K) at degC, its derivative
};

/// Heat into the body through its surface, W/m^2, and how it changes with the surface temperature.
struct Flux {
  double into = 0.0;  ///< W/m^2
  double slope = 0.0; ///< W/(m^2 K), derivative by the surface temperature; negative where stable
};

/// Flux of a kind of surface at a place, surface temperature (degC) and time (s).
using FluxOf = std::function<Flux(int kind, const Vec3& place, double temperature, double time)>;

/// A node with a prescribed temperature over time, degC.
struct KeptNode {
  int node = 0;
  std::function<double(double)> temperature;
};

/// Everything that a heat problem consists of; the mesh must outlive it.
struct HeatProblem {
  const BodyMesh* mesh = nullptr;
  std::function<bool(const Hex&)> conducts;
  std::vector<HeatMaterial> materials;
  std::function<int(const Hex&)> material_of; ///< index into materials
  std::vector<HeatFace> faces;
  FluxOf flux;
  FluxOf steady_flux{}; ///< in place of `flux` when steady: the surroundings are steady as well
  std::vector<KeptNode> kept;
};

/// Temperatures, degC at every node (those that do not conduct stay at `start`), and heat flows, W.
struct Temperatures {
  std::vector<double> at;
  std::vector<double> through; ///< W into the body per kind of surface
  double imbalance = 0.0;      ///< heat in less heat out and stored, relative to the throughput
  int iterations = 0;
};

} // namespace hangtrue
