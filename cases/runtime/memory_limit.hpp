// SPDX-License-Identifier: GPL-3.0-or-later
// How much memory a run may still allocate, and what sets that limit.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace hangtrue::runtime
{

/// Memory that may still be taken.
struct AvailableMemory {
  double bytes = 0.0;
  std::string bound; ///< what sets it, for messages: "free on this machine", "left by --room"
};

/// The least of: the user's own limit `requested` (bytes, for the whole process), the limits of the
/// process (getrlimit: address space, data), the limits of its control groups (versions 1 and 2),
/// and MemAvailable of the machine, each less what is used of it now. Swap is not counted. `root`
/// replaces "/" where /proc and /sys are read. What cannot be read is no limit.
AvailableMemory available_memory(std::optional<double> requested,
                                 const std::filesystem::path& root = "/");

/// Resident bytes of the process.
double memory_used();

/// Bytes of a text such as "4 GB" or "800 MB" (powers of ten). Throws InputError that names the
/// option it came from, what was found and what is allowed. Nothing for an empty text.
std::optional<double> read_room(const std::string& text);

/// Bytes as messages show them: "1.4 GB", "730 MB".
std::string memory_text(double bytes);

/// Makes allocations beyond `bytes` for the whole process fail, so that a run whose need was
/// estimated too low ends with a message instead of taking more. Never raises a limit.
void set_process_limit(double bytes);

} // namespace hangtrue::runtime
