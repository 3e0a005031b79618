// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/section/cross_section.hpp"

#include "meshing/section/grid_planes.hpp"
#include "meshing/section/hinge_cross_section.hpp"
#include "meshing/section/quad9_mesh.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::section
{

namespace
{

// Points of a grid of rectangles, index i + across * j.
struct Grid {
  GridLines x;
  GridLines y;
  std::vector<int> points;

  [[nodiscard]] int at(std::size_t i, std::size_t j) const { return points[i + x.size() * j]; }
};

// Rectangles with a predicate for which of them exist; points are created for all.
template <typename Present>
Grid draw_grid(const GridLines& x, const GridLines& y, const Present& part_at, Section& section,
               PlaneDrawing& drawing)
{
  Grid grid{x, y, {}};
  for (const double v : y)
    for (const double u : x)
      grid.points.push_back(drawing.point(u, v));
  for (std::size_t j = 0; j + 1 < y.size(); ++j)
    for (std::size_t i = 0; i + 1 < x.size(); ++i) {
      const PlanePoint middle{0.5 * (x[i] + x[i + 1]), 0.5 * (y[j] + y[j + 1])};
      SectionPatch patch;
      if (!part_at(middle, patch))
        continue;
      patch.middle = middle;
      section.patches.push_back(patch);
      drawing.patch({grid.at(i, j), grid.at(i + 1, j), grid.at(i + 1, j + 1), grid.at(i, j + 1)},
                    static_cast<int>(section.patches.size()) - 1);
    }
  return grid;
}

// Nodes of patches of one foot that lie on the face, paired with the face's own nodes there.
void pair_feet(Section& section, double face)
{
  constexpr double same_place = 1e-7; // m
  struct OnFace {
    double x;
    int node;
  };
  std::vector<OnFace> face_nodes;
  std::vector<char> seen(section.mesh.nodes.size(), 0);
  auto each_on_face = [&](auto wanted, auto found) {
    std::fill(seen.begin(), seen.end(), 0);
    for (const auto& quad : section.mesh.quads)
      if (wanted(section.patches[quad.label]))
        for (const int n : quad.node)
          if (!seen[n] && std::abs(section.mesh.nodes[n].y - face) < same_place) {
            seen[n] = 1;
            found(n, section.patches[quad.label]);
          }
  };
  const auto is_body = [](const SectionPatch& p) { return p.panel || p.part == mesh::Part::jamb; };
  const auto is_foot = [](const SectionPatch& p) {
    return p.part == mesh::Part::land || p.part == mesh::Part::lug;
  };
  each_on_face([&](const SectionPatch& p) { return is_body(p); },
               [&](int n, const SectionPatch&) {
                 face_nodes.push_back({section.mesh.nodes[n].x, n});
               });
  each_on_face([&](const SectionPatch& p) { return !p.panel && is_foot(p); },
               [&](int n, const SectionPatch& p) {
                 for (const auto& f : face_nodes)
                   if (std::abs(f.x - section.mesh.nodes[n].x) < same_place)
                     section.feet.push_back({n, f.node, p.hinge});
               });
}

GridLines foot_boundaries(const GridLines& from_edge, double width)
{
  GridLines foot;
  for (const double u : from_edge)
    if (u < width + 1e-9)
      foot.push_back(u);
  return foot;
}

} // namespace

Section door_section(const door::Door& door, const door::MeshDensity& fine)
{
  Section section;
  PlaneDrawing drawing;
  const GridLines x = across_panel(door, fine);
  draw_grid(
      x, through_panel(door, fine),
      [](const PlanePoint&, SectionPatch& patch) { return patch.panel = true; }, section, drawing);
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const double width = snapped(x, door.hinges[h].leaf.width);
    draw_half(door, {static_cast<int>(h), 1.0, 0.0, foot_boundaries(x, width)}, fine, false,
              section, drawing);
  }
  section.mesh = mesh_plane(drawing);
  pair_feet(section, door::depth(door));
  return section;
}

Section frame_section(const door::Door& door, const door::MeshDensity& fine)
{
  Section section;
  PlaneDrawing drawing;
  const door::Jamb& jamb = door.jamb;
  const double face = door::depth(door);
  const GridLines from_edge = over_jamb(door, across_panel(door, fine), fine);
  GridLines x;
  for (const double u : from_edge)
    x.push_back(-door.reveal - u);
  std::reverse(x.begin(), x.end());
  GridLines y{face - jamb.thickness, face};
  if (jamb.backing == door::JambBacking::flange)
    y.insert(y.begin(), face - jamb.thickness - jamb.flange_depth);
  draw_grid(
      x, divided(y, panel_cells(fine)),
      [&](const PlanePoint& p, SectionPatch& patch) {
        patch.part = mesh::Part::jamb;
        return p.y > face - jamb.thickness || p.x > -door.reveal - jamb.thickness;
      },
      section, drawing);
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const door::Hinge& hinge = door.hinges[h];
    const double width = snapped(from_edge, hinge.leaf.width);
    draw_half(door, {static_cast<int>(h), -1.0, -door.reveal, foot_boundaries(from_edge, width)},
              fine, hinge.fixity == door::PinFixity::fixed, section, drawing);
  }
  section.mesh = mesh_plane(drawing);
  pair_feet(section, face);
  return section;
}

Section pin_section(const door::Door& door, int hinge, const door::MeshDensity& fine)
{
  Section section;
  PlaneDrawing drawing;
  const GridLines x = across_panel(door, fine);
  const double width = snapped(x, door.hinges[hinge].leaf.width);
  draw_pin(door, {hinge, 1.0, 0.0, foot_boundaries(x, width)}, fine, section, drawing);
  section.mesh = mesh_plane(drawing);
  return section;
}

} // namespace hangtrue::section
