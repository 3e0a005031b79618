// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/qoi/corner_displacements.hpp"

#include "solver/elasticity/nodal_loads.hpp"
#include "solver/qoi/goal_functionals.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue::qoi
{

const char* corner_label(DoorCorner corner)
{
  switch (corner) {
  case DoorCorner::lower_latch:
    return "lower latch";
  case DoorCorner::upper_latch:
    return "upper latch";
  case DoorCorner::lower_hinge:
    return "lower hinge";
  case DoorCorner::upper_hinge:
    return "upper hinge";
  }
  return "";
}

std::vector<CornerDisplacement> corner_displacements(const door::Door& door, const mesh::Mesh& mesh,
                                                     const elasticity::NodeField& displacements)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  const double d = mesh.depth;
  const std::vector<std::pair<DoorCorner, Vec3>> corners{{DoorCorner::lower_latch, {w, d, 0.0}},
                                                         {DoorCorner::upper_latch, {w, d, h}},
                                                         {DoorCorner::lower_hinge, {0.0, d, 0.0}},
                                                         {DoorCorner::upper_hinge, {0.0, d, h}}};
  std::vector<CornerDisplacement> result;
  for (const auto& [corner, place] : corners)
    result.push_back({corner, displacements[nearest_node(mesh.door, place)]});
  return result;
}

void remove_free_swing(const door::Door& door, const mesh::Mesh& mesh,
                       elasticity::NodeField& displacements)
{
  const auto corners = corner_displacements(door, mesh, displacements);
  const door::AxisPosition axis = door::pin_axis(door, door.hinges.front());
  const double angle = -0.5 * (corners[0].move.y + corners[1].move.y) / (door.panel.width - axis.x);
  for (std::size_t n = 0; n < displacements.size(); ++n) {
    const Vec3 r = mesh.door.nodes[n] - Vec3{axis.x, axis.y, 0.0};
    displacements[n] += angle * Vec3{-r.y, r.x, 0.0};
  }
}

std::size_t lowest_corner(double lower, double upper)
{
  return lower >= upper ? 0 : 1;
}

double greatest_drop(const door::Door& door, const std::vector<CornerDisplacement>& corners)
{
  const Vec3 down = elasticity::gravity_direction(door);
  return std::max(dot(down, corners[0].move), dot(down, corners[1].move));
}

double lean_of(const std::vector<CornerDisplacement>& corners)
{
  return corners[1].move.x - corners[0].move.x;
}

} // namespace hangtrue::qoi
