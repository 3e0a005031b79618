// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/toml_limits.hpp"

#include "cases/input/clean_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace hangtrue::input
{

namespace
{

class TrapScanner
{
public:
  explicit TrapScanner(std::string_view text) : text_(text) {}

  std::optional<TomlTrap> scan()
  {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '#')
        skip_comment();
      else if (c == '"' || c == '\'')
        skip_text(c);
      else if (auto trap = take(c))
        return trap;
    }
    return std::nullopt;
  }

private:
  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t line_start_ = 0;
  int line_ = 1;
  int depth_ = 0;
  int parts_ = 1;
  int dots_ = 0;

  void step()
  {
    if (text_[at_] == '\n') {
      ++line_;
      line_start_ = at_ + 1;
    }
    ++at_;
  }

  // All that any reader of TOML has taken for the end of a line; a comment that ends too early here
  // hides nothing.
  [[nodiscard]] bool at_line_end() const
  {
    const std::string_view rest = text_.substr(at_);
    return (rest.front() >= '\n' && rest.front() <= '\r') || rest.starts_with("\xC2\x85") ||
           rest.starts_with("\xE2\x80\xA8") || rest.starts_with("\xE2\x80\xA9");
  }

  void skip_comment()
  {
    while (at_ < text_.size() && !at_line_end())
      ++at_;
  }

  [[nodiscard]] std::size_t quotes_here(char quote) const
  {
    std::size_t count = 0;
    while (at_ + count < text_.size() && text_[at_ + count] == quote)
      ++count;
    return count;
  }

  // One line, or several between three quotes, which may have two more of their own at the end.
  void skip_text(char quote)
  {
    const std::size_t opening = quotes_here(quote);
    const bool several = opening >= 3;
    if (opening == 2) {
      at_ += 2;
      return;
    }
    at_ += several ? 3 : 1;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == quote && (!several || quotes_here(quote) >= 3)) {
        at_ += several ? std::min<std::size_t>(5, quotes_here(quote)) : 1;
        return;
      }
      if (!several && c >= '\n' && c <= '\r')
        return; // the parser reports what is missing
      if (quote == '"' && c == '\\' && at_ + 1 < text_.size())
        step();
      step();
    }
  }

  // A header whose name begins with what no key begins with: the parser takes for granted that it
  // does not.
  [[nodiscard]] bool nameless_header() const
  {
    const std::string_view before = text_.substr(line_start_, at_ - line_start_);
    if (depth_ > 0 || before.find_first_not_of(" \t\xEF\xBB\xBF") != std::string_view::npos)
      return false;
    std::size_t name = at_ + 1;
    if (name < text_.size() && text_[name] == '[')
      ++name;
    name = text_.find_first_not_of(" \t", name);
    return name == std::string_view::npos ||
           std::string_view("=.,{}#?!\r\n").find(text_[name]) != std::string_view::npos;
  }

  std::optional<TomlTrap> take(char c)
  {
    if (c == '[' && nameless_header())
      return trap("a header without a name", "headers as in [door] or [[hinge]]");
    if (c == '[' || c == '{')
      ++depth_;
    else if ((c == ']' || c == '}') && depth_ > 0)
      --depth_;
    if (c == '.') {
      ++parts_;
      ++dots_;
    } else if (c == '=' || c == ',' || c == '[' || c == ']' || c == '{' || c == '}' || c == '\n')
      parts_ = 1;
    if (depth_ > max_toml_depth)
      return trap(fmt::format("brackets within brackets, deeper than {}", max_toml_depth),
                  fmt::format("up to {} levels", max_toml_depth));
    if (parts_ > max_toml_depth)
      return trap(fmt::format("a key of more than {} parts", max_toml_depth),
                  fmt::format("up to {} parts with dots between", max_toml_depth));
    if (dots_ > max_toml_dots)
      return trap(fmt::format("more than {} dots outside of texts", max_toml_dots),
                  fmt::format("up to {} of them", max_toml_dots));
    step();
    return std::nullopt;
  }

  [[nodiscard]] TomlTrap trap(std::string found, std::string allowed) const
  {
    return {line_, static_cast<int>(at_ - line_start_) + 1, std::move(found), std::move(allowed)};
  }
};

} // namespace

std::optional<TomlTrap> toml_trap(std::string_view text)
{
  return TrapScanner(text).scan();
}

std::string trap_text(const TomlTrap& trap)
{
  return fmt::format("found {}; allowed are {}; look for a bracket that is not closed, or write "
                     "each key on a line of its own below its [section]",
                     trap.found, trap.allowed);
}

std::string unreadable_text(std::string_view description)
{
  constexpr std::size_t maximum = 200; // bytes; the parser repeats whole keys
  const std::string said = message_text(description, maximum);
  const bool encoding =
      said.find("utf-8") != std::string::npos || said.find("UTF-8") != std::string::npos;
  const bool twice = said.find("redefine") != std::string::npos;
  return fmt::format("found something that cannot be read ({}); allowed is a TOML text{}", said,
                     encoding ? " in UTF-8; save it as UTF-8"
                     : twice  ? " with every key once; take one of the two out, and write "
                                "[[hinge]] with two brackets for every hinge"
                              : "; look for a missing quote, bracket or equals sign");
}

} // namespace hangtrue::input
