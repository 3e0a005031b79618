// SPDX-License-Identifier: GPL-3.0-or-later
// A folder for results that never overwrites files of others.
#pragma once

#include "cases/runtime/terminal_progress.hpp"

#include <filesystem>
#include <set>
#include <string>
#include <vector>

namespace hangtrue::output
{

/// A folder of results, filled all at once: files are written under temporary names, and get their
/// own names together when all are complete. A hidden list in the folder names the files of this
/// program; only those are ever replaced. What is not committed is removed again, down to a folder
/// that was created for it; what a killed run has left under temporary names goes with the next
/// run.
class OutputFolder
{
public:
  /// Creates the folder if needed. Throws InputError when it cannot be created or written, or when
  /// one of the `names` exists already and is not in the list.
  OutputFolder(const std::string& path, const std::vector<std::string>& names);
  ~OutputFolder();
  OutputFolder(const OutputFolder&) = delete;
  OutputFolder& operator=(const OutputFolder&) = delete;

  /// The folder as named by the user, for messages.
  [[nodiscard]] std::string path() const;

  /// Writes a text under a temporary name. Throws InputError when the disk does not take it.
  void write(const std::string& name, const std::string& text);

  /// Temporary path, of the same ending, for a writer of its own.
  [[nodiscard]] std::string temporary(const std::string& name);

  /// Gives all files their own names. Throws InputError when one cannot be renamed, or is not among
  /// the names given at the start and is not in the list.
  void keep();

private:
  void check_free(const std::string& name) const;
  void make(const std::string& path);
  void try_to_write() const;
  void remove_created();
  [[nodiscard]] std::string temporary_path(const std::string& name) const;
  void save_list();

  runtime::CleanupDue due_;
  std::filesystem::path folder_;
  std::vector<std::filesystem::path> created_; // folders created here, outermost first
  std::set<std::string> ours_;                 // names in the hidden list
  std::vector<std::string> waiting_;           // names that have a temporary file
};

/// The default folder beside a door file for its results: "door.toml" gives "door-results".
std::string folder_beside(const std::string& door_file);

} // namespace hangtrue::output
