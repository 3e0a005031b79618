#include "solver/door_heat.hpp"

#include "meshing/errors.hpp"
#include "solver/cell_shapes.hpp"
#include "solver/insulation.hpp"
#include "solver/steel.hpp"
#include "solver/surface_heat.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

namespace hangtrue
{

namespace
{

// Stored heat of steel by adding up the specific heat in steps of 1 K, so that heat in and heat
// stored agree exactly; linear between.
class SteelHeat
{
public:
  explicit SteelHeat(double density) : density_(density)
  {
    stored_.push_back(0.0);
    for (int t = coldest; t < hottest; ++t)
      stored_.push_back(stored_.back() + density_ * specific_heat(t + 0.5));
  }
  [[nodiscard]] double enthalpy(double t) const
  {
    const int i = row(t);
    return stored_[i] + (t - coldest - i) * (stored_[i + 1] - stored_[i]);
  }
  [[nodiscard]] double capacity(double t) const
  {
    const int i = row(t);
    return stored_[i + 1] - stored_[i];
  }

private:
  static constexpr int coldest = -50;
  static constexpr int hottest = 1200;
  double density_;
  std::vector<double> stored_;

  [[nodiscard]] int row(double t) const
  {
    if (!(t < hottest_steel))
      throw ComputeError(
          "heat: steel gets hotter than 1200 degC, where its tables end; lower the fire or "
          "shield the door");
    return std::clamp(static_cast<int>(std::floor(t)) - coldest, 0, hottest - coldest - 1);
  }
};

HeatMaterial steel_for_heat(const Door& door)
{
  const auto heat = std::make_shared<SteelHeat>(door.steel.density);
  return {[](double t) { return conductivity(std::clamp(t, -50.0, hottest_steel)); },
          [heat](double t) { return heat->enthalpy(t); },
          [heat](double t) { return heat->capacity(t); }};
}

HeatMaterial constant_storage(std::function<double(double)> conductivity, double rho_c)
{
  return {std::move(conductivity), [rho_c](double t) { return rho_c * t; },
          [rho_c](double) { return rho_c; }};
}

bool on_fire_side(const Door& door, const Vec3& place)
{
  const double inset = door.fire.gasket_inset;
  return place.y < 1e-7 && place.x > inset && place.x < door.panel.width - inset &&
         place.z > inset && place.z < door.panel.height - inset;
}

} // namespace

double gas_at(const Fire& fire, double time)
{
  const auto& s = fire.schedule;
  if (time <= s.front().time)
    return s.front().gas;
  for (std::size_t i = 0; i + 1 < s.size(); ++i)
    if (time <= s[i + 1].time)
      return s[i].gas +
             (s[i + 1].gas - s[i].gas) * (time - s[i].time) / (s[i + 1].time - s[i].time);
  return s.back().gas;
}

HeatProblem door_heat_problem(const Door& door, const BodyMesh& body)
{
  const InsulationTable& table = insulation_table(door.insulation.kind);
  const double across = door.rim.depth - 2.0 * door.rim.wall;
  constexpr double air = 1.2 * 1006.0; // J/(m^3 K)
  HeatProblem problem;
  problem.mesh = &body;
  problem.conducts = [](const Hex&) { return true; };
  problem.materials = {
      steel_for_heat(door),
      constant_storage([&table](double t) { return conductivity_of(table, t); },
                       std::max(air, door.insulation.density * table.specific_heat)),
      constant_storage([across](double t) { return hollow_conductivity(t, across, 0.8); }, air)};
  problem.material_of = [](const Hex& cell) {
    if (cell.part == Part::insulation)
      return 1;
    return cell.part == Part::hollow ? 2 : 0;
  };
  problem.faces =
      outer_faces(body, problem.conducts, [&door](const Hex&, const Vec3& middle, const Vec3&) {
        return on_fire_side(door, middle) ? fire_side : room_side;
      });
  const Fire fire = door.fire;
  const double height = door.panel.height;
  problem.flux = [fire, height](int kind, const Vec3&, double t, double time) {
    if (kind == fire_side)
      return exchange(t, gas_at(fire, time), fire.film, fire.emissivity_inside);
    return exchange(t, fire.ambient, natural_film(t, fire.ambient, height),
                    fire.emissivity_outside);
  };
  return problem;
}

SkinMeans skin_means(const BodyMesh& body, const std::vector<double>& at)
{
  double inner = 0.0;
  double outer = 0.0;
  double inner_volume = 0.0;
  double outer_volume = 0.0;
  visit_cells(
      body, [](const Hex& c) { return c.part == Part::inner_skin || c.part == Part::outer_skin; },
      [&](const Hex& cell, const CellShape& shape) {
        for (int q = 0; q < 27; ++q)
          for (int n = 0; n < 27; ++n) {
            const double v = shape.volume[q] * shape.value[q][n];
            (cell.part == Part::inner_skin ? inner : outer) += v * at[cell.node[n]];
            (cell.part == Part::inner_skin ? inner_volume : outer_volume) += v;
          }
      });
  return {inner / inner_volume, outer / outer_volume};
}

double hand_bow(const Door& door, const SkinMeans& means)
{
  const double apart = depth(door) - 0.5 * (door.panel.inner_skin + door.panel.outer_skin);
  const double w = door.panel.width;
  const double h = door.panel.height;
  return (elongation(means.inner) - elongation(means.outer)) * (w * w + h * h) / (8.0 * apart);
}

WarmUp warm_up(const Door& door, const BodyMesh& body,
               const std::function<void(double share)>& told)
{
  const HeatSolver solver(door_heat_problem(door, body));
  const auto& schedule = door.fire.schedule;
  const double end = schedule.back().time;
  WarmUp made;
  made.steady = solver.steady(end, 0.5 * (door.fire.ambient + schedule.back().gas));
  std::vector<double> breaks;
  for (const auto& point : schedule)
    breaks.push_back(point.time);
  const std::vector<double> start(body.nodes.size(), door.fire.ambient);
  constexpr double tolerance = 2.0; // K a step: a hundredth of what moves a door visibly
  solver.transient(start, schedule.front().time, end, tolerance, breaks,
                   [&](double time, const Temperatures& t) {
                     WarmInstant instant;
                     instant.time = time;
                     instant.gas = gas_at(door.fire, time);
                     instant.means = skin_means(body, t.at);
                     instant.hand = hand_bow(door, instant.means);
                     instant.iterations = t.iterations;
                     instant.at = t.at;
                     made.largest_imbalance = std::max(made.largest_imbalance, t.imbalance);
                     made.instants.push_back(std::move(instant));
                     if (told)
                       told(time / end);
                   });
  return made;
}

} // namespace hangtrue
