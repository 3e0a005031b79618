// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/page/temporary_folder.hpp"

#include "meshing/common/errors.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace hangtrue::page
{

namespace fs = std::filesystem;

TemporaryFolder::TemporaryFolder()
{
  std::error_code error;
  const fs::path place = fs::temp_directory_path(error);
  std::string pattern = (place / "hangtrue-XXXXXX").string();
  if (error || mkdtemp(pattern.data()) == nullptr)
    throw ComputeError("figures: no folder for temporary files can be made; make room on the disk, "
                       "or set TMPDIR to a folder that may be written");
  folder_ = pattern;
}

TemporaryFolder::~TemporaryFolder()
{
  std::error_code ignored;
  fs::remove_all(folder_, ignored);
}

std::string TemporaryFolder::path(const std::string& name) const
{
  return (fs::path(folder_) / name).string();
}

std::string TemporaryFolder::write(const std::string& name, const std::string& text) const
{
  std::ofstream file(path(name), std::ios::binary);
  file << text;
  file.close();
  if (!file)
    throw ComputeError("figures: temporary files cannot be written; make room on the disk");
  return path(name);
}

std::string TemporaryFolder::read(const std::string& name) const
{
  std::ifstream file(path(name), std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

} // namespace hangtrue::page
