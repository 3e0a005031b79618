// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/plate_checks.hpp"

#include "solver/material/steel_properties.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace hangtrue::strength
{

namespace
{

double von_mises(const elasticity::Stress& s)
{
  const double a = s[0] - s[1];
  const double b = s[1] - s[2];
  const double c = s[2] - s[0];
  return std::sqrt(0.5 * (a * a + b * b + c * c) + 3.0 * (s[3] * s[3] + s[4] * s[4] + s[5] * s[5]));
}

// The greater of both faces, Pa.
double worse_face(const PlateSample& column)
{
  double worst = 0.0;
  for (const double side : {-0.5, 0.5}) {
    elasticity::Stress s{};
    for (int c = 0; c < 6; ++c)
      s[c] = column.mean[c] + side * column.thickness * column.slope[c];
    worst = std::max(worst, von_mises(s));
  }
  return worst;
}

} // namespace

const char* plate_label(mesh::Part plate)
{
  if (plate == mesh::Part::rim)
    return "rim";
  return plate == mesh::Part::inner_skin ? "inner skin" : "outer skin";
}

PlateUtilisations plate_utilisations(const door::Door& door,
                                     const std::vector<PlateSample>& columns, std::size_t cells)
{
  std::map<mesh::Part, PlateUtilisation> worst;
  PlateUtilisations uses;
  uses.by_cell.assign(cells, -1.0);
  for (const auto& patch : average_over_patches(columns, door.rim.width)) {
    PlateUtilisation use;
    use.plate = patch.part;
    use.place = patch.middle;
    use.stress = worse_face(patch);
    use.proof = door.steel.yield * material::reduction(door.steel, patch.temperature).proportional;
    use.temperature = patch.temperature;
    use.utilisation = use.proof > 0.0 ? use.stress / use.proof : std::numeric_limits<double>::max();
    uses.by_cell[patch.cell] = std::max(uses.by_cell[patch.cell], use.utilisation);
    const auto [held, first] = worst.try_emplace(patch.part, use);
    if (!first && use.utilisation > held->second.utilisation)
      held->second = use;
  }
  for (const auto& [part, use] : worst)
    uses.worst.push_back(use);
  return uses;
}

} // namespace hangtrue::strength
