#include "solver/sag_budget.hpp"

#include <fmt/format.h>

#include <array>
#include <map>

namespace hangtrue
{

namespace
{

// Parts that a shop can change on their own, in the order in which they are told.
enum Group { pins, door_knuckles, frame_knuckles, door_leaves, frame_leaves, panel, jamb, groups };

constexpr std::array<const char*, groups> group_names{"pins",
                                                      "knuckles of the door",
                                                      "knuckles of the frame",
                                                      "leaves of the door",
                                                      "leaves of the frame",
                                                      "panel",
                                                      "jamb"};

Group group_of(Part part, int body)
{
  switch (part) {
  case Part::pin:
    return pins;
  case Part::ring:
    return body == frame_body ? frame_knuckles : door_knuckles;
  case Part::land:
  case Part::web:
  case Part::neck:
  case Part::lug:
    return body == frame_body ? frame_leaves : door_leaves;
  case Part::jamb:
    return jamb;
  default:
    return panel;
  }
}

struct Work {
  std::array<double, groups> bending{};
  std::array<double, groups> heat{};
};

// Integrals of virtual stress times real strain, cell by cell.
void add_body(const LoadedBody& body, int index, const ElasticityOf& of, const NodeField& real,
              const NodeField& virtual_move, Work& work)
{
  visit_cells(*body.mesh, is_steel, [&](const Hex& cell, const CellShape& shape) {
    const auto stress = stresses(cell, shape, of(cell), virtual_move);
    double all = 0.0;
    double free = 0.0;
    for (int q = 0; q < 27; ++q) {
      const Stress& s = stress[q];
      double density = 0.0;
      double strain = 0.0;
      for (int n = 0; n < 27; ++n) {
        const Vec3& u = real[cell.node[n]];
        const Vec3& g = shape.slope[q][n];
        density += s[0] * u.x * g.x + s[1] * u.y * g.y + s[2] * u.z * g.z +
                   s[3] * (u.y * g.z + u.z * g.y) + s[4] * (u.x * g.z + u.z * g.x) +
                   s[5] * (u.x * g.y + u.y * g.x);
        if (!body.free_strain.empty())
          strain += shape.value[q][n] * body.free_strain[cell.node[n]];
      }
      all += density * shape.volume[q];
      free += (s[0] + s[1] + s[2]) * strain * shape.volume[q];
    }
    const Group group = group_of(cell.part, index);
    work.bending.at(group) += all - free;
    work.heat.at(group) += free;
  });
}

// Virtual pushes times drawn gaps: play in the bores of each hinge, end float, and a loose skin
// with what holds it.
void add_play(const std::vector<ContactPoint>& points, const std::vector<double>& virtual_push,
              const std::vector<double>& push, std::vector<SagShare>& shares)
{
  std::map<int, double> bores;
  double thrust = 0.0;
  double loose = 0.0;
  for (std::size_t p = 0; p < points.size(); ++p) {
    const double work = virtual_push[p] * (points[p].gap + points[p].compliance * push[p]);
    if (points[p].kind == ContactKind::bore)
      bores[points[p].hinge] += work;
    else
      (points[p].kind == ContactKind::thrust ? thrust : loose) += work;
  }
  for (const auto& [hinge, drop] : bores)
    shares.push_back({fmt::format("play in hinge {}", hinge + 1), SagCause::play, drop});
  shares.push_back({"end float", SagCause::play, thrust});
  if (loose != 0.0)
    shares.push_back({"loose inner skin", SagCause::play, loose});
}

} // namespace

std::vector<SagShare> sag_budget(const Assembly& assembly, const ContactState& state,
                                 const ElasticityOf& of_door, const BodyMoves& moves,
                                 const NodeField& unit)
{
  const UnitAnswer answer = carried_response(assembly.bodies, assembly.modes, assembly.points,
                                             state.carrying, door_body, unit);
  const ElasticityOf& of = assembly.of_frame;
  Work work;
  for (std::size_t b = 0; b < assembly.bodies.size(); ++b)
    add_body(assembly.bodies[b], static_cast<int>(b), b == door_body ? of_door : of, moves[b],
             answer.moves[b], work);
  std::vector<SagShare> shares;
  add_play(assembly.points, answer.push, state.push, shares);
  for (int g = 0; g < groups; ++g)
    shares.push_back({group_names.at(g), SagCause::bending, work.bending.at(g)});
  for (int g = 0; g < groups; ++g)
    if (work.heat.at(g) != 0.0)
      shares.push_back(
          {fmt::format("heat of the {}", group_names.at(g)), SagCause::heat, work.heat.at(g)});
  return shares;
}

} // namespace hangtrue
