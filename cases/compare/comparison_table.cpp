// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/comparison_table.hpp"

#include "cases/input/units.hpp"
#include "cases/runtime/version.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <string_view>

namespace hangtrue::compare
{

namespace
{

using Json = nlohmann::ordered_json;

// All keys that any variant sets, in the order of the plan.
std::vector<std::string> tried_keys(const Comparison& c)
{
  std::vector<std::string> keys;
  for (const auto& v : c.variants)
    for (const auto& [key, value] : v.settings)
      if (std::find(keys.begin(), keys.end(), key) == keys.end())
        keys.push_back(key);
  return keys;
}

std::string bare(std::string value)
{
  value.erase(
      std::remove_if(value.begin(), value.end(), [](char c) { return c == '"' || c == '\''; }),
      value.end());
  return value;
}

std::string value_of(const Variant& v, const std::string& key)
{
  for (const auto& [k, value] : v.settings)
    if (k == key)
      return bare(value);
  return "as drawn";
}

bool has_numbers(const VariantResult& row)
{
  return row.state == VariantState::holds || row.state == VariantState::close ||
         row.state == VariantState::fails;
}

using Line = std::vector<std::string>;

Line heading(const Comparison& c, const std::vector<std::string>& keys, bool cost)
{
  Line line{"no."};
  for (const auto& key : keys) {
    const std::string name = key.substr(key.find('.') + 1);
    const bool same = std::count_if(keys.begin(), keys.end(), [&](const std::string& k) {
                        return k.substr(k.find('.') + 1) == name;
                      }) > 1;
    line.push_back(same ? key : name);
  }
  for (const char* name : {"verdict", "weight", "drop", "of it play", "of it steel", "use"})
    line.emplace_back(name);
  if (cost)
    line.push_back(c.currency.empty() ? "price" : c.currency);
  line.emplace_back("tightest check");
  return line;
}

Line row_line(const Comparison& c, std::size_t r, const std::vector<std::string>& keys, bool cost)
{
  const VariantResult& row = c.rows[r];
  Line line{fmt::format("{}", c.variants[r].number)};
  for (const auto& key : keys)
    line.push_back(value_of(c.variants[r], key));
  line.push_back(state_text(row.state));
  if (!has_numbers(row)) {
    line.resize(line.size() + (cost ? 7 : 6));
    return line;
  }
  line.push_back(input::format_short(row.weight, input::Dimension::force, c.units));
  line.push_back(input::format_short(row.drop, input::Dimension::length, c.units));
  line.push_back(input::format_short(row.play_drop, input::Dimension::length, c.units));
  line.push_back(input::format_short(row.steel_drop, input::Dimension::length, c.units));
  line.push_back(fmt::format("{:.0f} %", 100.0 * row.utilisation));
  if (cost)
    line.push_back(fmt::format("{:.2f}", row.cost));
  line.push_back(row.tightest);
  return line;
}

// Letters, not bytes.
std::size_t width(const std::string& text)
{
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char ch) {
    return (static_cast<unsigned char>(ch) & 0xC0U) != 0x80U;
  }));
}

std::string aligned(const std::vector<Line>& lines, const std::vector<std::string>& marks)
{
  std::vector<std::size_t> wide(lines.front().size(), 0);
  for (const auto& line : lines)
    for (std::size_t k = 0; k < line.size(); ++k)
      wide[k] = std::max(wide[k], width(line[k]));
  std::string text;
  for (std::size_t l = 0; l < lines.size(); ++l) {
    std::string result = " ";
    for (std::size_t k = 0; k < lines[l].size(); ++k) {
      result += fmt::format(" {}", lines[l][k]);
      if (k + 1 < lines[l].size())
        result += std::string(wide[k] - width(lines[l][k]) + 1, ' ');
    }
    if (!marks[l].empty())
      result += "  <- " + marks[l];
    result.erase(result.find_last_not_of(' ') + 1);
    text += result + "\n";
  }
  return text;
}

std::string mark_of(const BestVariants& best, int row)
{
  std::string mark = row == best.lightest ? "lightest that holds" : "";
  if (row == best.cheapest)
    mark += mark.empty() ? "cheapest that holds" : ", and cheapest";
  return mark;
}

// Programs that show a table take a cell that begins so for a formula, and run it; some of them in
// wide letters (U+FF0B, FF0D, FF1D, FF20) too. A plain number is none.
bool looks_like_a_formula(const std::string& text)
{
  const auto first = text.find_first_not_of(' ');
  if (first == std::string::npos)
    return false;
  const std::string rest = text.substr(first);
  const auto begins = [&](std::string_view with) { return rest.rfind(with, 0) == 0; };
  double number = 0.0;
  const char* end = rest.data() + rest.size();
  const char* after_sign = rest.data() + (begins("+") ? 1 : 0); // from_chars knows - only
  const auto read = std::from_chars(after_sign, end, number);
  if (read.ec == std::errc() && read.ptr == end)
    return false;
  constexpr std::array<std::string_view, 10> starts{"=",  "+",      "-",      "@",      "\t",
                                                    "\r", "\uFF0B", "\uFF0D", "\uFF1D", "\uFF20"};
  return std::any_of(starts.begin(), starts.end(), begins);
}

