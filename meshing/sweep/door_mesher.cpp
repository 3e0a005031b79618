// SPDX-License-Identifier: GPL-3.0-or-later
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

namespace hangtrue::sweep
{

namespace
{

std::vector<door::Span> snapped_knuckles(const door::Hinge& hinge, const section::GridLines& z)
{
  std::vector<door::Span> spans;
  for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
    const double start = door::knuckle_start(hinge, static_cast<int>(k));
    spans.push_back(
        {section::snapped(z, start), section::snapped(z, start + hinge.knuckles[k].length)});
  }
  return spans;
}

int knuckle_at(const std::vector<door::Span>& spans, double z)
{
  for (std::size_t k = 0; k < spans.size(); ++k)
    if (z > spans[k].from && z < spans[k].to)
      return static_cast<int>(k);
  return -1;
}

// Does a patch of hinge half `owner` exist between two grid planes?
bool half_present(const door::Hinge& hinge, const section::SectionPatch& patch,
                  door::KnuckleOwner owner, double z, door::Span span, int knuckle)
{
  switch (patch.part) {
  case mesh::Part::land:
  case mesh::Part::web:
    return z > span.from && z < span.to;
  case mesh::Part::neck:
  case mesh::Part::lug:
  case mesh::Part::ring:
    return knuckle >= 0 && hinge.knuckles[knuckle].owner == owner;
  case mesh::Part::pin:
    return z > span.from && z < span.to;
  default:
    return false;
  }
}

// A pin runs from the lowest to the highest knuckle.
door::Span pin_span(const std::vector<door::Span>& knuckles)
{
  return {knuckles.front().from, knuckles.back().to};
}

// The weld joins a foot to the face all over, or one leg wide round its edge: `bare` is the area
// inside the beads, between grid lines.
struct Bare {
  door::Span across; // m, from the edge of the foot
  door::Span along;  // m
};

bool welded(const door::Hinge& hinge, door::Span span, const Bare& bare, double u, double z)
{
  constexpr double slack = 1e-9;
  if (z < span.from - slack || z > span.to + slack)
    return false;
  if (hinge.kind == door::HingeKind::lugs || hinge.weld == door::WeldExtent::full_face)
    return true;
  return u < bare.across.from + slack || u > bare.across.to - slack ||
         z < bare.along.from + slack || z > bare.along.to - slack;
}

Bare bare_land(const door::Hinge& hinge, const section::GridLines& over,
               const section::GridLines& z)
{
  const door::Span span = door::hinge_span(hinge);
  const double leg = hinge.weld_leg;
  return {{section::snapped(over, leg), section::snapped(over, hinge.leaf.width - leg)},
          {section::snapped(z, span.from + leg), section::snapped(z, span.to - leg)}};
}

struct HingePlan {
  std::vector<door::Span> knuckles;
  door::Span leaf;
};

std::vector<HingePlan> plan_hinges(const door::Door& door, const section::GridLines& z)
{
  std::vector<HingePlan> plans;
  for (const auto& hinge : door.hinges) {
    const door::Span span = door::hinge_span(hinge);
    plans.push_back({snapped_knuckles(hinge, z),
                     {section::snapped(z, span.from), section::snapped(z, span.to)}});
  }
  return plans;
}

// Part of a cell of one half's body between two grid planes.
std::optional<CellAssignment> plan_cell(const door::Door& door, const std::vector<HingePlan>& plans,
                                        const section::SectionPatch& patch,
                                        door::KnuckleOwner owner, double z)
{
  if (patch.panel)
    return CellAssignment{panel_part(door, patch.middle.x, patch.middle.y, z), -1, -1};
  if (patch.part == mesh::Part::jamb)
    return CellAssignment{mesh::Part::jamb, -1, -1};
  const HingePlan& plan = plans[patch.hinge];
  const int knuckle = knuckle_at(plan.knuckles, z);
  const door::Span span = patch.part == mesh::Part::pin ? pin_span(plan.knuckles) : plan.leaf;
  if (!half_present(door.hinges[patch.hinge], patch, owner, z, span, knuckle))
    return std::nullopt;
  return CellAssignment{patch.part, patch.hinge, patch.part == mesh::Part::ring ? knuckle : -1};
}

SweptBody sweep_half(const door::Door& door, const std::vector<HingePlan>& plans,
                     const section::Section& section, const mesh::GridPlanes& stations,
                     door::KnuckleOwner owner)
{
  const double edge = owner == door::KnuckleOwner::door ? 0.0 : -door.reveal;
  const double side = owner == door::KnuckleOwner::door ? 1.0 : -1.0;
  const section::GridLines& over =
      owner == door::KnuckleOwner::door ? stations.over_door : stations.over_frame;
  std::vector<Bare> bare;
  for (const auto& hinge : door.hinges)
    bare.push_back(bare_land(hinge, over, stations.along));
  return sweep_body(
      owner == door::KnuckleOwner::door ? "door" : "frame", section, stations.along,
      [&](const section::SectionPatch& patch, double middle) {
        return plan_cell(door, plans, patch, owner, middle);
      },
      [&](const section::FootNode& foot, double place) {
        const door::Hinge& hinge = door.hinges[foot.hinge];
        const HingePlan& plan = plans[foot.hinge];
        const double u = side * (section.mesh.nodes[foot.foot].x - edge);
        if (hinge.kind == door::HingeKind::barrels)
          return welded(hinge, plan.leaf, bare[foot.hinge], u, place);
        return std::any_of(plan.knuckles.begin(), plan.knuckles.end(), [&](const door::Span& span) {
          return welded(hinge, span, {}, u, place);
        });
      });
}

// The frame was meshed as if closed; the open door sees it turned back by the swing angle.
void turn_back(mesh::BodyMesh& body, const door::AxisPosition& axis, double swing)
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
std::vector<int> held_nodes(const door::Door& door, const mesh::BodyMesh& frame)
{
  constexpr double same_place = 1e-7; // m
  const double far = -door.reveal - door.jamb.free_width;
  const double back = door::depth(door) - door.jamb.thickness;
  std::vector<char> of_jamb(frame.nodes.size(), 0);
  for (const auto& cell : frame.cells)
    if (cell.part == mesh::Part::jamb)
      for (const int n : cell.node)
        of_jamb[n] = 1;
  std::vector<int> held;
  for (std::size_t n = 0; n < frame.nodes.size(); ++n) {
    if (!of_jamb[n])
      continue;
    const Vec3& p = frame.nodes[n];
    const bool at_back =
        door.jamb.backing == door::JambBacking::solid && std::abs(p.y - back) < same_place;
    if (at_back || std::abs(p.x - far) < same_place)
      held.push_back(static_cast<int>(n));
  }
  return held;
}

mesh::HingeMesh hinge_mesh(const door::Door& door, const HingePlan& plan, int h,
                           const SweptBody& door_loft, const SweptBody& frame_loft,
                           const SweptBody* pin_loft)
{
  const door::Hinge& hinge = door.hinges[h];
  mesh::HingeMesh result;
  result.axis = door::pin_axis(door, hinge);
  for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
    const door::KnuckleOwner owner = hinge.knuckles[k].owner;
    const SweptBody& own = owner == door::KnuckleOwner::door ? door_loft : frame_loft;
    const SweptBody& pin = pin_loft != nullptr ? *pin_loft : frame_loft;
    const bool fast = pin_loft == nullptr && owner == door::KnuckleOwner::frame;
    mesh::KnuckleMesh knuckle;
    knuckle.owner = owner;
    if (!fast)
      knuckle.bore = cylinder(own, result.axis, h, mesh::Part::ring, door::bore_radius(hinge),
                              plan.knuckles[k]);
    knuckle.lower = annulus(own, result.axis, h, plan.knuckles[k].from);
    knuckle.upper = annulus(own, result.axis, h, plan.knuckles[k].to);
    result.knuckles.push_back(knuckle);
    result.pin.push_back(fast ? mesh::Cylinder{}
                              : cylinder(pin, result.axis, h, mesh::Part::pin,
                                         door::pin_radius(hinge), plan.knuckles[k]));
  }
  return result;
}

} // namespace

