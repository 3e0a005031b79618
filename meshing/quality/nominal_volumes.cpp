// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/quality/nominal_volumes.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/section/hinge_cross_section.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace hangtrue::quality
{

namespace
{

// The grid plane of a nominal position; the position itself where there are none.
double station_of(const section::GridLines& places, double drawn)
{
  if (places.empty())
    return drawn;
  const double there = section::snapped(places, drawn);
  if (std::abs(there - drawn) > section::snap_distance)
    throw ComputeError(fmt::format("mesh check: no cell ends at the place drawn at {:.2f} mm, the "
                                   "nearest is {:.2f} mm off",
                                   1e3 * drawn, 1e3 * std::abs(there - drawn)));
  return there;
}

double between(const section::GridLines& places, double from, double to)
{
  return station_of(places, to) - station_of(places, from);
}

double knuckle_length(const door::Hinge& hinge, int k, const section::GridLines& along)
{
  const double start = door::knuckle_start(hinge, k);
  return between(along, start, start + hinge.knuckles[k].length);
}

void add_panel(const door::Door& door, std::map<mesh::Part, double>& volumes)
{
  const auto& panel = door.panel;
  const auto& rim = door.rim;
  volumes[mesh::Part::outer_skin] = panel.width * panel.height * panel.outer_skin;
  volumes[mesh::Part::inner_skin] = panel.width * panel.height * panel.inner_skin;
  const double walls =
      rim.width * rim.depth - (rim.width - 2.0 * rim.wall) * (rim.depth - 2.0 * rim.wall);
  // Mitred: the section swept along its own centre line.
  volumes[mesh::Part::rim] = walls * 2.0 * (panel.width + panel.height - 2.0 * rim.width);
}

void add_rounds(const door::Hinge& hinge, const section::GridLines& along,
                std::map<mesh::Part, double>& volumes)
{
  const double pi = std::numbers::pi;
  const double outside = door::outside_radius(hinge);
  const int last = static_cast<int>(hinge.knuckles.size()) - 1;
  const double pin = between(along, door::knuckle_start(hinge, 0),
                             door::knuckle_start(hinge, last) + hinge.knuckles[last].length);
  volumes[mesh::Part::pin] += pi * door::pin_radius(hinge) * door::pin_radius(hinge) * pin;
  for (int k = 0; k <= last; ++k) {
    const bool fast = hinge.fixity == door::PinFixity::fixed &&
                      hinge.knuckles[k].owner == door::KnuckleOwner::frame;
    const double inside = fast ? door::pin_radius(hinge) : door::bore_radius(hinge);
    volumes[mesh::Part::ring] +=
        pi * (outside * outside - inside * inside) * knuckle_length(hinge, k, along);
  }
}

// Land and web of one half of a leaf.
void add_leaf(const door::Hinge& hinge, const section::GridLines& over,
              const section::GridLines& along, std::map<mesh::Part, double>& volumes)
{
  const door::Leaf& leaf = hinge.leaf;
  const door::Span span = door::hinge_span(hinge);
  const double length = between(along, span.from, span.to);
  const double web =
      leaf.standoff - section::neck_share * door::outside_radius(hinge) - leaf.thickness;
  volumes[mesh::Part::land] += station_of(over, leaf.width) * leaf.thickness * length;
  volumes[mesh::Part::web] += leaf.thickness * web * length;
}

const section::GridLines& over(const mesh::GridPlanes& stations, door::KnuckleOwner owner)
{
  return owner == door::KnuckleOwner::door ? stations.over_door : stations.over_frame;
}

} // namespace

std::map<mesh::Part, double> part_volumes(const door::Door& door, const mesh::GridPlanes& stations)
{
  std::map<mesh::Part, double> volumes;
  add_panel(door, volumes);
  for (const auto& hinge : door.hinges) {
    add_rounds(hinge, stations.along, volumes);
    if (hinge.kind == door::HingeKind::barrels)
      for (const door::KnuckleOwner owner : {door::KnuckleOwner::door, door::KnuckleOwner::frame})
        add_leaf(hinge, over(stations, owner), stations.along, volumes);
  }
  return volumes;
}

double weld_area(const door::Door& door, door::KnuckleOwner owner, const mesh::GridPlanes& stations)
{
  const section::GridLines& across = over(stations, owner);
  const section::GridLines& along = stations.along;
  double area = 0.0;
  for (const auto& hinge : door.hinges) {
    const double width = hinge.leaf.width;
    if (hinge.kind == door::HingeKind::lugs) {
      for (std::size_t k = 0; k < hinge.knuckles.size(); ++k)
        if (hinge.knuckles[k].owner == owner)
          area += station_of(across, width) * knuckle_length(hinge, static_cast<int>(k), along);
      continue;
    }
    const door::Span span = door::hinge_span(hinge);
    area += station_of(across, width) * between(along, span.from, span.to);
    const double leg = hinge.weld_leg;
    if (hinge.weld == door::WeldExtent::beads)
      area -= between(across, leg, width - leg) * between(along, span.from + leg, span.to - leg);
  }
  return area;
}

} // namespace hangtrue::quality
