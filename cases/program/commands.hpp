// SPDX-License-Identifier: GPL-3.0-or-later
// What each command of the program does.
#pragma once

#include "meshing/common/errors.hpp"

#include <optional>
#include <string>

namespace hangtrue::program
{

/// `hangtrue new`: the starter file to standard output, or to a file that is not there yet.
/// Throws InputError when the file exists or cannot be written.
ExitStatus command_new(const std::string& file);

/// `hangtrue mesh`: door.msh and the bodies as .vtu into a folder, and what was measured on the
/// mesh.
ExitStatus command_mesh(const std::string& file, const std::string& out, int level);

/// Options of `hangtrue check`.
struct CheckOptions {
  std::string file;
  std::string out;            ///< empty: beside the file
  bool strict = false;        ///< `close` counts as not holding
  bool spread = false;        ///< with ranges of the results
  std::optional<double> room; ///< byte of memory that may be taken
};

/// `hangtrue check`: the table, results.json, drop.svg and the .vtu set.
ExitStatus command_check(const CheckOptions& requested);

/// `hangtrue skins`: what each attachment of the inner skin gains in the door's fire.
ExitStatus command_skins(const std::string& file);

/// `hangtrue keys`: the reference of the door file.
ExitStatus command_keys();

} // namespace hangtrue::program
