// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/skin_buckling.hpp"

#include "solver/strength/plate_stress_average.hpp"

#include "meshing/common/errors.hpp"
#include "solver/material/steel_properties.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <utility>

namespace hangtrue::strength
{

namespace
{

constexpr double same_place = 1e-6;  // m, grid lines that differ by rounding alone
constexpr double made_one = 2e-4;    // m, nominal positions that the mesh merges
constexpr double thick_field = 10.0; // thicknesses

// What lies between two neighbours of rim, stiffeners and cut.
struct Gap {
  double from = 0.0; // m
  double to = 0.0;
  bool free_from = false;
  bool free_to = false;
};

std::vector<Gap> gaps_between_steel(const door::Door& door, door::StiffenerRun run)
{
  const double length = run == door::StiffenerRun::along ? door.panel.width : door.panel.height;
  std::vector<std::pair<double, double>> steel{{0.0, door.rim.width},
                                               {length - door.rim.width, length}};
  for (const auto& s : door.stiffeners)
    if (s.run == run)
      steel.emplace_back(s.position - 0.5 * s.width, s.position + 0.5 * s.width);
  std::sort(steel.begin(), steel.end());
  std::vector<Gap> gaps;
  for (std::size_t i = 0; i + 1 < steel.size(); ++i)
    if (steel[i + 1].first > steel[i].second)
      gaps.push_back({steel[i].second, steel[i + 1].first});
  return gaps;
}

// A cut between the steel parts separates its gap and leaves both edges free.
std::vector<Gap> cut_in_two(const std::vector<Gap>& gaps, double cut)
{
  std::vector<Gap> parted;
  for (const auto& gap : gaps) {
    if (cut < gap.from + made_one || cut > gap.to - made_one) {
      parted.push_back(gap);
      continue;
    }
    parted.push_back({gap.from, cut, gap.free_from, true});
    parted.push_back({cut, gap.to, true, gap.free_to});
  }
  return parted;
}

// A skin on the grid of its columns.
class SkinGrid
{
public:
  SkinGrid(const door::Door& door, mesh::Part skin, const std::vector<PlateSample>& columns)
  {
    std::vector<const PlateSample*> own;
    for (const auto& column : columns)
      if (column.part == skin) {
        own.push_back(&column);
        z_.push_back(column.low[0]);
        z_.push_back(column.high[0]);
        x_.push_back(column.low[1]);
        x_.push_back(column.high[1]);
      }
    sort_lines(x_);
    sort_lines(z_);
    if (own.empty())
      return;
    pieces_.resize((x_.size() - 1) * (z_.size() - 1));
    volume_.resize(pieces_.size());
    for (const PlateSample* column : own)
      add(door.steel, *column);
  }

  // The part between two gaps; empty without an interval in both.
  [[nodiscard]] PlateField between(const Gap& x, const Gap& z) const
  {
    const auto [x_from, x_to] = lines_within(x_, x);
    const auto [z_from, z_to] = lines_within(z_, z);
    PlateField field;
    if (x_from + 1 >= x_to || z_from + 1 >= z_to)
      return field;
    field.x.assign(x_.begin() + x_from, x_.begin() + x_to);
    field.z.assign(z_.begin() + z_from, z_.begin() + z_to);
    for (auto j = z_from; j + 1 < z_to; ++j)
      for (auto i = x_from; i + 1 < x_to; ++i)
        field.pieces.push_back(
            mean_of(static_cast<std::size_t>(i) + static_cast<std::size_t>(j) * (x_.size() - 1)));
    return field;
  }

private:
  static void sort_lines(std::vector<double>& lines)
  {
    std::sort(lines.begin(), lines.end());
    lines.erase(std::unique(lines.begin(), lines.end(),
                            [](double a, double b) { return b - a < same_place; }),
                lines.end());
  }

  static std::size_t interval(const std::vector<double>& lines, double place)
  {
    const auto above = std::upper_bound(lines.begin() + 1, lines.end() - 1, place);
    return static_cast<std::size_t>(above - lines.begin()) - 1;
  }

  // First line and one past the last of what lies within a gap.
  static std::pair<std::ptrdiff_t, std::ptrdiff_t> lines_within(const std::vector<double>& lines,
                                                                const Gap& gap)
  {
    const auto from = std::lower_bound(lines.begin(), lines.end(), gap.from - made_one);
    const auto to = std::upper_bound(lines.begin(), lines.end(), gap.to + made_one);
    return {from - lines.begin(), to - lines.begin()};
  }

  void add(const door::Steel& steel, const PlateSample& column)
  {
    const std::size_t index =
        interval(x_, column.middle.x) + interval(z_, column.middle.z) * (x_.size() - 1);
    const double t = column.thickness;
    const double modulus =
        steel.youngs_modulus * material::reduction(steel, column.temperature).modulus;
    PlateCell& cell = pieces_[index];
    cell.stiffness +=
        column.volume * modulus * t * t * t / (12.0 * (1.0 - steel.poisson * steel.poisson));
    cell.n_x += column.volume * t * column.mean[0][0];
    cell.n_z += column.volume * t * column.mean[2][2];
    cell.n_xz += column.volume * t * column.mean[0][2];
    volume_[index] += column.volume;
  }

  [[nodiscard]] PlateCell mean_of(std::size_t index) const
  {
    if (!(volume_[index] > 0.0))
      throw ComputeError(
          "the buckling of a skin was not computed: its stress is not known all over "
          "a field; try another mesh level");
    const PlateCell& sum = pieces_[index];
    return {sum.stiffness / volume_[index], sum.n_x / volume_[index], sum.n_z / volume_[index],
            sum.n_xz / volume_[index]};
  }

