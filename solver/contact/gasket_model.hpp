// SPDX-License-Identifier: GPL-3.0-or-later
// The gasket as lengths along its line, and its load by squeeze.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/fe/discretization.hpp"

#include <array>
#include <vector>

namespace hangtrue::contact
{

/// One length of gasket: its middle on the fire face, m, and how far along the line that is, m,
/// from the lower corner at the hinges along the lower edge and round.
struct GasketSegment {
  Vec3 place;
  double arc = 0.0;
  double length = 0.0; ///< m
};

/// The gasket at one point of its line.
struct GasketPoint {
  Vec3 place;                ///< m
  double arc = 0.0;          ///< m along the line
  double length = 0.0;       ///< m that it represents
  double squeeze = 0.0;      ///< m; negative: the gap to the frame face
  double load = 0.0;         ///< N/m
  double height = 0.0;       ///< m, free, less what has set
  double temperature = 20.0; ///< degC, of the skin under it
};

/// The whole line in equal lengths, at least `minimum` of them, corners rounded.
std::vector<GasketSegment> gasket_line(const door::Door& door, int minimum);

/// Line load, N/m, at a squeeze, m: 0 without squeeze, linear between points, extrapolated with the
/// last slope; and its slope, N/m^2.
struct LineLoad {
  double load = 0.0;
  double slope = 0.0;
};
/// Line load, N/m, and its slope, N/m^2, of a gasket at a squeeze, m.
LineLoad line_load(const door::Gasket& gasket, double squeeze);

/// Squeeze, m, at which the gasket just seals.
double sealing_squeeze(const door::Gasket& gasket);

/// A point on a flat face of the skins (inner, y = 0, or outer) as a mean of its cell's nine nodes,
/// which follows exactly every displacement that the cell can represent.
class SkinFace
{
public:
  SkinFace(const fe::Discretization& space, mesh::Part skin, double y);
  [[nodiscard]] std::vector<NodeWeight> at(double x, double z) const;

private:
  struct Tile {
    std::array<int, 9> node{};
    Vec3 origin;
    Vec3 first;  // along nodes 0, 1, 2
    Vec3 second; // along nodes 0, 3, 6
  };
  std::vector<Tile> tiles_;
};

} // namespace hangtrue::contact
