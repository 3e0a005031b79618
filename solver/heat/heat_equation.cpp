#include "solver/heat/heat_equation.hpp"

#include "meshing/common/errors.hpp"
#include "solver/fe/congruent_cells.hpp"
#include "solver/fe/shape_functions.hpp"
#include "solver/linear_algebra/anderson_acceleration.hpp"
#include "solver/linear_algebra/scalar_cholesky.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace hangtrue
{

namespace
{

// Cells of one shape: their matrix for unit conductivity (lower triangle, by rows), and the volume
// that belongs to each node.
struct HeatShape {
  std::array<double, 378> unit{};
  std::array<double, 27> volume{};
};

struct HeatCell {
  std::array<int, 27> unknown{};
  int material = 0;
  std::size_t shape = 0;
};

// Row sums of the mass matrix are Simpson's weights on a box and positive on any cell of a good
// mesh.
HeatShape heat_shape(const CellShape& shape)
{
  HeatShape made;
  int k = 0;
  for (int a = 0; a < 27; ++a) {
    for (int b = 0; b <= a; ++b, ++k)
      for (int q = 0; q < 27; ++q)
        made.unit[k] += shape.volume[q] * dot(shape.slope[q][a], shape.slope[q][b]);
    for (int q = 0; q < 27; ++q)
      made.volume[a] += shape.volume[q] * shape.value[q][a];
  }
  return made;
}

} // namespace

struct HeatSolver::Parts {
  HeatProblem problem;
  std::vector<int> unknown; // per node, -1 where nothing conducts
  std::vector<int> node;    // per unknown
  std::vector<HeatShape> shapes;
  std::vector<HeatCell> cells; // those of one shape stand together
  std::vector<int> kept;       // per unknown: index into problem.kept, -1 if free
  ScalarMatrix pattern;
  std::vector<std::array<int, 378>> place; // of every cell's entries in the pattern

  // What a node has of all faces of one kind: flux is asked for once, not by every face.
  struct SurfaceNode {
    int node = 0;
    int kind = 0;
    double area = 0.0; // m^2
  };
  std::vector<SurfaceNode> surface;
  std::size_t kinds = 0; // one more than the greatest
  mutable std::unique_ptr<ScalarFactor> factor;

  struct Point {
    std::vector<double> inflow;       // W into each unknown by conduction and surfaces
    std::vector<double> slope;        // surfaces only, W/K
    std::vector<double> conductivity; // per cell
    std::vector<double> through;      // W per kind
    double throughput = 0.0;          // W, sum of magnitudes over surfaces
  };

  void number();
  void build();
  void gather_surface();
  [[nodiscard]] double mean(const HeatCell& cell, const std::vector<double>& t) const;
  [[nodiscard]] Point evaluate(const std::vector<double>& t, double time, const FluxOf& flux) const;
  [[nodiscard]] const FluxOf& steady_flux() const
  {
    return problem.steady_flux ? problem.steady_flux : problem.flux;
  }
  void add_conduction(const std::vector<double>& t, Point& point) const;
  void add_surfaces(const std::vector<double>& t, double time, const FluxOf& flux_of,
                    Point& point) const;
  void factor_for(const Point& point, const std::vector<double>& capacity, double per_step) const;
  [[nodiscard]] std::vector<double> stored(const std::vector<double>& t, bool derivative) const;
  [[nodiscard]] Temperatures pack(const std::vector<double>& t, const Point& point,
                                  const std::vector<double>& start) const;
  void set_kept(std::vector<double>& t, double time) const;
  int settle(std::vector<double>& t, Point& point, const std::vector<double>& base,
             const std::vector<double>& extra, double step, double time, bool fresh) const;
};

void HeatSolver::Parts::number()
{
  unknown.assign(problem.mesh->nodes.size(), -1);
  // Twins touch: heat crosses there as if they were one. Later twins may have parted from earlier.
  std::vector<int> stand_in(unknown.size());
  std::iota(stand_in.begin(), stand_in.end(), 0);
  for (const auto& twin : problem.mesh->twins)
    stand_in[twin.skin] = stand_in[twin.other];
  for (const auto& cell : problem.mesh->cells)
    if (problem.conducts(cell))
      for (const int n : cell.node) {
        int& shared = unknown[stand_in[n]];
        if (shared < 0) {
          shared = static_cast<int>(node.size());
          node.push_back(stand_in[n]);
        }
        unknown[n] = shared;
      }
  if (node.empty())
    throw ComputeError("heat: nothing conducts");
  kept.assign(node.size(), -1);
  for (std::size_t k = 0; k < problem.kept.size(); ++k)
    if (const int u = unknown[problem.kept[k].node]; u >= 0)
      kept[u] = static_cast<int>(k);
}

void HeatSolver::Parts::build()
{
  const BodyMesh& mesh = *problem.mesh;
  visit_alike(mesh, cells_alike(mesh, problem.conducts),
              [&](const Alike& group, const CellShape& shape) {
                HeatCell cell;
                cell.shape = shapes.size();
                shapes.push_back(heat_shape(shape));
                for (const std::size_t c : group.members) {
                  const Hex& hex = mesh.cells[c];
                  for (int n = 0; n < 27; ++n)
                    cell.unknown[n] = unknown[hex.node[n]];
                  cell.material = problem.material_of(hex);
                  cells.push_back(cell);
                }
              });
  std::vector<std::array<int, 27>> lists;
  for (const auto& cell : cells)
    lists.push_back(cell.unknown);
  pattern = scalar_pattern(static_cast<int>(node.size()), lists);
  for (const auto& cell : cells) {
    std::array<int, 378> places{};
    int k = 0;
    for (int a = 0; a < 27; ++a)
      for (int b = 0; b <= a; ++b, ++k)
        places[k] = place_of(pattern, std::max(cell.unknown[a], cell.unknown[b]),
                             std::min(cell.unknown[a], cell.unknown[b]));
    place.push_back(places);
  }
  factor = std::make_unique<ScalarFactor>(pattern);
}

void HeatSolver::Parts::gather_surface()
{
  std::map<std::pair<int, int>, double> area;
  for (const auto& face : problem.faces) {
    kinds = std::max(kinds, static_cast<std::size_t>(face.kind) + 1);
    for (int k = 0; k < 9; ++k)
      area[{face.node[k], face.kind}] += face.area[k];
  }
  for (const auto& [at, sum] : area)
    surface.push_back({at.first, at.second, sum});
}

double HeatSolver::Parts::mean(const HeatCell& cell, const std::vector<double>& t) const
{
  double sum = 0.0;
  double volume = 0.0;
  const auto& own = shapes[cell.shape].volume;
  for (int n = 0; n < 27; ++n) {
    sum += own[n] * t[cell.unknown[n]];
    volume += own[n];
  }
  return sum / volume;
}

void HeatSolver::Parts::add_conduction(const std::vector<double>& t, Point& point) const
{
  for (const auto& cell : cells) {
    const double k = problem.materials[cell.material].conductivity(mean(cell, t));
    point.conductivity.push_back(k);
    const auto& unit = shapes[cell.shape].unit;
    int at = 0;
    for (int a = 0; a < 27; ++a)
      for (int b = 0; b <= a; ++b, ++at) {
        const double c = k * unit[at];
        const int ua = cell.unknown[a];
        const int ub = cell.unknown[b];
        point.inflow[ua] -= c * t[ub];
        if (a != b)
          point.inflow[ub] -= c * t[ua];
      }
  }
}

void HeatSolver::Parts::add_surfaces(const std::vector<double>& t, double time,
                                     const FluxOf& flux_of, Point& point) const
{
  for (const auto& at : surface) {
    const int u = unknown[at.node];
    const Flux flux = flux_of(at.kind, problem.mesh->nodes[at.node], t[u], time);
    point.inflow[u] += flux.into * at.area;
    point.slope[u] += flux.slope * at.area;
    point.through[at.kind] += flux.into * at.area;
    point.throughput += std::abs(flux.into * at.area);
  }
}

HeatSolver::Parts::Point HeatSolver::Parts::evaluate(const std::vector<double>& t, double time,
                                                     const FluxOf& flux) const
{
  Point point;
  point.inflow.assign(node.size(), 0.0);
  point.slope.assign(node.size(), 0.0);
  point.through.assign(kinds, 0.0);
  add_conduction(t, point);
  add_surfaces(t, time, flux, point);
  return point;
}

// Heat stored at each node, J from 0 degC, or its derivative, J/K.
std::vector<double> HeatSolver::Parts::stored(const std::vector<double>& t, bool derivative) const
{
  std::vector<double> heat(node.size(), 0.0);
  for (const auto& cell : cells) {
    const HeatMaterial& material = problem.materials[cell.material];
    const auto& own = shapes[cell.shape].volume;
    for (int n = 0; n < 27; ++n) {
      const int u = cell.unknown[n];
      heat[u] += own[n] * (derivative ? material.capacity(t[u]) : material.enthalpy(t[u]));
    }
  }
  return heat;
}

// Jacobian of step (conduction, surfaces) and storage: symmetric, conductivity frozen.
void HeatSolver::Parts::factor_for(const Point& point, const std::vector<double>& capacity,
                                   double per_step) const
{
  ScalarMatrix matrix = pattern;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const auto& unit = shapes[cells[c].shape].unit;
    for (int k = 0; k < 378; ++k)
      matrix.value[place[c][k]] += per_step * point.conductivity[c] * unit[k];
  }
  for (int u = 0; u < matrix.size(); ++u) {
    double& diagonal = matrix.value[matrix.start[u]];
    diagonal += capacity[u] - per_step * std::min(0.0, point.slope[u]);
  }
  // Kept nodes: a stiff diagonal, since their correction is always zero.
  for (int u = 0; u < matrix.size(); ++u)
    if (kept[u] >= 0)
      matrix.value[matrix.start[u]] *= 1e9;
  factor->factor(matrix);
}

