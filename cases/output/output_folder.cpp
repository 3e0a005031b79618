// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/output_folder.hpp"

#include "cases/input/clean_text.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <fstream>
#include <system_error>

namespace hangtrue::output
{

namespace
{

namespace fs = std::filesystem;

constexpr const char* list_name = ".hangtrue-results";
constexpr const char* list_head = "hangtrue may replace these files in this folder:";

[[noreturn]] void refuse(const fs::path& folder, const std::string& found,
                         const std::string& repair)
{
  throw InputError(fmt::format("{}: the output folder: {}; allowed is a folder that may be written "
                               "to and holds nobody else's results; {}",
                               input::clean_text(folder.string()), input::clean_text(found),
                               repair));
}

// A link that leads nowhere is there too: renaming would replace it.
bool is_there(const fs::path& path)
{
  std::error_code error;
  return fs::symlink_status(path, error).type() != fs::file_type::not_found;
}

bool is_our_list(const fs::path& path)
{
  std::ifstream file(path);
  std::string line;
  std::getline(file, line);
  return line == list_head;
}

std::set<std::string> read_list(const fs::path& path)
{
  std::set<std::string> names;
  std::ifstream file(path);
  std::string line;
  std::getline(file, line);
  if (line != list_head)
    return names;
  while (std::getline(file, line))
    names.insert(line);
  return names;
}

// A temporary name contains the machine and the process, since a folder may be shared.
std::string part_head(const std::string& process)
{
  std::array<char, 256> machine{};
  gethostname(machine.data(), machine.size() - 1);
  return fmt::format(".part-{}-{}-", machine.data(), process);
}

// What a killed process of this machine has left half-written: it will never be finished.
void clear_orphans(const fs::path& folder)
{
  std::error_code error;
  std::vector<fs::path> orphans;
  for (const auto& entry : fs::directory_iterator(folder, error)) {
    const std::string name = entry.path().filename().string();
    const std::string head = part_head("");
    const std::string before = head.substr(0, head.size() - 1);
    if (name.rfind(before, 0) != 0)
      continue;
    pid_t process = 0;
    const char* end = name.data() + name.size();
    const auto read = std::from_chars(name.data() + before.size(), end, process);
    if (read.ec == std::errc() && read.ptr != end && *read.ptr == '-' && process > 0 &&
        kill(process, 0) != 0 && errno == ESRCH)
      orphans.push_back(entry.path());
  }
  for (const auto& orphan : orphans)
    fs::remove(orphan, error);
}

// Folders that creating `folder` will add, outermost first.
std::vector<fs::path> missing(fs::path folder)
{
  std::vector<fs::path> wanted;
  if (!folder.has_filename()) // "out/"
    folder = folder.parent_path();
  for (; !folder.empty() && !is_there(folder); folder = folder.parent_path())
    wanted.push_back(folder);
  std::reverse(wanted.begin(), wanted.end());
  return wanted;
}

} // namespace

OutputFolder::OutputFolder(const std::string& path, const std::vector<std::string>& names)
    : folder_(path)
{
  std::error_code error;
  if (is_there(folder_) && !fs::is_directory(folder_, error))
    refuse(folder_, "it is a file", "name another folder with --out");
  // A link would lead the list out of the folder; a list of another form is not of this program.
  const fs::path list = folder_ / list_name;
  if (is_there(list) && (fs::is_symlink(list) || !is_our_list(list)))
    refuse(folder_, std::string("it holds a ") + list_name + " that this program did not write",
           "move that away, or name another folder with --out");
  ours_ = read_list(list);
  for (const auto& name : names)
    check_free(name);
  make(path);
  clear_orphans(folder_);
}

// Tried before the work, since permissions are not everything: a full disk, a read-only file
// system, or one whose folders take no files.
void OutputFolder::make(const std::string& path)
{
  std::error_code error;
  created_ = missing(path);
  fs::create_directories(folder_, error);
  try {
    if (error)
      refuse(folder_, "it cannot be made: " + error.message(), "name another folder with --out");
    try_to_write();
  } catch (const InputError&) {
    remove_created();
    throw;
  }
}

void OutputFolder::try_to_write() const
{
  const fs::path trial = temporary_path("trial");
  errno = 0;
  std::ofstream file(trial, std::ios::binary);
  file << std::string(4096, ' '); // a block of most file systems
  file.close();
  const int found = errno;
  const bool failed = !file;
  std::error_code ignored;
  fs::remove(trial, ignored);
  if (failed)
    refuse(folder_,
           "it cannot be written to" +
               (found != 0 ? ": " + std::generic_category().message(found) : ""),
           "make room or ask for the permission, or name another folder with --out");
}

void OutputFolder::remove_created()
{
  std::error_code ignored;
  for (auto folder = created_.rbegin(); folder != created_.rend(); ++folder)
    fs::remove(*folder, ignored); // takes away empty folders only
}

OutputFolder::~OutputFolder()
{
  std::error_code ignored;
  for (const auto& name : std::vector<std::string>(waiting_))
    fs::remove(temporary(name), ignored);
  remove_created();
}

void OutputFolder::check_free(const std::string& name) const
{
  if (ours_.count(name) == 0 && is_there(folder_ / name))
    refuse(folder_, "it holds a " + name + " that this program did not write",
           "move that away, or name another folder with --out");
}

std::string OutputFolder::path() const
{
  return folder_.string();
}

// The ending stays, since some writers go by it.
std::string OutputFolder::temporary(const std::string& name)
{
  if (std::find(waiting_.begin(), waiting_.end(), name) == waiting_.end())
    waiting_.push_back(name);
  return temporary_path(name);
}

std::string OutputFolder::temporary_path(const std::string& name) const
{
  return (folder_ / (part_head(std::to_string(getpid())) + name)).string();
}

void OutputFolder::write(const std::string& name, const std::string& text)
{
  std::ofstream file(temporary(name), std::ios::binary);
  file << text;
  file.close();
  if (!file)
    refuse(folder_, name + " cannot be written", "make room on the disk, or name another folder");
}

// By a temporary name as well: a list cut short would disown results that are there.
void OutputFolder::save_list()
{
  std::string text = std::string(list_head) + '\n';
  for (const auto& name : ours_)
    text += name + '\n';
  write(list_name, text);
  std::error_code error;
  fs::rename(temporary_path(list_name), folder_ / list_name, error);
  if (error)
    refuse(folder_, std::string(list_name) + " cannot be written: " + error.message(),
           "ask for the permission, or name another folder with --out");
  waiting_.pop_back();
}

// The list comes first: a run that is killed half-way leaves files that the next may replace.
void OutputFolder::keep()
{
  ours_.merge(read_list(folder_ / list_name)); // another run may have been here meanwhile
  for (const auto& name : waiting_) {
    check_free(name);
    ours_.insert(name);
  }
  save_list();
  while (!waiting_.empty()) {
    const std::string name = waiting_.back();
    std::error_code error;
    fs::rename(temporary(name), folder_ / name, error);
    if (error)
      refuse(folder_, name + " cannot be written: " + error.message(), "make room on the disk");
    waiting_.pop_back();
  }
}

std::string folder_beside(const std::string& door_file)
{
  const fs::path path(door_file);
  return (path.parent_path() / (path.stem().string() + "-results")).string();
}

} // namespace hangtrue::output
