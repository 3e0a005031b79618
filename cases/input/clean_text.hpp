// SPDX-License-Identifier: GPL-3.0-or-later
// Texts of the user as outputs may carry them.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace hangtrue::input
{

/// A text that any output may contain: a blank for every character that a terminal or a drawing
/// would act on or refuse: controls (C0, DEL, C1), marks of writing direction (U+061C, U+200E,
/// U+200F, U+202A to U+202E, U+2066 to U+2069), line and paragraph separators (U+2028, U+2029),
/// invisible characters (U+200B, U+2060 to U+2064, U+206A to U+206F, U+FEFF, U+FFF9 to U+FFFB, tags
/// from U+E0000 to U+E007F) and noncharacters; U+FFFD for every byte that is not UTF-8, surrogates
/// among them. Unicode 15, chapters 3.9, 23.1, 23.2, 23.7; XML 1.0, section 2.2.
std::string clean_text(std::string_view text);

/// The same for what has lines: line feeds stay.
std::string clean_lines(std::string_view text);

/// Characters (code points) of a text in UTF-8.
std::size_t character_count(std::string_view text);

/// A clean text of at most `maximum` bytes for a message, cut between characters, "..." at its end.
std::string message_text(std::string_view text, std::size_t maximum = 60);

} // namespace hangtrue::input