void HeatSolver::Parts::set_kept(std::vector<double>& t, double time) const
{
  for (std::size_t u = 0; u < kept.size(); ++u)
    if (kept[u] >= 0)
      t[u] = problem.kept[kept[u]].temperature(time);
}

namespace
{

// True where the rounds that are left with the old factor take longer than a new one and its own:
// a factor costs as much as some ten of them.
bool wants_factor(double left, double before, double enough)
{
  constexpr double served = 0.2; // of what was left before: as fast as a new factor, or nearly
  constexpr double rounds = 8.0;
  const double rate = left / before;
  return rate > served && (rate >= 1.0 || std::log(enough / left) / std::log(rate) > rounds);
}

} // namespace

// Solves  stored(t) = base + extra + step x inflow(t)  by Newton with frozen conductivity; step 0
// means steady. Unless `fresh`, the factor made last was for the same step at temperatures near by.
int HeatSolver::Parts::settle(std::vector<double>& t, Point& point, const std::vector<double>& base,
                              const std::vector<double>& extra, double step, double time,
                              bool fresh) const
{
  constexpr int most = 60;
  const bool is_steady = step == 0.0;
  // Of the throughput: a hundredth of what the energy may fail to close by.
  const double close_enough = is_steady ? 1e-10 : 1e-8;
  const double per_step = is_steady ? 1.0 : step;
  set_kept(t, time);
  Mixing mixing;
  double before = 0.0;
  for (int iteration = 1; iteration <= most; ++iteration) {
    point = evaluate(t, time, is_steady ? steady_flux() : problem.flux);
    const auto heat = is_steady ? std::vector<double>(t.size(), 0.0) : stored(t, false);
    std::vector<double> residual(t.size());
    double left = 0.0;
    double scale = point.throughput * per_step;
    for (std::size_t u = 0; u < t.size(); ++u) {
      residual[u] = per_step * point.inflow[u] + (is_steady ? 0.0 : base[u] + extra[u] - heat[u]);
      if (kept[u] >= 0) {
        scale += std::abs(per_step * point.inflow[u]);
        residual[u] = 0.0;
      }
      left += std::abs(residual[u]);
    }
    if (left <= close_enough * scale || left == 0.0)
      return iteration;
    const bool renewed = iteration == 1 ? fresh : wants_factor(left, before, close_enough * scale);
    if (renewed) {
      mixing = {};
      factor_for(point, is_steady ? std::vector<double>(t.size(), 0.0) : stored(t, true), per_step);
    }
    before = left;
    const auto change = mixing.next(t, factor->solve(residual));
    double largest = 0.0;
    for (std::size_t u = 0; u < t.size(); ++u)
      if (kept[u] < 0) {
        t[u] += change[u];
        largest = std::max(largest, std::abs(change[u]));
      }
    if (largest < 1e-11 * (1.0 + std::abs(t[0])) && iteration > 3)
      return iteration; // rounding
  }
  throw ComputeError(
      fmt::format("heat: the temperatures did not settle in {} rounds at {:.0f} s; look at "
                  "the surface values of the fire",
                  most, time));
}

