// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/system/door_system.hpp"

#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/material/steel_properties.hpp"

#include <utility>

namespace hangtrue::system
{

namespace
{

// A board between skin and rim: its own strain is small against the slip that its compliance
// allows, so it takes the strain of the steel.
elasticity::Elasticity strip_elasticity(const door::Door& door)
{
  constexpr double poisson = 0.2; // no source; 0.1 to 0.3 change its shear stiffness by 8 %
  return elasticity::elasticity(door.strip.youngs_modulus, poisson);
}

} // namespace

elasticity::CellElasticity elasticity_of(const door::Door& door, double temperature, double pins)
{
  const elasticity::Elasticity structure = elasticity::elasticity(
      material::reduction(door.steel, temperature).modulus * door.steel.youngs_modulus,
      door.steel.poisson);
  const elasticity::Elasticity pin = elasticity::elasticity(
      material::reduction(door.pin_steel, pins).modulus * door.pin_steel.youngs_modulus,
      door.pin_steel.poisson);
  const elasticity::Elasticity strip = strip_elasticity(door);
  return [structure, pin, strip](const mesh::Hex27& cell) {
    if (cell.part == mesh::Part::strip)
      return strip;
    return cell.part == mesh::Part::pin ? pin : structure;
  };
}

elasticity::CellElasticity elasticity_at(const door::Door& door,
                                         const std::vector<double>& temperature)
{
  const door::Steel steel = door.steel;
  const elasticity::Elasticity strip = strip_elasticity(door);
  return [steel, strip, &temperature](const mesh::Hex27& cell) {
    if (cell.part == mesh::Part::strip)
      return strip;
    double mean = 0.0;
    for (const int n : cell.node)
      mean += temperature[n] / 27.0;
    return elasticity::elasticity(material::reduction(steel, mean).modulus * steel.youngs_modulus,
                                  steel.poisson);
  };
}

DoorElasticity door_elasticity(const door::Door& door, const heat::ThermalState* thermal)
{
  if (thermal == nullptr) {
    const auto everywhere = elasticity_of(door, door.temperature, door.temperature);
    return {everywhere, everywhere};
  }
  return {elasticity_of(door, thermal->summary.jamb, thermal->summary.pins),
          elasticity_at(door, thermal->temperature)};
}

std::vector<double> free_strains(const door::Door& door, const std::vector<double>& temperature,
                                 double reference)
{
  const double all = material::elongation(door.steel, reference);
  std::vector<double> strain;
  strain.reserve(temperature.size());
  for (const double t : temperature)
    strain.push_back(material::elongation(door.steel, t) - all);
  return strain;
}

// All strains are relative to that of the jamb: uniform growth of everything causes no relative
// displacement.
std::vector<std::vector<double>> body_strains(const door::Door& door, const mesh::Mesh& mesh,
                                              const heat::ThermalState& thermal)
{
  std::vector<std::vector<double>> strains(contact::first_pin_body);
  strains[contact::door_body] = free_strains(door, thermal.temperature, thermal.summary.jamb);
  const double of_pins = material::elongation(door.pin_steel, thermal.summary.pins) -
                         material::elongation(door.steel, thermal.summary.jamb);
  for (const auto& pin : mesh.pins)
    strains.emplace_back(pin.nodes.size(), of_pins);
  return strains;
}

namespace
{

// Heat as loads: the door by its temperatures, floating pins uniformly.
void add_heat(const door::Door& door, const mesh::Mesh& mesh, const heat::ThermalState& thermal,
              CachedDoorSystem* cached, DoorSystem& result)
{
  auto& bodies = result.bodies;
  auto strains = body_strains(door, mesh, thermal);
  for (std::size_t b = 0; b < bodies.size(); ++b)
    bodies[b].free_strain = std::move(strains[b]);
  const bool known = cached != nullptr && !cached->thermal_load.empty();
  for (std::size_t b = 0; b < bodies.size(); ++b)
    if (known)
      bodies[b].thermal_load = cached->thermal_load[b];
    else if (!bodies[b].free_strain.empty())
      bodies[b].thermal_load = elasticity::free_strain_forces(
          result.spaces[b], b == contact::door_body ? result.of_door : result.of_frame,
          bodies[b].free_strain);
  if (cached != nullptr && !known)
    for (const auto& body : bodies)
      cached->thermal_load.push_back(body.thermal_load);
  for (std::size_t b = 0; b < bodies.size(); ++b)
    if (!bodies[b].thermal_load.empty())
      bodies[b].thermal_displacement = result.elastic[b]->solve(
          bodies[b].thermal_load, contact::contact_nodes(result.pairs, static_cast<int>(b)));
}

// Free rigid displacements: the door's but its swing, a floating pin's but its spin and its end
// float. Nothing opposes those; that nothing drives them either is checked.
std::vector<contact::RigidMode> free_modes(const door::Door& door, const mesh::Mesh& mesh,
                                           DoorPosition position)
{
  // m: scales a rotation to a displacement of similar size; the solution does not depend on it, but
  // for rounding.
  constexpr double arm = 0.5;
  const door::AxisPosition axis = door::pin_axis(door, door.hinges.front());
  const Vec3 about{axis.x, axis.y, 0.5 * door.panel.height};
  std::vector<contact::RigidMode> modes{{contact::door_body, {1.0, 0.0, 0.0}, {}, about},
                                        {contact::door_body, {0.0, 1.0, 0.0}, {}, about},
                                        {contact::door_body, {0.0, 0.0, 1.0}, {}, about},
                                        {contact::door_body, {}, {1.0 / arm, 0.0, 0.0}, about},
                                        {contact::door_body, {}, {0.0, 1.0 / arm, 0.0}, about}};
  if (position == DoorPosition::closed) // gasket and latches constrain the swing
    modes.push_back({contact::door_body, {}, {0.0, 0.0, 1.0 / arm}, about});
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const int body = mesh.hinges[h].pin_body;
    if (body < 0)
      continue;
    const Vec3 middle{axis.x, axis.y, door.hinges[h].position};
    const int index = contact::first_pin_body + body;
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
void restrain_open(const door::Door& door, const mesh::Mesh& mesh, elasticity::NodeField& load)
{
  const door::AxisPosition axis = door::pin_axis(door, door.hinges.front());
  const Vec3 origin{axis.x, axis.y, 0.0};
  const double turning = elasticity::resultant(mesh.door, load, origin).moment.z;
  if (door.hanging == door::HingeEdge::side)
    return;
  const double lever = door.panel.width - axis.x;
  const elasticity::NodeField hand = elasticity::edge_forces(
      door, mesh.door, 0.5 * door.panel.height, {0.0, -turning / lever, 0.0});
  for (std::size_t n = 0; n < load.size(); ++n)
    load[n] += hand[n];
}

// The weight of a floating pin along its axis hangs from its head on the highest frame knuckle.
void add_pin(const mesh::HingeMesh& hinge, const elasticity::Resultant& pin_weight,
             elasticity::NodeField& frame_load)
{
  const mesh::KnuckleMesh* highest = nullptr;
  for (const auto& k : hinge.knuckles) // listed from below
    if (k.owner == door::KnuckleOwner::frame)
      highest = &k;
  if (highest == nullptr)
    return;
  const auto& circle = highest->upper.node[highest->upper.node.size() / 2];
  for (const int n : circle)
    frame_load[n].z += pin_weight.force.z / static_cast<double>(circle.size());
}

} // namespace

std::vector<fe::Discretization> body_spaces(const mesh::Mesh& mesh)
{
  std::vector<fe::Discretization> spaces{mesh.door, mesh.frame};
  spaces.insert(spaces.end(), mesh.pins.begin(), mesh.pins.end());
  return spaces;
}

std::vector<elasticity::NodeField> body_weights(const door::Door& door,
                                                const std::vector<fe::Discretization>& spaces)
{
  const Vec3 down = elasticity::gravity_direction(door);
  std::vector<elasticity::NodeField> weights;
  weights.reserve(spaces.size());
  for (const auto& space : spaces)
    weights.push_back(elasticity::weight_forces(door, space, down));
  return weights;
}

std::vector<elasticity::NodeField> body_loads(const door::Door& door, const mesh::Mesh& mesh,
                                              DoorPosition position,
                                              std::vector<elasticity::NodeField> weights)
{
  std::vector<elasticity::NodeField> loads = std::move(weights);
  if (position == DoorPosition::open) {
    elasticity::NodeField& on_door = loads[contact::door_body];
    const elasticity::NodeField leaning =
        elasticity::edge_forces(door, mesh.door, door.handle.position,
                                door.handle.force * elasticity::gravity_direction(door));
    for (std::size_t n = 0; n < on_door.size(); ++n)
      on_door[n] += leaning[n];
    restrain_open(door, mesh, on_door);
  }
  for (const auto& hinge : mesh.hinges) {
    if (hinge.pin_body < 0)
      continue;
    elasticity::NodeField& weight = loads[contact::first_pin_body + hinge.pin_body];
    add_pin(hinge, elasticity::resultant(mesh.pins[hinge.pin_body], weight, {}),
            loads[contact::frame_body]);
    for (auto& f : weight)
      f.z = 0.0;
  }
  return loads;
}

namespace
{

std::vector<std::shared_ptr<substructuring::SubstructuredBody>>
substructured_bodies(const door::Door& door, const mesh::Mesh& mesh, const Progress& report,
                     const DoorSystem& of, substructuring::FactorizationCache& cache)
{
  std::vector<std::shared_ptr<substructuring::SubstructuredBody>> result;
  const int count = contact::first_pin_body + static_cast<int>(mesh.pins.size());
  for (int b = 0; b < count; ++b) {
    const mesh::BodyMesh& body = contact::body_mesh(mesh, b);
    report("stiffness of the " + body.name, 0.6 * b / count);
    // The frame is cached as if closed, so that another swing finds it again.
    const substructuring::LocalFrame frame{door::pin_axis(door, door.hinges.front()),
                                           b == contact::frame_body ? -door.swing : 0.0};
    result.push_back(std::make_shared<substructuring::SubstructuredBody>(
        body, b == contact::door_body ? of.of_door : of.of_frame,
        b == contact::frame_body ? elasticity::fix_all(mesh.held)
                                 : std::vector<elasticity::FixedDof>{},
        frame, cache,
        b == contact::door_body ? contact::retained_dofs(door, body)
                                : std::vector<elasticity::FixedDof>{}));
  }
  return result;
}

void add_contact_points(const door::Door& door, const mesh::Mesh& mesh, DoorSystem& result)
{
  result.pairs = contact::contact_pairs(door, mesh);
  contact::add_skin_pairs(door, mesh.door, result.pairs);
}

// Bodies and weights are there: what acts on them, and what that does.
void add_loads(const door::Door& door, const mesh::Mesh& mesh, DoorPosition position,
               DoorSystem& result)
{
  auto loads = body_loads(door, mesh, position, result.weight);
  for (std::size_t b = 0; b < result.elastic.size(); ++b) {
    contact::BodyResponse loaded;
    loaded.mesh = &contact::body_mesh(mesh, static_cast<int>(b));
    loaded.elastic = result.elastic[b].get();
    loaded.space = result.spaces[b];
    loaded.load = std::move(loads[b]);
    loaded.load_displacement = loaded.elastic->solve(
        loaded.load, contact::contact_nodes(result.pairs, static_cast<int>(b)));
    result.bodies.push_back(std::move(loaded));
  }
  result.modes = free_modes(door, mesh, position);
}

} // namespace

DoorSystem assemble_door_system(const door::Door& door, const mesh::Mesh& mesh,
                                const Progress& report, const heat::ThermalState* thermal,
                                substructuring::FactorizationCache& cache, CachedDoorSystem* cached,
                                DoorPosition position, std::vector<contact::ContactPair> pairs)
{
  DoorSystem result;
  result.pairs = std::move(pairs);
  if (result.pairs.empty())
    add_contact_points(door, mesh, result);
  DoorElasticity elasticity = door_elasticity(door, thermal);
  result.of_frame = std::move(elasticity.of_frame);
  result.of_door = std::move(elasticity.of_door);
  if (cached != nullptr && !cached->elastic.empty()) {
    result.elastic = cached->elastic;
    result.spaces = cached->spaces;
    result.weight = cached->weight;
  } else {
    result.elastic = substructured_bodies(door, mesh, report, result, cache);
    result.spaces = body_spaces(mesh);
    result.weight = body_weights(door, result.spaces);
  }
  if (cached != nullptr && cached->elastic.empty()) {
    cached->elastic = result.elastic;
    cached->spaces = result.spaces;
    cached->weight = result.weight;
    for (auto& body : cached->elastic)
      body->cache_solutions();
  }
  if (cached != nullptr)
    invalidate_columns_unless(result.pairs, *cached);
  add_loads(door, mesh, position, result);
  if (thermal != nullptr)
    add_heat(door, mesh, *thermal, cached, result);
  return result;
}

elasticity::NodeField solve_free_body(const door::Door& door, const mesh::Mesh& mesh,
                                      const elasticity::NodeField& forces,
                                      substructuring::FactorizationCache& cache,
                                      SystemCache& systems)
{
  const auto cached = take_system(door, mesh, systems);
  const DoorSystem system = assemble_door_system(
      door, mesh, [](const std::string&, double) {}, nullptr, cache, cached.get());
  store_system(cached, systems);
  return system.elastic[contact::door_body]->solve(forces);
}

} // namespace hangtrue::system
