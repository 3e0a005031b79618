// SPDX-License-Identifier: GPL-3.0-or-later
// What a TOML text may not do to its parser: checked before it is parsed.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace hangtrue::input
{

/// Greatest depth of brackets and braces, and length of a dotted key or header; a door file needs
/// two of each. The parser handles deep ones recursively until its stack is full.
constexpr int max_toml_depth = 16;

/// Greatest number of dots outside of texts and comments; a door file needs a few. The parser
/// searches all tables of dotted keys for each of them.
constexpr int max_toml_dots = 10000;

/// Something that the parser is not given, its position, and what is allowed.
struct TomlTrap {
  int line = 1;
  int column = 1;
  std::string found;
  std::string allowed;
};

/// The first trap of a text, in one pass that understands texts and comments; nothing for a text
/// that the parser can be given.
std::optional<TomlTrap> toml_trap(std::string_view text);

/// Message of a trap: "found ...; allowed is ...; ...".
std::string trap_text(const TomlTrap& trap);

/// Message for a text that the parser refused, from its own description.
std::string unreadable_text(std::string_view description);

} // namespace hangtrue::input
