#include "cases/variant_work.hpp"

#include "cases/check_door.hpp"
#include "cases/door_file.hpp"
#include "cases/drawing_words.hpp"
#include "cases/output_folder.hpp"
#include "cases/results_file.hpp"
#include "cases/variant_rows.hpp"
#include "meshing/errors.hpp"

#include <chrono>

namespace hangtrue
{

void work_on(const Variant& variant, const std::string& folder, FactoredBodies& kept,
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
