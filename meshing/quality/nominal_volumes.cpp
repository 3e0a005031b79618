#include "meshing/quality/nominal_volumes.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/section/hinge_cross_section.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace hangtrue
{

namespace
{

// The grid plane of a nominal position; the position itself where there are none.
double station_of(const Places& places, double drawn)
{
  if (places.empty())
    return drawn;
  const double there = snapped(places, drawn);
  if (std::abs(there - drawn) > snap_distance)
    throw ComputeError(fmt::format("mesh check: no cell ends at the place drawn at {:.2f} mm, the "
                                   "nearest is {:.2f} mm off",
                                   1e3 * drawn, 1e3 * std::abs(there - drawn)));
  return there;
}

double between(const Places& places, double from, double to)
{
  return station_of(places, to) - station_of(places, from);
}

double knuckle_length(const Hinge& hinge, int k, const Places& along)
{
  const double start = knuckle_start(hinge, k);
  return between(along, start, start + hinge.knuckles[k].length);
}

void add_panel(const Door& door, std::map<Part, double>& volumes)
{
  const auto& panel = door.panel;
  const auto& rim = door.rim;
  volumes[Part::outer_skin] = panel.width * panel.height * panel.outer_skin;
  volumes[Part::inner_skin] = panel.width * panel.height * panel.inner_skin;
  const double walls =
      rim.width * rim.depth - (rim.width - 2.0 * rim.wall) * (rim.depth - 2.0 * rim.wall);
  // Mitred: the section swept along its own centre line.
  volumes[Part::rim] = walls * 2.0 * (panel.width + panel.height - 2.0 * rim.width);
}

void add_rounds(const Hinge& hinge, const Places& along, std::map<Part, double>& volumes)
{
  const double pi = std::numbers::pi;
  const double outside = outside_radius(hinge);
  const int last = static_cast<int>(hinge.knuckles.size()) - 1;
  const double pin = between(along, knuckle_start(hinge, 0),
                             knuckle_start(hinge, last) + hinge.knuckles[last].length);
  volumes[Part::pin] += pi * pin_radius(hinge) * pin_radius(hinge) * pin;
  for (int k = 0; k <= last; ++k) {
    const bool fast = hinge.pin == PinHold::fixed && hinge.knuckles[k].owner == Owner::frame;
    const double inside = fast ? pin_radius(hinge) : bore_radius(hinge);
    volumes[Part::ring] +=
        pi * (outside * outside - inside * inside) * knuckle_length(hinge, k, along);
  }
}

// Land and web of one half of a leaf.
void add_leaf(const Hinge& hinge, const Places& over, const Places& along,
              std::map<Part, double>& volumes)
{
  const Leaf& leaf = hinge.leaf;
  const Span span = hinge_span(hinge);
  const double length = between(along, span.from, span.to);
  const double web = leaf.standoff - neck_share * outside_radius(hinge) - leaf.thickness;
  volumes[Part::land] += station_of(over, leaf.width) * leaf.thickness * length;
  volumes[Part::web] += leaf.thickness * web * length;
}

const Places& over(const Stations& stations, Owner owner)
{
  return owner == Owner::door ? stations.over_door : stations.over_frame;
}

} // namespace

std::map<Part, double> part_volumes(const Door& door, const Stations& stations)
{
  std::map<Part, double> volumes;
  add_panel(door, volumes);
  for (const auto& hinge : door.hinges) {
    add_rounds(hinge, stations.along, volumes);
    if (hinge.kind == HingeKind::barrels)
      for (const Owner owner : {Owner::door, Owner::frame})
        add_leaf(hinge, over(stations, owner), stations.along, volumes);
  }
  return volumes;
}

double weld_area(const Door& door, Owner owner, const Stations& stations)
{
  const Places& across = over(stations, owner);
  const Places& along = stations.along;
  double area = 0.0;
  for (const auto& hinge : door.hinges) {
    const double width = hinge.leaf.width;
    if (hinge.kind == HingeKind::lugs) {
      for (std::size_t k = 0; k < hinge.knuckles.size(); ++k)
        if (hinge.knuckles[k].owner == owner)
          area += station_of(across, width) * knuckle_length(hinge, static_cast<int>(k), along);
      continue;
    }
    const Span span = hinge_span(hinge);
    area += station_of(across, width) * between(along, span.from, span.to);
    const double leg = hinge.weld_leg;
    if (hinge.weld == WeldExtent::beads)
      area -= between(across, leg, width - leg) * between(along, span.from + leg, span.to - leg);
  }
  return area;
}

} // namespace hangtrue
