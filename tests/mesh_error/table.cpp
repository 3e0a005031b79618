// SPDX-License-Identifier: GPL-3.0-or-later
// On demand, not in ctest: docs/verification/mesh-error-evidence.md from the lines that
// answers_by_mesh printed.
//
//   mesh_error_table FILE...          FILE holds one door on levels 1, 2 and finer
//   mesh_error_table outside FILE...  of these doors only how many, and what misses the aim
//   mesh_error_table cover FILE...    of every quantity of these doors whether its error covers
//                                     the distance of level 2 from the finer mesh
//
// What it prints are the tables of docs/verification/mesh-error-evidence.md; the notes there are
// written by hand.
#include "cases/verdict/binding_error.hpp"
#include "cases/verdict/discretization_error.hpp"
#include "cases/verdict/elastic_range.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

using namespace hangtrue;

namespace
{

struct Key {
  std::string state;
  std::string name;
  std::string scale; // number of that state that it is measured against, or its own
};

// The quantities in the table: drop, bow, least compression, latch, largest pin and leaf stress,
// temperature.
const std::vector<Key> looked_at{
    {"open cold", "drop of the latch corner", ""},
    {"open cold", "pin bending", ""},
    {"open cold", "leaf bending", ""},
    {"open hot, steady", "drop of the latch corner", ""},
    {"open hot, steady", "pin bending", ""},
    {"open hot, steady", "leaf bending", ""},
    {"open hot, steady", "outer skin, middle against corners", ""},
    {"open hot, steady", "outside temperature", ""},
    {"closed cold", "least squeeze of the gasket", "most squeeze of the gasket"},
    {"closed cold", "force of latch 1", ""},
    {"closed hot, steady", "least squeeze of the gasket", "most squeeze of the gasket"},
    {"closed hot, steady", "force of latch 1", ""},
    {"open hot, steady", "inner skin stays elastic", ""},
    {"open hot, steady", "rim stays elastic", ""}};

struct Value {
  double value = 0.0;
  double limit = 0.0;
  std::optional<double> missing;
  double by_lever = 0.0;
  double by_load_offset = 0.0;
  int position = 0;
  int quantity = 0;
  double scale = 0.0;
};

struct DoorValues {
  std::string name;
  std::map<std::string, int> unknowns;            // by mesh
  std::map<std::array<std::string, 3>, Value> at; // mesh, state, answer
};

DoorValues read_values(const std::string& file)
{
  DoorValues result;
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    std::vector<std::string> part;
    std::istringstream words(line);
    for (std::string word; std::getline(words, word, ';');)
      part.push_back(word);
    if (part.size() < 7 || part.size() > 13)
      continue;
    result.name = part[0];
    result.unknowns[part[1]] = std::atoi(part[2].c_str());
    Value& value = result.at[{part[1], part[3], part[4]}];
    value = {std::atof(part[5].c_str()), std::atof(part[6].c_str()), std::nullopt, 0.0, 0.0};
    if (part.size() > 7 && part[7] != "nan")
      value.missing = std::atof(part[7].c_str());
    if (part.size() > 8)
      value.by_lever = std::atof(part[8].c_str());
    if (part.size() > 9)
      value.by_load_offset = std::atof(part[9].c_str());
    if (part.size() > 10)
      value.position = std::atoi(part[10].c_str());
    if (part.size() > 11)
      value.quantity = std::atoi(part[11].c_str());
    if (part.size() > 12)
      value.scale = std::atof(part[12].c_str());
  }
  return result;
}

enum class Met { met, small, over, under, none };

struct Row {
  double scale = 0.0;     // SI, what the errors are fractions of
  double estimated = 0.0; // of the scale
  double real = 0.0;
  std::optional<double> with_rest{}; // the same with the finer mesh's own estimated error
  Met met = Met::none;
};

// Both below this fraction of the value, or of its limit where that is more, are irrelevant: a
// quarter of the tolerance that a check requests. The error floor of a force is half a per cent of
// the value on level 2, and no more.
constexpr double no_matter = 0.005 * (1.0 + 1e-3);

Met met_by(double estimated, double real)
{
  const double ratio = estimated / real;
  if (estimated < no_matter && real < no_matter)
    return Met::small;
  if (ratio < 0.5)
    return Met::under;
  return ratio > 3.0 ? Met::over : Met::met;
}

constexpr const char* drop = "drop of the latch corner";

// The mesh of most unknowns that has the quantity. `along` has no information on what does not
// depend on knuckles.
std::string finest_for(const DoorValues& door, const Key& key)
{
  std::string finest;
  int maximum = 0;
  for (const auto& [mesh, unknowns] : door.unknowns)
    if (mesh != "1" && mesh != "2" && mesh != "hinges" && unknowns > maximum &&
        door.at.count({mesh, key.state, key.name}) != 0 && (mesh != "along" || key.name == drop)) {
      finest = mesh;
      maximum = unknowns;
    }
  return finest;
}