mesh::BodyMesh make_panel_mesh(door::Door door, const door::MeshDensity& fine)
{
  door.hinges.clear();
  const mesh::GridPlanes stations{
      section::along_axis(door, fine), section::across_panel(door, fine), {}};
  mesh::BodyMesh panel =
      sweep_half(door, {}, section::door_section(door, fine), stations, door::KnuckleOwner::door)
          .body;
  release_skin(door, panel);
  return panel;
}

mesh::Mesh make_mesh(const door::Door& door, const door::MeshDensity& fine)
{
  mesh::Mesh mesh;
  mesh.depth = door::depth(door);
  mesh.stations = section::grid_planes_of(door, fine);
  const section::GridLines& z = mesh.stations.along;
  const std::vector<HingePlan> plans = plan_hinges(door, z);
  SweptBody door_loft = sweep_half(door, plans, section::door_section(door, fine), mesh.stations,
                                   door::KnuckleOwner::door);
  SweptBody frame_loft = sweep_half(door, plans, section::frame_section(door, fine), mesh.stations,
                                    door::KnuckleOwner::frame);
  mesh.held = held_nodes(door, frame_loft.body);
  turn_back(frame_loft.body, door::pin_axis(door, door.hinges.front()), door.swing);

  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const int index = static_cast<int>(h);
    if (door.hinges[h].fixity == door::PinFixity::fixed) {
      mesh.hinges.push_back(hinge_mesh(door, plans[h], index, door_loft, frame_loft, nullptr));
      continue;
    }
    SweptBody pin = sweep_body(
        "pin " + std::to_string(h + 1), section::pin_section(door, index, fine), z,
        [&](const section::SectionPatch& patch, double middle) {
          return plan_cell(door, plans, patch, door::KnuckleOwner::door, middle);
        },
        [](const section::FootNode&, double) { return false; });
    mesh.hinges.push_back(hinge_mesh(door, plans[h], index, door_loft, frame_loft, &pin));
    mesh.hinges.back().pin_body = static_cast<int>(mesh.pins.size());
    mesh.pins.push_back(std::move(pin.body));
  }
  mesh.door = std::move(door_loft.body);
  release_skin(door, mesh.door);
  mesh.frame = std::move(frame_loft.body);
  return mesh;
}

} // namespace hangtrue::sweep
