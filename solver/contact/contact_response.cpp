#include "solver/contact/contact_response.hpp"

#include <algorithm>

namespace hangtrue
{

Vec3 rigid_move(const RigidMode& mode, const Vec3& place)
{
  return mode.translation + cross(mode.rotation, place - mode.about);
}

double gap_change(const ContactPoint& point, const std::vector<NodeField>& moves)
{
  return gap_change_where(
      point, [](int side) { return side != ground; },
      [&](int side, int node) { return moves[side][node]; });
}

std::vector<NodeForce> unit_push(const ContactPoint& point, int body)
{
  std::vector<NodeForce> forces;
  auto add = [&](const ContactSide& side, double sign) {
    if (side.body == body)
      for (const auto& w : side.nodes)
        forces.push_back({w.node, sign * w.weight * point.normal});
  };
  add(point.outer, 1.0);
  add(point.inner, -1.0);
  return forces;
}

std::vector<int> touching_nodes(const std::vector<ContactPoint>& points, int body)
{
  std::vector<int> nodes;
  for (const auto& point : points)
    for (const auto* side : {&point.outer, &point.inner})
      if (side->body == body)
        for (const auto& w : side->nodes)
          nodes.push_back(w.node);
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

NodeField push_forces(const std::vector<ContactPoint>& points, const std::vector<double>& push,
                      int body, std::size_t nodes)
{
  NodeField forces(nodes);
  for (std::size_t p = 0; p < points.size(); ++p)
    if (push[p] != 0.0)
      for (const auto& f : unit_push(points[p], body))
        forces[f.node] += push[p] * f.force;
  return forces;
}

namespace
{

void add_rigid(const LoadedBody& body, int index, const std::vector<RigidMode>& modes,
               const std::vector<double>& amplitude, NodeField& moves)
{
  for (std::size_t m = 0; m < modes.size(); ++m)
    if (modes[m].body == index)
      for (std::size_t n = 0; n < moves.size(); ++n)
        moves[n] += amplitude[m] * rigid_move(modes[m], body.mesh->nodes[n]);
}

} // namespace

NodeField moves_under(const LoadedBody& body, int index, const std::vector<RigidMode>& modes,
                      const std::vector<double>& amplitude, const NodeField& forces)
{
  NodeField moves = body.elastic->solve(forces);
  add_rigid(body, index, modes, amplitude, moves);
  return moves;
}

NodeField body_moves(const LoadedBody& body, int index, const std::vector<RigidMode>& modes,
                     const std::vector<ContactPoint>& points, const ContactState& state,
                     const Acting& acting)
{
  const std::size_t nodes = body.mesh->nodes.size();
  NodeField forces = push_forces(points, state.push, index, nodes);
  for (std::size_t n = 0; n < nodes; ++n) {
    if (acting.load)
      forces[n] += body.load[n];
    if (acting.heat && !body.heat.empty())
      forces[n] += body.heat[n];
  }
  return moves_under(body, index, modes, state.amplitude, forces);
}

NodeField seat_moves(const LoadedBody& body, int index, const std::vector<RigidMode>& modes,
                     const std::vector<ContactPoint>& points, const ContactState& state)
{
  const std::size_t nodes = body.mesh->nodes.size();
  NodeField moves = body.elastic->solve_seats(push_forces(points, state.push, index, nodes));
  for (std::size_t n = 0; n < nodes; ++n) {
    moves[n] += body.load_move[n];
    if (!body.heat_move.empty())
      moves[n] += body.heat_move[n];
  }
  add_rigid(body, index, modes, state.amplitude, moves);
  return moves;
}

} // namespace hangtrue
