// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/skin_study.hpp"

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/plate_stress_average.hpp"
#include "solver/strength/skin_buckling.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/door_system.hpp"

#include <array>
#include <utility>

namespace hangtrue::analysis
{

namespace
{

const char* hold_name(door::SkinRelease kind)
{
  switch (kind) {
  case door::SkinRelease::welded:
    return "welded";
  case door::SkinRelease::stitched:
    return "stitched";
  case door::SkinRelease::floating:
    return "floating";
  case door::SkinRelease::split:
    return "split";
  }
  return "";
}

elasticity::NodeField solve_free_body(const door::Door& door, const fe::Discretization& space,
                                      const elasticity::CellElasticity& cell_elasticity,
                                      const std::vector<double>& strain)
{
  const mesh::BodyMesh& body = space.body();
  substructuring::FactorizationCache cache;
  const substructuring::SubstructuredBody elastic(body, cell_elasticity, {}, {}, cache);
  contact::BodyResponse loaded;
  loaded.mesh = &body;
  loaded.elastic = &elastic;
  loaded.load.assign(body.nodes.size(), {});
  loaded.load_displacement = loaded.load;
  loaded.thermal_load = elasticity::free_strain_forces(space, cell_elasticity, strain);
  loaded.thermal_displacement = elastic.solve(loaded.thermal_load);
  std::vector<contact::ContactPair> pairs;
  contact::add_skin_pairs(door, body, pairs);
  if (pairs.empty())
    return loaded.thermal_displacement;
  const contact::ContactResult contact = contact::solve_contact({loaded}, {}, pairs, {});
  return contact::body_displacements(loaded, contact::door_body, {}, pairs, contact.state, {});
}

} // namespace

SkinVariant hot_panel(const door::Door& door, int level)
{
  const fe::Discretization space(sweep::make_panel_mesh(door, door::mesh_density(door, level)));
  const mesh::BodyMesh& body = space.body();
  const bool measured = door.fire.measured.given;
  const double time = measured ? 0.0 : heat::hottest_time(door.fire);
  const double guess = measured ? door.fire.measured.inner : heat::gas_at(door.fire, time);
  const heat::TemperatureField heat = heat::HeatSolver(heat::door_heat_problem(door, space))
                                          .steady(time, 0.5 * (door.fire.ambient + guess));
  SkinVariant result;
  result.name = hold_name(door.inner_hold.kind);
  if (door.strip.thickness > 0.0)
    result.name += ", with a strip";
  result.temperatures = firing::temperature_summary(door, space, heat.value);
  const elasticity::CellElasticity cell_elasticity = system::elasticity_at(door, heat.value);
  const std::vector<double> strain = system::free_strains(door, heat.value, door.fire.ambient);
  const elasticity::NodeField displacements = solve_free_body(door, space, cell_elasticity, strain);
  const auto columns =
      strength::plate_samples(door, {space, cell_elasticity, displacements, strain, heat.value});
  result.bow = qoi::bow_readings(door, body, displacements);
  result.plates = strength::plate_utilisations(door, columns, body.cells.size()).worst;
  result.buckling = strength::skin_buckling(door, columns);
  result.slip = contact::skin_slip(body, displacements);
  return result;
}

std::vector<SkinVariant> skin_variants(const door::Door& door, int level,
                                       const std::function<void(double share)>& report)
{
  constexpr double usual_strip = 6.35e-3; // m, 1/4 in
  door::BreakStrip strip = door.strip;
  if (!(strip.thickness > 0.0))
    strip.thickness = usual_strip;
  door::BreakStrip none = door.strip;
  none.thickness = 0.0;
  std::vector<SkinVariant> ways;
  for (const door::BreakStrip& under : {none, strip})
    for (const door::SkinRelease kind : {door::SkinRelease::welded, door::SkinRelease::stitched,
                                         door::SkinRelease::floating, door::SkinRelease::split}) {
      door::Door tried = door;
      tried.strip = under;
      tried.inner_hold.kind = kind;
      ways.push_back(hot_panel(tried, level));
      ways.back().is_own = kind == door.inner_hold.kind && under.thickness == door.strip.thickness;
      if (report)
        report(static_cast<double>(ways.size()) / 8.0);
    }
  return ways;
}

} // namespace hangtrue::analysis
