// SPDX-License-Identifier: GPL-3.0-or-later
// The sheet: one self-contained HTML file, for screens and for paper.
#pragma once

#include "viz/figures/figures.hpp"

#include <string>
#include <utility>
#include <vector>

namespace hangtrue::sheet
{

/// Fields of a title block, by the names that ISO 7200:2004 gives them.
struct TitleBlock {
  std::string owner; ///< legal owner
  std::string title;
  std::string document_type;
  std::string number; ///< identification number
  std::string revision;
  std::string date; ///< of issue
};

/// One check as text.
struct SheetVerdict {
  std::string verdict; ///< "holds", "close" or "fails"
  std::string check;
  std::string state;
  std::string found;
  std::string limit;
  std::string utilisation; ///< "61 %"
  std::string error;       ///< of the value found; may be empty
  std::string origin;      ///< of the limit
  std::string reason;
};

/// A number by hand beside the computed one.
struct HandCheck {
  std::string what;
  std::string formula;
  std::string by_hand;
  std::string computed;
  std::string remark;
};

/// One key of the file as understood.
struct SheetKey {
  std::string key;
  std::string value;
  bool given = false;
};

/// All that stands on the sheet of a design review.
struct Sheet {
  TitleBlock title;
  std::string verdict; ///< of the whole door
  std::string summary; ///< sentences
  std::vector<SheetVerdict> verdicts;
  std::vector<figures::Figure> figures;
  std::string trouble; ///< why pictures are missing; may be empty
  std::vector<std::string> assumptions;
  std::vector<HandCheck> hand_checks;
  std::vector<std::string> books; ///< what was balanced and how well
  std::vector<std::string> not_checked;
  std::vector<std::string> cautions;
  std::vector<SheetKey> keys;
  std::vector<std::pair<std::string, std::string>> versions;
};

/// Format of the sheet's pages.
enum class Paper { letter, a4 };

/// The sheet as HTML: nothing in it is fetched from anywhere, everything from outside is escaped.
/// `paper` is for programs that make pages of it; a browser takes its own. `turning` is trusted
/// HTML after the verdicts (may be empty).
std::string sheet_html(const Sheet& sheet, Paper paper, const std::string& turning = "");

} // namespace hangtrue::sheet
