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
#include "viz/figures/elevation_svg.hpp"
#include "viz/vtu_writer.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <memory>

namespace hangtrue
{

namespace
{

struct NamedBody {
  std::string file;
  const BodyMesh* body;
  const std::vector<Vec3>* moves; // none for a bare mesh
};

std::vector<NamedBody> bodies_of(const Mesh& mesh, const Deflection* d, const std::string& ending)
{
  std::vector<NamedBody> bodies{
      {"door" + ending, &mesh.door, d != nullptr ? &d->door_move : nullptr},
      {"frame" + ending, &mesh.frame, d != nullptr ? &d->frame_move : nullptr}};
  for (std::size_t p = 0; p < mesh.pins.size(); ++p)
    bodies.push_back({fmt::format("pin-{}{}", p + 1, ending), &mesh.pins[p],
                      d != nullptr ? &d->pin_moves[p] : nullptr});
  return bodies;
}

void write_bodies(OutputFolder& folder, const std::vector<NamedBody>& bodies)
{
  for (const auto& b : bodies)
    write_vtu(*b.body, b.moves, folder.temporary(b.file));
}

// File endings of each state, in the order of a check.
std::vector<std::string> state_endings(const Door& door)
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

void write_set(OutputFolder& folder, const Door& door, const CheckRun& run)
{
  const auto endings = state_endings(door);
  std::vector<const Deflection*> states{&run.deflection};
  for (const auto& warm : run.warm)
    states.push_back(&warm);
  std::vector<SetEntry> entries;
  for (std::size_t s = 0; s < states.size(); ++s) {
    const auto bodies = bodies_of(run.mesh, states[s], endings.at(s));
    write_bodies(folder, bodies);
    for (const auto& b : bodies)
      entries.push_back({b.file, state_label(states[s]->state), static_cast<int>(s)});
  }
  folder.write("states.pvd", pvd_text(entries));
}

// Every name that a command may write for this door, checked before the work begins.
std::vector<std::string> body_names(const Door& door, const std::string& ending)
{
  std::vector<std::string> names{"door" + ending, "frame" + ending};
  for (std::size_t p = 0; p < door.hinges.size(); ++p) // a fixed pin has no file of its own
    names.push_back(fmt::format("pin-{}{}", p + 1, ending));
  return names;
}

std::vector<std::string> check_names(const Door& door)
{
  std::vector<std::string> names{"results.json", "timing.json", "drop.svg", "states.pvd"};
  for (const auto& ending : state_endings(door))
    for (auto& name : body_names(door, ending))
      names.push_back(std::move(name));
  return names;
}

std::vector<std::string> mesh_names(const Door& door)
{
  auto names = body_names(door, "-mesh.vtu");
  names.push_back("door.msh");
  return names;
}

std::string folder_for(const std::string& file, const std::string& out)
{
  return out.empty() ? folder_beside(file) : out;
}

} // namespace

ExitStatus command_new(const std::string& file)
{
  if (file.empty()) {
    fmt::print("{}", starter_text());
    return ExitStatus::holds;
  }
  const CleanupDue whole; // the file is complete or not begun
  // "x": created here or not at all, whatever other processes do.
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> made(std::fopen(file.c_str(), "wx"),
                                                             &std::fclose);
  if (!made && errno == EEXIST)
    throw InputError(clean_text(file) +
                     ": there is a file of that name already; allowed is a new name; choose "
                     "another one or move the old file away");
  const std::string text = starter_text();
  if (!made || std::fwrite(text.data(), 1, text.size(), made.get()) != text.size() ||
      std::fflush(made.get()) != 0)
    throw InputError(clean_text(file) +
                     ": it cannot be written; allowed is a place that you may write to; "
                     "choose another folder");
  fmt::print("{} written; check it with: hangtrue check {}\n", clean_text(file), clean_text(file));
  return ExitStatus::holds;
}

ExitStatus command_mesh(const std::string& file, const std::string& out, int level)
{
  const DoorCase door_case = read_door_file(file);
  OutputFolder folder(folder_for(file, out), mesh_names(door_case.door));
  const Progress progress = terminal_progress();
  progress("mesh", 0.0);
  const Mesh mesh = loft(door_case.door, fineness(door_case.door, level));
  progress("mesh quality", 0.6);
  const MeshQuality quality = inspect(mesh, door_case.door);
  progress("files", 0.8);
  write_msh(mesh, folder.temporary("door.msh"));
  progress("files", 0.9);
  write_bodies(folder, bodies_of(mesh, nullptr, "-mesh.vtu"));
  progress("end", 1.0);
  folder.keep();
  end_progress();
  fmt::print(
      "{} cells, {} nodes, second order, all hexahedra\n"
      "least Jacobian ratio in a cell {:.2f}, volumes within {:.1e}, weld areas within {:.1e}\n",
      quality.cells, quality.nodes, quality.worst_ratio, quality.worst_volume, quality.worst_joint);
  for (const auto& [part, volume] : quality.volume)
    fmt::print("  {:<18}{:>12.2f} cm^3\n", part_name(part), 1e6 * volume);
  fmt::print("written to {}\n", clean_text(folder.path()));
  return ExitStatus::holds;
}

ExitStatus command_check(const CheckAsked& asked)
{
  StageTimes times;
  const DoorCase door_case = read_door_file(asked.file);
  OutputFolder folder(folder_for(asked.file, asked.out), check_names(door_case.door));
  const Progress progress = timed(terminal_progress(), times);
  const MemoryCare care{asked.room, [&](const std::string& words) {
                          fmt::print("{}: the check {}\n", clean_text(asked.file), words);
                          std::fflush(stdout);
                        }};
  CheckRun run = check_door(door_case, progress, nullptr, care);
  if (asked.spread)
    add_spread(door_case, progress, run);
  progress("drawing and files", 1.0);
  folder.write("results.json", results_json(door_case, run));
  folder.write("drop.svg",
               elevation_svg(door_case.door, run.deflection, words_in(door_case.units)));
  write_set(folder, door_case.door, run);
  progress("end", 1.0); // the last chance for Ctrl-C: from here the old results are replaced
  folder.write("timing.json", timing_json(times));
  folder.keep();
  end_progress();
  fmt::print("{}\nResults in {}\n", answer_table(door_case, run), clean_text(folder.path()));
  const Verdict verdict = worst(run.checks);
  const bool fails = verdict == Verdict::fails || (asked.strict && verdict == Verdict::close);
  return fails ? ExitStatus::close_or_fails : ExitStatus::holds;
}

ExitStatus command_skins(const std::string& file)
{
  const DoorCase door_case = read_door_file(file);
  const Door& door = door_case.door;
  if (door.fire.schedule.empty() && !door.fire.measured.given)
    throw InputError(clean_text(file) +
                     ": fire.schedule: it is missing; allowed is a schedule or three measured "
                     "skin temperatures; without a fire no skin has to give way");
  const Progress progress = terminal_progress();
  constexpr int level = 1;
  const auto ways =
      skin_ways(door, level, [&](double share) { progress("ways of holding the skin", share); });
  end_progress();
  fmt::print("{}", skin_table(door_case, ways));
  return ExitStatus::holds;
}

ExitStatus command_keys()
{
  fmt::print("{}", door_file_reference());
  return ExitStatus::holds;
}

} // namespace hangtrue
