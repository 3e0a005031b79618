// SPDX-License-Identifier: GPL-3.0-or-later
// Run time of a check: each stage as its own benchmark, so that ratios within one run can be
// compared.
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/fe/shape_functions.hpp"
#include "tests/support/test_doors.hpp"

#include <benchmark/benchmark.h>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

void mesh_door(benchmark::State& state)
{
  const Door door = barrel_door();
  const Fineness fine = fineness(door, static_cast<int>(state.range(0)));
  for (auto _ : state)
    benchmark::DoNotOptimize(loft(door, fine));
}

void visit_door(benchmark::State& state)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, fineness(door, static_cast<int>(state.range(0))));
  for (auto _ : state) {
    double volume = 0.0;
    visit_cells(mesh.door, is_steel,
                [&](const Hex&, const CellShape& shape) { volume += shape.volume[0]; });
    benchmark::DoNotOptimize(volume);
  }
}

void factor_door(benchmark::State& state)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, fineness(door, static_cast<int>(state.range(0))));
  for (auto _ : state)
    benchmark::DoNotOptimize(ElasticBody(
        mesh.door, [](const Hex&) { return elasticity(200e9, 0.3); }, hold_lightly(mesh.door)));
}

void open_door(benchmark::State& state)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, fineness(door, static_cast<int>(state.range(0))));
  for (auto _ : state)
    benchmark::DoNotOptimize(solve_open_door({.door = door, .mesh = mesh}));
}

} // namespace

BENCHMARK(mesh_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(visit_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(factor_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(open_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
