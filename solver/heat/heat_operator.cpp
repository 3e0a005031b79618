// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/heat_operator.hpp"

#include "meshing/common/errors.hpp"
#include "solver/fe/congruent_cells.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace hangtrue::heat
{

HeatOperator::HeatOperator(HeatProblem problem) : problem_(std::move(problem))
{
  number_unknowns();
  build_cells();
  gather_surface();
}

void HeatOperator::number_unknowns()
{
  unknown_.assign(problem_.space.body().nodes.size(), -1);
  // Duplicate nodes are in thermal contact, as if they were one. Later pairs may have been
  // separated from earlier ones.
  std::vector<int> stand_in(unknown_.size());
  std::iota(stand_in.begin(), stand_in.end(), 0);
  for (const auto& twin : problem_.space.body().twins)
    stand_in[twin.skin] = stand_in[twin.other];
  for (const auto& cell : problem_.space.body().cells)
    if (problem_.conducts(cell))
      for (const int n : cell.node) {
        int& shared = unknown_[stand_in[n]];
        if (shared < 0) {
          shared = static_cast<int>(node_.size());
          node_.push_back(stand_in[n]);
        }
        unknown_[n] = shared;
      }
  if (node_.empty())
    throw ComputeError("heat: nothing conducts");
  prescribed_.assign(node_.size(), -1);
  for (std::size_t k = 0; k < problem_.prescribed.size(); ++k)
    if (const int u = unknown_[problem_.prescribed[k].node]; u >= 0)
      prescribed_[u] = static_cast<int>(k);
}

// Row sums of the mass matrix are Simpson's weights on a box and positive on any cell of a good
// mesh.
HeatOperator::Shape HeatOperator::integrate(const fe::CellValues& at)
{
  Shape result;
  int k = 0;
  for (unsigned a = 0; a < 27; ++a) {
    for (unsigned b = 0; b <= a; ++b, ++k)
      for (unsigned q = 0; q < fe::quadrature_points; ++q)
        result.unit[k] += at.fe.JxW(q) * (at.fe.shape_grad(a, q) * at.fe.shape_grad(b, q));
    for (unsigned q = 0; q < fe::quadrature_points; ++q)
      result.volume[a] += at.fe.JxW(q) * at.fe.shape_value(a, q);
  }
  return result;
}

void HeatOperator::build_cells()
{
  const fe::Discretization& space = problem_.space;
  const auto groups = fe::congruent_cells(space.body(), problem_.conducts);
  fe::visit_congruent(space, groups, [&](const fe::CongruentGroup& group, const auto& at) {
    Cell cell;
    cell.shape = shapes_.size();
    shapes_.push_back(integrate(at));
    for (const std::size_t c : group.members) {
      const mesh::Hex27& hex = space.body().cells[c];
      cell.unknown = fe::nodes_of(hex);
      for (int& n : cell.unknown)
        n = unknown_[n];
      cell.material = problem_.material_of(hex);
      cells_.push_back(cell);
    }
  });
  std::vector<std::array<int, 27>> lists;
  for (const auto& cell : cells_)
    lists.push_back(cell.unknown);
  pattern_ = linear_algebra::scalar_pattern(unknowns(), lists);
  for (const auto& cell : cells_) {
    std::array<int, 378> places{};
    int k = 0;
    for (int a = 0; a < 27; ++a)
      for (int b = 0; b <= a; ++b, ++k)
        places[k] =
            linear_algebra::position_of(pattern_, std::max(cell.unknown[a], cell.unknown[b]),
                                        std::min(cell.unknown[a], cell.unknown[b]));
    place_.push_back(places);
  }
}

void HeatOperator::gather_surface()
{
  std::map<std::pair<int, int>, double> area;
  for (const auto& face : problem_.faces) {
    kinds_ = std::max(kinds_, static_cast<std::size_t>(face.kind) + 1);
    for (int k = 0; k < 9; ++k)
      area[{face.node[k], face.kind}] += face.area[k];
  }
  for (const auto& [at, sum] : area)
    surface_.push_back({at.first, at.second, sum});
}

void HeatOperator::prescribe(std::vector<double>& t, double time) const
{
  for (std::size_t u = 0; u < prescribed_.size(); ++u)
    if (prescribed_[u] >= 0)
      t[u] = problem_.prescribed[prescribed_[u]].temperature(time);
}

double HeatOperator::mean(const Cell& cell, const std::vector<double>& t) const
{
  double sum = 0.0;
  double volume = 0.0;
  const auto& own = shapes_[cell.shape].volume;
  for (int n = 0; n < 27; ++n) {
    sum += own[n] * t[cell.unknown[n]];
    volume += own[n];
  }
  return sum / volume;
}

void HeatOperator::add_conduction(const std::vector<double>& t, HeatFlows& flows) const
{
  for (const auto& cell : cells_) {
    const double k = problem_.materials[cell.material].conductivity(mean(cell, t));
    flows.conductivity.push_back(k);
    const auto& unit = shapes_[cell.shape].unit;
    int index = 0;
    for (int a = 0; a < 27; ++a)
      for (int b = 0; b <= a; ++b, ++index) {
        const double c = k * unit[index];
        const int ua = cell.unknown[a];
        const int ub = cell.unknown[b];
        flows.inflow[ua] -= c * t[ub];
        if (a != b)
          flows.inflow[ub] -= c * t[ua];
      }
  }
}

void HeatOperator::add_surfaces(const std::vector<double>& t, double time,
                                const SurfaceFluxFunction& flux_of, HeatFlows& flows) const
{
  for (const auto& at : surface_) {
    const int u = unknown_[at.node];
    const SurfaceFlux flux = flux_of(at.kind, problem_.space.body().nodes[at.node], t[u], time);
    flows.inflow[u] += flux.into * at.area;
    flows.slope[u] += flux.slope * at.area;
    flows.through[at.kind] += flux.into * at.area;
    flows.throughput += std::abs(flux.into * at.area);
  }
}

HeatFlows HeatOperator::flows(const std::vector<double>& t, double time,
                              const SurfaceFluxFunction& flux) const
{
  HeatFlows result;
  result.inflow.assign(node_.size(), 0.0);
  result.slope.assign(node_.size(), 0.0);
  result.through.assign(kinds_, 0.0);
  add_conduction(t, result);
  add_surfaces(t, time, flux, result);
  return result;
}

std::vector<double> HeatOperator::stored(const std::vector<double>& t) const
{
  std::vector<double> heat(node_.size(), 0.0);
  for (const auto& cell : cells_) {
    const HeatMaterial& material = problem_.materials[cell.material];
    const auto& own = shapes_[cell.shape].volume;
    for (int n = 0; n < 27; ++n)
      heat[cell.unknown[n]] += own[n] * material.enthalpy(t[cell.unknown[n]]);
  }
  return heat;
}

std::vector<double> HeatOperator::capacity(const std::vector<double>& t) const
{
  std::vector<double> heat(node_.size(), 0.0);
  for (const auto& cell : cells_) {
    const HeatMaterial& material = problem_.materials[cell.material];
    const auto& own = shapes_[cell.shape].volume;
    for (int n = 0; n < 27; ++n)
      heat[cell.unknown[n]] += own[n] * material.capacity(t[cell.unknown[n]]);
  }
  return heat;
}

linear_algebra::ScalarMatrix HeatOperator::jacobian(const HeatFlows& flows,
                                                    const std::vector<double>& capacity,
                                                    double step) const
{
  linear_algebra::ScalarMatrix matrix = pattern_;
  for (std::size_t c = 0; c < cells_.size(); ++c) {
    const auto& unit = shapes_[cells_[c].shape].unit;
    for (int k = 0; k < 378; ++k)
      matrix.value[place_[c][k]] += step * flows.conductivity[c] * unit[k];
  }
  for (int u = 0; u < matrix.size(); ++u) {
    double& diagonal = matrix.value[matrix.start[u]];
    diagonal += capacity[u] - step * std::min(0.0, flows.slope[u]);
  }
  // Where the temperature is prescribed: a stiff diagonal, since the correction is always zero.
  constexpr double stiff = 1e9;
  for (int u = 0; u < matrix.size(); ++u)
    if (prescribed_[u] >= 0)
      matrix.value[matrix.start[u]] *= stiff;
  return matrix;
}

std::vector<double> HeatOperator::of_unknowns(const std::vector<double>& at_nodes) const
{
  std::vector<double> result;
  result.reserve(node_.size());
  for (const int n : node_)
    result.push_back(at_nodes[n]);
  return result;
}

std::vector<double> HeatOperator::at_nodes(const std::vector<double>& of_unknowns,
                                           std::vector<double> elsewhere) const
{
  for (std::size_t n = 0; n < unknown_.size(); ++n)
    if (unknown_[n] >= 0)
      elsewhere[n] = of_unknowns[unknown_[n]];
  return elsewhere;
}

} // namespace hangtrue::heat
