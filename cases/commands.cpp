#include "cases/commands.hpp"

#include "cases/answer_table.hpp"
#include "cases/check_door.hpp"
#include "cases/door_file.hpp"
#include "cases/output_folder.hpp"
#include "cases/progress.hpp"
#include "cases/quantity.hpp"
#include "cases/results_file.hpp"
#include "cases/starter.hpp"
#include "meshing/loft.hpp"
#include "meshing/mesh_files.hpp"
#include "viz/elevation.hpp"
#include "viz/vtu.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>

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

void write_bodies(const OutputFolder& folder, const std::vector<NamedBody>& bodies)
{
  for (const auto& b : bodies) {
    write_vtu(*b.body, b.moves, folder.temporary(b.file));
    folder.keep(b.file);
  }
}

void write_set(const OutputFolder& folder, const Mesh& mesh, const Deflection& deflection)
{
  const auto bodies = bodies_of(mesh, &deflection, "-open.vtu");
  write_bodies(folder, bodies);
  std::vector<SetEntry> entries;
  for (const auto& b : bodies)
    entries.push_back({b.file, deflection.state, 0});
  folder.write("states.pvd", pvd_text(entries));
}

DrawingWords words_in(Units units)
{
  return {[units](double m) { return format_quantity(m, Kind::length, units); },
          [units](double m) {
            return units == Units::us ? tape_fraction(m) + " in"
                                      : fmt::format("{:.0f} mm", 1e3 * m);
          },
          [units](double n) { return format_short(n, Kind::force, units); }};
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
  if (std::filesystem::exists(file))
    throw InputError(file + ": there is a file of that name already; allowed is a new name; choose "
                            "another one or move the old file away");
  std::ofstream made(file);
  made << starter_text();
  if (!made.flush())
    throw InputError(file + ": it cannot be written; allowed is a place that you may write to; "
                            "choose another folder");
  fmt::print("{} written; check it with: hangtrue check {}\n", file, file);
  return ExitStatus::holds;
}

ExitStatus command_mesh(const std::string& file, const std::string& out, int level)
{
  const DoorCase door_case = read_door_file(file);
  const Mesh mesh = loft(door_case.door, fineness(door_case.door, level));
  const MeshQuality quality = inspect(mesh, door_case.door);
  const OutputFolder folder(folder_for(file, out));
  write_msh(mesh, folder.temporary("door.msh"));
  folder.keep("door.msh");
  write_bodies(folder, bodies_of(mesh, nullptr, "-mesh.vtu"));
  fmt::print(
      "{} cells, {} nodes, second order, all hexahedra\n"
      "least Jacobian ratio in a cell {:.2f}, volumes within {:.1e}, weld areas within {:.1e}\n",
      quality.cells, quality.nodes, quality.worst_ratio, quality.worst_volume, quality.worst_joint);
  for (const auto& [part, volume] : quality.volume)
    fmt::print("  {:<18}{:>12.2f} cm^3\n", part_name(part), 1e6 * volume);
  fmt::print("written to {}\n", folder.path(""));
  return ExitStatus::holds;
}

ExitStatus command_check(const std::string& file, const std::string& out, bool strict)
{
  const DoorCase door_case = read_door_file(file);
  const OutputFolder folder(folder_for(file, out));
  const CheckRun run = check_door(door_case, terminal_progress());
  end_progress();
  folder.write("results.json", results_json(door_case, run));
  folder.write("drop.svg",
               elevation_svg(door_case.door, run.deflection, words_in(door_case.units)));
  write_set(folder, run.mesh, run.deflection);
  fmt::print("{}\nResults in {}\n", answer_table(door_case, run), folder.path(""));
  const Verdict verdict = worst(run.findings);
  const bool fails = verdict == Verdict::fails || (strict && verdict == Verdict::close);
  return fails ? ExitStatus::close_or_fails : ExitStatus::holds;
}

ExitStatus command_keys()
{
  fmt::print("{}", door_file_reference());
  return ExitStatus::holds;
}

} // namespace hangtrue
