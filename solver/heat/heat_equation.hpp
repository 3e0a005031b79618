// Conduction of heat through a body of 27-node hexahedra, steady and in time, nonlinear.
//
// Temperatures are in degC at the nodes. Conductivity is taken at the mean temperature of a cell,
// stored heat and surface fluxes at the nodes with the positive weights of Simpson's rule, so what
// enters is what is stored and leaves, to the precision of the iteration.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "solver/heat/boundary_faces.hpp"

#include <array>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace hangtrue
{

/// What a cell is made of, for heat.
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

/// A node that is kept at a temperature given over time, degC.
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
  FluxOf steady_flux{}; ///< in place of `flux` when steady: what is around has settled as well
  std::vector<KeptNode> kept;
};

/// Temperatures, degC at every node (those that do not conduct stay at `start`), and heat flows, W.
struct Temperatures {
  std::vector<double> at;
  std::vector<double> through; ///< W into the body per kind of surface
  double imbalance = 0.0;      ///< heat in less heat out and stored, relative to the throughput
  int iterations = 0;
};

/// The kernel: element matrices are computed once, then any number of solutions.
class HeatSolver
{
public:
  /// Throws ComputeError when nothing conducts.
  explicit HeatSolver(HeatProblem problem);
  ~HeatSolver();
  HeatSolver(HeatSolver&&) noexcept;
  HeatSolver& operator=(HeatSolver&&) noexcept;
  HeatSolver(const HeatSolver&) = delete;
  HeatSolver& operator=(const HeatSolver&) = delete;

  /// Steady temperatures at a time, s, from a guess, degC. Throws ComputeError when the iteration
  /// does not settle.
  [[nodiscard]] Temperatures steady(double time, double guess) const;

  /// Change of the steady temperatures, K per node, under each of other fluxes in place of
  /// `steady_flux`: to first order, with the conductivity at `at` (degC per node).
  [[nodiscard]] std::vector<std::vector<double>>
  response(const std::vector<double>& at, double time, const std::vector<FluxOf>& others) const;

  /// Temperatures at rising times, s, from `start`, degC at all nodes. Two-stage singly diagonally
  /// implicit Runge-Kutta of second order (Alexander, SIAM J. Numer. Anal. 14, 1977), L-stable,
  /// radiation implicit, steps chosen so that the estimated error of a step stays below
  /// `tolerance`, K. `seen` is called after every step with time and temperatures. Throws
  /// ComputeError when a step does not settle.
  using Seen = std::function<void(double time, const Temperatures&)>;
  void transient(const std::vector<double>& start, double from, double to, double tolerance,
                 const std::vector<double>& breaks, const Seen& seen) const;

private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

} // namespace hangtrue
