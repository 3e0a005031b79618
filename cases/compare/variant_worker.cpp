// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/variant_worker.hpp"

#include "cases/check/check_door.hpp"
#include "cases/check/check_run.hpp"
#include "cases/compare/variant_result.hpp"
#include "cases/input/door_file.hpp"
#include "cases/output/elevation_labels.hpp"
#include "cases/output/output_folder.hpp"
#include "cases/output/results_json.hpp"
#include "meshing/common/errors.hpp"

#include <chrono>

namespace hangtrue::compare
{

void check_variant(const Variant& variant, const std::string& folder,
                   analysis::AnalysisCache& cache, const runtime::MemoryPolicy& policy,
                   const Progress& progress)
{
  const auto start = std::chrono::steady_clock::now();
  auto spent = [start] {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  };
  output::OutputFolder own(folder + "/" + variant.name,
                           {"door.toml", "results.json", "drop.svg", "row.json"});
  own.write("door.toml", variant.text);
  VariantResult row;
  try {
    const input::DoorCase door_case = input::read_door_text(variant.text, variant.name);
    const check::CheckRun run = check::check_door(door_case, progress, &cache, policy);
    own.write("results.json", output::results_json(door_case, run));
    own.write("drop.svg", figures::elevation_svg(door_case.door, run.open_cold,
                                                 output::elevation_formatter(door_case.units)));
    row = make_result(door_case, run);
  } catch (const ComputeError& error) {
    row.state = VariantState::no_number;
    row.note = error.what();
  }
  row.seconds = spent();
  own.write("row.json", result_json(row));
  own.keep();
}

} // namespace hangtrue::compare
