// SPDX-License-Identifier: GPL-3.0-or-later
// Run time of a check: each stage as its own benchmark, so that ratios within one run can be
// compared.
#include "cases/runtime/blas_setup.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/fe/cell_values.hpp"
#include "tests/support/test_doors.hpp"

#include <deal.II/fe/fe_values.h>

#include <benchmark/benchmark.h>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

void mesh_door(benchmark::State& state)
{
  const door::Door door = barrel_door();
  const door::MeshDensity fine = door::mesh_density(door, static_cast<int>(state.range(0)));
  for (auto _ : state)
    benchmark::DoNotOptimize(sweep::make_mesh(door, fine));
}

void visit_door(benchmark::State& state)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh =
      sweep::make_mesh(door, door::mesh_density(door, static_cast<int>(state.range(0))));
  for (auto _ : state) {
    double volume = 0.0;
    fe::visit_cells(mesh.door, fe::is_steel,
                    [&](const fe::CellValues& at) { volume += at.fe.JxW(0); });
    benchmark::DoNotOptimize(volume);
  }
}

void factor_door(benchmark::State& state)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh =
      sweep::make_mesh(door, door::mesh_density(door, static_cast<int>(state.range(0))));
  for (auto _ : state)
    benchmark::DoNotOptimize(elasticity::ElasticBody(
        mesh.door, [](const mesh::Hex27&) { return elasticity::elasticity(200e9, 0.3); },
        elasticity::isostatic_supports(mesh.door)));
}

void open_door(benchmark::State& state)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh =
      sweep::make_mesh(door, door::mesh_density(door, static_cast<int>(state.range(0))));
  for (auto _ : state)
    benchmark::DoNotOptimize(analysis::solve_open_door({.door = door, .mesh = mesh}));
}

} // namespace

BENCHMARK(mesh_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(visit_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(factor_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(open_door)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
int main(int count, char** words)
{
  runtime::select_blas_kernels(words);
  runtime::use_one_blas_thread();
  benchmark::Initialize(&count, words);
  benchmark::RunSpecifiedBenchmarks();
}
