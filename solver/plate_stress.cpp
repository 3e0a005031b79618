#include "solver/plate_stress.hpp"

#include "solver/steel.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

namespace hangtrue
{

namespace
{

double von_mises(const Stress& s)
{
  const double a = s[0] - s[1];
  const double b = s[1] - s[2];
  const double c = s[2] - s[0];
  return std::sqrt(0.5 * (a * a + b * b + c * c) + 3.0 * (s[3] * s[3] + s[4] * s[4] + s[5] * s[5]));
}

// The greater of both faces, Pa.
double worse_face(const PlateColumn& column)
{
  double worst = 0.0;
  for (const double side : {-0.5, 0.5}) {
    Stress s{};
    for (int c = 0; c < 6; ++c)
      s[c] = column.mean[c] + side * column.thickness * column.slope[c];
    worst = std::max(worst, von_mises(s));
  }
  return worst;
}

std::string plate_name(Part part)
{
  if (part == Part::rim)
    return "rim";
  return part == Part::inner_skin ? "inner skin" : "outer skin";
}

// Widest space between rim tubes and stiffeners that run one way, m.
double widest_field(const Door& door, StiffenerRun run)
{
  const double length = run == StiffenerRun::along ? door.panel.width : door.panel.height;
  std::vector<std::pair<double, double>> steel{{0.0, door.rim.width},
                                               {length - door.rim.width, length}};
  for (const auto& s : door.stiffeners)
    if (s.run == run)
      steel.emplace_back(s.at - 0.5 * s.width, s.at + 0.5 * s.width);
  std::sort(steel.begin(), steel.end());
  double widest = 0.0;
  for (std::size_t i = 0; i + 1 < steel.size(); ++i)
    widest = std::max(widest, steel[i + 1].first - steel[i].second);
  return widest;
}

} // namespace

PlateUses plate_uses(const Door& door, const std::vector<PlateColumn>& columns, std::size_t cells)
{
  std::map<Part, PlateUse> worst;
  PlateUses uses;
  uses.of_cell.assign(cells, -1.0);
  for (const auto& patch : over_patches(columns, door.rim.width)) {
    PlateUse use;
    use.plate = plate_name(patch.part);
    use.place = patch.middle;
    use.stress = worse_face(patch);
    use.proof = door.steel.yield * reduction(door.steel, patch.temperature).proportional;
    use.temperature = patch.temperature;
    use.use = use.proof > 0.0 ? use.stress / use.proof : std::numeric_limits<double>::max();
    uses.of_cell[patch.cell] = std::max(uses.of_cell[patch.cell], use.use);
    PlateUse& held = worst[patch.part];
    if (held.plate.empty() || use.use > held.use)
      held = use;
  }
  for (const auto& [part, use] : worst)
    uses.worst.push_back(use);
  return uses;
}

double field_buckling_factor(double a, double b, double t, double youngs_modulus, double poisson,
                             double along_a, double along_b)
{
  const double stiffness = youngs_modulus * t * t * t / (12.0 * (1.0 - poisson * poisson));
  double least = std::numeric_limits<double>::max();
  constexpr int waves = 20;
  for (int m = 1; m <= waves; ++m)
    for (int n = 1; n <= waves; ++n) {
      const double p = (m / a) * (m / a);
      const double q = (n / b) * (n / b);
      const double load = t * (along_a * p + along_b * q);
      if (load > 0.0)
        least = std::min(least, std::numbers::pi * std::numbers::pi * stiffness * (p + q) *
                                    (p + q) / load);
    }
  return least;
}

SkinBuckling skin_buckling(const Door& door, const std::vector<PlateColumn>& columns)
{
  const double w = door.rim.width;
  double volume = 0.0;
  double s_x = 0.0;
  double s_z = 0.0;
  double temperature = 0.0;
  for (const auto& column : columns) {
    const Vec3& p = column.middle;
    if (column.part != Part::inner_skin || p.x < w || p.x > door.panel.width - w || p.z < w ||
        p.z > door.panel.height - w)
      continue;
    volume += column.volume;
    s_x -= column.volume * column.mean[0];
    s_z -= column.volume * column.mean[2];
    temperature += column.volume * column.temperature;
  }
  SkinBuckling made;
  if (volume == 0.0)
    return made;
  s_x /= volume;
  s_z /= volume;
  made.stress = std::max(s_x, s_z);
  const double modulus =
      door.steel.youngs_modulus * reduction(door.steel, temperature / volume).modulus;
  const double factor = field_buckling_factor(
      widest_field(door, StiffenerRun::along), widest_field(door, StiffenerRun::across),
      door.panel.inner_skin, modulus, door.steel.poisson, s_x, s_z);
  if (factor < 1e300 && made.stress > 0.0) {
    made.use = 1.0 / factor;
    made.critical = made.stress * factor;
  }
  return made;
}

} // namespace hangtrue
