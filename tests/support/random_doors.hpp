// SPDX-License-Identifier: GPL-3.0-or-later
// Valid doors over the range that a door file allows, the same for the same seed.
#pragma once

#include "meshing/door/door.hpp"

#include <numbers>
#include <random>
#include <utility>

namespace hangtrue::test
{

/// Draws doors until one breaks no rule.
class RandomDoors
{
public:
  explicit RandomDoors(unsigned seed) : random_(seed) {}

  door::Door next()
  {
    while (true) {
      door::Door door = draw();
      if (door::faults(door).empty())
        return door;
    }
  }

private:
  std::mt19937 random_;

  double between(double minimum, double maximum)
  {
    return std::uniform_real_distribution<double>(minimum, maximum)(random_);
  }
  bool chance(double p) { return between(0.0, 1.0) < p; }
  int whole(int minimum, int maximum)
  {
    return std::uniform_int_distribution<int>(minimum, maximum)(random_);
  }

  door::Hinge draw_hinge(bool lugs, double standoff, const door::Leaf& leaf)
  {
    door::Hinge hinge;
    hinge.kind = lugs ? door::HingeKind::lugs : door::HingeKind::barrels;
    hinge.leaf = leaf;
    hinge.leaf.standoff = standoff;
    const int knuckles = chance(0.3) ? 5 : whole(2, 4);
    const double length = lugs ? between(0.006, 0.016) : between(0.02, 0.05);
    door::KnuckleOwner owner = chance(0.7) ? door::KnuckleOwner::frame : door::KnuckleOwner::door;
    for (int k = 0; k < knuckles; ++k) {
      hinge.knuckles.push_back({owner, length});
      owner =
          owner == door::KnuckleOwner::frame ? door::KnuckleOwner::door : door::KnuckleOwner::frame;
    }
    hinge.knuckle_gap = lugs ? between(0.0, 0.03) : 0.0;
    hinge.leaf.length = length * knuckles * between(1.0, 1.3);
    hinge.pin_diameter = between(0.008, 0.032);
    hinge.clearance = chance(0.5) ? between(5e-5, 5e-4) : between(5e-4, 2.5e-3);
    hinge.outside_diameter = hinge.pin_diameter + hinge.clearance + between(0.008, 0.03);
    hinge.end_float = between(0.0, 0.002);
    hinge.fixity = chance(0.5) ? door::PinFixity::fixed : door::PinFixity::floating;
    hinge.weld_leg = between(0.003, 0.006);
    hinge.weld = chance(0.5) ? door::WeldExtent::beads : door::WeldExtent::full_face;
    return hinge;
  }

  // A side-hung door rests on a knuckle of its frame; draws no random number, so that all other
  // doors stay as they are.
  static void stand(door::Door& door)
  {
    for (const auto& hinge : door.hinges)
      if (hinge.knuckles.size() > 2 || hinge.knuckles.front().owner == door::KnuckleOwner::frame)
        return;
    if (door.hanging == door::HingeEdge::side)
      std::swap(door.hinges.front().knuckles[0].owner, door.hinges.front().knuckles[1].owner);
  }

  door::Door draw()
  {
    door::Door door;
    door.name = "random door";
    door.hanging = chance(0.7) ? door::HingeEdge::side
                               : (chance(0.5) ? door::HingeEdge::top : door::HingeEdge::bottom);
    door.swing = between(0.0, std::numbers::pi);
    door.panel = {between(0.25, 1.5), between(0.25, 2.2), between(0.0015, 0.01),
                  between(0.0015, 0.01)};
    door.rim = {between(0.02, 0.08), between(0.02, 0.1), between(0.0015, 0.006)};
    for (int i = whole(0, 2); i > 0; --i) {
      const bool tube = chance(0.5);
      const bool along = chance(0.5);
      const double size = along ? door.panel.width : door.panel.height;
      door.stiffeners.push_back({tube ? door::StiffenerShape::tube : door::StiffenerShape::flat_bar,
                                 along ? door::StiffenerRun::along : door::StiffenerRun::across,
                                 size * between(0.25, 0.75), tube ? 0.03 : between(0.003, 0.01),
                                 0.002});
    }
    door.insulation = {"mineral wool", between(0.0, 300.0)};
    door.reveal = between(0.002, 0.008);
    const bool lugs = chance(0.35);
    const door::Leaf leaf{0.1, between(0.02, 0.08), between(0.004, 0.012), 0.0};
    const double standoff = between(0.02, 0.09);
    const int hinges = whole(1, 4);
    for (int i = 0; i < hinges; ++i) {
      door::Hinge hinge = draw_hinge(lugs, standoff, leaf);
      hinge.position = door.panel.height * (hinges == 1 ? 0.5 : 0.12 + 0.76 * i / (hinges - 1));
      hinge.carries_weight = i == 0;
      door.hinges.push_back(hinge);
    }
    stand(door);
    door.jamb = {between(0.004, 0.012), between(0.04, 0.12),
                 chance(0.4) ? door::JambBacking::edge
                             : (chance(0.5) ? door::JambBacking::flange : door::JambBacking::solid),
                 between(0.02, 0.05)};
    if (chance(0.4))
      door.handle = {between(50.0, 1000.0), door.panel.height * between(0.1, 0.9)};
    else
      door.handle = {0.0, 0.5 * door.panel.height};
    return door;
  }
};

} // namespace hangtrue::test
