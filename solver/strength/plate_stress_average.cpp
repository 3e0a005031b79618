// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/plate_stress_average.hpp"

#include "solver/fe/tensors.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <utility>

namespace hangtrue::strength
{

namespace
{

bool is_plate(const mesh::Hex27& cell)
{
  return cell.part == mesh::Part::inner_skin || cell.part == mesh::Part::outer_skin ||
         cell.part == mesh::Part::rim;
}

double component(const Vec3& v, int axis)
{
  return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}

// The flat plate that a cell is of.
struct Plate {
  int number = 0;
  int through = 1;     // axis square to it
  double middle = 0.0; // m, of its middle plane along that axis
  double thickness = 0.0;
};

// Walls of the rim's tubes; none in a corner of a tube.
std::optional<Plate> wall_of_rim(const door::Door& door, const Vec3& p)
{
  const double t = door.rim.wall;
  const double from_start = p.y - door::rim_start(door);
  const bool flange = std::min(from_start, door.rim.depth - from_start) < t;
  const double x = std::min(p.x, door.panel.width - p.x);
  const double z = std::min(p.z, door.panel.height - p.z);
  const double inwards = std::min(x, z);
  const bool web = inwards < t || inwards > door.rim.width - t;
  if (flange == web)
    return std::nullopt;
  if (flange) {
    const bool near = from_start < t;
    return Plate{near ? 2 : 3, 1,
                 door::rim_start(door) + (near ? 0.5 * t : door.rim.depth - 0.5 * t), t};
  }
  const bool upright = x < z;
  const double length = upright ? door.panel.width : door.panel.height;
  const bool first = (upright ? p.x : p.z) < 0.5 * length;
  const bool inner = inwards > 0.5 * door.rim.width;
  const double in = inner ? door.rim.width - 0.5 * t : 0.5 * t;
  return Plate{4 + (upright ? 0 : 4) + (first ? 0 : 2) + (inner ? 1 : 0), upright ? 0 : 2,
               first ? in : length - in, t};
}

std::optional<Plate> plate_of(const door::Door& door, const mesh::BodyMesh& body,
                              const mesh::Hex27& cell)
{
  if (cell.part == mesh::Part::inner_skin)
    return Plate{0, 1, 0.5 * door.panel.inner_skin, door.panel.inner_skin};
  if (cell.part == mesh::Part::outer_skin)
    return Plate{1, 1, door::depth(door) - 0.5 * door.panel.outer_skin, door.panel.outer_skin};
  return wall_of_rim(door, body.nodes[cell.node[13]]);
}

// Sums over the points of a column; stress moments about the middle plane of the plate.
struct Sums {
  double volume = 0.0;
  double heat = 0.0;
  double off = 0.0;
  double off_off = 0.0;
  elasticity::Stress stress;
  elasticity::Stress moment;
};

// Adds the 27 points of a cell to its nine columns.
std::array<Sums, 9> sums_of(const HotPlates& plates, const fe::CellValues& at, const Plate& plate,
                            const Vec3& middle, const std::array<double, 2>& half)
{
  std::array<Sums, 9> sums;
  const elasticity::Elasticity e = plates.elasticity(at.cell);
  const auto stress = elasticity::stresses(at, e, plates.displacements);
  const auto strain = fe::values(at, plates.strain);
  const auto temperature = fe::values(at, plates.temperature);
  for (unsigned q = 0; q < fe::quadrature_points; ++q) {
    const Vec3 place = fe::vec3(at.fe.quadrature_point(q));
    std::array<int, 2> slot{};
    for (int d = 0; d < 2; ++d) { // points lie at -0.775, 0 and 0.775 of the half
      const int axis = (plate.through + 1 + d) % 3;
      slot[d] = 1 + static_cast<int>(std::lround(component(place - middle, axis) / half[d]));
    }
    Sums& s = sums[slot[0] + 3 * slot[1]];
    const double w = at.fe.JxW(q);
    const double off = component(place, plate.through) - plate.middle;
    const elasticity::Stress here = stress[q] - elasticity::free_strain_stress(e, strain[q]);
    s.volume += w;
    s.heat += w * temperature[q];
    s.off += w * off;
    s.off_off += w * off * off;
    s.stress += w * here;
    s.moment += w * off * here;
  }
  return sums;
}

// Least squares of a line through the plate.
void fit(const Sums& s, PlateSample& column)
{
  column.volume = s.volume;
  column.temperature = s.heat / s.volume;
  const double mean_off = s.off / s.volume;
  const double spread = s.off_off - s.off * mean_off;
  column.slope = (s.moment - mean_off * s.stress) / spread;
  column.mean = s.stress / s.volume - mean_off * column.slope;
}

void add_columns(const HotPlates& plates, const fe::CellValues& at, const Plate& plate,
                 std::vector<PlateSample>& columns)
{
  const auto& nodes = plates.space.body().nodes;
  const Vec3& first = nodes[at.cell.node[0]];
  const Vec3& last = nodes[at.cell.node[26]];
  const Vec3 middle = 0.5 * (first + last);
  std::array<int, 2> axis{};
  std::array<double, 2> half{};
  for (int d = 0; d < 2; ++d) {
    axis[d] = (plate.through + 1 + d) % 3;
    half[d] = 0.5 * std::abs(component(last - first, axis[d]));
  }
  const auto sums = sums_of(plates, at, plate, middle, half);
  // Each point represents as much of the side as its weight: 5/18, 8/18, 5/18 (Gauss).
  constexpr std::array<double, 4> bounds{-1.0, -4.0 / 9.0, 4.0 / 9.0, 1.0};
  for (int slot = 0; slot < 9; ++slot) {
    PlateSample result;
    result.part = at.cell.part;
    result.plate = plate.number;
    result.cell = static_cast<int>(at.index);
    result.thickness = plate.thickness;
    result.middle = middle;
    for (int d = 0; d < 2; ++d) {
      const int part = d == 0 ? slot % 3 : slot / 3;
      const double centre = component(middle, axis[d]);
      result.low[d] = centre + half[d] * bounds[part];
      result.high[d] = centre + half[d] * bounds[part + 1];
      (axis[d] == 0   ? result.middle.x
       : axis[d] == 1 ? result.middle.y
                      : result.middle.z) = 0.5 * (result.low[d] + result.high[d]);
    }
    fit(sums[slot], result);
    columns.push_back(result);
  }
}

} // namespace

std::vector<PlateSample> plate_samples(const door::Door& door, const HotPlates& plates)
{
  std::vector<PlateSample> columns;
  fe::visit_cells(plates.space, is_plate, [&](const fe::CellValues& at) {
    if (const auto plate = plate_of(door, plates.space.body(), at.cell))
      add_columns(plates, at, *plate, columns);
  });
  return columns;
}

namespace
{

// Integral of the weight 1 - |x| from a to b, both in units of the reach.
double weight_between(double a, double b)
{
  const auto from_start = [](double x) {
    const double t = std::clamp(x, -1.0, 1.0);
    return t <= 0.0 ? 0.5 * (1.0 + t) * (1.0 + t) : 1.0 - 0.5 * (1.0 - t) * (1.0 - t);
  };
  return from_start(b) - from_start(a);
}

// The intervals that the columns of one plate cover in one direction, and the interval of each
// column. One that rounding makes different for two cells may occur twice, which does no harm.
class Intervals
{
public:
  Intervals(const std::vector<PlateSample>& columns, const std::vector<int>& of_plate, int way)
  {
    constexpr double grain = 1e-9; // m
    std::map<std::pair<long, long>, std::size_t> known;
    for (const int i : of_plate) {
      const double low = columns[i].low[way];
      const double high = columns[i].high[way];
      const auto [found, is_new] =
          known.try_emplace({std::lround(low / grain), std::lround(high / grain)}, ends_.size());
      if (is_new)
        ends_.push_back({low, high});
      of_.push_back(found->second);
    }
  }

