#include "meshing/sweep/door_mesher.hpp"

#include "meshing/section/cross_section.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/section/section_types.hpp"
#include "meshing/sweep/cylinder_surfaces.hpp"
#include "meshing/sweep/panel_regions.hpp"
#include "meshing/sweep/skin_separation.hpp"
#include "meshing/sweep/swept_body.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

std::vector<Span> snapped_knuckles(const Hinge& hinge, const Places& z)
{
  std::vector<Span> spans;
  for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
    const double start = knuckle_start(hinge, static_cast<int>(k));
    spans.push_back({snapped(z, start), snapped(z, start + hinge.knuckles[k].length)});
  }
  return spans;
}

int knuckle_at(const std::vector<Span>& spans, double z)
{
  for (std::size_t k = 0; k < spans.size(); ++k)
    if (z > spans[k].from && z < spans[k].to)
      return static_cast<int>(k);
  return -1;
}

// Does a patch of hinge half `owner` exist between two grid planes?
bool half_present(const Hinge& hinge, const SectionPatch& patch, Owner owner, double z, Span span,
                  int knuckle)
{
  switch (patch.part) {
  case Part::land:
  case Part::web:
    return z > span.from && z < span.to;
  case Part::neck:
  case Part::lug:
  case Part::ring:
    return knuckle >= 0 && hinge.knuckles[knuckle].owner == owner;
  case Part::pin:
    return z > span.from && z < span.to;
  default:
    return false;
  }
}

// A pin runs from the lowest to the highest knuckle.
Span pin_span(const std::vector<Span>& knuckles)
{
  return {knuckles.front().from, knuckles.back().to};
}

// The weld joins a foot to the face all over, or one leg wide round its edge: `bare` is the area
// inside the beads, between grid lines.
struct Bare {
  Span across; // m, from the edge of the foot
  Span along;  // m
};

bool welded(const Hinge& hinge, Span span, const Bare& bare, double u, double z)
{
  constexpr double slack = 1e-9;
  if (z < span.from - slack || z > span.to + slack)
    return false;
  if (hinge.kind == HingeKind::lugs || hinge.weld == WeldExtent::full_face)
    return true;
  return u < bare.across.from + slack || u > bare.across.to - slack ||
         z < bare.along.from + slack || z > bare.along.to - slack;
}

Bare bare_land(const Hinge& hinge, const Places& over, const Places& z)
{
  const Span span = hinge_span(hinge);
  const double leg = hinge.weld_leg;
  return {{snapped(over, leg), snapped(over, hinge.leaf.width - leg)},
          {snapped(z, span.from + leg), snapped(z, span.to - leg)}};
}

struct HingePlan {
  std::vector<Span> knuckles;
  Span leaf;
};

std::vector<HingePlan> plan_hinges(const Door& door, const Places& z)
{
  std::vector<HingePlan> plans;
  for (const auto& hinge : door.hinges) {
    const Span span = hinge_span(hinge);
    plans.push_back({snapped_knuckles(hinge, z), {snapped(z, span.from), snapped(z, span.to)}});
  }
  return plans;
}

// Part of a cell of one half's body between two grid planes.
std::optional<CellPlan> plan_cell(const Door& door, const std::vector<HingePlan>& plans,
                                  const SectionPatch& patch, Owner owner, double z)
{
  if (patch.panel)
    return CellPlan{panel_part(door, patch.middle.x, patch.middle.y, z), -1, -1};
  if (patch.part == Part::jamb)
    return CellPlan{Part::jamb, -1, -1};
  const HingePlan& plan = plans[patch.hinge];
  const int knuckle = knuckle_at(plan.knuckles, z);
  const Span span = patch.part == Part::pin ? pin_span(plan.knuckles) : plan.leaf;
  if (!half_present(door.hinges[patch.hinge], patch, owner, z, span, knuckle))
    return std::nullopt;
  return CellPlan{patch.part, patch.hinge, patch.part == Part::ring ? knuckle : -1};
}

BodyLoft loft_half(const Door& door, const std::vector<HingePlan>& plans, const Section& section,
                   const Stations& stations, Owner owner)
{
  const double edge = owner == Owner::door ? 0.0 : -door.reveal;
  const double side = owner == Owner::door ? 1.0 : -1.0;
  const Places& over = owner == Owner::door ? stations.over_door : stations.over_frame;
  std::vector<Bare> bare;
  for (const auto& hinge : door.hinges)
    bare.push_back(bare_land(hinge, over, stations.along));
  return loft_body(
      owner == Owner::door ? "door" : "frame", section, stations.along,
      [&](const SectionPatch& patch, double middle) {
        return plan_cell(door, plans, patch, owner, middle);
      },
      [&](const FootNode& foot, double place) {
        const Hinge& hinge = door.hinges[foot.hinge];
        const HingePlan& plan = plans[foot.hinge];
        const double u = side * (section.mesh.nodes[foot.foot].x - edge);
        if (hinge.kind == HingeKind::barrels)
          return welded(hinge, plan.leaf, bare[foot.hinge], u, place);
        return std::any_of(plan.knuckles.begin(), plan.knuckles.end(),
                           [&](const Span& span) { return welded(hinge, span, {}, u, place); });
      });
}

