// SPDX-License-Identifier: GPL-3.0-or-later
// A folder for files between two steps, gone when this goes.
#pragma once

#include <string>

namespace hangtrue::page
{

/// A new folder of this process in the system's folder for temporary files.
class TemporaryFolder
{
public:
  /// Throws ComputeError when there is no space for it.
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  [[nodiscard]] std::string path(const std::string& name) const;

  /// Writes a file and returns its path. Throws ComputeError when the disk does not take it.
  [[nodiscard]] std::string write(const std::string& name, const std::string& text) const;

  /// The bytes of a file.
  [[nodiscard]] std::string read(const std::string& name) const;

private:
  std::string folder_;
};

} // namespace hangtrue::page