Temperatures HeatSolver::Parts::pack(const std::vector<double>& t, const Point& point,
                                     const std::vector<double>& start) const
{
  Temperatures made;
  made.at = start;
  for (std::size_t n = 0; n < unknown.size(); ++n)
    if (unknown[n] >= 0)
      made.at[n] = t[unknown[n]];
  made.through = point.through;
  return made;
}

HeatSolver::HeatSolver(HeatProblem problem) : parts_(std::make_unique<Parts>())
{
  parts_->problem = std::move(problem);
  parts_->number();
  parts_->build();
  parts_->gather_surface();
}

HeatSolver::~HeatSolver() = default;
HeatSolver::HeatSolver(HeatSolver&&) noexcept = default;
HeatSolver& HeatSolver::operator=(HeatSolver&&) noexcept = default;

Temperatures HeatSolver::steady(double time, double guess) const
{
  const Parts& p = *parts_;
  std::vector<double> t(p.node.size(), guess);
  Parts::Point point;
  const int iterations = p.settle(t, point, {}, {}, 0.0, time, true);
  Temperatures made = p.pack(t, point, std::vector<double>(p.unknown.size(), guess));
  made.iterations = iterations;
  double net = 0.0;
  double through = point.throughput;
  for (std::size_t u = 0; u < t.size(); ++u) {
    net += point.inflow[u];
    if (p.kept[u] >= 0) { // what a kept node takes up leaves the body there
      net -= point.inflow[u];
      through += std::abs(point.inflow[u]);
    }
  }
  made.imbalance = through > 0.0 ? std::abs(net) / through : 0.0;
  return made;
}

