// SPDX-License-Identifier: GPL-3.0-or-later
// Commands that draw: `hangtrue figures` and `hangtrue report`.
#pragma once

#include "meshing/common/errors.hpp"

#include <optional>
#include <string>

namespace hangtrue::program
{

/// Options of `hangtrue figures`, as on the command line.
struct FiguresOptions {
  std::string file;
  std::string out;            ///< empty: beside the file
  std::string only;           ///< names with commas; empty: all
  std::string size;           ///< "7 in x 5 in"; empty: 180 mm x 120 mm
  std::string formats;        ///< "png,svg,pdf"
  std::optional<double> room; ///< byte of memory that may be taken
};

/// Checks the door, draws the requested figures, and writes their captions beside them. Throws
/// InputError for an unknown name, size or format.
ExitStatus command_figures(const FiguresOptions& requested);

/// Options of `hangtrue report`.
struct ReportOptions {
  std::string file;
  std::string out;            ///< empty: beside the file
  std::string number;         ///< identification number; empty: the name of the file
  std::string revision;       ///< empty: "-"
  std::string date;           ///< of issue; empty: today
  std::string paper;          ///< "letter" or "a4"; empty: by the units of the file
  bool spread = false;        ///< with ranges of the results
  std::optional<double> room; ///< byte of memory that may be taken
};

/// Checks the door and writes its sheet: sheet.html, and sheet.pdf where WeasyPrint is installed.
/// The status follows the worst verdict, as with `check`.
ExitStatus command_report(const ReportOptions& requested);

} // namespace hangtrue::program
