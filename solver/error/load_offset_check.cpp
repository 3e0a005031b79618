#include "solver/error/load_offset_check.hpp"

#include "solver/contact/contact_response.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/qoi/corner_displacements.hpp"
#include "solver/system/door_system.hpp"

#include <algorithm>

namespace hangtrue
{

namespace
{

// A hundredth of the longest knuckle, m.
double hair_of(const Door& door)
{
  constexpr double share = 0.01;
  double longest = 0.0;
  for (const auto& hinge : door.hinges)
    for (const auto& knuckle : hinge.knuckles)
      longest = std::max(longest, knuckle.length);
  return share * longest;
}

// What moving all loads of the door by one metre along z adds to the nodes, N/m: a couple, laid out
// like the weight, which is everywhere.
NodeField per_metre(const Vec3& down, const BodyMesh& body, const NodeField& weight,
                    const NodeField& load)
{
  Vec3 force;
  double whole = 0.0;
  double first = 0.0;
  double second = 0.0;
  for (std::size_t n = 0; n < weight.size(); ++n) {
    const double w = dot(down, weight[n]);
    const double z = body.nodes[n].z;
    force += load[n];
    whole += w;
    first += w * z;
    second += w * z * z;
  }
  const double centre = first / whole;
  const double spread = second - centre * first;
  NodeField added(weight.size());
  for (std::size_t n = 0; n < weight.size(); ++n)
    added[n] = (dot(down, weight[n]) * (body.nodes[n].z - centre) / spread) * force;
  return added;
}

void add(double times, const NodeField& more, NodeField& to)
{
  for (std::size_t n = 0; n < to.size(); ++n)
    to[n] += times * more[n];
}

} // namespace

Poise poise_of(const Door& door, const Mesh& mesh, const Assembly& assembly,
               const std::vector<Touch>& foreseen)
{
  const NodeField load = per_metre(gravity_direction(door), mesh.door, assembly.weight[door_body],
                                   assembly.bodies[door_body].load);
  const NodeField load_move = assembly.bodies[door_body].elastic->solve(load);
  std::vector<ContactPoint> at_nodes = assembly.points;
  std::erase_if(at_nodes, between_nodes);
  const auto hung = [&](double shift) {
    std::vector<LoadedBody> bodies = assembly.bodies;
    add(shift, load, bodies[door_body].load);
    add(shift, load_move, bodies[door_body].load_move);
    std::vector<ContactPoint> points = at_nodes;
    ContactSolver solver(bodies, assembly.modes, points, foreseen);
    solver.follow_circles(points);
    const ContactState state = solver.solve([](int, int) {}).state;
    NodeField moves = body_moves(bodies[door_body], door_body, assembly.modes, points, state, {});
    take_out_swing(door, mesh, moves);
    const auto corners = corner_moves(door, mesh, moves);
    return Tip{greatest_drop(door, corners), lean_of(corners)};
  };
  const double hair = hair_of(door);
  return {hair, {hung(-hair), hung(hair)}};
}

} // namespace hangtrue
