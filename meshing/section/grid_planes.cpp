// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/section/grid_planes.hpp"

#include "meshing/section/skin_welds.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::section
{

GridLines merged(const std::vector<double>& named_first_wins)
{
  GridLines places;
  for (const double p : named_first_wins) {
    const bool taken = std::any_of(places.begin(), places.end(),
                                   [p](double q) { return std::abs(p - q) < snap_distance; });
    if (!taken)
      places.push_back(p);
  }
  std::sort(places.begin(), places.end());
  return places;
}

int cell_count(double length, const CellSize& cell)
{
  const auto needed = [&](double greatest) {
    return std::max(cell.at_least, static_cast<int>(std::ceil(length / greatest - 1e-9)));
  };
  const int n = needed(cell.greatest);
  if (cell.finer <= 0.0 || cell.finer >= cell.greatest)
    return n;
  return std::min(n, std::max(cell.at_least, needed(cell.finer) - 1));
}

GridLines divided(const GridLines& places, const CellSize& cell)
{
  GridLines fine{places.front()};
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    const double length = places[i + 1] - places[i];
    const int n = cell_count(length, cell);
    for (int k = 1; k <= n; ++k)
      fine.push_back(k == n ? places[i + 1] : places[i] + length * k / n);
  }
  return fine;
}

CellSize panel_cells(const door::MeshDensity& fine, int at_least)
{
  return {fine.panel_cell, at_least, fine.finer_panel_cell};
}

namespace
{

void add_more(std::vector<double>& places, const std::vector<double>& more)
{
  places.insert(places.end(), more.begin(), more.end());
}

void add_rim(std::vector<double>& places, double size, const door::Rim& rim)
{
  for (const double p : {0.0, size, rim.wall, size - rim.wall, rim.width, size - rim.width,
                         rim.width - rim.wall, size - rim.width + rim.wall})
    places.push_back(p);
}

void add_stiffeners(std::vector<double>& places, const door::Door& door, door::StiffenerRun run)
{
  for (const auto& s : door.stiffeners) {
    if (s.run != run)
      continue;
    places.push_back(s.position - 0.5 * s.width);
    places.push_back(s.position + 0.5 * s.width);
    if (s.shape == door::StiffenerShape::tube) {
      places.push_back(s.position - 0.5 * s.width + s.wall);
      places.push_back(s.position + 0.5 * s.width - s.wall);
    }
  }
}

// Feet of leaves and lugs on the face, from the hinge edge. The foot of a lug is divided as finely
// as the sixth of a turn that it widens from.
void add_feet(std::vector<double>& places, const door::Door& door, const door::MeshDensity& fine)
{
  for (const auto& hinge : door.hinges) {
    const auto& leaf = hinge.leaf;
    places.push_back(leaf.width);
    if (hinge.kind == door::HingeKind::lugs) {
      const int columns = std::max(1, fine.around_pin / 6);
      for (int k = 1; k < columns; ++k)
        places.push_back(leaf.width * k / columns);
      continue;
    }
    places.push_back(leaf.thickness);
    if (hinge.weld == door::WeldExtent::beads) {
      places.push_back(hinge.weld_leg);
      places.push_back(leaf.width - hinge.weld_leg);
    }
  }
}

// A cell may be no longer than this either; it is then no longer the panel that divides the space.
void limit(CellSize& cell, double greatest)
{
  if (greatest < cell.greatest)
    cell = {greatest, cell.at_least};
}

// How much shorter cells are across a panel of `size` than along its longer side: a panel more than
// three times as long as wide would else have one cell across on every mesh.
double slenderness(const door::Door& door, double size)
{
  return std::min(1.0, 3.0 * size / std::max(door.panel.width, door.panel.height));
}

// Cells at a point in the plane of the panel, `size` long in that direction: the rim has cells of
// its own between its walls.
CellSize cell_of_panel(const door::Door& door, const door::MeshDensity& fine, double place,
                       double size)
{
  const door::Rim& rim = door.rim;
  const double from_edge = std::min(place, size - place);
  CellSize cell = panel_cells(fine, fine.through_wall);
  cell.greatest *= slenderness(door, size);
  cell.finer *= slenderness(door, size);
  if (from_edge > rim.wall && from_edge < rim.width - rim.wall)
    limit(cell, (rim.width - 2.0 * rim.wall) / fine.across_rim);
  return cell;
}

// Divides each space between grid lines by the cell size at its middle.
template <typename CellAt>
GridLines cut_by(const GridLines& places, const CellAt& cell_at)
{
  GridLines fine{places.front()};
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    const double middle = 0.5 * (places[i] + places[i + 1]);
    const GridLines piece = divided({places[i], places[i + 1]}, cell_at(middle));
    fine.insert(fine.end(), piece.begin() + 1, piece.end());
  }
  return fine;
}

// A pin bears at the ends of a knuckle: of three or more cells the outer ones are half as long as
// the others.
bool has_short_ends(const door::MeshDensity& fine)
{
  return fine.along_knuckle > 2;
}

