// SPDX-License-Identifier: GPL-3.0-or-later
// Rules between the values of a door, with the keys of the door file.
#include "meshing/door/door.hpp"
#include "meshing/door/part_limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue::door
{

namespace
{

constexpr double mm = 1e-3;
constexpr double thinnest = 0.5e-3; // m, less is foil
constexpr double largest = 4.0;     // m, more is a gate
constexpr double year = 3.2e7;      // s

class Rules
{
public:
  // Requires a length between two others, m.
  void between(const std::string& key, double found, double minimum, double maximum,
               const std::string& reason, const std::string& repair)
  {
    if (found >= minimum && found <= maximum)
      return;
    faults_.push_back({key, found, minimum, maximum, false, reason, repair});
  }
  void count(const std::string& key, double found, double minimum, double maximum,
             const std::string& reason, const std::string& repair)
  {
    if (found >= minimum && found <= maximum)
      return;
    faults_.push_back({key, found, minimum, maximum, true, reason, repair});
  }
  // Requires a size that can be cut, m.
  void size(const std::string& key, double found)
  {
    between(key, found, thinnest, largest, "it is no size that can be cut", "write its true size");
  }
  // Requires a position or a gap, m; zero is allowed.
  void place(const std::string& key, double found)
  {
    between(key, found, 0.0, largest, "it is no distance on a door", "write its true distance");
  }
  [[nodiscard]] bool violated() const { return !faults_.empty(); }
  [[nodiscard]] std::vector<DoorFault> take() { return std::move(faults_); }

private:
  std::vector<DoorFault> faults_;
};

void check_panel_sizes(const Door& door, Rules& rules)
{
  rules.size("door.width", door.panel.width);
  rules.size("door.height", door.panel.height);
  rules.size("door.reveal", door.reveal);
  rules.size("skins.outer", door.panel.outer_skin);
  rules.size("skins.inner", door.panel.inner_skin);
  rules.size("rim.width", door.rim.width);
  rules.size("rim.depth", door.rim.depth);
  rules.size("rim.wall", door.rim.wall);
  for (std::size_t i = 0; i < door.stiffeners.size(); ++i) {
    const auto& s = door.stiffeners[i];
    const std::string key = fmt::format("stiffener[{}]", i);
    rules.place(key + ".at", s.position);
    rules.size(key + ".width", s.width);
    if (s.shape == StiffenerShape::tube)
      rules.size(key + ".wall", s.wall);
  }
}

void check_hinge_sizes(const Hinge& hinge, const std::string& key, Rules& rules)
{
  rules.place(key + ".at", hinge.position);
  if (hinge.kind == HingeKind::barrels) {
    rules.size(key + ".leaf_length", hinge.leaf.length);
    rules.size(key + ".leaf_thickness", hinge.leaf.thickness);
    rules.size(key + ".weld_leg", hinge.weld_leg);
  }
  rules.size(key + ".leaf_width", hinge.leaf.width);
  rules.size(key + ".standoff", hinge.leaf.standoff);
  for (const auto& knuckle : hinge.knuckles)
    rules.size(key + ".knuckle_length", knuckle.length);
  rules.place(key + ".knuckle_gap", hinge.knuckle_gap);
  rules.size(key + ".outside_diameter", hinge.outside_diameter);
  rules.size(key + ".pin_diameter", hinge.pin_diameter);
  rules.place(key + ".end_float", hinge.end_float);
}

void check_jamb_sizes(const Jamb& jamb, Rules& rules)
{
  rules.size("jamb.thickness", jamb.thickness);
  rules.size("jamb.free_width", jamb.free_width);
  if (jamb.backing == JambBacking::flange)
    rules.size("jamb.flange_depth", jamb.flange_depth);
}

void check_steel(const Steel& steel, const std::string& key, Rules& rules)
{
  const std::string reason = "it is no value of a steel";
  const std::string repair = "take it out, and the grade gives it";
  rules.count(key + ".density", steel.density, 500.0, 30000.0, reason, repair);
  rules.count(key + ".youngs_modulus", steel.youngs_modulus, 1e9, 1e15, reason, repair);
  rules.count(key + ".yield", steel.yield, 1e6, 1e11, reason, repair);
  rules.count(key + ".ultimate", steel.ultimate, 1e6, 1e11, reason, repair);
}

// What is not a length: angle in degrees, degC, kg/m^3 and N.
void check_other_numbers(const Door& door, Rules& rules)
{
  constexpr double rounding = 1e-9; // degrees, of pi rad
  rules.count("door.swing", door.swing * 180.0 / std::numbers::pi, 0.0, 180.0 + rounding,
              "degrees: a door opens no farther than flat against its wall",
              "write 90 deg for a door that stands square to its opening");
  rules.count("door.temperature", door.temperature, 20.0, 1200.0, "degC: steel has no data beyond",
              "write the temperature of the door");
  rules.count("insulation.density", door.insulation.density, 0.0, 20000.0,
              "kg/m^3: it is no density of a filling", "write 128 for mineral wool");
  rules.count("handle.force", door.handle.force, 0.0, 1e6, "N: a load points along gravity",
              "write 0 for none");
  rules.place("handle.at", door.handle.position);
  rules.place("handle.breadth", door.handle.breadth);
  check_steel(door.steel, "steel", rules);
  check_steel(door.pin_steel, "pin_steel", rules);
}

// Schedule in s and degC; the fire side's film in W/(m^2 K).
void check_fire(const Fire& fire, Rules& rules)
{
  for (std::size_t i = 0; i < fire.schedule.size(); ++i) {
    const auto& point = fire.schedule[i];
    const double minimum = i == 0 ? 0.0 : std::nextafter(fire.schedule[i - 1].time, year);
    rules.count("fire.schedule", point.time, minimum, year, "s: times of a firing rise",
                "put the pairs in order");
    rules.count("fire.schedule", point.gas, -50.0, 1500.0, "degC: no gas of a fire is like that",
                "write the temperature of the gas behind the door");
  }
  rules.count("fire.film", fire.film, 1.0, 500.0, "W/(m^2 K): no gas carries heat like that",
              "write 25 for a fire");
  rules.count("fire.ambient", fire.ambient, -50.0, 60.0, "degC: no room is like that",
              "write the temperature of the room");
  const std::string reason = "an emissivity is a share";
  rules.count("fire.emissivity_inside", fire.emissivity_inside, 0.0, 1.0, reason, "write 0.8");
  rules.count("fire.emissivity_outside", fire.emissivity_outside, 0.0, 1.0, reason, "write 0.8");
  rules.size("fire.gasket_inset", fire.gasket_inset);
}

void check_counts(const Door& door, Rules& rules)
{
  const auto count = [&](const char* key, std::size_t found, std::size_t minimum,
                         std::size_t maximum, const char* reason, const char* repair) {
    rules.count(key, static_cast<double>(found), static_cast<double>(minimum),
                static_cast<double>(maximum), reason, repair);
  };
  count("hinge", door.hinges.size(), 1, max_hinges, "a door hangs on its hinges",
        "write one to four [[hinge]] tables");
  count("stiffener", door.stiffeners.size(), 0, max_stiffeners, "so many are no door",
        "take some out");
  count("latch", door.latches.size(), 0, max_latches, "so many are not held apart",
        "take some out");
}

// Whether every number is one that the other rules can compare; a NaN ends here.
void check_numbers(const Door& door, Rules& rules)
{
  check_panel_sizes(door, rules);
  for (std::size_t i = 0; i < door.hinges.size(); ++i)
    check_hinge_sizes(door.hinges[i], fmt::format("hinge[{}]", i), rules);
  check_jamb_sizes(door.jamb, rules);
  check_other_numbers(door, rules);
  check_fire(door.fire, rules);
}

// Range for the middle of a part, m.
struct Place {
  double minimum = 0.0;
  double maximum = 0.0;
};

// The side of a neighbour that a part is to be moved to, out of its possible positions: the side
// where it is when there is space, else the other. The part's middle stays `apart`, m, from the
// neighbour's.
Place beside(double position, double neighbour, double apart, const Place& all)
{
  const Place above{neighbour + apart, all.maximum};
  const Place below{all.minimum, neighbour - apart};
  const bool room_above = above.minimum <= above.maximum;
  const bool room_below = below.minimum <= below.maximum;
  return (position >= neighbour && room_above) || !room_below ? above : below;
}

void check_inner_hold(const Door& door, Rules& rules)
{
  const InnerSkinAttachment& hold = door.inner_hold;
  const double smaller = std::min(door.panel.width, door.panel.height);
  if (hold.kind == SkinRelease::stitched || hold.kind == SkinRelease::floating)
    rules.between("inner_hold.stitch", hold.stitch, 5.0 * mm, 0.9 * smaller,
                  "the weld does not fit on the shorter side", "shorten it");
  if (hold.kind == SkinRelease::stitched)
    rules.between("inner_hold.pitch", hold.pitch, hold.stitch + 5.0 * mm, 2.0 * smaller,
                  "the stitches run into each other or leave a side without one",
                  "choose a pitch longer than the stitch");
  if (hold.kind == SkinRelease::split)
    rules.between("inner_hold.split_at", hold.split_at, door.rim.width + 5.0 * mm,
                  door.panel.width - door.rim.width - 5.0 * mm,
                  "the cut does not lie between the sides of the rim", "move it inwards");
  if (door.strip.thickness > 0.0)
    rules.size("strip.thickness", door.strip.thickness);
}

// Place along its edge that a latch may take, m.
void check_closing(const Door& door, Rules& rules)
{
  const double smaller = std::min(door.panel.width, door.panel.height);
  if (!door.gasket.curve.empty()) {
    const double inset = door.fire.gasket_inset;
    rules.between("fire.gasket_inset", inset, std::max(mm, 0.5 * door.gasket.width), 0.25 * smaller,
                  inset > 0.1 * smaller ? "the line of the gasket does not fit on the inner skin"
                                        : "the gasket is wider than its land on the skin",
                  inset > 0.1 * smaller ? "move it outwards"
                                        : "move its line inwards, or choose a narrower one");
    rules.between("gasket.corner", door.gasket.corner, 0.0, 0.5 * smaller - inset - mm,
                  "the corners of the gasket run into each other", "choose a smaller radius");
  }
  for (std::size_t i = 0; i < door.latches.size(); ++i) {
    const Latch& latch = door.latches[i];
    const double length = latch.edge == FreeEdge::latch ? door.panel.height : door.panel.width;
    rules.between(fmt::format("latch[{}].at", i), latch.position, 0.0, length,
                  "the latch lies off the door", "move it onto its edge");
    rules.between(fmt::format("latch[{}].inset", i), latch.inset, 0.0, 0.5 * smaller,
                  "the latch pulls beyond the middle of the door", "move it to its edge");
    if (!door.gasket.curve.empty())
      rules.between(fmt::format("latch[{}].draw", i), latch.draw, -0.05,
                    std::max(0.0, door.gasket.set_gap),
                    "it would pull the door through the frame face",
                    "set it to no more than the set gap of the gasket");
  }
}

void check_rim(const Door& door, Rules& rules)
{
  const auto& rim = door.rim;
  const double smaller = std::min(door.panel.width, door.panel.height);
  rules.between("rim.width", rim.width, 2.0 * rim.wall + mm, 0.45 * smaller,
                "the rim does not leave room for its own hollow and for a panel between its sides",
                "choose a tube that fits twice into the door");
  check_inner_hold(door, rules);
  check_closing(door, rules);
  rules.between("rim.wall", rim.wall, thinnest, 0.5 * rim.depth - mm,
                "the walls of the rim meet in its middle",
                "choose a thinner wall or a deeper tube");
}

void check_stiffeners(const Door& door, Rules& rules)
{
  for (std::size_t i = 0; i < door.stiffeners.size(); ++i) {
    const auto& s = door.stiffeners[i];
    const std::string key = fmt::format("stiffener[{}]", i);
    const double size = s.run == StiffenerRun::along ? door.panel.width : door.panel.height;
    const double clear = door.rim.width + 0.5 * s.width + 2.0 * mm;
    const Place places{clear, size - clear};
    if (places.minimum > places.maximum)
      rules.between(key + ".width", s.width, thinnest, size - 2.0 * door.rim.width - 4.0 * mm,
                    "it does not fit between the sides of the rim", "choose a narrower stiffener");
    else
      rules.between(key + ".at", s.position, places.minimum, places.maximum,
                    "the stiffener does not stand clear of the rim", "move it inwards");
    if (s.shape == StiffenerShape::tube)
      rules.between(key + ".wall", s.wall, thinnest,
                    0.5 * std::min(s.width, door.rim.depth) - 0.5 * mm,
                    "the walls of the stiffener meet in its middle", "choose a thinner wall");
    for (std::size_t j = 0; j < i; ++j) {
      const auto& other = door.stiffeners[j];
      const double apart = 0.5 * (s.width + other.width) + mm;
      if (other.run != s.run || std::abs(s.position - other.position) >= apart)
        continue;
      const Place free = beside(s.position, other.position, apart, places);
      rules.between(key + ".at", s.position, free.minimum, free.maximum,
                    fmt::format("it runs into stiffener[{}]", j), "move one of them");
    }
  }
}

void check_knuckles(const Hinge& hinge, const std::string& key, Rules& rules)
{
  const auto& k = hinge.knuckles;
  rules.count(key + ".knuckles", static_cast<double>(k.size()), 2, 9,
              "a hinge has knuckles on both halves", "write 3 or 5");
  if (k.empty())
    return;
  const auto pairs = static_cast<double>(k.size()) - 1.0;
  double turns = 0.0;
  for (std::size_t i = 1; i < k.size(); ++i)
    turns += k[i].owner != k[i - 1].owner ? 1.0 : 0.0;
  rules.count(key + ".first_knuckle", turns, pairs, pairs,
              "changes of owner from the lowest knuckle up: the halves take turns",
              "give every second knuckle to the door");
}

// Longest hinge that fits the edge of the door, m.
double longest_hinge(const Door& door)
{
  return door.panel.height - 2.0 * mm;
}

// Knuckles with their gaps fit on the leaf, and both on the door.
void check_lengths(const Door& door, const Hinge& hinge, const std::string& key, Rules& rules)
{
  if (hinge.knuckles.empty())
    return;
  double length = hinge.knuckle_gap * (static_cast<double>(hinge.knuckles.size()) - 1.0);
  for (const auto& knuckle : hinge.knuckles)
    length += knuckle.length;
  const double longest = longest_hinge(door);
  rules.between(key + ".knuckle_length", length, thinnest, longest,
                "all knuckles and gaps together are longer than the edge of the door",
                "make the knuckles shorter");
  if (hinge.kind != HingeKind::barrels || length > longest)
    return;
  const bool short_leaf = hinge.leaf.length < length;
  rules.between(key + ".leaf_length", hinge.leaf.length, length - 1e-9, longest,
                short_leaf ? "the knuckles do not fit on the leaf"
                           : "the leaf is longer than the edge that it sits on",
                short_leaf ? "make the leaf longer or the knuckles shorter"
                           : "make the leaf shorter");
}

void check_round(const Door& door, const Hinge& hinge, const std::string& key, Rules& rules)
{
  const double outside = outside_radius(hinge);
  const double bore = bore_radius(hinge);
  rules.between(key + ".clearance", hinge.clearance, 5e-6, 0.5 * hinge.pin_diameter,
                "the pin does not go into its bore, or rattles in it",
                "give the bore some play: reamed, drilled, or a length");
  rules.between(key + ".outside_diameter", hinge.outside_diameter, 2.0 * (bore + mm), 0.3,
                "the bore leaves no wall around it", "choose a larger barrel or a smaller pin");
  const double standoff = hinge.kind == HingeKind::barrels
                              ? 1.05 * outside + hinge.leaf.thickness + 0.5 * mm
                              : 1.1 * outside;
  rules.between(key + ".standoff", hinge.leaf.standoff, standoff, 0.5,
                "the knuckles do not clear the face",
                "raise the pin axis or choose smaller barrels");
  if (hinge.kind == HingeKind::barrels)
    rules.between(key + ".leaf_thickness", hinge.leaf.thickness, mm,
                  0.85 * outside - 0.5 * door.reveal,
                  "the leaf does not meet its barrel, since it stands beside the reveal",
                  "choose a larger barrel, a thinner leaf or a smaller reveal");
}

void check_foot(const Door& door, const Hinge& hinge, const std::string& key, Rules& rules)
{
  const bool beads = hinge.kind == HingeKind::barrels && hinge.weld == WeldExtent::beads;
  const double minimum = hinge.kind == HingeKind::lugs
                             ? 10.0 * mm
                             : std::max(hinge.leaf.thickness + 2.0 * mm,
                                        beads ? 2.0 * hinge.weld_leg + 2.0 * mm : 0.0);
  rules.between(key + ".leaf_width", hinge.leaf.width, minimum,
                std::min(0.5 * door.panel.width, door.jamb.free_width),
                "the leaf does not fit on door and jamb, or is narrower than its welds",
                "choose another width, or a wider jamb plate");
  if (hinge.kind == HingeKind::barrels)
    rules.between(key + ".weld_leg", hinge.weld_leg, mm,
                  std::min(hinge.leaf.thickness, 0.25 * hinge.leaf.length),
                  "a fillet is no larger than the plate that it welds", "choose a smaller leg");
}

// The position of hinge `i` on the edge: inside the door, and clear of the hinges before it.
void check_place(const Door& door, std::size_t i, const std::string& key, Rules& rules)
{
  const Hinge& hinge = door.hinges[i];
  const Span span = hinge_span(hinge);
  const double length = span.to - span.from;
  if (length > longest_hinge(door))
    return; // said by check_lengths
  const double half = 0.5 * length;
  const Place places{half + mm, door.panel.height - half - mm};
  rules.between(key + ".at", hinge.position, places.minimum, places.maximum,
                "the hinge stands over the end of the door", "move it inwards");
  for (std::size_t j = 0; j < i; ++j) {
    const Span other = hinge_span(door.hinges[j]);
    const double apart = half + 0.5 * (other.to - other.from) + mm;
    if (std::abs(hinge.position - door.hinges[j].position) >= apart)
      continue;
    const Place free = beside(hinge.position, door.hinges[j].position, apart, places);
    rules.between(key + ".at", hinge.position, free.minimum, free.maximum,
                  fmt::format("it runs into hinge[{}]", j), "move one of them");
  }
}

// A side-hung door rests on its hinges: some knuckle of the door on one of the frame.
void check_carried(const Door& door, Rules& rules)
{
  if (door.hanging != HingeEdge::side || door.hinges.empty())
    return;
  double carried = 0.0;
  for (const auto& hinge : door.hinges)
    for (std::size_t k = 1; k < hinge.knuckles.size(); ++k)
      if (hinge.knuckles[k].owner == KnuckleOwner::door &&
          hinge.knuckles[k - 1].owner == KnuckleOwner::frame)
        carried += 1.0;
  if (door.hinges.front().knuckles.size() > 1) // else check_knuckles says what is wrong
    rules.count("hinge[0].first_knuckle", carried, 1.0, 36.0,
                "knuckles of the door that stand on one of the frame: the door would slide off its "
                "pins",
                "give the lowest knuckle to the frame");
}

void check_hinges(const Door& door, Rules& rules)
{
  check_carried(door, rules);
  for (std::size_t i = 0; i < door.hinges.size(); ++i) {
    const Hinge& hinge = door.hinges[i];
    const std::string key = fmt::format("hinge[{}]", i);
    check_knuckles(hinge, key, rules);
    check_lengths(door, hinge, key, rules);
    check_round(door, hinge, key, rules);
    check_foot(door, hinge, key, rules);
    check_place(door, i, key, rules);
    const double standoff = door.hinges.front().leaf.standoff;
    rules.between(key + ".standoff", hinge.leaf.standoff, standoff - 1e-9, standoff + 1e-9,
                  "all pins of a door lie on one axis", "give every hinge the same standoff");
  }
}

} // namespace

std::vector<DoorFault> faults(const Door& door)
{
  Rules rules;
  check_counts(door, rules);
  if (rules.violated())
    return rules.take(); // parts are compared with each other only when they are few
  check_numbers(door, rules);
  if (rules.violated())
    return rules.take();
  check_rim(door, rules);
  check_stiffeners(door, rules);
  check_hinges(door, rules);
  if (door.jamb.backing == JambBacking::flange)
    rules.between("jamb.free_width", door.jamb.free_width, 2.0 * door.jamb.thickness, 1.0,
                  "the plate is narrower than its flange is thick", "make it wider");
  rules.between("fire.gasket_inset", door.fire.gasket_inset, mm,
                0.45 * std::min(door.panel.width, door.panel.height),
                "the gasket line leaves no room for the fire", "move it outwards");
  rules.between("handle.at", door.handle.position, 0.0, door.panel.height,
                "the handle is not on the door", "give its height above the lower edge");
  return rules.take();
}

} // namespace hangtrue::door
