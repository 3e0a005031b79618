#include "solver/plate_stress.hpp"

#include "solver/cell_shapes.hpp"
#include "solver/steel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <optional>

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

// One cell as a piece of plate: mean stress, its slope through the plate, and where it is.
struct PlateCell {
  Stress mean{};
  Stress slope{}; // Pa/m
  double thickness = 0.0;
  double width = 0.0; // the lesser of the two sizes in the plane
  double temperature = 0.0;
  double volume = 0.0;
  Vec3 middle;
};

double component(const Vec3& v, int axis)
{
  return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}

std::array<double, 3> sizes(const BodyMesh& body, const Hex& cell)
{
  const Vec3 d = body.nodes[cell.node[26]] - body.nodes[cell.node[0]];
  return {std::abs(d.x), std::abs(d.y), std::abs(d.z)};
}

// Axis through the plate that a cell belongs to: y for skins and the flanges of the rim, else
// square to its side; none in the corner of a tube, which is no plate.
std::optional<int> through_plate(const Door& door, const BodyMesh& body, const Hex& cell)
{
  if (cell.part != Part::rim)
    return 1;
  const Vec3& p = body.nodes[cell.node[13]];
  const double from_start = p.y - rim_start(door);
  const bool flange = std::min(from_start, door.rim.depth - from_start) < door.rim.wall;
  const double x = std::min(p.x, door.panel.width - p.x);
  const double z = std::min(p.z, door.panel.height - p.z);
  const double inwards = std::min(x, z);
  const bool web = inwards < door.rim.wall || inwards > door.rim.width - door.rim.wall;
  if (flange == web)
    return std::nullopt;
  if (flange)
    return 1;
  return x < z ? 0 : 2;
}

PlateCell plate_cell(const WarmPlates& plates, const Hex& cell, const CellShape& shape, int through,
                     double thickness)
{
  PlateCell made;
  const auto size = sizes(plates.body, cell);
  made.thickness = thickness;
  made.width = std::min(size[(through + 1) % 3], size[(through + 2) % 3]);
  made.middle = plates.body.nodes[cell.node[13]];
  const Elasticity e = plates.of(cell);
  auto stress = stresses(cell, shape, e, plates.moves);
  std::array<double, 27> off{};
  double second = 0.0; // integral of the squared distance from the middle plane
  for (int q = 0; q < 27; ++q) {
    double strain = 0.0;
    double t = 0.0;
    Vec3 place;
    for (int n = 0; n < 27; ++n) {
      strain += shape.value[q][n] * plates.strain[cell.node[n]];
      t += shape.value[q][n] * plates.at[cell.node[n]];
      place += shape.value[q][n] * plates.body.nodes[cell.node[n]];
    }
    for (int c = 0; c < 3; ++c)
      stress[q][c] -= (3.0 * e.lambda + 2.0 * e.mu) * strain;
    off[q] = component(place - made.middle, through);
    made.volume += shape.volume[q];
    made.temperature += shape.volume[q] * t;
    second += shape.volume[q] * off[q] * off[q];
  }
  made.temperature /= made.volume;
  for (int q = 0; q < 27; ++q)
    for (int c = 0; c < 6; ++c) {
      made.mean[c] += shape.volume[q] * stress[q][c] / made.volume;
      made.slope[c] += shape.volume[q] * off[q] * stress[q][c] / second;
    }
  return made;
}

double worse_face(const PlateCell& cell)
{
  double worst = 0.0;
  for (const double side : {-0.5, 0.5}) {
    Stress s{};
    for (int c = 0; c < 6; ++c)
      s[c] = cell.mean[c] + side * cell.thickness * cell.slope[c];
    worst = std::max(worst, von_mises(s));
  }
  return worst;
}

bool is_plate(const Hex& cell)
{
  return cell.part == Part::inner_skin || cell.part == Part::outer_skin || cell.part == Part::rim;
}

double plate_thickness(const Door& door, Part part)
{
  if (part == Part::rim)
    return door.rim.wall;
  return part == Part::inner_skin ? door.panel.inner_skin : door.panel.outer_skin;
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

PlateUses plate_uses(const Door& door, const WarmPlates& plates)
{
  std::map<Part, PlateUse> worst;
  PlateUses uses;
  uses.of_cell.assign(plates.body.cells.size(), -1.0);
  visit_cells(plates.body, is_plate, [&](const Hex& cell, const CellShape& shape) {
    const auto through = through_plate(door, plates.body, cell);
    if (!through)
      return;
    const PlateCell piece =
        plate_cell(plates, cell, shape, *through, plate_thickness(door, cell.part));
    if (piece.width < 2.0 * piece.thickness)
      return;
    PlateUse use;
    use.plate = plate_name(cell.part);
    use.place = piece.middle;
    use.stress = worse_face(piece);
    use.proof = door.steel.yield * reduction(door.steel, piece.temperature).proportional;
    use.temperature = piece.temperature;
    use.use = use.proof > 0.0 ? use.stress / use.proof : std::numeric_limits<double>::max();
    uses.of_cell[&cell - plates.body.cells.data()] = use.use; // the visitor gets the body's own
    PlateUse& held = worst[cell.part];
    if (held.plate.empty() || use.use > held.use)
      held = use;
  });
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

SkinBuckling skin_buckling(const Door& door, const WarmPlates& plates)
{
  const double w = door.rim.width;
  double volume = 0.0;
  double s_x = 0.0;
  double s_z = 0.0;
  double temperature = 0.0;
  visit_cells(
      plates.body,
      [&](const Hex& cell) {
        const Vec3& p = plates.body.nodes[cell.node[13]];
        return cell.part == Part::inner_skin && p.x > w && p.x < door.panel.width - w && p.z > w &&
               p.z < door.panel.height - w;
      },
      [&](const Hex& cell, const CellShape& shape) {
        const PlateCell piece = plate_cell(plates, cell, shape, 1, door.panel.inner_skin);
        volume += piece.volume;
        s_x -= piece.volume * piece.mean[0];
        s_z -= piece.volume * piece.mean[2];
        temperature += piece.volume * piece.temperature;
      });
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
