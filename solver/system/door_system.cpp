#include "solver/system/door_system.hpp"

#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/material/steel_properties.hpp"

#include <utility>

namespace hangtrue
{

namespace
{

// A board between skin and rim: its own strain is small against the slip that its compliance
// allows, so it takes the strain of the steel.
Elasticity strip_elasticity(const Door& door)
{
  constexpr double poisson = 0.2; // no source; 0.1 to 0.3 change its shear stiffness by 8 %
  return elasticity(door.strip.youngs_modulus, poisson);
}

} // namespace

ElasticityOf elasticity_of(const Door& door, double temperature, double pins)
{
  const Elasticity structure = elasticity(
      reduction(door.steel, temperature).modulus * door.steel.youngs_modulus, door.steel.poisson);
  const Elasticity pin =
      elasticity(reduction(door.pin_steel, pins).modulus * door.pin_steel.youngs_modulus,
                 door.pin_steel.poisson);
  const Elasticity strip = strip_elasticity(door);
  return [structure, pin, strip](const Hex& cell) {
    if (cell.part == Part::strip)
      return strip;
    return cell.part == Part::pin ? pin : structure;
  };
}

ElasticityOf elasticity_at(const Door& door, const std::vector<double>& at)
{
  const Steel steel = door.steel;
  const Elasticity strip = strip_elasticity(door);
  return [steel, strip, &at](const Hex& cell) {
    if (cell.part == Part::strip)
      return strip;
    double mean = 0.0;
    for (const int n : cell.node)
      mean += at[n] / 27.0;
    return elasticity(reduction(steel, mean).modulus * steel.youngs_modulus, steel.poisson);
  };
}

std::vector<double> free_strains(const Door& door, const std::vector<double>& at, double reference)
{
  const double all = elongation(door.steel, reference);
  std::vector<double> strain;
  strain.reserve(at.size());
  for (const double t : at)
    strain.push_back(elongation(door.steel, t) - all);
  return strain;
}

// All strains are relative to that of the jamb: uniform growth of everything causes no relative
// displacement.
std::vector<std::vector<double>> body_strains(const Door& door, const Mesh& mesh,
                                              const WarmDoor& warm)
{
  std::vector<std::vector<double>> strains(first_pin_body);
  strains[door_body] = free_strains(door, warm.at, warm.warmth.jamb);
  const double of_pins =
      elongation(door.pin_steel, warm.warmth.pins) - elongation(door.steel, warm.warmth.jamb);
  for (const auto& pin : mesh.pins)
    strains.emplace_back(pin.nodes.size(), of_pins);
  return strains;
}

namespace
{

// Heat as loads: the door by its temperatures, floating pins uniformly.
void add_heat(const Door& door, const Mesh& mesh, const WarmDoor& warm, KeptHang* hang,
              Assembly& made)
{
  auto& bodies = made.bodies;
  auto strains = body_strains(door, mesh, warm);
  for (std::size_t b = 0; b < bodies.size(); ++b)
    bodies[b].free_strain = std::move(strains[b]);
  const bool known = hang != nullptr && !hang->heat.empty();
  for (std::size_t b = 0; b < bodies.size(); ++b)
    if (known)
      bodies[b].heat = hang->heat[b];
    else if (!bodies[b].free_strain.empty())
      bodies[b].heat = free_strain_forces(
          *bodies[b].mesh, b == door_body ? made.of_door : made.of_frame, bodies[b].free_strain);
  if (hang != nullptr && !known)
    for (const auto& body : bodies)
      hang->heat.push_back(body.heat);
  for (std::size_t b = 0; b < bodies.size(); ++b)
    if (!bodies[b].heat.empty())
      bodies[b].heat_move =
          made.elastic[b]->solve(bodies[b].heat, touching_nodes(made.points, static_cast<int>(b)));
}

// Free rigid displacements: the door's but its swing, a floating pin's but its spin and its end
// float. Nothing opposes those; that nothing drives them either is checked.
std::vector<RigidMode> free_modes(const Door& door, const Mesh& mesh, Standing standing)
{
  // m: scales a rotation to a displacement of similar size; the solution does not depend on it, but
  // for rounding.
  constexpr double arm = 0.5;
  const AxisPlace axis = pin_axis(door, door.hinges.front());
  const Vec3 about{axis.x, axis.y, 0.5 * door.panel.height};
  std::vector<RigidMode> modes{{door_body, {1.0, 0.0, 0.0}, {}, about},
                               {door_body, {0.0, 1.0, 0.0}, {}, about},
                               {door_body, {0.0, 0.0, 1.0}, {}, about},
                               {door_body, {}, {1.0 / arm, 0.0, 0.0}, about},
                               {door_body, {}, {0.0, 1.0 / arm, 0.0}, about}};
  if (standing == Standing::shut) // gasket and latches constrain the swing
    modes.push_back({door_body, {}, {0.0, 0.0, 1.0 / arm}, about});
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const int body = mesh.hinges[h].pin_body;
    if (body < 0)
      continue;
    const Vec3 middle{axis.x, axis.y, door.hinges[h].at};
    const int index = first_pin_body + body;
    constexpr double pin_arm = 0.05; // m, likewise
    modes.push_back({index, {1.0, 0.0, 0.0}, {}, middle});
    modes.push_back({index, {0.0, 1.0, 0.0}, {}, middle});
    modes.push_back({index, {}, {1.0 / pin_arm, 0.0, 0.0}, middle});
    modes.push_back({index, {}, {0.0, 1.0 / pin_arm, 0.0}, middle});
  }
  return modes;
}

// A lid that does not hang straight down must be supported: a hand at the latch edge, normal to the
// door, takes what the hinges cannot.
void hold_open(const Door& door, const Mesh& mesh, NodeField& load)
{
  const AxisPlace axis = pin_axis(door, door.hinges.front());
  const Vec3 origin{axis.x, axis.y, 0.0};
  const double turning = resultant(mesh.door, load, origin).moment.z;
  if (door.hanging == Hanging::side)
    return;
  const double lever = door.panel.width - axis.x;
  const NodeField hand =
      edge_forces(door, mesh.door, 0.5 * door.panel.height, {0.0, -turning / lever, 0.0});
  for (std::size_t n = 0; n < load.size(); ++n)
    load[n] += hand[n];
}

// The weight of a floating pin along its axis hangs from its head on the highest frame knuckle.
void hang_pin(const HingeMesh& hinge, const Resultant& pin_weight, NodeField& frame_load)
{
  const KnuckleMesh* highest = nullptr;
  for (const auto& k : hinge.knuckles) // listed from below
    if (k.owner == Owner::frame)
      highest = &k;
  if (highest == nullptr)
    return;
  const auto& circle = highest->upper.node[highest->upper.node.size() / 2];
  for (const int n : circle)
    frame_load[n].z += pin_weight.force.z / static_cast<double>(circle.size());
}

} // namespace

