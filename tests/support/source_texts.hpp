// SPDX-License-Identifier: GPL-3.0-or-later
// The texts of the program's own sources, for tests that inspect them.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <vector>

namespace hangtrue
{

/// Source texts by their paths from the root.
using Sources = std::map<std::string, std::string>;

/// Headers and sources of the top folders `tops`.
inline Sources source_texts(const std::vector<std::string>& tops)
{
  namespace fs = std::filesystem;
  const fs::path root = HANGTRUE_SOURCE_DIR;
  Sources sources;
  for (const auto& top : tops)
    for (const auto& entry : fs::recursive_directory_iterator(root / top)) {
      const auto ending = entry.path().extension();
      if (ending != ".cpp" && ending != ".hpp")
        continue;
      std::ifstream file(entry.path());
      sources[fs::relative(entry.path(), root).generic_string()] = {
          std::istreambuf_iterator<char>(file), {}};
    }
  return sources;
}

} // namespace hangtrue
