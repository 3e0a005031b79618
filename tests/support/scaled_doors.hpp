// SPDX-License-Identifier: GPL-3.0-or-later
// The same door at another size: what similarity requires of every number of it.
#pragma once

#include "meshing/door/door.hpp"

namespace hangtrue::test
{

/// The door with every length `times` as long and every modulus and strength `times` as great, its
/// density unchanged. Weights scale as times^3 and stiffnesses against a displacement as times^2,
/// so every displacement is `times`, every stress `times`, every force times^3, every force per
/// length of gasket times^2 the old one, contact and play included: strains u / L and so all ratios
/// stay, since density x g x L / E does. Heat does not scale so; given temperatures strain the
/// same.
inline door::Door scaled(door::Door door, double times)
{
  const double square = times * times;
  const auto steel = [&](door::Steel& s) {
    for (double* p : {&s.youngs_modulus, &s.yield, &s.ultimate})
      *p *= times;
    for (auto& row : s.table)
      for (double* p : {&row.modulus, &row.yield, &row.proof})
        *p *= times;
  };
  const auto lengths = [&](std::initializer_list<double*> all) {
    for (double* p : all)
      *p *= times;
  };
  lengths({&door.panel.width,
           &door.panel.height,
           &door.panel.outer_skin,
           &door.panel.inner_skin,
           &door.inner_hold.stitch,
           &door.inner_hold.pitch,
           &door.inner_hold.lift,
           &door.inner_hold.slot,
           &door.inner_hold.split_at,
           &door.strip.thickness,
           &door.strip.youngs_modulus,
           &door.rim.width,
           &door.rim.depth,
           &door.rim.wall,
           &door.reveal,
           &door.jamb.thickness,
           &door.jamb.free_width,
           &door.jamb.flange_depth,
           &door.opening.latch,
           &door.opening.lower,
           &door.opening.upper,
           &door.opening.warp,
           &door.handle.position,
           &door.handle.breadth,
           &door.fire.gasket_inset});
  for (auto& s : door.stiffeners)
    lengths({&s.position, &s.width, &s.wall});
  for (auto& h : door.hinges) {
    lengths({&h.position, &h.leaf.length, &h.leaf.width, &h.leaf.thickness, &h.leaf.standoff,
             &h.knuckle_gap, &h.outside_diameter, &h.pin_diameter, &h.clearance, &h.end_float,
             &h.weld_leg});
    for (auto& k : h.knuckles) {
      lengths({&k.length});
      for (double& depth : k.worn)
        depth *= times;
    }
  }
  door::Gasket& g = door.gasket;
  lengths({&g.height, &g.width, &g.set_gap, &g.corner, &g.crushing});
  g.sealing *= square;
  for (auto& [squeeze, load] : g.curve) {
    squeeze *= times;
    load *= square;
  }
  for (auto& l : door.latches) {
    lengths({&l.position, &l.inset, &l.draw, &l.arm, &l.lever});
    l.stiffness *= square;
  }
  door.handle.force *= square * times;
  steel(door.steel);
  steel(door.pin_steel);
  return door;
}

} // namespace hangtrue::test