std::vector<NodeField> body_weights(const Door& door, const Mesh& mesh)
{
  const Vec3 down = gravity_direction(door);
  std::vector<NodeField> weights{weight_forces(door, mesh.door, down),
                                 weight_forces(door, mesh.frame, down)};
  for (const auto& pin : mesh.pins)
    weights.push_back(weight_forces(door, pin, down));
  return weights;
}

std::vector<NodeField> body_loads(const Door& door, const Mesh& mesh, Standing standing,
                                  std::vector<NodeField> weights)
{
  std::vector<NodeField> loads = std::move(weights);
  if (standing == Standing::open) {
    NodeField& on_door = loads[door_body];
    const NodeField leaning =
        edge_forces(door, mesh.door, door.handle.at, door.handle.force * gravity_direction(door));
    for (std::size_t n = 0; n < on_door.size(); ++n)
      on_door[n] += leaning[n];
    hold_open(door, mesh, on_door);
  }
  for (const auto& hinge : mesh.hinges) {
    if (hinge.pin_body < 0)
      continue;
    NodeField& weight = loads[first_pin_body + hinge.pin_body];
    hang_pin(hinge, resultant(mesh.pins[hinge.pin_body], weight, {}), loads[frame_body]);
    for (auto& f : weight)
      f.z = 0.0;
  }
  return loads;
}

