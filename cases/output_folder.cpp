#include "cases/output_folder.hpp"

#include "meshing/errors.hpp"

#include <fmt/format.h>

#include <fstream>
#include <system_error>

namespace hangtrue
{

namespace
{

namespace fs = std::filesystem;

constexpr const char* mark = ".hangtrue-results";

[[noreturn]] void refuse(const fs::path& folder, const std::string& found,
                         const std::string& repair)
{
  throw InputError(fmt::format("{}: the output folder: {}; allowed is a folder that may be written "
                               "to and holds nobody else's results; {}",
                               folder.string(), found, repair));
}

} // namespace

OutputFolder::OutputFolder(const std::string& path) : folder_(path)
{
  std::error_code error;
  if (fs::exists(folder_, error) && !fs::is_directory(folder_, error))
    refuse(folder_, "it is a file", "name another folder with --out");
  const bool ours = fs::exists(folder_ / mark, error);
  if (!ours && fs::exists(folder_ / "results.json", error))
    refuse(folder_, "it holds a results.json that this program did not write",
           "name another folder with --out");
  fs::create_directories(folder_, error);
  if (error)
    refuse(folder_, "it cannot be made: " + error.message(), "name another folder with --out");
  std::ofstream marking(folder_ / mark);
  marking << "Files here are rewritten by hangtrue.\n";
  if (!marking.flush())
    refuse(folder_, "nothing can be written there",
           "ask for the permission, or name another folder");
}

std::string OutputFolder::path(const std::string& name) const
{
  return (folder_ / name).string();
}

// The ending stays, since some writers go by it.
std::string OutputFolder::temporary(const std::string& name) const
{
  return (folder_ / (".part-" + name)).string();
}

void OutputFolder::keep(const std::string& name) const
{
  std::error_code error;
  fs::rename(temporary(name), folder_ / name, error);
  if (error)
    refuse(folder_, name + " cannot be written: " + error.message(), "make room on the disk");
}

void OutputFolder::write(const std::string& name, const std::string& text) const
{
  {
    std::ofstream file(temporary(name), std::ios::binary);
    file << text;
    if (!file.flush()) {
      std::error_code ignored;
      fs::remove(temporary(name), ignored);
      refuse(folder_, name + " cannot be written", "make room on the disk, or name another folder");
    }
  }
  keep(name);
}

std::string folder_beside(const std::string& door_file)
{
  const fs::path path(door_file);
  return (path.parent_path() / (path.stem().string() + "-results")).string();
}

} // namespace hangtrue
