// Rules between the values of a door, in the words of the door file.
#include "meshing/door.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

constexpr double mm = 1e-3;

class Rules
{
public:
  // Asks that a length lies between two others, m.
  void between(const std::string& key, double found, double least, double most,
               const std::string& reason, const std::string& repair)
  {
    if (found >= least && found <= most)
      return;
    faults_.push_back({key, found, least, most, false, reason, repair});
  }
  void count(const std::string& key, double found, double least, double most,
             const std::string& reason, const std::string& repair)
  {
    if (found >= least && found <= most)
      return;
    faults_.push_back({key, found, least, most, true, reason, repair});
  }
  [[nodiscard]] std::vector<DoorFault> take() { return std::move(faults_); }

private:
  std::vector<DoorFault> faults_;
};

void check_rim(const Door& door, Rules& rules)
{
  const auto& rim = door.rim;
  const double smaller = std::min(door.panel.width, door.panel.height);
  rules.between("rim.width", rim.width, 2.0 * rim.wall + mm, 0.45 * smaller,
                "the rim does not leave room for its own hollow and for a panel between its sides",
                "choose a tube that fits twice into the door");
  rules.between("rim.wall", rim.wall, 0.5 * mm, 0.5 * rim.depth - mm,
                "the walls of the rim meet in its middle",
                "choose a thinner wall or a deeper tube");
}

void check_stiffeners(const Door& door, Rules& rules)
{
  for (std::size_t i = 0; i < door.stiffeners.size(); ++i) {
    const auto& s = door.stiffeners[i];
    const std::string key = fmt::format("stiffener[{}]", i);
    const double size = s.run == StiffenerRun::along ? door.panel.width : door.panel.height;
    const double half = 0.5 * s.width;
    rules.between(key + ".at", s.at, door.rim.width + half + 2.0 * mm,
                  size - door.rim.width - half - 2.0 * mm,
                  "the stiffener does not stand clear of the rim", "move it inwards");
    if (s.shape == StiffenerShape::tube)
      rules.between(key + ".wall", s.wall, 0.5 * mm,
                    0.5 * std::min(s.width, door.rim.depth) - 0.5 * mm,
                    "the walls of the stiffener meet in its middle", "choose a thinner wall");
    for (std::size_t j = 0; j < i; ++j) {
      const auto& other = door.stiffeners[j];
      if (other.run == s.run)
        rules.between(key + ".width", s.width, 0.5 * mm,
                      2.0 * (std::abs(s.at - other.at) - mm) - other.width,
                      fmt::format("it runs into stiffener[{}]", j), "move one of them");
    }
  }
}

void check_knuckles(const Hinge& hinge, const std::string& key, Rules& rules)
{
  const auto& k = hinge.knuckles;
  rules.count(key + ".knuckles", static_cast<double>(k.size()), 2, 9,
              "a hinge has knuckles on both halves", "write 3 or 5");
  if (hinge.kind != HingeKind::barrels || k.empty())
    return;
  double length = hinge.knuckle_gap * (static_cast<double>(k.size()) - 1.0);
  for (const auto& knuckle : k)
    length += knuckle.length;
  rules.between(key + ".leaf_length", hinge.leaf.length, length - 1e-9, 2.0,
                "the knuckles do not fit on the leaf",
                "make the leaf longer or the knuckles shorter");
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
  const double least = hinge.kind == HingeKind::lugs
                           ? 10.0 * mm
                           : std::max(hinge.leaf.thickness + 2.0 * mm,
                                      beads ? 2.0 * hinge.weld_leg + 2.0 * mm : 0.0);
  rules.between(key + ".leaf_width", hinge.leaf.width, least,
                std::min(0.5 * door.panel.width, door.jamb.free_width),
                "the leaf does not fit on door and jamb, or is narrower than its welds",
                "choose another width, or a wider jamb plate");
  if (hinge.kind == HingeKind::barrels)
    rules.between(key + ".weld_leg", hinge.weld_leg, mm,
                  std::min(hinge.leaf.thickness, 0.25 * hinge.leaf.length),
                  "a fillet is no larger than the plate that it welds", "choose a smaller leg");
}

void check_hinges(const Door& door, Rules& rules)
{
  rules.count("hinge", static_cast<double>(door.hinges.size()), 1, 4, "a door hangs on its hinges",
              "write one to four [[hinge]] tables");
  for (std::size_t i = 0; i < door.hinges.size(); ++i) {
    const Hinge& hinge = door.hinges[i];
    const std::string key = fmt::format("hinge[{}]", i);
    check_knuckles(hinge, key, rules);
    check_round(door, hinge, key, rules);
    check_foot(door, hinge, key, rules);
    const Span span = hinge_span(hinge);
    const double half = 0.5 * (span.to - span.from);
    rules.between(key + ".at", hinge.at, half + mm, door.panel.height - half - mm,
                  "the hinge stands over the end of the door", "move it inwards");
    for (std::size_t j = 0; j < i; ++j) {
      const Span other = hinge_span(door.hinges[j]);
      const bool apart = span.from > other.to + mm || other.from > span.to + mm;
      if (!apart)
        rules.between(key + ".at", hinge.at, other.to + half + mm, door.panel.height - half - mm,
                      fmt::format("it runs into hinge[{}]", j), "move one of them");
    }
    const double standoff = door.hinges.front().leaf.standoff;
    rules.between(key + ".standoff", hinge.leaf.standoff, standoff - 1e-9, standoff + 1e-9,
                  "all pins of a door lie on one axis", "give every hinge the same standoff");
  }
}

} // namespace

std::vector<DoorFault> faults(const Door& door)
{
  Rules rules;
  check_rim(door, rules);
  check_stiffeners(door, rules);
  check_hinges(door, rules);
  if (door.jamb.backing == JambBacking::flange)
    rules.between("jamb.free_width", door.jamb.free_width, 2.0 * door.jamb.thickness, 1.0,
                  "the plate is narrower than its flange is thick", "make it wider");
  rules.between("handle.at", door.handle.at, 0.0, door.panel.height,
                "the handle is not on the door", "give its height above the lower edge");
  return rules.take();
}

} // namespace hangtrue
