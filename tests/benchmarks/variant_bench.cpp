// SPDX-License-Identifier: GPL-3.0-or-later
// Cost of a change of the hinge against a whole check, and of the factorization against BLAS:
// ratios within one run, so that the machine and its load cancel.
#include "cases/check/check_door.hpp"
#include "cases/input/door_file.hpp"
#include "cases/runtime/blas_setup.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/quality/mesh_cache.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/test_doors.hpp"

#include <ctime>

#include <cstdio>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

extern "C" void dgemm_(const char*, const char*, const int*, const int*, const int*, const double*,
                       const double*, const int*, const double*, const int*, const double*, double*,
                       const int*);

namespace
{

// Processor time of all threads, s: what others do on the machine counts little.
double processor_time()
{
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

// Two levels, as most checks take, the second with the active contacts of the first as warm start.
double seconds_of(const door::Door& door, analysis::AnalysisCache& cache)
{
  const double start = processor_time();
  std::vector<contact::ActiveContact> warm_start;
  for (const int level : {1, 2}) {
    const auto mesh = quality::cached_inspected_mesh(door, {level, level}, cache.meshes);
    const auto detail =
        level == 2 ? analysis::ResultDetail::contributions : analysis::ResultDetail::split;
    warm_start = analysis::solve_open_door({.door = door,
                                            .mesh = mesh->mesh,
                                            .cache = &cache,
                                            .detail = detail,
                                            .warm_start = warm_start})
                     .active_contacts;
  }
  return processor_time() - start;
}

void print_variants()
{
  door::Door door = barrel_door();
  analysis::AnalysisCache cache;
  const double full = seconds_of(door, cache);
  std::printf("whole check                     %8.2f s   100.0 %%\n", full);
  auto measure = [&](const char* what) {
    const double spent = seconds_of(door, cache);
    std::printf("%-30s  %8.2f s   %5.1f %%\n", what, spent, 100.0 * spent / full);
  };
  measure("the same door again");
  for (auto& hinge : door.hinges)
    hinge.end_float *= 0.5;
  measure("another end float");
  door.handle = {200.0, 0.4};
  measure("another load");
  for (auto& hinge : door.hinges)
    hinge.clearance *= 0.5;
  measure("another clearance");
  door.swing = 1.0;
  measure("another swing");
  for (auto& hinge : door.hinges)
    hinge.pin_diameter *= 0.75;
  measure("another pin");
}

// A check of the hot demo in all its states, and of it with another hinge, latch or gasket, as a
// worker of a comparison goes through them.
void print_hot_variants()
{
  input::DoorCase door_case =
      input::read_door_file(HANGTRUE_SOURCE_DIR "/cases/examples/smokehouse-hot-door.toml");
  analysis::AnalysisCache cache;
  double full = 0.0;
  auto measure = [&](const char* what) {
    const double start = processor_time();
    check::check_door(door_case, {}, &cache);
    const double spent = processor_time() - start;
    full = full > 0.0 ? full : spent;
    std::printf("%-30s  %8.2f s   %5.1f %%\n", what, spent, 100.0 * spent / full);
  };
  door::Door& door = door_case.door;
  std::printf("\n");
  measure("whole hot and closed check");
  measure("the same door again");
  for (auto& latch : door.latches)
    latch.draw *= 0.5;
  measure("another draw of the latches");
  door.gasket.set_gap *= 0.95;
  measure("another set gap");
  for (auto& hinge : door.hinges)
    hinge.end_float *= 0.5;
  measure("another end float");
  for (auto& hinge : door.hinges)
    hinge.clearance *= 1.5;
  measure("another clearance");
  for (auto& hinge : door.hinges)
    hinge.pin_diameter *= 0.875;
  measure("another pin");
}

// Factorisation of the door's whole stiffness against a dense product of two matrices.
void print_rates()
{
  constexpr int n = 1500;
  const std::vector<double> a(static_cast<std::size_t>(n) * n, 1.0);
  std::vector<double> c(a.size(), 0.0);
  const double one = 1.0;
  const double zero = 0.0;
  dgemm_("N", "N", &n, &n, &n, &one, a.data(), &n, a.data(), &n, &zero, c.data(), &n);
  double start = processor_time();
  dgemm_("N", "N", &n, &n, &n, &one, a.data(), &n, a.data(), &n, &zero, c.data(), &n);
  const double dense = 2.0 * n * n * static_cast<double>(n) / (processor_time() - start);
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 2));
  start = processor_time();
  const elasticity::ElasticBody whole(
      mesh.door, [](const mesh::Hex27&) { return elasticity::elasticity(200e9, 0.3); },
      elasticity::isostatic_supports(mesh.door));
  const double spent = processor_time() - start;
  std::printf("\ndense product                   %8.2f Gflop/s\n", 1e-9 * dense);
  std::printf("stiffness of the door, %d unknowns: assembled, ordered and factored in %.2f s,\n"
              "%.2f Gflop of factorisation: %.0f %% of the dense rate over all of it\n",
              whole.unknowns(), spent, 1e-9 * whole.operations(),
              100.0 * whole.operations() / spent / dense);
}

} // namespace

int main(int, char** words)
{
  // As the program does: with threads of the BLAS that wait by turning, one run took twice as long.
  runtime::select_blas_kernels(words);
  runtime::use_one_blas_thread();
  print_variants();
  print_hot_variants();
  print_rates();
}