// A cell by RFC 4180, with ' before what would be read as a formula; in quotes also where it
// contains another separator or a line end.
std::string quoted(const std::string& text)
{
  const std::string cell = (looks_like_a_formula(text) ? "'" : "") + text;
  if (cell.find_first_of(",;\"\n\r\t") == std::string::npos)
    return cell;
  std::string result = "\"";
  for (const char c : cell)
    result += c == '"' ? std::string("\"\"") : std::string(1, c);
  return result + "\"";
}

std::string notes(const Comparison& c)
{
  std::string text;
  for (std::size_t r = 0; r < c.rows.size(); ++r)
    if (!c.rows[r].note.empty())
      text += fmt::format("\n{} {}: {}\n", c.variants[r].number, state_text(c.rows[r].state),
                          c.rows[r].note);
  return text;
}

// Seven digits: further ones depend on the variant for which a substructure was factorized.
double rounded(double value)
{
  return std::stod(fmt::format("{:.7g}", value));
}

} // namespace

std::string comparison_text(const Comparison& c)
{
  const auto keys = tried_keys(c);
  const bool cost = std::any_of(c.rows.begin(), c.rows.end(),
                                [](const VariantResult& r) { return r.cost >= 0.0; });
  const BestVariants best = best_variants(c.rows);
  std::vector<Line> lines{heading(c, keys, cost)};
  std::vector<std::string> marks{""};
  for (std::size_t r = 0; r < c.rows.size(); ++r) {
    lines.push_back(row_line(c, r, keys, cost));
    marks.push_back(mark_of(best, static_cast<int>(r)));
  }
  auto count = [&](VariantState s) {
    return std::count_if(c.rows.begin(), c.rows.end(),
                         [s](const VariantResult& r) { return r.state == s; });
  };
  std::string text = fmt::format("{}: {} variants\n\n", c.door, c.variants.size());
  text += aligned(lines, marks) + "\n";
  text += fmt::format("{} hold, {} are close, {} fail", count(VariantState::holds),
                      count(VariantState::close), count(VariantState::fails));
  for (const auto s : {VariantState::impossible, VariantState::no_number, VariantState::missing})
    if (count(s) > 0)
      text += fmt::format(", {} {}", count(s), state_text(s));
  text += ". The use is that of the check nearest to its limit.\n";
  if (best.lightest < 0)
    text += "No variant holds every check.\n";
  return text + notes(c);
}

std::string comparison_csv(const Comparison& c)
{
  const auto keys = tried_keys(c);
  const BestVariants best = best_variants(c.rows);
  std::string text = "number";
  for (const auto& key : keys)
    text += fmt::format(",{}", quoted(key));
  text += ",verdict,weight_N,drop_m,drop_error_m,play_drop_m,steel_drop_m,use,tightest_check,cost,"
          "mark,folder\n";
  for (std::size_t r = 0; r < c.rows.size(); ++r) {
    const VariantResult& row = c.rows[r];
    text += fmt::format("{}", c.variants[r].number);
    for (const auto& key : keys)
      text += fmt::format(",{}", quoted(value_of(c.variants[r], key)));
    text += fmt::format(",{}", state_text(row.state));
    if (has_numbers(row))
      text +=
          fmt::format(",{:.9g},{:.9g},{:.9g},{:.9g},{:.9g},{:.9g},{},{}", row.weight, row.drop,
                      row.drop_error, row.play_drop, row.steel_drop, row.utilisation,
                      quoted(row.tightest), row.cost >= 0.0 ? fmt::format("{:.2f}", row.cost) : "");
    else
      text += ",,,,,,,,";
    text += fmt::format(",{},{}\n", quoted(mark_of(best, static_cast<int>(r))), c.variants[r].name);
  }
  return text;
}

std::string comparison_json(const Comparison& c)
{
  const BestVariants best = best_variants(c.rows);
  auto number_of = [&](int row) { return row < 0 ? Json(nullptr) : Json(c.variants[row].number); };
  Json list = Json::array();
  for (std::size_t r = 0; r < c.rows.size(); ++r) {
    const VariantResult& row = c.rows[r];
    Json settings = Json::object();
    for (const auto& [key, value] : c.variants[r].settings)
      settings[key] = bare(value);
    Json line{{"number", c.variants[r].number},
              {"settings", settings},
              {"folder", c.variants[r].name},
              {"verdict", state_text(row.state)}};
    if (!row.note.empty())
      line["note"] = row.note;
    if (has_numbers(row)) {
      line["weight_N"] = rounded(row.weight);
      line["drop_m"] = rounded(row.drop);
      line["drop_error_m"] = rounded(row.drop_error);
      line["play_drop_m"] = rounded(row.play_drop);
      line["steel_drop_m"] = rounded(row.steel_drop);
      line["use"] = rounded(row.utilisation);
      line["tightest_check"] = row.tightest;
      line["cost"] = row.cost >= 0.0 ? Json(row.cost) : Json(nullptr);
    }
    list.push_back(line);
  }
  const Json json{{"program", "hangtrue"},
                  {"version", version},
                  {"format", 1},
                  {"libraries", library_versions},
                  {"door", c.door},
                  {"currency", c.currency},
                  {"lightest_that_holds", number_of(best.lightest)},
                  {"cheapest_that_holds", number_of(best.cheapest)},
                  {"variants", list}};
  return json.dump(1) + "\n";
}

} // namespace hangtrue::compare