// The frame was meshed as if closed; the open door sees it turned back by the swing angle.
void turn_back(BodyMesh& body, const AxisPlace& axis, double swing)
{
  const double c = std::cos(-swing);
  const double s = std::sin(-swing);
  for (auto& n : body.nodes) {
    const double x = n.x - axis.x;
    const double y = n.y - axis.y;
    n.x = axis.x + c * x - s * y;
    n.y = axis.y + s * x + c * y;
  }
}

// Nodes that the backing fixes: the far edge, or the whole back as well.
std::vector<int> held_nodes(const Door& door, const BodyMesh& frame)
{
  constexpr double same_place = 1e-7; // m
  const double far = -door.reveal - door.jamb.free_width;
  const double back = depth(door) - door.jamb.thickness;
  std::vector<char> of_jamb(frame.nodes.size(), 0);
  for (const auto& cell : frame.cells)
    if (cell.part == Part::jamb)
      for (const int n : cell.node)
        of_jamb[n] = 1;
  std::vector<int> held;
  for (std::size_t n = 0; n < frame.nodes.size(); ++n) {
    if (!of_jamb[n])
      continue;
    const Vec3& p = frame.nodes[n];
    const bool at_back =
        door.jamb.backing == JambBacking::solid && std::abs(p.y - back) < same_place;
    if (at_back || std::abs(p.x - far) < same_place)
      held.push_back(static_cast<int>(n));
  }
  return held;
}

HingeMesh hinge_mesh(const Door& door, const HingePlan& plan, int h, const BodyLoft& door_loft,
                     const BodyLoft& frame_loft, const BodyLoft* pin_loft)
{
  const Hinge& hinge = door.hinges[h];
  HingeMesh made;
  made.axis = pin_axis(door, hinge);
  for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
    const Owner owner = hinge.knuckles[k].owner;
    const BodyLoft& own = owner == Owner::door ? door_loft : frame_loft;
    const BodyLoft& pin = pin_loft != nullptr ? *pin_loft : frame_loft;
    const bool fast = pin_loft == nullptr && owner == Owner::frame;
    KnuckleMesh knuckle;
    knuckle.owner = owner;
    if (!fast)
      knuckle.bore = cylinder(own, made.axis, h, Part::ring, bore_radius(hinge), plan.knuckles[k]);
    knuckle.lower = annulus(own, made.axis, h, plan.knuckles[k].from);
    knuckle.upper = annulus(own, made.axis, h, plan.knuckles[k].to);
    made.knuckles.push_back(knuckle);
    made.pin.push_back(
        fast ? Cylinder{}
             : cylinder(pin, made.axis, h, Part::pin, pin_radius(hinge), plan.knuckles[k]));
  }
  return made;
}

} // namespace

BodyMesh loft_panel(Door door, const Fineness& fine)
{
  door.hinges.clear();
  const Stations stations{along_axis(door, fine), across_panel(door, fine), {}};
  BodyMesh panel = loft_half(door, {}, door_section(door, fine), stations, Owner::door).body;
  let_go(door, panel);
  return panel;
}

Mesh loft(const Door& door, const Fineness& fine)
{
  Mesh mesh;
  mesh.depth = depth(door);
  mesh.stations = stations_of(door, fine);
  const Places& z = mesh.stations.along;
  const std::vector<HingePlan> plans = plan_hinges(door, z);
  BodyLoft door_loft = loft_half(door, plans, door_section(door, fine), mesh.stations, Owner::door);
  BodyLoft frame_loft =
      loft_half(door, plans, frame_section(door, fine), mesh.stations, Owner::frame);
  mesh.held = held_nodes(door, frame_loft.body);
  turn_back(frame_loft.body, pin_axis(door, door.hinges.front()), door.swing);

  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const int index = static_cast<int>(h);
    if (door.hinges[h].pin == PinHold::fixed) {
      mesh.hinges.push_back(hinge_mesh(door, plans[h], index, door_loft, frame_loft, nullptr));
      continue;
    }
    BodyLoft pin = loft_body(
        "pin " + std::to_string(h + 1), pin_section(door, index, fine), z,
        [&](const SectionPatch& patch, double middle) {
          return plan_cell(door, plans, patch, Owner::door, middle);
        },
        [](const FootNode&, double) { return false; });
    mesh.hinges.push_back(hinge_mesh(door, plans[h], index, door_loft, frame_loft, &pin));
    mesh.hinges.back().pin_body = static_cast<int>(mesh.pins.size());
    mesh.pins.push_back(std::move(pin.body));
  }
  mesh.door = std::move(door_loft.body);
  let_go(door, mesh.door);
  mesh.frame = std::move(frame_loft.body);
  return mesh;
}

} // namespace hangtrue
