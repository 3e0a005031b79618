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

namespace hangtrue
{

void work_on(const Variant& variant, const std::string& folder, AnalysisCache& kept,
             const MemoryCare& care, const Progress& progress)
{
  const auto start = std::chrono::steady_clock::now();
  auto spent = [start] {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  };
  OutputFolder own(folder + "/" + variant.name,
                   {"door.toml", "results.json", "drop.svg", "row.json"});
  own.write("door.toml", variant.text);
  VariantRow row;
  try {
    const DoorCase door_case = read_door_text(variant.text, variant.name);
    const CheckRun run = check_door(door_case, progress, &kept, care);
    own.write("results.json", results_json(door_case, run));
    own.write("drop.svg", elevation_svg(door_case.door, run.deflection, words_in(door_case.units)));
    row = make_row(door_case, run);
  } catch (const ComputeError& error) {
    row.state = VariantState::no_number;
    row.note = error.what();
  }
  row.seconds = spent();
  own.write("row.json", row_json(row));
  own.keep();
}

} // namespace hangtrue
