// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/door_file.hpp"

#include "cases/input/door_file_reader.hpp"
#include "cases/input/door_schema.hpp"
#include "cases/input/read_closing.hpp"
#include "cases/input/read_fire.hpp"
#include "cases/input/steel_grades.hpp"
#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

namespace hangtrue::input
{

namespace
{

using unit::inch;

// The user's own table: all columns or none, each as long as the temperatures.
std::vector<door::SteelRow> steel_rows(const SectionValues& s, std::vector<FileFault>& faults)
{
  const std::vector<double>& temperature = s.at("temperatures").list;
  const std::vector<std::pair<std::string, double door::SteelRow::*>> columns{
      {"modulus_at", &door::SteelRow::modulus},
      {"yield_at", &door::SteelRow::yield},
      {"proof_at", &door::SteelRow::proof},
      {"elongation_at", &door::SteelRow::elongation},
      {"conductivity_at", &door::SteelRow::conductivity},
      {"specific_heat_at", &door::SteelRow::specific_heat}};
  std::vector<door::SteelRow> rows(temperature.size());
  for (std::size_t i = 0; i < temperature.size(); ++i) {
    rows[i].temperature = temperature[i];
    if (i > 0 && !(temperature[i] > temperature[i - 1])) {
      faults.push_back({s.at("temperatures").place, s.section + ".temperatures",
                        fmt::format("found {:g} degC after {:g} degC; allowed are rising "
                                    "temperatures; put the columns of the table in order",
                                    temperature[i], temperature[i - 1])});
      return {};
    }
  }
  for (const auto& [name, member] : columns) {
    const DoorValue& row = s.at(name);
    if (row.list.size() != temperature.size()) {
      faults.push_back({row.given ? row.place : s.place, s.section + "." + name,
                        fmt::format("found {} values; allowed are {}, one for each of the "
                                    "temperatures; a steel of your own needs all six rows",
                                    row.list.size(), temperature.size())});
      continue;
    }
    for (std::size_t i = 0; i < temperature.size(); ++i)
      rows[i].*member = row.list[i];
  }
  return rows;
}

door::Steel steel_from(const SectionValues& s, std::vector<FileFault>& faults)
{
  door::Steel steel = steel_grade(s.text("grade"));
  if (s.at("youngs_modulus").given)
    steel.youngs_modulus = s.number("youngs_modulus");
  if (s.at("yield").given)
    steel.yield = s.number("yield");
  if (s.at("ultimate").given)
    steel.ultimate = s.number("ultimate");
  if (s.at("density").given)
    steel.density = s.number("density");
  steel.table = steel_rows(s, faults);
  return steel;
}

// Typical densities, kg/m^3: common practice, no source.
door::Insulation insulation_from(const SectionValues& s)
{
  door::Insulation filling{s.text("kind"), 0.0};
  if (filling.kind == "mineral wool" || filling.kind == "ceramic fibre")
    filling.density = 128.0;
  else if (filling.kind == "calcium silicate")
    filling.density = 240.0;
  else if (filling.kind == "perlite")
    filling.density = 80.0;
  if (s.at("density").given)
    filling.density = s.number("density");
  filling.conductivity = s.at("conductivity").pairs;
  return filling;
}

door::InnerSkinAttachment inner_hold_from(const SectionValues& s, double width)
{
  door::InnerSkinAttachment hold;
  const std::string& kind = s.text("kind");
  hold.kind = kind == "stitched"   ? door::SkinRelease::stitched
              : kind == "floating" ? door::SkinRelease::floating
              : kind == "split"    ? door::SkinRelease::split
                                   : door::SkinRelease::welded;
  hold.stitch = s.number("stitch");
  hold.pitch = s.number("pitch");
  hold.keep = s.text("keep") == "lip" ? door::LiftRestraint::lip : door::LiftRestraint::clips;
  hold.clips = static_cast<int>(s.number("clips"));
  hold.lift = s.number("lift");
  hold.slot = s.number("slot");
  hold.split_at = s.at("split_at").given ? s.number("split_at") : 0.5 * width;
  return hold;
}

std::vector<door::Stiffener> stiffeners_from(const std::vector<SectionValues>& sections)
{
  std::vector<door::Stiffener> result;
  for (const auto& s : sections)
    result.push_back(
        {s.text("shape") == "tube" ? door::StiffenerShape::tube : door::StiffenerShape::flat_bar,
         s.text("runs") == "along" ? door::StiffenerRun::along : door::StiffenerRun::across,
         s.number("at"), s.number("width"), s.number("wall")});
  return result;
}

// Knuckles from their number, one length for all or a list, and the owner of the lowest.
std::vector<door::Knuckle> knuckles_from(const SectionValues& s, std::vector<FileFault>& faults)
{
  const auto count = static_cast<std::size_t>(s.number("knuckles"));
  const DoorValue& lengths = s.at("knuckle_length");
  if (lengths.list.size() != 1 && lengths.list.size() != count && !lengths.list.empty())
    faults.push_back({lengths.place, s.section + ".knuckle_length",
                      fmt::format("found {} lengths; allowed is one for all or {}, one for each "
                                  "knuckle; add or take out some",
                                  lengths.list.size(), count)});
  std::vector<door::Knuckle> result;
  door::KnuckleOwner owner =
      s.text("first_knuckle") == "frame" ? door::KnuckleOwner::frame : door::KnuckleOwner::door;
  for (std::size_t k = 0; k < count && !lengths.list.empty(); ++k) {
    result.push_back({owner, lengths.list[std::min(k, lengths.list.size() - 1)]});
    owner =
        owner == door::KnuckleOwner::frame ? door::KnuckleOwner::door : door::KnuckleOwner::frame;
  }
  return result;
}

door::Hinge hinge_from(const SectionValues& s, std::vector<FileFault>& faults)
{
  door::Hinge h;
  h.position = s.number("at");
  h.kind = s.text("kind") == "lugs" ? door::HingeKind::lugs : door::HingeKind::barrels;
  h.leaf = {s.number("leaf_length"), s.number("leaf_width"), s.number("leaf_thickness"),
            s.number("standoff")};
  h.knuckles = knuckles_from(s, faults);
  h.knuckle_gap = s.number("knuckle_gap");
  h.outside_diameter = s.number("outside_diameter");
  h.pin_diameter = s.number("pin_diameter");
  h.clearance = s.number("clearance");
  h.end_float = s.number("end_float");
  h.fixity = s.text("pin") == "fixed" ? door::PinFixity::fixed : door::PinFixity::floating;
  h.carries_weight = s.at("carries_weight").flag;
  h.weld_leg = s.number("weld_leg");
  h.weld = s.text("weld") == "beads" ? door::WeldExtent::beads : door::WeldExtent::full_face;
  return h;
}

std::vector<door::Hinge> hinges_from(const std::vector<SectionValues>& sections,
                                     std::vector<FileFault>& faults)
{
  std::vector<door::Hinge> hinges;
  for (const auto& s : sections)
    hinges.push_back(hinge_from(s, faults));
  // No hinge is given to carry: as welded it is one, and the lowest is as good as any.
  const bool said = std::any_of(sections.begin(), sections.end(), [](const SectionValues& s) {
    return s.at("carries_weight").given;
  });
  if (!said && !hinges.empty()) {
    const auto lowest = std::min_element(
        hinges.begin(), hinges.end(),
        [](const door::Hinge& a, const door::Hinge& b) { return a.position < b.position; });
    lowest->carries_weight = true;
  }
  return hinges;
}

door::Door door_from(const DoorValues& v, std::vector<FileFault>& faults)
{
  const SectionValues& top = v.one("door");
  door::Door door;
  door.name = top.text("name");
  door.shop = top.text("shop");
  door.hanging = top.text("hanging") == "side"  ? door::HingeEdge::side
                 : top.text("hanging") == "top" ? door::HingeEdge::top
                                                : door::HingeEdge::bottom;
  door.swing = top.number("swing");
  door.reveal = top.number("reveal");
  door.temperature = top.number("temperature");
  door.panel = {top.number("width"), top.number("height"), v.one("skins").number("outer"),
                v.one("skins").number("inner")};
  const SectionValues& rim = v.one("rim");
  door.inner_hold = inner_hold_from(v.one("inner_hold"), door.panel.width);
  const SectionValues& strip = v.one("strip");
  door.strip = {strip.number("thickness"), strip.number("conductivity"), strip.number("density"),
                strip.number("youngs_modulus")};
  door.rim = {rim.number("width"), rim.number("depth"), rim.number("wall")};
  door.stiffeners = stiffeners_from(v.sections.at("stiffener"));
  door.insulation = insulation_from(v.one("insulation"));
  door.hinges = hinges_from(v.sections.at("hinge"), faults);
  const SectionValues& jamb = v.one("jamb");
  door.jamb = {jamb.number("thickness"), jamb.number("free_width"),
               jamb.text("backing") == "edge"     ? door::JambBacking::edge
               : jamb.text("backing") == "flange" ? door::JambBacking::flange
                                                  : door::JambBacking::solid,
               jamb.number("flange_depth"),
               jamb.at("hot").given ? std::optional<double>(jamb.number("hot")) : std::nullopt};
  door.steel = steel_from(v.one("steel"), faults);
  door.pin_steel = steel_from(v.one("pin_steel"), faults);
  door.fire = fire_from(v.one("fire"), door.panel, faults);
  door.gasket = gasket_from(v.one("gasket"), faults);
  door.latches = latches_from(v.sections.at("latch"), door);
  door.opening = opening_from(v.one("opening"), door.reveal);
  const SectionValues& handle = v.one("handle");
  door.handle = {handle.number("force"),
                 handle.at("at").given ? handle.number("at") : 0.5 * door.panel.height,
                 handle.number("breadth")};
  return door;
}

Limit limit_from(const SectionValues& s, const std::string& key, const std::string& otherwise)
{
  return {s.number(key), s.at(key).given ? "given in the door file" : otherwise};
}

Limits limits_from(const SectionValues& s, const door::Door& door)
{
  const std::string practice = "common practice, no source";
  Limits limits;
  limits.drop = limit_from(s, "drop", practice);
  if (!s.at("drop").given) {
    const bool by_reveal = 0.5 * door.reveal < inch / 16.0;
    limits.drop.value = std::min(0.5 * door.reveal, inch / 16.0);
    limits.drop.origin = by_reveal ? "half the reveal; " + practice : practice;
  }
  limits.lean = limit_from(s, "lean", practice);
  limits.elastic_sag = limit_from(s, "elastic_sag", practice);
  limits.weld_stress =
      limit_from(s, "weld_stress",
                 "0.30 x 70 ksi electrode strength: 0.60 FEXX / 2.00, AISC 360 J2 (from memory)");
  limits.touch = limit_from(s, "touch", "60 degC on metal for 5 s, ASTM C1055 (secondary text)");
  limits.long_life = limit_from(s, "long_life", practice);
  limits.hand = limit_from(s, "hand", practice);
  limits.reveal_left = limit_from(s, "reveal_left", practice);
  limits.share_of_yield =
      limit_from(s, "share_of_yield",
                 "0.66 of yield, this program's own: below 0.75 of AISC ASD 1989 F2 and 0.80 of EN "
                 "1993-1-8 for pins to be replaced (both from memory)");
  return limits;
}

Prices prices_from(const SectionValues& s)
{
  Prices prices{false,
                s.text("currency"),
                s.number("steel"),
                s.number("pin_steel"),
                s.number("insulation"),
                s.number("hinge"),
                s.number("close_bore")};
  for (const char* key : {"steel", "pin_steel", "insulation", "hinge", "close_bore"})
    prices.given = prices.given || s.at(key).given;
  return prices;
}

// Line of a key such as hinge[1].leaf_width, or of its section when the file leaves it out.
FilePlace place_of(const DoorValues& v, const std::string& key)
{
  const auto dot = key.find('.');
  const std::string label = key.substr(0, dot);
  for (const auto& [name, list] : v.sections)
    for (const auto& section : list) {
      if (section.section != label)
        continue;
      if (dot != std::string::npos) {
        const auto value = section.values.find(key.substr(dot + 1));
        if (value != section.values.end() && value->second.place.line > 0)
          return value->second.place;
      }
      return section.place;
    }
  return {};
}

// Whether the value of a key such as hinge[1].leaf_width is a default, not in the file.
bool is_default(const DoorValues& v, const std::string& key)
{
  const auto dot = key.find('.');
  if (dot == std::string::npos)
    return false;
  for (const auto& [name, list] : v.sections)
    for (const auto& section : list)
      if (const auto value = section.values.find(key.substr(dot + 1));
          section.section == key.substr(0, dot) && value != section.values.end())
        return !value->second.given;
  return false;
}

std::string describe(const door::DoorFault& fault, bool by_default, UnitSystem units)
{
  auto shown = [&](double value) {
    return fault.plain ? fmt::format("{:g}", value) : format_short(value, Dimension::length, units);
  };
  const auto shown_bound = [&](double value, Bound bound) {
    return fault.plain ? fmt::format("{:g}", value)
                       : format_bound(value, Dimension::length, units, bound);
  };
  const std::string found = shown(fault.found) + (by_default ? " (default)" : "");
  if (fault.allowed_from > fault.allowed_to)
    return fmt::format("found {}: {}; allowed is nothing as the door stands; {}", found,
                       fault.reason, fault.repair);
  return fmt::format("found {}: {}; allowed is {} to {}; {}", found, fault.reason,
                     shown_bound(fault.allowed_from, Bound::minimum),
                     shown_bound(fault.allowed_to, Bound::maximum), fault.repair);
}

// Throws the first faults by their position, and says how many more there are.
[[noreturn]] void throw_faults(std::vector<FileFault> faults, std::size_t more,
                               const std::string& name)
{
  std::stable_sort(faults.begin(), faults.end(), [](const FileFault& a, const FileFault& b) {
    return a.place.line < b.place.line;
  });
  if (faults.size() > max_reported_faults) {
    more += faults.size() - max_reported_faults;
    faults.resize(max_reported_faults);
  }
  std::string message;
  for (const auto& fault : faults) {
    if (!message.empty())
      message += '\n';
    message += fault.place.line > 0 ? fmt::format("{}:{}:{}: {}: {}", name, fault.place.line,
                                                  fault.place.column, fault.key, fault.message)
                                    : fmt::format("{}: {}: {}", name, fault.key, fault.message);
  }
  if (more > 0)
    message += fmt::format("\n{}: and {} more", name, more);
  throw InputError(message);
}

constexpr const char* name_a_door_file = "name a door file, which has a few thousand";

[[noreturn]] void refuse_file(const std::string& name, const std::string& found,
                              const std::string& repair)
{
  throw InputError(fmt::format("{}: the file: {}; allowed is a TOML text of up to {} KiB; {}", name,
                               found, max_door_file_size / 1024, repair));
}

std::string echo_text(const DoorKey& key, const DoorValue& value)
{
  switch (key.value) {
  case ValueKind::text:
  case ValueKind::word:
    return value.text;
  case ValueKind::flag:
    return value.flag ? "true" : "false";
  case ValueKind::number:
  case ValueKind::count:
    return fmt::format("{}", value.number);
  case ValueKind::schedule: {
    std::string list;
    for (const auto& [time, gas] : value.pairs)
      list += fmt::format("{}{} s: {} degC", list.empty() ? "" : ", ", time, gas);
    return list;
  }
  case ValueKind::curve: {
    std::string list;
    for (const auto& [t, v] : value.pairs)
      list += fmt::format("{}{} degC: {}", list.empty() ? "" : ", ", t, format_exact(v, key.kind));
    return list;
  }
  case ValueKind::load_curve: {
    std::string list;
    for (const auto& [x, v] : value.pairs)
      list += fmt::format("{}{} m: {}", list.empty() ? "" : ", ", x, format_exact(v, key.kind));
    return list;
  }
  case ValueKind::row:
  case ValueKind::lengths: {
    std::string list;
    for (const double v : value.list)
      list += (list.empty() ? "" : ", ") + format_exact(v, key.kind);
    return list;
  }
  default:
    return format_exact(value.number, key.kind);
  }
}

std::vector<InputEcho> echo_of(const DoorValues& v)
{
  std::vector<InputEcho> echo;
  for (const auto& section : door_sections())
    for (const auto& s : v.sections.at(section.name))
      for (const auto& key : door_keys()) {
        if (key.section != section.name)
          continue;
        const DoorValue& value = s.at(key.name);
        echo.push_back({s.section + "." + key.name,
                        value.follows ? key.fallback : echo_text(key, value),
                        value.follows ? key.fallback : value.written, value.given});
      }
  return echo;
}

// Tolerances of the uncertain inputs of solver/sensitivity/uncertain_inputs.
std::vector<InputTolerance> bands_from(const SectionValues& s)
{
  std::vector<InputTolerance> bands;
  auto add = [&](const char* input, const char* name, bool plain) {
    bands.push_back({input, s.number(name), plain, s.at(name).given});
  };
  add("hinge.clearance", "clearance", true);
  add("skins.outer", "skins", true);
  add("skins.inner", "skins", true);
  add("insulation.conductivity", "conductivity", true);
  add("fire.film", "film", true);
  add("fire.emissivity_inside", "emissivity", true);
  add("fire.emissivity_outside", "emissivity", true);
  add("fire.outside_film", "outside_film", true);
  add("fire.frame", "frame", true);
  add("gasket.curve", "gasket_load", true);
  add("gasket.set_gap", "set_gap", false);
  add("latch.draw", "draw", false);
  return bands;
}

} // namespace

DoorCase read_door_text(const std::string& text, const std::string& file)
{
  const std::string name = clean_text(file);
  if (text.size() > static_cast<std::size_t>(max_door_file_size))
    refuse_file(name, fmt::format("it has {} bytes", text.size()), name_a_door_file);
  const DoorValues v = read_values(text);
  std::vector<FileFault> found = v.faults;
  if (!found.empty())
    throw_faults(found, v.faults_more, name);
  DoorCase result;
  result.file = name;
  result.door = door_from(v, found);
  result.units = v.one("door").text("units") == "si" ? UnitSystem::si : UnitSystem::us;
  for (const auto& fault : door::faults(result.door))
    found.push_back({place_of(v, fault.key), fault.key,
                     describe(fault, is_default(v, fault.key), result.units)});
  if (!found.empty())
    throw_faults(found, 0, name);
  result.limits = limits_from(v.one("limits"), result.door);
  result.prices = prices_from(v.one("prices"));
  const SectionValues& use = v.one("use");
  result.use = {use.number("swings_per_day"), use.number("years"), use.at("greased").flag};
  result.accuracy = {v.one("accuracy").number("tolerance"),
                     static_cast<int>(v.one("accuracy").number("finest_level"))};
  result.bands = bands_from(v.one("spread"));
  result.echo = echo_of(v);
  return result;
}

DoorCase read_door_file(const std::string& path)
{
  namespace fs = std::filesystem;
  std::error_code error;
  const auto status = fs::status(path, error);
  const auto refuse = [&](const std::string& found, const std::string& repair) {
    refuse_file(clean_text(path), found, repair);
  };
  if (status.type() == fs::file_type::none)
    refuse("it cannot be reached: " + error.message(),
           "check the name, and ask for the permission to look into its folder");
  if (!fs::exists(status))
    refuse("there is no such file",
           "check the name, or make one with: hangtrue new " + clean_text(path));
  if (fs::is_directory(status))
    refuse("it is a folder", "name the door file inside it");
  if (!fs::is_regular_file(status))
    refuse("it is not an ordinary file", "name a door file");
  const auto size = fs::file_size(path, error);
  if (!error && size > static_cast<std::uintmax_t>(max_door_file_size))
    refuse(fmt::format("it has {} bytes", size), name_a_door_file);
  std::ifstream file(path, std::ios::binary);
  if (!file)
    refuse("it may not be read", "ask for the permission to read it");
  // No more than is allowed, whatever becomes of the file meanwhile.
  std::string text(static_cast<std::size_t>(max_door_file_size) + 1, '\0');
  file.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(file.gcount()));
  return read_door_text(text, path);
}

} // namespace hangtrue::input