namespace
{

std::vector<std::shared_ptr<JoinedBody>> joined_bodies(const Door& door, const Mesh& mesh,
                                                       const Progress& tell, const Assembly& of,
                                                       FactoredBodies& kept)
{
  std::vector<std::shared_ptr<JoinedBody>> made;
  const int count = first_pin_body + static_cast<int>(mesh.pins.size());
  for (int b = 0; b < count; ++b) {
    const BodyMesh& body = body_mesh(mesh, b);
    tell("stiffness of the " + body.name, 0.6 * b / count);
    // The frame is cached as if closed, so that another swing finds it again.
    const PartFrame frame{pin_axis(door, door.hinges.front()), b == frame_body ? -door.swing : 0.0};
    made.push_back(std::make_shared<JoinedBody>(
        body, b == door_body ? of.of_door : of.of_frame,
        b == frame_body ? hold_all(mesh.held) : std::vector<HeldUnknown>{}, frame, kept,
        b == door_body ? seats_of(door, body) : std::vector<HeldUnknown>{}));
  }
  return made;
}

void add_contact_points(const Door& door, const Mesh& mesh, Assembly& made)
{
  made.points = contact_points(door, mesh);
  add_skin_points(door, mesh.door, made.points);
}

// Bodies and weights are there: what acts on them, and what that does.
void add_loads(const Door& door, const Mesh& mesh, Standing standing, Assembly& made)
{
  auto loads = body_loads(door, mesh, standing, made.weight);
  for (std::size_t b = 0; b < made.elastic.size(); ++b) {
    LoadedBody loaded;
    loaded.mesh = &body_mesh(mesh, static_cast<int>(b));
    loaded.elastic = made.elastic[b].get();
    loaded.load = std::move(loads[b]);
    loaded.load_move =
        loaded.elastic->solve(loaded.load, touching_nodes(made.points, static_cast<int>(b)));
    made.bodies.push_back(std::move(loaded));
  }
  made.modes = free_modes(door, mesh, standing);
}

} // namespace

Assembly assemble(const Door& door, const Mesh& mesh, const Progress& tell, const WarmDoor* warm,
                  FactoredBodies& kept, KeptHang* hang, Standing standing,
                  std::vector<ContactPoint> points)
{
  Assembly made;
  made.points = std::move(points);
  if (made.points.empty())
    add_contact_points(door, mesh, made);
  made.of_frame = warm != nullptr ? elasticity_of(door, warm->warmth.jamb, warm->warmth.pins)
                                  : elasticity_of(door, door.temperature, door.temperature);
  made.of_door = warm != nullptr ? elasticity_at(door, warm->at) : made.of_frame;
  if (hang != nullptr && !hang->elastic.empty()) {
    made.elastic = hang->elastic;
    made.weight = hang->weight;
  } else {
    made.elastic = joined_bodies(door, mesh, tell, made, kept);
    made.weight = body_weights(door, mesh);
  }
  if (hang != nullptr && hang->elastic.empty()) {
    hang->elastic = made.elastic;
    hang->weight = made.weight;
    for (auto& body : hang->elastic)
      body->keep_answers();
  }
  if (hang != nullptr)
    be_of_points(made.points, *hang);
  add_loads(door, mesh, standing, made);
  if (warm != nullptr)
    add_heat(door, mesh, *warm, hang, made);
  return made;
}

NodeField free_moves(const Door& door, const Mesh& mesh, const NodeField& forces,
                     FactoredBodies& kept, SystemCache& systems)
{
  const auto hang = take_hang(door, mesh, systems);
  const Assembly assembly = assemble(
      door, mesh, [](const std::string&, double) {}, nullptr, kept, hang.get());
  keep_hang(hang, systems);
  return assembly.elastic[door_body]->solve(forces);
}

} // namespace hangtrue