// Inside a hinge the cells follow the knuckles, elsewhere the panel.
CellSize cell_along(const door::Door& door, const door::MeshDensity& fine, double z)
{
  const double spared = has_short_ends(fine) ? 1.5 : 1.0; // no cell of a knuckle is longer
  CellSize cell = cell_of_panel(door, fine, z, door.panel.height);
  for (const auto& hinge : door.hinges) {
    const door::Span span = door::hinge_span(hinge);
    if (z > span.from && z < span.to)
      limit(cell, spared * fine.hinge_cell);
    for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
      const double start = door::knuckle_start(hinge, static_cast<int>(k));
      const double length = hinge.knuckles[k].length;
      if (z > start && z < start + length)
        limit(cell, spared * length / fine.along_knuckle);
    }
  }
  return cell;
}

// Divides every knuckle into half a cell, whole ones, and half a cell. A grid plane of a weld or a
// rim close to such a position replaces it.
GridLines cut_knuckles(const door::Door& door, const door::MeshDensity& fine, GridLines places)
{
  if (!has_short_ends(fine))
    return places;
  for (const auto& hinge : door.hinges)
    for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
      const double start = door::knuckle_start(hinge, static_cast<int>(k));
      const double cell = hinge.knuckles[k].length / (fine.along_knuckle - 1);
      for (int i = 0; i + 1 < fine.along_knuckle; ++i) {
        const double place = start + (i + 0.5) * cell;
        if (std::abs(snapped(places, place) - place) > cell / 3.0)
          places.insert(std::upper_bound(places.begin(), places.end(), place), place);
      }
    }
  return places;
}

} // namespace

double widest_foot(const door::Door& door)
{
  double widest = 0.0;
  for (const auto& hinge : door.hinges)
    widest = std::max(widest, hinge.leaf.width);
  return widest;
}

double snapped(const GridLines& places, double drawn)
{
  return *std::min_element(places.begin(), places.end(), [drawn](double a, double b) {
    return std::abs(a - drawn) < std::abs(b - drawn);
  });
}

GridLines across_panel(const door::Door& door, const door::MeshDensity& fine)
{
  std::vector<double> named;
  add_rim(named, door.panel.width, door.rim);
  add_stiffeners(named, door, door::StiffenerRun::along);
  add_feet(named, door, fine);
  for (const double p : weld_segments(door, door.panel.width, door::StiffenerRun::across))
    named.push_back(p);
  add_more(named, fine.more_across);
  return cut_by(merged(named),
                [&](double x) { return cell_of_panel(door, fine, x, door.panel.width); });
}

GridLines through_panel(const door::Door& door, const door::MeshDensity& fine)
{
  const double t_out = door.panel.outer_skin;
  const double d = door::depth(door);
  const double start = door::rim_start(door);
  std::vector<double> named{0.0,
                            d,
                            door.panel.inner_skin,
                            d - t_out,
                            start,
                            start + door.rim.wall,
                            d - t_out - door.rim.wall};
  for (const auto& s : door.stiffeners)
    if (s.shape == door::StiffenerShape::tube) {
      named.push_back(start + s.wall);
      named.push_back(d - t_out - s.wall);
    }
  add_more(named, fine.more_through);
  return divided(merged(named), {door.rim.depth / fine.through_cavity, fine.through_wall});
}

GridLines along_axis(const door::Door& door, const door::MeshDensity& fine)
{
  std::vector<double> named;
  add_rim(named, door.panel.height, door.rim);
  add_stiffeners(named, door, door::StiffenerRun::across);
  for (const auto& hinge : door.hinges) {
    for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
      const double start = door::knuckle_start(hinge, static_cast<int>(k));
      named.push_back(start);
      named.push_back(start + hinge.knuckles[k].length);
    }
    if (hinge.kind == door::HingeKind::barrels) {
      const door::Span span = door::hinge_span(hinge);
      named.push_back(span.from);
      named.push_back(span.to);
      if (hinge.weld == door::WeldExtent::beads) {
        named.push_back(span.from + hinge.weld_leg);
        named.push_back(span.to - hinge.weld_leg);
      }
    }
  }
  for (const double p : weld_segments(door, door.panel.height, door::StiffenerRun::along))
    named.push_back(p);
  add_more(named, fine.more_along);
  return cut_by(cut_knuckles(door, fine, merged(named)),
                [&](double z) { return cell_along(door, fine, z); });
}

GridLines over_jamb(const door::Door& door, const GridLines& land, const door::MeshDensity& fine)
{
  const double foot = snapped(land, widest_foot(door));
  std::vector<double> named{0.0, door.jamb.free_width};
  for (const double p : land)
    if (p < foot + 1e-9)
      named.push_back(p);
  if (door.jamb.backing == door::JambBacking::flange)
    named.push_back(door.jamb.thickness);
  return divided(merged(named), {0.5 * fine.panel_cell, 1, 0.5 * fine.finer_panel_cell});
}

mesh::GridPlanes grid_planes_of(const door::Door& door, const door::MeshDensity& fine)
{
  const GridLines over_door = across_panel(door, fine);
  return {along_axis(door, fine), over_door, over_jamb(door, over_door, fine)};
}

} // namespace hangtrue::section
