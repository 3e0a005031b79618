// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/runtime/memory_limit.hpp"

#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <fstream>
#include <sstream>
#include <string_view>

namespace hangtrue::runtime
{

namespace
{

namespace fs = std::filesystem;

std::optional<double> number_in(const fs::path& path)
{
  std::ifstream file(path);
  double value = 0.0; // "max" is no number: no limit
  return file >> value ? std::optional(value) : std::nullopt;
}

// The number behind a word: "MemAvailable:  23 kB" or "inactive_file 4096".
std::optional<double> number_behind(const fs::path& path, const std::string& word)
{
  std::ifstream file(path);
  for (std::string line; std::getline(file, line);) {
    std::istringstream words(line);
    std::string first;
    double value = 0.0;
    if (words >> first >> value && first == word)
      return value;
  }
  return std::nullopt;
}

// Address space that BLAS reserves for its work and hardly uses (reserve_blas_buffer): it counts
// for the limits of the process, not for the memory of the machine.
constexpr double hardly_touched = 1.4e8;

// Pages of the process, proc(5): size, resident, ..., data (field 6).
struct Used {
  double space = 0.0;    // bytes
  double resident = 0.0; // bytes
  double data = 0.0;     // bytes
};

Used used_now(const fs::path& root)
{
  std::ifstream file(root / "proc/self/statm");
  double space = 0.0;
  double resident = 0.0;
  double shared = 0.0;
  double text = 0.0;
  double library = 0.0;
  double data = 0.0;
  if (!(file >> space >> resident >> shared >> text >> library >> data))
    return {};
  const auto page = static_cast<double>(sysconf(_SC_PAGESIZE));
  return {page * space, page * resident, page * data};
}

void bound_by(AvailableMemory& room, double bytes, const std::string& bound)
{
  if (bytes < room.bytes)
    room = {std::max(0.0, bytes), bound};
}

void bound_by_limit(AvailableMemory& room, __rlimit_resource_t kind, double used,
                    const std::string& bound)
{
  rlimit limit{};
  if (getrlimit(kind, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY)
    bound_by(room, static_cast<double>(limit.rlim_cur) - used - hardly_touched, bound);
}

// One control group: its limit less what it uses, file pages that can be dropped not counted.
void bound_by_group(AvailableMemory& room, const fs::path& group, const char* limit_name,
                    const char* use_name, const char* droppable)
{
  const auto limit = number_in(group / limit_name);
  const auto use = number_in(group / use_name);
  if (!limit || !use)
    return;
  const double files = number_behind(group / "memory.stat", droppable).value_or(0.0);
  bound_by(room, *limit - *use + files, "left in the control group of this process");
}

// A group is bound by those above it as well. In a container the path may not be there below the
// mount; the mount itself is then the group.
void bound_by_groups(AvailableMemory& room, const fs::path& mount, const std::string& own,
                     const char* limit_name, const char* use_name, const char* droppable)
{
  for (fs::path at = fs::path(own).relative_path(); !at.empty(); at = at.parent_path())
    bound_by_group(room, mount / at, limit_name, use_name, droppable);
  bound_by_group(room, mount, limit_name, use_name, droppable);
}

// Lines of cgroups(7): "0::/path" for version 2, "4:memory:/path" for version 1.
void bound_by_all_groups(AvailableMemory& room, const fs::path& root)
{
  std::ifstream file(root / "proc/self/cgroup");
  for (std::string line; std::getline(file, line);) {
    const auto first = line.find(':');
    const auto second = line.find(':', first + 1);
    if (first == std::string::npos || second == std::string::npos)
      continue;
    std::string kinds = ",";
    kinds += line.substr(first + 1, second - first - 1);
    kinds += ',';
    const std::string own = line.substr(second + 1);
    if (kinds == ",,")
      bound_by_groups(room, root / "sys/fs/cgroup", own, "memory.max", "memory.current",
                      "inactive_file");
    else if (kinds.find(",memory,") != std::string::npos)
      bound_by_groups(room, root / "sys/fs/cgroup/memory", own, "memory.limit_in_bytes",
                      "memory.usage_in_bytes", "total_inactive_file");
  }
}

} // namespace

AvailableMemory available_memory(std::optional<double> requested, const fs::path& root)
{
  AvailableMemory room{1e18, "free on this machine"};
  const Used used = used_now(root);
  if (const auto free = number_behind(root / "proc/meminfo", "MemAvailable:"))
    bound_by(room, 1024.0 * *free, room.bound); // in KiB
  bound_by_all_groups(room, root);
  if (requested)
    bound_by(room, *requested - used.resident, "left by --room");
  bound_by_limit(room, RLIMIT_AS, used.space, "left by the limit of address space (ulimit -v)");
  bound_by_limit(room, RLIMIT_DATA, used.data, "left by the limit of data (--room, ulimit -d)");
  return room;
}

double memory_used()
{
  return used_now("/").resident;
}

std::optional<double> read_room(const std::string& text)
{
  if (text.empty())
    return std::nullopt;
  double value = 0.0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  std::string unit(end, text.data() + text.size());
  unit.erase(0, unit.find_first_not_of(' '));
  const double factor = unit == "GB" ? 1e9 : unit == "MB" ? 1e6 : 0.0;
  const double bytes = factor * value;
  constexpr double minimum = 1e7;
  constexpr double maximum = 1e15;
  if (fault != std::errc() || !(bytes >= minimum && bytes <= maximum))
    throw InputError(fmt::format("--room: found \"{}\"; allowed is a size in MB or GB, at least 10 "
                                 "MB; write for example --room \"4 GB\"",
                                 input::message_text(text)));
  return bytes;
}

std::string memory_text(double bytes)
{
  return bytes < 999.5e6 ? fmt::format("{:.0f} MB", 1e-6 * bytes)
                         : fmt::format("{:.1f} GB", 1e-9 * bytes);
}

void set_process_limit(double bytes)
{
  // Data are the private pages that can be written (since Linux 4.7 all of them, not only the
  // heap); what libraries have mapped before the work began is there already.
  const Used used = used_now("/");
  rlimit limit{};
  if (getrlimit(RLIMIT_DATA, &limit) != 0)
    return;
  const auto wanted =
      static_cast<rlim_t>(std::max(0.0, bytes - used.resident) + used.data + hardly_touched);
  if (limit.rlim_cur != RLIM_INFINITY && limit.rlim_cur <= wanted)
    return;
  limit.rlim_cur = wanted;
  setrlimit(RLIMIT_DATA, &limit);
}

} // namespace hangtrue::runtime