std::vector<std::vector<double>> HeatSolver::response(const std::vector<double>& at, double time,
                                                      const std::vector<FluxOf>& others) const
{
  const Parts& p = *parts_;
  std::vector<double> t;
  for (const int n : p.node)
    t.push_back(at[n]);
  const Parts::Point as_is = p.evaluate(t, time, p.steady_flux());
  p.factor_for(as_is, std::vector<double>(t.size(), 0.0), 1.0);
  std::vector<std::vector<double>> made;
  for (const auto& other : others) {
    Parts::Point point = as_is;
    point.inflow.assign(t.size(), 0.0);
    p.add_surfaces(t, time, other, point);
    Parts::Point before = as_is;
    before.inflow.assign(t.size(), 0.0);
    p.add_surfaces(t, time, p.steady_flux(), before);
    std::vector<double> more(t.size());
    for (std::size_t u = 0; u < t.size(); ++u)
      more[u] = p.kept[u] >= 0 ? 0.0 : point.inflow[u] - before.inflow[u];
    const std::vector<double> change = p.factor->solve(more);
    made.emplace_back(p.unknown.size(), 0.0);
    for (std::size_t n = 0; n < p.unknown.size(); ++n)
      if (p.unknown[n] >= 0)
        made.back()[n] = change[p.unknown[n]];
  }
  return made;
}

void HeatSolver::transient(const std::vector<double>& start, double from, double to,
                           double tolerance, const std::vector<double>& breaks,
                           const Seen& seen) const
{
  const Parts& p = *parts_;
  const double gamma = 1.0 - std::sqrt(0.5);
  std::vector<double> t;
  for (const int n : p.node)
    t.push_back(start[n]);
  double time = from;
  double step = (to - from) / 400.0;
  const std::vector<double> none(t.size(), 0.0);
  while (time < to - 1e-9 * (to - from)) {
    double next = to;
    for (const double b : breaks)
      if (b > time + 1e-9 * (to - from))
        next = std::min(next, b);
    const double h = std::min(step, next - time);
    const auto base = p.stored(t, false);
    // Stage 1 at gamma h, stage 2 at h; k1 is the inflow of stage 1.
    Parts::Point first;
    std::vector<double> t1 = t;
    int iterations = p.settle(t1, first, base, none, gamma * h, time + gamma * h, true);
    std::vector<double> extra(t.size());
    for (std::size_t u = 0; u < t.size(); ++u)
      extra[u] = (1.0 - gamma) * h * first.inflow[u];
    Parts::Point second;
    std::vector<double> t2 = t1;
    iterations += p.settle(t2, second, base, extra, gamma * h, time + h, false);
    // Error: against the line through start and stage 1 carried on (first order), in K.
    double error = 0.0;
    for (std::size_t u = 0; u < t.size(); ++u)
      if (p.kept[u] < 0) {
        const double line = t[u] + (t1[u] - t[u]) / gamma;
        error = std::max(error, 0.5 * gamma * std::abs(t2[u] - line));
      }
    if (error > tolerance && h > 1e-6 * (to - from)) {
      step = h * std::max(0.2, 0.9 * std::sqrt(tolerance / error));
      continue;
    }
    const auto after = p.stored(t2, false);
    double balance = 0.0;
    double through = 0.0;
    for (std::size_t u = 0; u < t.size(); ++u) {
      const double in = h * ((1.0 - gamma) * first.inflow[u] + gamma * second.inflow[u]);
      if (p.kept[u] < 0)
        balance += in - (after[u] - base[u]);
      through += std::abs(after[u] - base[u]);
    }
    t = t2;
    time += h;
    Temperatures made = p.pack(t, second, start);
    made.iterations = iterations;
    made.imbalance = std::abs(balance) / std::max(through, h * second.throughput + 1e-30);
    seen(time, made);
    step = h * std::clamp(0.9 * std::sqrt(tolerance / std::max(error, 1e-12)), 0.3, 3.0);
  }
}

} // namespace hangtrue