verdict::QuantityOfInterest answer_of(const Value& v)
{
  verdict::QuantityOfInterest result;
  result.id.state.position = static_cast<system::DoorPosition>(v.position);
  result.id.quantity = static_cast<qoi::Quantity>(v.quantity);
  result.value = v.value;
  if (v.limit > 0.0)
    result.limit = {v.limit, ""};
  result.estimated_error = v.missing;
  result.per_knuckle_length = v.by_lever;
  result.load_offset_change = v.by_load_offset;
  result.scale = v.scale;
  return result;
}

Row row_of(const DoorValues& door, const Key& key)
{
  const std::string finest_mesh = finest_for(door, key);
  const auto found = [&](const std::string& mesh, const std::string& name) {
    const auto at = door.at.find({mesh, key.state, name});
    return at != door.at.end() ? at->second : Value{std::nan(""), 0.0, std::nullopt, 0.0, 0.0};
  };
  const auto answer = [&](const std::string& mesh) { return answer_of(found(mesh, key.name)); };
  const verdict::QuantityOfInterest coarse = answer("1");
  const verdict::QuantityOfInterest last = answer("2");
  const verdict::QuantityOfInterest finest = answer(finest_mesh);
  if (std::isnan(last.value) || std::isnan(finest.value))
    return {};
  const auto limit_of = [](const verdict::QuantityOfInterest& q) {
    return q.limit ? q.limit->value : 0.0;
  };
  double scale = std::max(std::abs(finest.value), limit_of(finest));
  if (!key.scale.empty())
    scale = std::max(scale, found(finest_mesh, key.scale).limit);
  const double moved = finest.limit && last.limit ? last.limit->value / finest.limit->value : 1.0;
  Row row;
  row.scale = scale;
  row.estimated = verdict::reported_error(last, coarse, {}) / scale;
  row.real = std::abs(last.value - moved * finest.value) / scale;
  if (finest.estimated_error)
    row.with_rest = std::abs(last.value - moved * (finest.value + *finest.estimated_error)) / scale;
  row.met = met_by(row.estimated, row.real);
  return row;
}

std::string text_of(const Row& row)
{
  if (row.met == Met::none)
    return "";
  std::string pair = fmt::format("{:.2f} / {:.2f}", 100.0 * row.estimated, 100.0 * row.real);
  if (row.met == Met::small)
    return pair;
  const std::string ratio = fmt::format("{:.2g}", row.estimated / row.real);
  return pair + " = " + (row.met == Met::met ? ratio : "**" + ratio + "**");
}

void print_quantity(const std::vector<DoorValues>& doors, const Key& key)
{
  const bool rest = key.name == drop;
  fmt::print("\n## {}, {}\n\n| door | finer mesh | estimated / real, % |{}\n|---|---|---|{}\n",
             key.name, key.state, rest ? " with what the finer mesh misses |" : "",
             rest ? "---|" : "");
  std::map<Met, int> count;
  std::map<Met, int> with_rest;
  for (const auto& door : doors) {
    const Row row = row_of(door, key);
    ++count[row.met];
    ++with_rest[row.with_rest ? met_by(row.estimated, *row.with_rest) : row.met];
    if (row.met == Met::none)
      continue;
    fmt::print("| {} | {} | {} |", door.name, finest_for(door, key), text_of(row));
    if (row.with_rest && row.met != Met::small)
      fmt::print(" {:.2f} = {:.2g} |", 100.0 * *row.with_rest, row.estimated / *row.with_rest);
    else if (rest)
      fmt::print(" |");
    fmt::print("\n");
  }
  fmt::print("\n{} of no matter, {} between 0.5 and 3, {} above, {} below.\n", count[Met::small],
             count[Met::met], count[Met::over], count[Met::under]);
  if (rest)
    fmt::print("With what the finer mesh misses {}, {}, {} and {}.\n", with_rest[Met::small],
               with_rest[Met::met], with_rest[Met::over], with_rest[Met::under]);
}

void print_summary(const std::vector<DoorValues>& doors)
{
  fmt::print("| answer | state | no matter | 0.5 to 3 | above 3 | below 0.5 |\n"
             "|---|---|---|---|---|---|\n");
  std::map<Met, int> all;
  const auto print = [](const std::string& name, const std::string& state,
                        std::map<Met, int>& count) {
    fmt::print("| {} | {} | {} | {} | {} | {} |\n", name, state, count[Met::small], count[Met::met],
               count[Met::over], count[Met::under]);
  };
  for (const auto& key : looked_at) {
    std::map<Met, int> count;
    for (const auto& door : doors) {
      const Met met = row_of(door, key).met;
      ++count[met];
      ++all[met];
    }
    print(key.name, key.state, count);
  }
  print("all", "", all);
}

void print_outside(const std::vector<DoorValues>& doors)
{
  fmt::print("\n| answer | state | door | estimated / real, % | with what the finer mesh misses |\n"
             "|---|---|---|---|---|\n");
  for (const auto& key : looked_at)
    for (const auto& door : doors) {
      const Row row = row_of(door, key);
      if (row.met != Met::over && row.met != Met::under)
        continue;
      fmt::print("| {} | {} | {} | {} |", key.name, key.state, door.name, text_of(row));
      if (row.with_rest)
        fmt::print(" {:.2f} = {:.2g} |\n", 100.0 * *row.with_rest, row.estimated / *row.with_rest);
      else
        fmt::print(" |\n");
    }
}

