// SPDX-License-Identifier: GPL-3.0-or-later
// Conduction and surface fluxes of a heat problem in terms of its unknowns, one per node that
// conducts.
//
// Conductivity is taken at the mean temperature of a cell, stored heat and surface fluxes at the
// nodes with the positive weights of Simpson's rule, so what enters is what is stored and leaves,
// to the precision of the iteration.
#pragma once

#include "solver/fe/cell_values.hpp"
#include "solver/heat/heat_problem.hpp"
#include "solver/linear_algebra/scalar_cholesky.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace hangtrue::heat
{

/// Heat flows at one field of temperatures.
struct HeatFlows {
  std::vector<double> inflow;       ///< W into each unknown by conduction and surfaces
  std::vector<double> slope;        ///< W/K, of the surfaces alone, derivative by the temperature
  std::vector<double> conductivity; ///< W/(m K), per cell
  std::vector<double> through;      ///< W into the body per kind of surface
  double throughput = 0.0;          ///< W, sum of magnitudes over surfaces
};

/// The heat problem in space: element matrices are computed once, then evaluated at any
/// temperatures. Temperatures are in degC per unknown.
class HeatOperator
{
public:
  /// Throws ComputeError when nothing conducts.
  explicit HeatOperator(HeatProblem problem);

  [[nodiscard]] int unknowns() const { return static_cast<int>(node_.size()); }
  [[nodiscard]] const linear_algebra::ScalarMatrix& pattern() const { return pattern_; }
  [[nodiscard]] const SurfaceFluxFunction& flux() const { return problem_.flux; }
  /// The flux when the surroundings are steady as well.
  [[nodiscard]] const SurfaceFluxFunction& steady_flux() const
  {
    return problem_.steady_flux ? problem_.steady_flux : problem_.flux;
  }

  /// True where the temperature of an unknown is prescribed.
  [[nodiscard]] bool is_prescribed(std::size_t unknown) const { return prescribed_[unknown] >= 0; }
  /// Sets the prescribed temperatures to their values at a time, s.
  void prescribe(std::vector<double>& t, double time) const;

  [[nodiscard]] HeatFlows flows(const std::vector<double>& t, double time,
                                const SurfaceFluxFunction& flux) const;
  /// Adds the flows through the surfaces alone.
  void add_surfaces(const std::vector<double>& t, double time, const SurfaceFluxFunction& flux_of,
                    HeatFlows& flows) const;

  /// Heat stored at each unknown, J from 0 degC.
  [[nodiscard]] std::vector<double> stored(const std::vector<double>& t) const;
  /// Its derivative by the temperature, J/K.
  [[nodiscard]] std::vector<double> capacity(const std::vector<double>& t) const;

  /// Symmetric Jacobian of the stored heat less `step` (s) times the inflow, J/K, with frozen
  /// conductivity.
  [[nodiscard]] linear_algebra::ScalarMatrix
  jacobian(const HeatFlows& flows, const std::vector<double>& capacity, double step) const;

  /// Values of the unknowns among values of all nodes.
  [[nodiscard]] std::vector<double> of_unknowns(const std::vector<double>& at_nodes) const;
  /// Values of all nodes, `elsewhere` at those that do not conduct.
  [[nodiscard]] std::vector<double> at_nodes(const std::vector<double>& of_unknowns,
                                             std::vector<double> elsewhere) const;
  [[nodiscard]] std::size_t nodes() const { return unknown_.size(); }

private:
  // Cells of one shape: their matrix for unit conductivity (lower triangle, by rows), and the
  // volume that belongs to each node.
  struct Shape {
    std::array<double, 378> unit{};
    std::array<double, 27> volume{};
  };
  struct Cell {
    std::array<int, 27> unknown{};
    int material = 0;
    std::size_t shape = 0;
  };
  // Surface of a node over all faces of one kind: its flux is evaluated once, not by every face.
  struct SurfaceNode {
    int node = 0;
    int kind = 0;
    double area = 0.0; // m^2
  };

  HeatProblem problem_;
  std::vector<int> unknown_; // per node, -1 where nothing conducts
  std::vector<int> node_;    // per unknown
  std::vector<Shape> shapes_;
  std::vector<Cell> cells_;     // congruent ones are contiguous
  std::vector<int> prescribed_; // per unknown: index into problem.prescribed, -1 if free
  linear_algebra::ScalarMatrix pattern_;
  std::vector<std::array<int, 378>> place_; // of every cell's entries in the pattern
  std::vector<SurfaceNode> surface_;
  std::size_t kinds_ = 0; // one more than the greatest

  void number_unknowns();
  void build_cells();
  static Shape integrate(const fe::CellValues& at);
  void gather_surface();
  [[nodiscard]] double mean(const Cell& cell, const std::vector<double>& t) const;
  void add_conduction(const std::vector<double>& t, HeatFlows& flows) const;
};

} // namespace hangtrue::heat