  [[nodiscard]] std::size_t count() const { return ends_.size(); }
  [[nodiscard]] std::size_t of(std::size_t column) const { return of_[column]; }

  // What each interval fills of a patch round the middle of interval `at`.
  [[nodiscard]] std::vector<std::pair<std::size_t, double>> shares(std::size_t index,
                                                                   double reach) const
  {
    const double middle = 0.5 * (ends_[index][0] + ends_[index][1]);
    std::vector<std::pair<std::size_t, double>> result;
    for (std::size_t k = 0; k < ends_.size(); ++k) {
      const double share =
          weight_between((ends_[k][0] - middle) / reach, (ends_[k][1] - middle) / reach);
      if (share > 0.0)
        result.emplace_back(k, share);
    }
    return result;
  }

private:
  std::vector<std::array<double, 2>> ends_; // m
  std::vector<std::size_t> of_;
};

// Number of columns, temperature, mean and gradient of stress through the plate.
struct Values {
  double count = 0.0;
  double temperature = 0.0; // degC
  elasticity::Stress mean;  // Pa
  elasticity::Stress slope; // Pa/m
};

Values values_of(const PlateSample& column)
{
  return {1.0, column.temperature, column.mean, column.slope};
}

void add_times(double share, const Values& values, Values& to)
{
  to.count += share * values.count;
  to.temperature += share * values.temperature;
  to.mean += share * values.mean;
  to.slope += share * values.slope;
}

// The columns of one plate, in `result` with means over their patches. The weight is a product, so
// the sums are done in one direction first and then in the other.
void put_means(const std::vector<PlateSample>& columns, const std::vector<int>& of_plate,
               double reach, std::vector<PlateSample>& result)
{
  const Intervals rows(columns, of_plate, 0);
  const Intervals lines(columns, of_plate, 1);
  std::vector<Values> own(rows.count() * lines.count());
  for (std::size_t i = 0; i < of_plate.size(); ++i)
    add_times(1.0, values_of(columns[of_plate[i]]), own[rows.of(i) * lines.count() + lines.of(i)]);
  std::vector<Values> along(own.size());
  for (std::size_t r = 0; r < rows.count(); ++r)
    for (const auto& [other, share] : rows.shares(r, reach))
      for (std::size_t l = 0; l < lines.count(); ++l)
        add_times(share, own[other * lines.count() + l], along[r * lines.count() + l]);
  std::vector<std::vector<std::pair<std::size_t, double>>> across;
  for (std::size_t l = 0; l < lines.count(); ++l)
    across.push_back(lines.shares(l, reach));
  for (std::size_t i = 0; i < of_plate.size(); ++i) {
    Values sum;
    for (const auto& [other, share] : across[lines.of(i)])
      add_times(share, along[rows.of(i) * lines.count() + other], sum);
    PlateSample& mean = result[of_plate[i]];
    mean.temperature = sum.temperature / sum.count;
    mean.mean = sum.mean / sum.count;
    mean.slope = sum.slope / sum.count;
  }
}

} // namespace

std::vector<PlateSample> average_over_patches(const std::vector<PlateSample>& columns, double reach)
{
  std::map<int, std::vector<int>> plates;
  for (std::size_t i = 0; i < columns.size(); ++i)
    plates[columns[i].plate].push_back(static_cast<int>(i));
  std::vector<PlateSample> result = columns;
  for (const auto& [plate, of_plate] : plates)
    put_means(columns, of_plate, reach, result);
  return result;
}

} // namespace hangtrue::strength
