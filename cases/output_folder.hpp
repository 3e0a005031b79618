// A folder for results that never loses what somebody else wrote.
#pragma once

#include <filesystem>
#include <string>

namespace hangtrue
{

/// A folder of results. A hidden file marks it as ours; without the mark an existing folder is only
/// used when none of the names that will be written are taken.
class OutputFolder
{
public:
  /// Makes the folder if needed. Throws InputError when it cannot be made or written, or is not
  /// ours and holds a results file.
  explicit OutputFolder(const std::string& path);

  /// Full path of a file inside.
  [[nodiscard]] std::string path(const std::string& name) const;

  /// Writes a text under a temporary name and renames it. Throws InputError when the disk does not
  /// take it.
  void write(const std::string& name, const std::string& text) const;

  /// Path of a temporary file for a writer of its own, and its renaming once it is whole.
  [[nodiscard]] std::string temporary(const std::string& name) const;
  void keep(const std::string& name) const;

private:
  std::filesystem::path folder_;
};

/// The folder beside a door file where its results go when nothing else is asked:
/// "door.toml" gives "door-results".
std::string folder_beside(const std::string& door_file);

} // namespace hangtrue
