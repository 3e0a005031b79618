// SPDX-License-Identifier: GPL-3.0-or-later
// A folder in which a test runs the program as its user would.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

namespace hangtrue::test
{

/// The result of one run.
struct Ran {
  int status = 0;
  std::string out;
  std::string err;
};

/// The content of a file.
inline std::string read(const std::filesystem::path& path)
{
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// A folder of its own for every case, removed with it.
struct Folder {
  std::filesystem::path path;
  explicit Folder(const std::string& name)
      : path(std::filesystem::temp_directory_path() / (name + " " + std::to_string(getpid())))
  {
    std::filesystem::remove_all(path);
    std::filesystem::create_directories(path);
  }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  void write(const std::string& name, const std::string& text) const
  {
    std::ofstream(path / name) << text;
  }
#ifdef HANGTRUE_PROGRAM
  /// Runs the program there; `before` is put before it on the line.
  [[nodiscard]] Ran run(const std::string& words, const std::string& before = "") const
  {
    const std::string command = "cd '" + path.string() + "' && " + before +
                                " '" HANGTRUE_PROGRAM "' " + words + " > out.txt 2> err.txt";
    const int status = std::system(command.c_str());
    return {WEXITSTATUS(status), read(path / "out.txt"), read(path / "err.txt")};
  }
#endif
};

} // namespace hangtrue::test
