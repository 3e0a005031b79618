#include "solver/plate_patches.hpp"

#include "solver/cell_shapes.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace hangtrue
{

namespace
{

bool is_plate(const Hex& cell)
{
  return cell.part == Part::inner_skin || cell.part == Part::outer_skin || cell.part == Part::rim;
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
std::optional<Plate> wall_of_rim(const Door& door, const Vec3& p)
{
  const double t = door.rim.wall;
  const double from_start = p.y - rim_start(door);
  const bool flange = std::min(from_start, door.rim.depth - from_start) < t;
  const double x = std::min(p.x, door.panel.width - p.x);
  const double z = std::min(p.z, door.panel.height - p.z);
  const double inwards = std::min(x, z);
  const bool web = inwards < t || inwards > door.rim.width - t;
  if (flange == web)
    return std::nullopt;
  if (flange) {
    const bool near = from_start < t;
    return Plate{near ? 2 : 3, 1, rim_start(door) + (near ? 0.5 * t : door.rim.depth - 0.5 * t), t};
  }
  const bool upright = x < z;
  const double length = upright ? door.panel.width : door.panel.height;
  const bool first = (upright ? p.x : p.z) < 0.5 * length;
  const bool inner = inwards > 0.5 * door.rim.width;
  const double in = inner ? door.rim.width - 0.5 * t : 0.5 * t;
  return Plate{4 + (upright ? 0 : 4) + (first ? 0 : 2) + (inner ? 1 : 0), upright ? 0 : 2,
               first ? in : length - in, t};
}

std::optional<Plate> plate_of(const Door& door, const BodyMesh& body, const Hex& cell)
{
  if (cell.part == Part::inner_skin)
    return Plate{0, 1, 0.5 * door.panel.inner_skin, door.panel.inner_skin};
  if (cell.part == Part::outer_skin)
    return Plate{1, 1, depth(door) - 0.5 * door.panel.outer_skin, door.panel.outer_skin};
  return wall_of_rim(door, body.nodes[cell.node[13]]);
}

// Sums over the points of a column; stress moments about the middle plane of the plate.
struct Sums {
  double volume = 0.0;
  double heat = 0.0;
  double off = 0.0;
  double off_off = 0.0;
  Stress stress{};
  Stress moment{};
};

// Adds the 27 points of a cell to its nine columns.
std::array<Sums, 9> sums_of(const WarmPlates& plates, const Hex& cell, const CellShape& shape,
                            const Plate& plate, const Vec3& middle,
                            const std::array<double, 2>& half)
{
  std::array<Sums, 9> sums;
  const Elasticity e = plates.of(cell);
  const auto stress = stresses(cell, shape, e, plates.moves);
  for (int q = 0; q < 27; ++q) {
    double strain = 0.0;
    double t = 0.0;
    Vec3 place;
    for (int n = 0; n < 27; ++n) {
      strain += shape.value[q][n] * plates.strain[cell.node[n]];
      t += shape.value[q][n] * plates.at[cell.node[n]];
      place += shape.value[q][n] * plates.body.nodes[cell.node[n]];
    }
    std::array<int, 2> slot{};
    for (int d = 0; d < 2; ++d) { // points lie at -0.775, 0 and 0.775 of the half
      const int axis = (plate.through + 1 + d) % 3;
      slot[d] = 1 + static_cast<int>(std::lround(component(place - middle, axis) / half[d]));
    }
    Sums& s = sums[slot[0] + 3 * slot[1]];
    const double w = shape.volume[q];
    const double off = component(place, plate.through) - plate.middle;
    s.volume += w;
    s.heat += w * t;
    s.off += w * off;
    s.off_off += w * off * off;
    for (int c = 0; c < 6; ++c) {
      const double here = stress[q][c] - (c < 3 ? (3.0 * e.lambda + 2.0 * e.mu) * strain : 0.0);
      s.stress[c] += w * here;
      s.moment[c] += w * off * here;
    }
  }
  return sums;
}

// Least squares of a line through the plate.
void fit(const Sums& s, PlateColumn& column)
{
  column.volume = s.volume;
  column.temperature = s.heat / s.volume;
  const double mean_off = s.off / s.volume;
  const double spread = s.off_off - s.off * mean_off;
  for (int c = 0; c < 6; ++c) {
    column.slope[c] = (s.moment[c] - mean_off * s.stress[c]) / spread;
    column.mean[c] = s.stress[c] / s.volume - column.slope[c] * mean_off;
  }
}

void add_columns(const WarmPlates& plates, const Hex& cell, const CellShape& shape,
                 const Plate& plate, std::vector<PlateColumn>& columns)
{
  const Vec3& first = plates.body.nodes[cell.node[0]];
  const Vec3& last = plates.body.nodes[cell.node[26]];
  const Vec3 middle = 0.5 * (first + last);
  std::array<int, 2> axis{};
  std::array<double, 2> half{};
  for (int d = 0; d < 2; ++d) {
    axis[d] = (plate.through + 1 + d) % 3;
    half[d] = 0.5 * std::abs(component(last - first, axis[d]));
  }
  const auto sums = sums_of(plates, cell, shape, plate, middle, half);
  // Each point stands for as much of the side as its weight: 5/18, 8/18, 5/18 (Gauss).
  constexpr std::array<double, 4> bounds{-1.0, -4.0 / 9.0, 4.0 / 9.0, 1.0};
  for (int slot = 0; slot < 9; ++slot) {
    PlateColumn made;
    made.part = cell.part;
    made.plate = plate.number;
    made.cell =
        static_cast<int>(&cell - plates.body.cells.data()); // the visitor gets the body's own
    made.thickness = plate.thickness;
    made.middle = middle;
    for (int d = 0; d < 2; ++d) {
      const int part = d == 0 ? slot % 3 : slot / 3;
      const double centre = component(middle, axis[d]);
      made.low[d] = centre + half[d] * bounds[part];
      made.high[d] = centre + half[d] * bounds[part + 1];
      (axis[d] == 0   ? made.middle.x
       : axis[d] == 1 ? made.middle.y
                      : made.middle.z) = 0.5 * (made.low[d] + made.high[d]);
    }
    fit(sums[slot], made);
    columns.push_back(made);
  }
}

} // namespace

std::vector<PlateColumn> plate_columns(const Door& door, const WarmPlates& plates)
{
  std::vector<PlateColumn> columns;
  visit_cells(plates.body, is_plate, [&](const Hex& cell, const CellShape& shape) {
    if (const auto plate = plate_of(door, plates.body, cell))
      add_columns(plates, cell, shape, *plate, columns);
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

std::array<double, 2> centre(const PlateColumn& column)
{
  return {0.5 * (column.low[0] + column.high[0]), 0.5 * (column.low[1] + column.high[1])};
}

// Share of a patch round `at` that a column fills.
double share(const PlateColumn& column, const std::array<double, 2>& at, double reach)
{
  double product = 1.0;
  for (int d = 0; d < 2; ++d)
    product *= weight_between((column.low[d] - at[d]) / reach, (column.high[d] - at[d]) / reach);
  return product;
}

using Square = std::array<int, 2>;

// Columns of one plate by the squares of a grid, of the size of the reach, that they cover.
class Grid
{
public:
  Grid(const std::vector<PlateColumn>& columns, const std::vector<int>& of_plate, double reach)
      : reach_(reach)
  {
    least_ = most_ = square(columns[of_plate.front()].low);
    for (const int i : of_plate) {
      const Square from = square(columns[i].low);
      const Square to = square(columns[i].high);
      for (int d = 0; d < 2; ++d) {
        least_[d] = std::min(least_[d], from[d]);
        most_[d] = std::max(most_[d], to[d]);
      }
    }
    squares_.resize(static_cast<std::size_t>(most_[0] - least_[0] + 1) *
                    static_cast<std::size_t>(most_[1] - least_[1] + 1));
    for (const int i : of_plate)
      visit(square(columns[i].low), square(columns[i].high),
            [i](std::vector<int>& here) { here.push_back(i); });
  }

  // Columns that a patch round a place may reach, each once.
  void near(const std::array<double, 2>& at, std::vector<int>& found)
  {
    found.clear();
    const Square middle = square(at);
    visit({middle[0] - 1, middle[1] - 1}, {middle[0] + 1, middle[1] + 1},
          [&found](const std::vector<int>& here) {
            found.insert(found.end(), here.begin(), here.end());
          });
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
  }

private:
  double reach_;
  Square least_{};
  Square most_{};
  std::vector<std::vector<int>> squares_;

  [[nodiscard]] Square square(const std::array<double, 2>& at) const
  {
    return {static_cast<int>(std::floor(at[0] / reach_)),
            static_cast<int>(std::floor(at[1] / reach_))};
  }

  template <typename Seen>
  void visit(const Square& from, const Square& to, const Seen& seen)
  {
    const int rows = most_[1] - least_[1] + 1;
    for (int u = std::max(from[0], least_[0]); u <= std::min(to[0], most_[0]); ++u)
      for (int v = std::max(from[1], least_[1]); v <= std::min(to[1], most_[1]); ++v)
        seen(squares_[static_cast<std::size_t>(u - least_[0]) * rows + (v - least_[1])]);
  }
};

// The columns of one plate, in `made` with means over their patches.
void put_means(const std::vector<PlateColumn>& columns, const std::vector<int>& of_plate,
               double reach, std::vector<PlateColumn>& made)
{
  Grid grid(columns, of_plate, reach);
  std::vector<int> near;
  for (const int i : of_plate) {
    PlateColumn& mean = made[i];
    mean.mean = {};
    mean.slope = {};
    mean.temperature = 0.0;
    double all = 0.0;
    const auto at = centre(columns[i]);
    grid.near(at, near);
    for (const int j : near) {
      const PlateColumn& part = columns[j];
      const double weight = share(part, at, reach);
      if (weight == 0.0)
        continue;
      all += weight;
      mean.temperature += weight * part.temperature;
      for (int c = 0; c < 6; ++c) {
        mean.mean[c] += weight * part.mean[c];
        mean.slope[c] += weight * part.slope[c];
      }
    }
    mean.temperature /= all;
    for (int c = 0; c < 6; ++c) {
      mean.mean[c] /= all;
      mean.slope[c] /= all;
    }
  }
}

} // namespace

std::vector<PlateColumn> over_patches(const std::vector<PlateColumn>& columns, double reach)
{
  std::map<int, std::vector<int>> plates;
  for (std::size_t i = 0; i < columns.size(); ++i)
    plates[columns[i].plate].push_back(static_cast<int>(i));
  std::vector<PlateColumn> made = columns;
  for (const auto& [plate, of_plate] : plates)
    put_means(columns, of_plate, reach, made);
  return made;
}

} // namespace hangtrue
