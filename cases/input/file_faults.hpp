// SPDX-License-Identifier: GPL-3.0-or-later
// Faults of a door file, and which of them are said.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace hangtrue::input
{

/// Position in the file; line 0 for what the file does not contain.
struct FilePlace {
  int line = 0;
  int column = 0;
};

/// Greatest number of faults of a file that are listed; the others are counted.
constexpr std::size_t max_reported_faults = 20;

/// One fault found.
struct FileFault {
  FilePlace place;
  std::string key;
  std::string message;
};

/// The faults that come first in the file; of all others only their number, so that a file of
/// nothing but faults costs neither time nor memory.
class FirstFaults
{
public:
  /// `said` is called for the message only where the fault is among the first so far.
  void add(const FilePlace& place, const std::string& key,
           const std::function<std::string()>& said);

  [[nodiscard]] const std::vector<FileFault>& first() const { return first_; }
  [[nodiscard]] std::size_t more() const { return more_; }

private:
  std::vector<FileFault> first_;
  std::size_t more_ = 0;
};

} // namespace hangtrue::input
