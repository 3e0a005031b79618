// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/plate_checks.hpp"

#include "solver/material/steel_properties.hpp"
#include "solver/strength/plate_stress_average.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace hangtrue::strength
{

namespace
{

// Equivalent stress, Pa: sqrt(3/2 s : s), s the deviator (von Mises 1913).
double von_mises(const elasticity::Stress& stress)
{
  return std::sqrt(1.5) * deviator(stress).norm();
}

// The greater of both faces, Pa.
double worse_face(const PlateSample& column)
{
  double worst = 0.0;
  for (const double side : {-0.5, 0.5})
    worst = std::max(worst, von_mises(column.mean + side * column.thickness * column.slope));
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