  std::vector<double> x_; // m
  std::vector<double> z_;
  std::vector<PlateCell> pieces_; // times volume
  std::vector<double> volume_;    // m^3
};

double thickness_of(const door::Door& door, mesh::Part skin)
{
  return skin == mesh::Part::inner_skin ? door.panel.inner_skin : door.panel.outer_skin;
}

double width_of(const PlateField& field)
{
  return field.x.back() - field.x.front();
}

double height_of(const PlateField& field)
{
  return field.z.back() - field.z.front();
}

// Why the theory does not hold for the inner skin; empty where it does.
std::string out_of_range(const door::Door& door)
{
  if (door.inner_hold.kind == door::SkinRelease::stitched ||
      door.inner_hold.kind == door::SkinRelease::floating)
    return "it is not welded all round: rim and stiffeners support it from one side only, and it "
           "can lift off them";
  return "";
}

// A strip is compliant; edges count as supported where it is fifty times as stiff as the plate is
// against a half wave over the field, pi^4 D / b^3 per length and displacement (2 % of the plate's
// own).
bool strip_holds(const door::Door& door, const PlateField& field)
{
  if (!(door.strip.thickness > 0.0))
    return true;
  double narrowest = door.rim.width;
  for (const auto& s : door.stiffeners)
    narrowest = std::min(narrowest, s.width);
  double stiffest = 0.0;
  for (const auto& cell : field.pieces)
    stiffest = std::max(stiffest, cell.stiffness);
  const double b = std::min(width_of(field), height_of(field));
  const double strip = door.strip.youngs_modulus * narrowest / door.strip.thickness;
  return strip * b * b * b > 50.0 * std::pow(std::numbers::pi, 4.0) * stiffest;
}

FieldEdges edges_of(const SkinField& field, EdgeSupport hold)
{
  return {field.free_low ? EdgeSupport::free : hold, field.free_high ? EdgeSupport::free : hold,
          hold, hold};
}

FieldBuckling reported(const SkinField& field, const BucklingMode& mode, double thickness, double y)
{
  FieldBuckling result;
  result.utilisation = mode.inverse_factor;
  result.crest = {mode.crest_x, y, mode.crest_z};
  result.waves_across = mode.waves_x;
  result.waves_along = mode.waves_z;
  result.stress = mode.compression / thickness;
  result.width = width_of(field.plate);
  result.height = height_of(field.plate);
  return result;
}

// Fields that cannot be the worst are left out: by their bound, from the greatest on.
FieldBuckling worst_field(std::vector<SkinField> fields, EdgeSupport hold, double thickness,
                          double y, std::string& not_judged)
{
  const auto bound = [&](const SkinField& f) {
    return greatest_inverse_factor(f.plate, edges_of(f, hold));
  };
  std::stable_sort(fields.begin(), fields.end(),
                   [&](const SkinField& a, const SkinField& b) { return bound(a) > bound(b); });
  constexpr double equal = 1e-6; // of equal fields the first, whatever rounding made of them
  FieldBuckling worst;
  for (const auto& field : fields) {
    if (bound(field) <= worst.utilisation)
      break;
    const BucklingMode mode = buckling_mode(field.plate, edges_of(field, hold));
    if (!mode.settled)
      not_judged = "a field is too long for its width to be computed";
    if (mode.inverse_factor > (1.0 + equal) * worst.utilisation)
      worst = reported(field, mode, thickness, y);
  }
  return worst;
}

} // namespace

std::vector<SkinField> skin_fields(const door::Door& door, mesh::Part skin,
                                   const std::vector<PlateSample>& columns)
{
  std::vector<Gap> over_x = gaps_between_steel(door, door::StiffenerRun::along);
  if (skin == mesh::Part::inner_skin && door.inner_hold.kind == door::SkinRelease::split)
    over_x = cut_in_two(over_x, door.inner_hold.split_at);
  const SkinGrid grid(door, skin, columns);
  std::vector<SkinField> fields;
  for (const auto& x : over_x)
    for (const auto& z : gaps_between_steel(door, door::StiffenerRun::across)) {
      if (std::min(x.to - x.from, z.to - z.from) < thick_field * thickness_of(door, skin))
        continue;
      SkinField field{grid.between(x, z), x.free_from, x.free_to};
      field.plate.poisson = door.steel.poisson;
      if (!field.plate.pieces.empty())
        fields.push_back(std::move(field));
    }
  return fields;
}

std::vector<SkinBuckling> skin_buckling(const door::Door& door,
                                        const std::vector<PlateSample>& columns)
{
  std::vector<SkinBuckling> skins;
  for (const mesh::Part skin : {mesh::Part::inner_skin, mesh::Part::outer_skin}) {
    const bool inner = skin == mesh::Part::inner_skin;
    SkinBuckling result;
    result.skin = skin;
    if (inner)
      result.no_verdict = out_of_range(door);
    const double t = thickness_of(door, skin);
    const double y = inner ? 0.5 * t : door::depth(door) - 0.5 * t;
    if (result.no_verdict.empty()) {
      const auto fields = skin_fields(door, skin, columns);
      if (inner && !std::all_of(fields.begin(), fields.end(),
                                [&](const SkinField& f) { return strip_holds(door, f.plate); }))
        result.no_verdict = "the break strip is too soft to hold its edges";
      else {
        result.supported = worst_field(fields, EdgeSupport::supported, t, y, result.no_verdict);
        result.clamped = worst_field(fields, EdgeSupport::clamped, t, y, result.no_verdict);
      }
    }
    skins.push_back(std::move(result));
  }
  return skins;
}

} // namespace hangtrue::strength