// Every quantity of every state that both meshes have.
struct Covered {
  int all = 0;
  int outside = 0;
  double worst = 0.0; // real error by the one that is stated
};

// Error of every answer of a state as the program states it on level 2; none beyond the elastic
// range.
std::map<std::string, std::optional<double>> stated_errors(const DoorValues& door,
                                                           const std::string& state)
{
  std::vector<std::string> names;
  std::vector<verdict::QuantityOfInterest> own;
  for (const auto& [at, value] : door.at) {
    const auto coarse = door.at.find({"1", state, at[2]});
    if (at[0] != "2" || at[1] != state || coarse == door.at.end())
      continue;
    names.push_back(at[2]);
    own.push_back(answer_of(value));
    own.back().error = verdict::reported_error(own.back(), answer_of(coarse->second), {});
  }
  verdict::widen_where_hinges_may_bind(own);
  verdict::withdraw_errors_beyond_elastic(own);
  std::map<std::string, std::optional<double>> result;
  for (std::size_t i = 0; i < own.size(); ++i)
    if (own[i].error)
      result[names[i]] = *own[i].error + own[i].model_error;
  return result;
}

// Zero on both meshes, but for rounding: N, m, Pa or K.
bool is_nothing(const DoorValues& door, const std::string& state, const std::string& name)
{
  constexpr double rounding = 1e-12;
  const auto small = [&](const std::string& mesh) {
    const auto at = door.at.find({mesh, state, name});
    return at != door.at.end() && std::abs(at->second.value) < rounding;
  };
  return small("2") && (small("ends") || small("3"));
}

void print_cover(const std::vector<DoorValues>& doors)
{
  std::map<std::string, Covered> of;
  int beyond = 0;
  fmt::print(
      "| answer | state | door | stated | real | real / stated |\n|---|---|---|---|---|---|\n");
  for (const auto& door : doors)
    for (const auto& [at, value] : door.at) {
      const auto& [mesh, state, name] = at;
      if (mesh != "2")
        continue;
      Key key{state, name, ""};
      const Row row = row_of(door, key);
      if (row.met == Met::none || is_nothing(door, state, name))
        continue;
      const std::optional<double> error = stated_errors(door, state)[name];
      if (!error) {
        ++beyond;
        continue;
      }
      const double stated = *error / row.scale;
      const double ratio = row.real > 0.0 ? row.real / stated : 0.0;
      for (const std::string& group : {std::string("all"), name}) {
        Covered& c = of[group];
        ++c.all;
        c.outside += ratio > 1.0 ? 1 : 0;
        c.worst = std::max(c.worst, ratio);
      }
      if (ratio > 1.0)
        fmt::print("| {} | {} | {} | {:.3f} % | {:.3f} % | {:.2f} |\n", name, state, door.name,
                   100.0 * stated, 100.0 * row.real, ratio);
    }
  fmt::print(
      "\n{} answers without an error, of states whose hinges are stressed to more than {:g} times "
      "what is allowed.\n",
      beyond, verdict::plastic_over_allowed);
  fmt::print("\n| answer | number | inside, % | worst real / stated |\n|---|---|---|---|\n");
  for (const auto& [name, c] : of)
    fmt::print("| {} | {} | {:.1f} | {:.2f} |\n", name, c.all, 100.0 * (c.all - c.outside) / c.all,
               c.worst);
}

constexpr const char* heading =
    R"(## All answers

Estimated is what level 2 tells; real, how far level 2 is from the finer mesh. Both are in % of the answer, or of its limit where
that is more; their quotient is shown where one of them is above 0.5 %, a quarter of the tolerance that a check asks for. The
aim is 0.5 to 3; what misses it is set **bold**. The real error is short by what the finer mesh still misses; of the drop, which has
a dual there as well, the last column adds that.

)";

} // namespace

int main(int count, char** words)
{
  const bool outside = count > 1 && std::string(words[1]) == "outside";
  const bool cover = count > 1 && std::string(words[1]) == "cover";
  std::vector<DoorValues> doors;
  for (int i = outside || cover ? 2 : 1; i < count; ++i)
    doors.push_back(read_values(words[i]));
  if (cover) {
    print_cover(doors);
    return 0;
  }
  if (outside) {
    print_summary(doors);
    print_outside(doors);
    return 0;
  }
  fmt::print("{}", heading);
  print_summary(doors);
  for (const auto& key : looked_at)
    print_quantity(doors, key);
  fmt::print("\n## The doors\n\n| door | unknowns on level 2 | finer meshes |\n|---|---|---|\n");
  for (auto& door : doors) {
    std::string finer;
    for (const auto& [mesh, unknowns] : door.unknowns)
      if (unknowns > door.unknowns["2"])
        finer += fmt::format("{}{}: {}", finer.empty() ? "" : ", ", mesh, unknowns);
    fmt::print("| {} | {} | {} |\n", door.name, door.unknowns["2"], finer);
  }
  return 0;
}
