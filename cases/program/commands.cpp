// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/program/commands.hpp"

#include "cases/check/check_door.hpp"
#include "cases/check/check_run.hpp"
#include "cases/check/input_uncertainty.hpp"
#include "cases/input/clean_text.hpp"
#include "cases/input/door_file.hpp"
#include "cases/input/starter_file.hpp"
#include "cases/input/units.hpp"
#include "cases/output/elevation_labels.hpp"
#include "cases/output/output_folder.hpp"
#include "cases/output/results_json.hpp"
#include "cases/output/skin_study_table.hpp"
#include "cases/output/terminal_report.hpp"
#include "cases/runtime/terminal_progress.hpp"
#include "cases/runtime/timing_report.hpp"
#include "cases/verdict/check_result.hpp"
#include "meshing/common/progress.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/msh_writer.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/field_output/open_state_fields.hpp"
#include "solver/field_output/state_file.hpp"
#include "solver/system/door_system.hpp"
#include "viz/figures/elevation_svg.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <memory>
#include <utility>
#include <vector>

namespace hangtrue::program
{

namespace
{

// Files of door, frame and so many pins.
std::vector<std::string> body_files(std::size_t pins, const std::string& ending)
{
  std::vector<std::string> names{"door" + ending, "frame" + ending};
  for (std::size_t p = 0; p < pins; ++p)
    names.push_back(fmt::format("pin-{}{}", p + 1, ending));
  return names;
}

// File endings of each state, in the order of a check.
std::vector<std::string> state_endings(const door::Door& door)
{
  std::vector<std::string> endings{"-open.vtu"};
  if (door.fire.measured.given)
    endings.emplace_back("-measured.vtu");
  if (door.fire.schedule.empty())
    return endings;
  endings.emplace_back("-most-bowed.vtu");
  for (std::size_t i = 0; i < door.fire.instants.size(); ++i)
    endings.push_back(fmt::format("-instant-{}.vtu", i + 1));
  endings.emplace_back("-steady.vtu");
  return endings;
}

void write_set(output::OutputFolder& folder, const door::Door& door, const check::CheckRun& run)
{
  const auto endings = state_endings(door);
  std::vector<const analysis::OpenDoorResult*> states{&run.open_cold};
  for (const auto& warm : run.open_thermal)
    states.push_back(&warm);
  const auto spaces = system::body_spaces(run.mesh);
  std::vector<field_output::CollectedFile> files;
  for (std::size_t s = 0; s < states.size(); ++s) {
    const auto names = body_files(run.mesh.pins.size(), endings.at(s));
    heat::ThermalState thermal;
    if (s > 0)
      thermal = {states[s]->state.thermal, run.fields.at(s - 1), states[s]->temperatures};
    const auto fields =
        field_output::open_state_fields(door, run.mesh, *states[s], s > 0 ? &thermal : nullptr);
    for (std::size_t b = 0; b < names.size(); ++b) {
      folder.write(names[b], field_output::state_file(spaces[b], fields[b]));
      files.push_back({static_cast<int>(s), static_cast<int>(b), names[b]});
    }
  }
  folder.write("states.pvd", field_output::collection_file(files));
}

// Every name that a command may write for this door, checked before the work begins; a fixed pin
// has no file of its own in the end.
std::vector<std::string> check_names(const door::Door& door)
{
  std::vector<std::string> names{"results.json", "timing.json", "drop.svg", "states.pvd"};
  for (const auto& ending : state_endings(door))
    for (auto& name : body_files(door.hinges.size(), ending))
      names.push_back(std::move(name));
  return names;
}

std::vector<std::string> mesh_names(const door::Door& door)
{
  auto names = body_files(door.hinges.size(), "-mesh.vtu");
  names.push_back("door.msh");
  return names;
}

std::string folder_for(const std::string& file, const std::string& out)
{
  return out.empty() ? output::folder_beside(file) : out;
}

} // namespace

ExitStatus command_new(const std::string& file)
{
  if (file.empty()) {
    fmt::print("{}", input::starter_text());
    return ExitStatus::holds;
  }
  const runtime::CleanupDue whole; // the file is complete or not begun
  // "x": created here or not at all, whatever other processes do.
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> result(std::fopen(file.c_str(), "wx"),
                                                               &std::fclose);
  if (!result && errno == EEXIST)
    throw InputError(input::clean_text(file) +
                     ": there is a file of that name already; allowed is a new name; choose "
                     "another one or move the old file away");
  const std::string text = input::starter_text();
  if (!result || std::fwrite(text.data(), 1, text.size(), result.get()) != text.size() ||
      std::fflush(result.get()) != 0)
    throw InputError(input::clean_text(file) +
                     ": it cannot be written; allowed is a place that you may write to; "
                     "choose another folder");
  fmt::print("{} written; check it with: hangtrue check {}\n", input::clean_text(file),
             input::clean_text(file));
  return ExitStatus::holds;
}

ExitStatus command_mesh(const std::string& file, const std::string& out, int level)
{
  const input::DoorCase door_case = input::read_door_file(file);
  output::OutputFolder folder(folder_for(file, out), mesh_names(door_case.door));
  const Progress progress = runtime::terminal_progress();
  progress("mesh", 0.0);
  const mesh::Mesh mesh =
      sweep::make_mesh(door_case.door, door::mesh_density(door_case.door, level));
  progress("mesh quality", 0.6);
  const quality::MeshQuality quality = quality::inspect(mesh, door_case.door);
  progress("files", 0.8);
  mesh::write_msh(mesh, folder.temporary("door.msh"));
  progress("files", 0.9);
  const auto spaces = system::body_spaces(mesh);
  const auto files = body_files(mesh.pins.size(), "-mesh.vtu");
  for (std::size_t b = 0; b < files.size(); ++b)
    folder.write(files[b], field_output::state_file(spaces[b], {}));
  progress("end", 1.0);
  folder.keep();
  runtime::end_progress();
  fmt::print(
      "{} cells, {} nodes, second order, all hexahedra\n"
      "least Jacobian ratio in a cell {:.2f}, volumes within {:.1e}, weld areas within {:.1e}\n",
      quality.cells, quality.nodes, quality.worst_ratio, quality.worst_volume, quality.worst_joint);
  for (const auto& [part, volume] : quality.volume)
    fmt::print("  {:<18}{:>12.2f} cm^3\n", mesh::part_name(part), 1e6 * volume);
  fmt::print("written to {}\n", input::clean_text(folder.path()));
  return ExitStatus::holds;
}

ExitStatus command_check(const CheckOptions& requested)
{
  runtime::StageTimes times;
  const input::DoorCase door_case = input::read_door_file(requested.file);
  output::OutputFolder folder(folder_for(requested.file, requested.out),
                              check_names(door_case.door));
  const Progress progress = runtime::timed(runtime::terminal_progress(), times);
  const runtime::MemoryPolicy policy{requested.room, [&](const std::string& words) {
                                       fmt::print("{}: the check {}\n",
                                                  input::clean_text(requested.file), words);
                                       std::fflush(stdout);
                                     }};
  check::CheckRun run = check::check_door(door_case, progress, nullptr, policy);
  if (requested.spread)
    check::add_input_uncertainty(door_case, progress, run);
  progress("drawing and files", 1.0);
  folder.write("results.json", output::results_json(door_case, run));
  folder.write("drop.svg", figures::elevation_svg(door_case.door, run.open_cold,
                                                  output::elevation_formatter(door_case.units)));
  write_set(folder, door_case.door, run);
  progress("end", 1.0); // the last chance for Ctrl-C: from here the old results are replaced
  folder.write("timing.json", runtime::timing_json(times));
  folder.keep();
  runtime::end_progress();
  fmt::print("{}\nResults in {}\n", output::terminal_report(door_case, run),
             input::clean_text(folder.path()));
  const verdict::Verdict verdict = verdict::worst(run.checks);
  const bool fails = verdict == verdict::Verdict::fails ||
                     (requested.strict && verdict == verdict::Verdict::close);
  return fails ? ExitStatus::close_or_fails : ExitStatus::holds;
}

ExitStatus command_skins(const std::string& file)
{
  const input::DoorCase door_case = input::read_door_file(file);
  const door::Door& door = door_case.door;
  if (door.fire.schedule.empty() && !door.fire.measured.given)
    throw InputError(input::clean_text(file) +
                     ": fire.schedule: it is missing; allowed is a schedule or three measured "
                     "skin temperatures; without a fire no skin has to give way");
  const Progress progress = runtime::terminal_progress();
  constexpr int level = 1;
  const auto ways = analysis::skin_variants(
      door, level, [&](double share) { progress("ways of holding the skin", share); });
  runtime::end_progress();
  fmt::print("{}", output::skin_table(door_case, ways));
  return ExitStatus::holds;
}

ExitStatus command_keys()
{
  fmt::print("{}", input::door_file_reference());
  return ExitStatus::holds;
}

} // namespace hangtrue::program
