// Commands that draw: `hangtrue figures` and `hangtrue report`.
#pragma once

#include "meshing/errors.hpp"

#include <string>

namespace hangtrue
{

/// What was asked of `hangtrue figures`, in the words of the command line.
struct FiguresAsked {
  std::string file;
  std::string out;     ///< empty: beside the file
  std::string only;    ///< names with commas; empty: all
  std::string size;    ///< "7 in x 5 in"; empty: 180 mm x 120 mm
  std::string formats; ///< "png,svg,pdf"
};

/// Checks the door, draws the figures that were asked for, and writes their captions beside them.
/// Throws InputError for a name, size or format that there is not.
ExitStatus command_figures(const FiguresAsked& asked);

} // namespace hangtrue
