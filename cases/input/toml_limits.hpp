// What a TOML text may not do to its parser: looked for before it is parsed.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace hangtrue
{

/// Most levels of brackets and braces, and most parts of a dotted key or header; a door file takes
/// two of each. The parser answers deep ones by calls within calls until its stack is full.
constexpr int deepest_toml = 16;

/// Most dots outside of texts and comments; a door file takes a few. The parser looks through all
/// tables of dotted keys for each of them.
constexpr int most_toml_dots = 10000;

/// Something that the parser is not given, where it stands, and what is allowed.
struct TomlTrap {
  int line = 1;
  int column = 1;
  std::string found;
  std::string allowed;
};

/// The first trap of a text, in one pass that understands texts and comments; nothing for a text
/// that the parser can be given.
std::optional<TomlTrap> toml_trap(std::string_view text);

/// The words of a trap for a message: "found ...; allowed is ...; ...".
std::string trap_words(const TomlTrap& trap);

/// The words for a text that the parser refused, from its own description.
std::string unreadable_words(std::string_view description);

} // namespace hangtrue
