// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/door_heat_problem.hpp"

#include "meshing/common/errors.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/heat/frame_temperature.hpp"
#include "solver/heat/surface_flux.hpp"
#include "solver/material/insulation_properties.hpp"
#include "solver/material/steel_properties.hpp"

#include <deal.II/fe/fe_values.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <memory>
#include <optional>
#include <utility>

namespace hangtrue::heat
{

namespace
{

// Stored heat of steel by adding up the specific heat in steps of 1 K, so that heat in and heat
// stored agree exactly; linear between.
class SteelHeat
{
public:
  explicit SteelHeat(const door::Steel& steel) : last_(static_cast<int>(material::hottest(steel)))
  {
    stored_.push_back(0.0);
    for (int t = coldest; t < last_; ++t)
      stored_.push_back(stored_.back() + steel.density * material::specific_heat(steel, t + 0.5));
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
  int last_;
  std::vector<double> stored_;

  [[nodiscard]] int row(double t) const
  {
    if (!(t < last_))
      throw ComputeError(fmt::format("heat: steel gets hotter than {} degC, where its tables end; "
                                     "lower the fire or shield the door",
                                     last_));
    return std::clamp(static_cast<int>(std::floor(t)) - coldest, 0, last_ - coldest - 1);
  }
};

HeatMaterial steel_for_heat(const door::Door& door)
{
  const auto heat = std::make_shared<SteelHeat>(door.steel);
  const door::Steel steel = door.steel;
  return {[steel](double t) {
            return material::conductivity(steel, std::clamp(t, -50.0, material::hottest(steel)));
          },
          [heat](double t) { return heat->enthalpy(t); },
          [heat](double t) { return heat->capacity(t); }};
}

HeatMaterial constant_storage(std::function<double(double)> conductivity, double rho_c)
{
  return {std::move(conductivity), [rho_c](double t) { return rho_c * t; },
          [rho_c](double) { return rho_c; }};
}

bool on_fire_side(const door::Door& door, const Vec3& place)
{
  const double inset = door.fire.gasket_inset;
  return place.y < 1e-7 && place.x > inset && place.x < door.panel.width - inset &&
         place.z > inset && place.z < door.panel.height - inset;
}

// The part of the weight of each of three nodes by Simpson's rule from `from` to `to` that lies
// between `low` and `high`: the nodes own a sixth, two thirds and a sixth of the length.
std::array<double, 3> shares_between(double from, double to, double low, double high)
{
  const double sixth = (to - from) / 6.0;
  const std::array<double, 4> ends{from, from + sixth, to - sixth, to};
  std::array<double, 3> result{};
  for (int i = 0; i < 3; ++i)
    result[i] = std::clamp(
        (std::min(high, ends[i + 1]) - std::max(low, ends[i])) / (ends[i + 1] - ends[i]), 0.0, 1.0);
  return result;
}

// A face of the fire skin cut by the gasket line: the part inside of it, and the rest. Cells do not
// follow the line, and counting whole cells on either side would make the heated area, and so all
// temperatures, jump with the mesh.
void cut_at_gasket(const door::Door& door, const mesh::BodyMesh& body, const HeatFace& whole,
                   std::vector<HeatFace>& faces)
{
  const double inset = door.fire.gasket_inset;
  Vec3 minimum = body.nodes[whole.node[0]];
  Vec3 maximum = minimum;
  for (const int n : whole.node) {
    const Vec3& p = body.nodes[n];
    minimum = {std::min(minimum.x, p.x), 0.0, std::min(minimum.z, p.z)};
    maximum = {std::max(maximum.x, p.x), 0.0, std::max(maximum.z, p.z)};
  }
  const auto across = shares_between(minimum.x, maximum.x, inset, door.panel.width - inset);
  const auto along = shares_between(minimum.z, maximum.z, inset, door.panel.height - inset);
  HeatFace inside = whole;
  HeatFace outside = whole;
  inside.kind = fire_side;
  outside.kind = face_slot;
  double area_inside = 0.0;
  double area_outside = 0.0;
  for (int k = 0; k < 9; ++k) {
    const Vec3& p = body.nodes[whole.node[k]];
    const auto i = std::lround(2.0 * (p.x - minimum.x) / (maximum.x - minimum.x));
    const auto j = std::lround(2.0 * (p.z - minimum.z) / (maximum.z - minimum.z));
    const double share = across.at(i) * along.at(j);
    inside.area[k] = share * whole.area[k];
    outside.area[k] = (1.0 - share) * whole.area[k];
    area_inside += inside.area[k];
    area_outside += outside.area[k];
  }
  if (area_inside > 0.0)
    faces.push_back(inside);
  if (area_outside > 0.0)
    faces.push_back(outside);
}

// The inside of a knuckle, where its pin is.
bool in_bore(const door::Door& door, const mesh::Hex27& cell, const Vec3& middle,
             const Vec3& normal)
{
  if (cell.part != mesh::Part::ring)
    return false;
  const door::AxisPosition axis = door::pin_axis(door, door.hinges[cell.hinge]);
  const Vec3 away{middle.x - axis.x, middle.y - axis.y, 0.0};
  return dot(normal, away) < -0.5 * norm(away);
}

// The panel's edges, which face the sides of the opening; room_side for all else.
int edge_of(const door::Door& door, const mesh::Hex27& cell, const Vec3& middle, const Vec3& normal)
{
  constexpr double same = 1e-7; // m
  if (cell.hinge >= 0 || middle.y > door::depth(door))
    return room_side;
  if (normal.x < -0.9 && middle.x < same)
    return hinge_slot;
  if (normal.x > 0.9 && middle.x > door.panel.width - same)
    return latch_slot;
  if (normal.z < -0.9 && middle.z < same)
    return lower_slot;
  if (normal.z > 0.9 && middle.z > door.panel.height - same)
    return upper_slot;
  return room_side;
}

std::vector<HeatFace> faces_of(const door::Door& door, const fe::Discretization& space,
                               const std::function<bool(const mesh::Hex27&)>& conducts)
{
  std::vector<HeatFace> result;
  const auto all = outer_faces(
      space, conducts, [&](const mesh::Hex27& cell, const Vec3& middle, const Vec3& normal) -> int {
        if (in_bore(door, cell, middle, normal))
          return -1;
        return middle.y < 1e-7 && std::abs(normal.y) > 0.9 ? fire_side
                                                           : edge_of(door, cell, middle, normal);
      });
  for (const auto& face : all)
    if (face.kind == fire_side)
      cut_at_gasket(door, space.body(), face, result);
    else
      result.push_back(face);
  return result;
}

// Fraction of the schedule's excess over the ambient temperature that the gas has at a point.
double share_of_gas(const door::Fire& fire, double hottest_gas, const Vec3& p)
{
  const door::HotSpot& spot = fire.hot_spot;
  if (!(spot.gas > hottest_gas) || !(hottest_gas > fire.ambient))
    return 1.0;
  const double r = std::hypot(p.x - spot.x, p.z - spot.z) / spot.reach;
  return 1.0 + (spot.gas - hottest_gas) / (hottest_gas - fire.ambient) * std::exp(-r * r);
}

double hottest_gas(const door::Fire& fire)
{
  double maximum = fire.ambient;
  for (const auto& point : fire.schedule)
    maximum = std::max(maximum, point.gas);
  return maximum;
}

// Skins as measured: the fire side inside the gasket line, the outer skin between the rim tubes and
// over them.
std::vector<PrescribedTemperature> measured_nodes(const door::Door& door,
                                                  const mesh::BodyMesh& body)
{
  const door::MeasuredSkins measured = door.fire.measured;
  const double d = door::depth(door);
  std::vector<PrescribedTemperature> prescribed;
  auto keep = [&](int node, double t) { prescribed.push_back({node, [t](double) { return t; }}); };
  std::vector<char> skin(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    if (cell.part == mesh::Part::inner_skin || cell.part == mesh::Part::outer_skin)
      for (const int n : cell.node)
        skin[n] = 1;
  for (std::size_t n = 0; n < body.nodes.size(); ++n) {
    const Vec3& p = body.nodes[n];
    if (skin[n] == 0)
      continue;
    if (on_fire_side(door, p))
      keep(static_cast<int>(n), measured.inner);
    const double inwards = std::min({p.x, door.panel.width - p.x, p.z, door.panel.height - p.z});
    if (std::abs(p.y - d) < 1e-7)
      keep(static_cast<int>(n),
           inwards > door.rim.width ? measured.outer_middle : measured.outer_rim);
  }
  return prescribed;
}

HeatMaterial strip_for_heat(const door::BreakStrip& strip)
{
  constexpr double specific_heat = 1000.0; // J/(kg K), boards of silicate or mica, from memory
  const double k = strip.conductivity;
  return constant_storage([k](double) { return k; }, strip.density * specific_heat);
}

// Temperatures round the closed door, and the heat flux to a point of its surface.
struct Surroundings {
  door::Fire fire;
  FrameFace frame;
  double most;      // degC, hottest gas
  double height;    // m, of the upright door
  double depth;     // m
  double face_wide; // m, slot before the inner skin
  std::array<double, 4> edge_wide;
  std::optional<double> jamb; // degC

  explicit Surroundings(const door::Door& door)
      : fire(door.fire), frame(door), most(hottest_gas(door.fire)), height(vertical_height(door)),
        depth(hangtrue::door::depth(door)), face_wide(face_gap(door)), edge_wide(edge_gaps(door)),
        jamb(door.jamb.hot)
  {
  }

  [[nodiscard]] SurfaceFlux from_room(double t) const
  {
    return exchange(t, fire.ambient,
                    fire.outside_film * natural_convection_coefficient(t, fire.ambient, height),
                    fire.emissivity_outside);
  }

  [[nodiscard]] SurfaceFlux from_fire(const Vec3& place, double t, double time) const
  {
    if (fire.measured.given)
      return {};
    const double gas =
        fire.ambient + share_of_gas(fire, most, place) * (gas_at(fire, time) - fire.ambient);
    return exchange(t, gas, fire.film, fire.emissivity_inside);
  }

  // The given jamb is that of a hot frame: before, interpolated like the frame face.
  [[nodiscard]] double jamb_at(double face) const
  {
    const double hot = frame.settled() - fire.ambient;
    const double way =
        std::abs(hot) > 1.0 ? std::clamp((face - fire.ambient) / hot, 0.0, 1.0) : 1.0;
    return fire.ambient + way * (*jamb - fire.ambient);
  }

  // From the side of the opening, and near its mouth from the room.
  [[nodiscard]] SurfaceFlux from_side(int kind, const Vec3& place, double t, double face) const
  {
    const double wide = edge_wide[kind - hinge_slot];
    // From the frame face at the skin to the jamb at the outer face, where that is given.
    const double wall =
        jamb ? face + std::clamp(place.y / depth, 0.0, 1.0) * (jamb_at(face) - face) : face;
    const SurfaceFlux slot = slot_exchange(t, wall, wide, height, fire.emissivity_outside);
    const SurfaceFlux room = from_room(t);
    const double open = mouth_fraction(depth - place.y, wide);
    return {(1.0 - open) * slot.into + open * room.into,
            (1.0 - open) * slot.slope + open * room.slope};
  }

  [[nodiscard]] SurfaceFlux flux(int kind, const Vec3& place, double t, double time,
                                 double frame_face) const
  {
    if (kind == fire_side)
      return from_fire(place, t, time);
    if (kind == room_side)
      return from_room(t);
    const double face =
        fire.ambient + share_of_gas(fire, most, place) * (frame_face - fire.ambient);
    if (kind == face_slot)
      return slot_exchange(t, face, face_wide, height, fire.emissivity_outside);
    return from_side(kind, place, t, face);
  }
};

// Whether the frame face follows the fire in time, or is steady under it.
enum class FrameHeat { in_time, settled };

SurfaceFluxFunction door_flux(const door::Door& door, FrameHeat frame_heat)
{
  const auto around = std::make_shared<const Surroundings>(door);
  return [around, frame_heat](int kind, const Vec3& place, double t, double time) {
    const double face = kind < face_slot                   ? 0.0
                        : frame_heat == FrameHeat::settled ? around->frame.settled()
                                                           : around->frame.temperature_at(time);
    return around->flux(kind, place, t, time, face);
  };
}

} // namespace

HeatProblem door_heat_problem(const door::Door& door, const fe::Discretization& space)
{
  const material::InsulationTable table = material::insulation_of(door.insulation);
  const double across = door.rim.depth - 2.0 * door.rim.wall;
  constexpr double air = 1.2 * 1006.0; // J/(m^3 K)
  HeatProblem problem{space};
  problem.conducts = [](const mesh::Hex27&) { return true; };
  problem.materials = {
      steel_for_heat(door),
      constant_storage([table](double t) { return material::conductivity_of(table, t); },
                       std::max(air, door.insulation.density * table.specific_heat)),
      constant_storage([across](double t) { return hollow_conductivity(t, across, 0.8); }, air),
      strip_for_heat(door.strip)};
  problem.material_of = [](const mesh::Hex27& cell) {
    if (cell.part == mesh::Part::insulation)
      return 1;
    if (cell.part == mesh::Part::strip)
      return 3;
    return cell.part == mesh::Part::hollow ? 2 : 0;
  };
  problem.faces = faces_of(door, space, problem.conducts);
  if (door.fire.measured.given)
    problem.prescribed = measured_nodes(door, space.body());
  problem.flux = door_flux(door, FrameHeat::in_time);
  problem.steady_flux = door_flux(door, FrameHeat::settled);
  return problem;
}

HeatUncertainty heat_uncertainty(const door::Door& door, const HeatSolver& solver,
                                 const std::vector<double>& steady)
{
  constexpr double share = 0.02; // small against what makes radiation curve
  door::Door less_film = door;
  less_film.fire.outside_film *= 1.0 - share;
  door::Door hotter_frame = door;
  hotter_frame.fire.frame_excess *= 1.0 + share;
  const double time = door.fire.measured.given ? 0.0 : hottest_time(door.fire);
  auto by = solver.response(
      steady, time,
      {door_flux(less_film, FrameHeat::settled), door_flux(hotter_frame, FrameHeat::settled)});
  for (auto& field : by)
    for (double& t : field)
      t /= share;
  return {std::move(by[0]), std::move(by[1])};
}

SkinMeans skin_means(const fe::Discretization& space, const std::vector<double>& temperature)
{
  double inner = 0.0;
  double outer = 0.0;
  double inner_volume = 0.0;
  double outer_volume = 0.0;
  fe::visit_cells(
      space,
      [](const mesh::Hex27& c) {
        return c.part == mesh::Part::inner_skin || c.part == mesh::Part::outer_skin;
      },
      [&](const fe::CellValues& at) {
        const bool is_inner = at.cell.part == mesh::Part::inner_skin;
        const auto own = fe::values(at, temperature);
        for (unsigned q = 0; q < fe::quadrature_points; ++q) {
          (is_inner ? inner : outer) += at.fe.JxW(q) * own[q];
          (is_inner ? inner_volume : outer_volume) += at.fe.JxW(q);
        }
      });
  return {inner / inner_volume, outer / outer_volume};
}

double estimated_bow(const door::Door& door, const SkinMeans& means)
{
  const double apart = door::depth(door) - 0.5 * (door.panel.inner_skin + door.panel.outer_skin);
  const double w = door.panel.width;
  const double h = door.panel.height;
  const door::Steel& steel = door.steel;
  return (material::elongation(steel, means.inner) - material::elongation(steel, means.outer)) *
         (w * w + h * h) / (8.0 * apart);
}

HeatingHistory integrate_heating(const door::Door& door, const mesh::BodyMesh& body,
                                 const std::function<void(double share)>& report)
{
  const fe::Discretization space(body);
  const HeatSolver solver(door_heat_problem(door, space));
  const auto& schedule = door.fire.schedule;
  const double end = schedule.back().time;
  HeatingHistory result;
  const double hottest = hottest_time(door.fire);
  result.steady = solver.steady(hottest, 0.5 * (door.fire.ambient + gas_at(door.fire, hottest)));
  result.uncertainty = heat_uncertainty(door, solver, result.steady.value);
  std::vector<double> breaks;
  for (const auto& point : schedule)
    breaks.push_back(point.time);
  breaks.insert(breaks.end(), door.fire.instants.begin(), door.fire.instants.end());
  const std::vector<double> start(body.nodes.size(), door.fire.ambient);
  solver.transient(start, schedule.front().time, end, warm_up_tolerance, breaks,
                   [&](double time, const TemperatureField& t) {
                     HeatingStep instant;
                     instant.time = time;
                     instant.gas = gas_at(door.fire, time);
                     instant.means = skin_means(space, t.value);
                     instant.estimated_bow = estimated_bow(door, instant.means);
                     instant.iterations = t.iterations;
                     instant.temperature = t.value;
                     result.largest_imbalance = std::max(result.largest_imbalance, t.imbalance);
                     result.instants.push_back(std::move(instant));
                     if (report)
                       report(time / end);
                   });
  return result;
}

} // namespace hangtrue::heat
