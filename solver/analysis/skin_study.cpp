#include "solver/analysis/skin_study.hpp"

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/skin_buckling.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/door_system.hpp"

#include <array>
#include <utility>

namespace hangtrue
{

namespace
{

const char* hold_name(SkinHold kind)
{
  switch (kind) {
  case SkinHold::welded:
    return "welded";
  case SkinHold::stitched:
    return "stitched";
  case SkinHold::floating:
    return "floating";
  case SkinHold::split:
    return "split";
  }
  return "";
}

NodeField free_moves(const Door& door, const BodyMesh& body, const ElasticityOf& of,
                     const std::vector<double>& strain)
{
  FactoredBodies kept;
  const JoinedBody elastic(body, of, {}, {}, kept);
  LoadedBody loaded;
  loaded.mesh = &body;
  loaded.elastic = &elastic;
  loaded.load.assign(body.nodes.size(), {});
  loaded.load_move = loaded.load;
  loaded.heat = free_strain_forces(body, of, strain);
  loaded.heat_move = elastic.solve(loaded.heat);
  std::vector<ContactPoint> points;
  add_skin_points(door, body, points);
  if (points.empty())
    return loaded.heat_move;
  const HingeContact contact = solve_hinges({loaded}, {}, points, {});
  return body_moves(loaded, door_body, {}, points, contact.state, {});
}

} // namespace

SkinWay hot_panel(const Door& door, int level)
{
  const BodyMesh body = loft_panel(door, fineness(door, level));
  const bool measured = door.fire.measured.given;
  const double time = measured ? 0.0 : hottest_time(door.fire);
  const double guess = measured ? door.fire.measured.inner : gas_at(door.fire, time);
  const Temperatures heat =
      HeatSolver(door_heat_problem(door, body)).steady(time, 0.5 * (door.fire.ambient + guess));
  SkinWay made;
  made.name = hold_name(door.inner_hold.kind);
  if (door.strip.thickness > 0.0)
    made.name += ", with a strip";
  made.warmth = warmth_of(door, body, heat.at);
  const ElasticityOf of = elasticity_at(door, heat.at);
  const std::vector<double> strain = free_strains(door, heat.at, door.fire.ambient);
  const NodeField moves = free_moves(door, body, of, strain);
  const auto columns = plate_columns(door, {body, of, moves, strain, heat.at});
  made.bow = bow_readings(door, body, moves);
  made.plates = plate_uses(door, columns, body.cells.size()).worst;
  made.buckling = skin_buckling(door, columns);
  made.play = skin_play(body, moves);
  return made;
}

std::vector<SkinWay> skin_ways(const Door& door, int level,
                               const std::function<void(double share)>& told)
{
  constexpr double usual_strip = 6.35e-3; // m, 1/4 in
  BreakStrip strip = door.strip;
  if (!(strip.thickness > 0.0))
    strip.thickness = usual_strip;
  BreakStrip none = door.strip;
  none.thickness = 0.0;
  std::vector<SkinWay> ways;
  for (const BreakStrip& under : {none, strip})
    for (const SkinHold kind :
         {SkinHold::welded, SkinHold::stitched, SkinHold::floating, SkinHold::split}) {
      Door tried = door;
      tried.strip = under;
      tried.inner_hold.kind = kind;
      ways.push_back(hot_panel(tried, level));
      ways.back().own = kind == door.inner_hold.kind && under.thickness == door.strip.thickness;
      if (told)
        told(static_cast<double>(ways.size()) / 8.0);
    }
  return ways;
}

} // namespace hangtrue
