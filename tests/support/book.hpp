// SPDX-License-Identifier: GPL-3.0-or-later
// The verification book: every check of a published number leaves a row, the reference beside the
// result of this program.
//
// A row is a small file in the build folder, named after its id, so programs may run in any order
// and in parts; tests/verification/gather_book.cpp makes docs/verification.md of them.
#pragma once

#include <string>

namespace hangtrue::test
{

/// Source of a published number: a short key that sorts the book, and the source in full (authors,
/// title, year; "from memory" where it was not read; "common practice, no source").
struct Source {
  std::string key;
  std::string full;
};

/// The admissible range of the result, both ends included, its text in the book, and its reason.
struct Band {
  double theirs = 0.0;
  double least = 0.0;
  double most = 0.0;
  std::string words; ///< "1 %", "0.01", "at most"
  std::string why;
};

/// The result within a fraction of the reference: near(-5.38, 0.03, why) is 3 %.
Band near(double theirs, double share, const std::string& why);

/// The result within a distance of the reference, in the row's unit.
Band within(double theirs, double distance, const std::string& why);

/// The result not above, not below, or between bounds.
Band at_most(double bound, const std::string& why);
Band at_least(double bound, const std::string& why);
Band between(double minimum, double maximum, const std::string& why);

/// The subject of a row; `id` is unique in the whole book and names the row's file, of letters,
/// digits, '.' and '-'; `unit` may be empty.
struct Entry {
  std::string id;
  std::string quantity;
  std::string unit;
};

/// Writes the row and fails the running test case, at the caller's line, when the result is
/// out of band.
void check_row(const Source& source, const Entry& entry, const Band& band, double ours,
               const char* file = __builtin_FILE(), int line = __builtin_LINE());

/// The source of trade facts.
Source trade();

} // namespace hangtrue::test
