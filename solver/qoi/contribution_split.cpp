#include "solver/qoi/contribution_split.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue
{

namespace
{

// Parts that a shop can change on their own, in the order in which they are told.
enum Group {
  pins,
  door_knuckles,
  frame_knuckles,
  door_leaves,
  frame_leaves,
  inner_skin,
  outer_skin,
  rim,
  stiffeners,
  strip,
  jamb,
  groups
};

constexpr std::array<const char*, groups> group_names{"pins",
                                                      "knuckles of the door",
                                                      "knuckles of the frame",
                                                      "leaves of the door",
                                                      "leaves of the frame",
                                                      "inner skin",
                                                      "outer skin",
                                                      "rim",
                                                      "stiffeners",
                                                      "break strip",
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
  case Part::inner_skin:
    return inner_skin;
  case Part::outer_skin:
    return outer_skin;
  case Part::stiffener:
    return stiffeners;
  case Part::strip:
    return strip;
  default:
    return rim;
  }
}

struct Work {
  std::array<double, groups> bending{};
  std::array<double, groups> heat{};
};

// Integrals of virtual stress times real strain, cell by cell: elastic strain and free strain.
void add_body(const LoadedBody& body, int index, const ElasticityOf& of, const NodeField& real,
              const NodeField& virtual_move, Work& work)
{
  visit_cells(*body.mesh, is_steel, [&](const Hex& cell, const CellShape& shape) {
    const auto stress = stresses(cell, shape, of(cell), virtual_move);
    double all = 0.0;
    double free = 0.0;
    for (int q = 0; q < 27; ++q) {
      const Stress& s = stress[q];
      double strain = 0.0;
      for (int n = 0; n < 27 && !body.free_strain.empty(); ++n)
        strain += shape.value[q][n] * body.free_strain[cell.node[n]];
      all += work_density(s, cell, shape, q, real) * shape.volume[q];
      free += (s[0] + s[1] + s[2]) * strain * shape.volume[q];
    }
    const Group group = group_of(cell.part, index);
    work.bending.at(group) += all - free;
    work.heat.at(group) += free;
  });
}

// A gap of its own kind, where its points say nothing else.
DrawnPart whole_gap(const ContactPoint& point)
{
  switch (point.kind) {
  case ContactKind::bore:
    return {fmt::format("play in hinge {}", point.hinge + 1), ShareCause::play, point.gap};
  case ContactKind::thrust:
    return {"end float", ShareCause::play, point.gap};
  case ContactKind::skin:
    return {"loose inner skin", ShareCause::play, point.gap};
  case ContactKind::gasket:
    return {"gasket", ShareCause::drawn, point.gap};
  case ContactKind::latch:
    return {"draw of the latches", ShareCause::drawn, point.gap};
  case ContactKind::stop:
    return {"gap at the stops", ShareCause::drawn, point.gap};
  }
  return {};
}

const char* give_of(ContactKind kind)
{
  return kind == ContactKind::latch ? "give of the latches" : gasket_give;
}

// Virtual pushes times drawn gaps and times what the real pushes press together between the sides.
void add_contacts(const SolvedContact& solved, const std::vector<double>& virtual_push,
                  AnswerSplit& split)
{
  for (std::size_t p = 0; p < solved.points.size(); ++p) {
    const ContactPoint& point = solved.points[p];
    const double q = virtual_push[p];
    if (q == 0.0)
      continue;
    std::vector<DrawnPart> parts;
    if (p < solved.drawn.size())
      parts = solved.drawn[p];
    if (parts.empty())
      parts.push_back(whole_gap(point));
    for (const auto& part : parts) {
      add_share(split.by_part, part.by_part.empty() ? part.part : part.by_part, part.cause,
                q * part.gap);
      add_share(split.by_cause, part.part, part.cause, q * part.gap);
    }
    if (point.compliance != 0.0)
      add_share(split.by_part, give_of(point.kind), ShareCause::give,
                q * point.compliance * solved.state.push[p]);
  }
}

} // namespace

void add_share(std::vector<AnswerShare>& shares, const std::string& part, ShareCause cause,
               double value)
{
  for (auto& share : shares)
    if (share.part == part && share.cause == cause) {
      share.value += value;
      return;
    }
  shares.push_back({part, cause, value});
}

double sum_of(const std::vector<AnswerShare>& shares)
{
  double sum = 0.0;
  for (const auto& share : shares)
    sum += share.value;
  return sum;
}

AnswerSplit split_answer(const Assembly& assembly, const SolvedContact& solved,
                         const UnitAnswer& adjoint, const NodeField& unit)
{
  AnswerSplit split;
  Work work;
  double loads = 0.0;
  for (std::size_t b = 0; b < assembly.bodies.size(); ++b) {
    const LoadedBody& body = assembly.bodies[b];
    add_body(body, static_cast<int>(b), b == door_body ? assembly.of_door : assembly.of_frame,
             solved.moves[b], adjoint.moves[b], work);
    for (std::size_t n = 0; n < body.load.size(); ++n)
      loads += dot(body.load[n], adjoint.moves[b][n]);
  }
  add_contacts(solved, adjoint.push, split);
  for (int g = 0; g < groups; ++g)
    if (work.bending.at(g) != 0.0)
      split.by_part.push_back({group_names.at(g), ShareCause::bending, work.bending.at(g)});
  for (int g = 0; g < groups; ++g)
    if (work.heat.at(g) != 0.0) {
      const AnswerShare share{fmt::format("heat of the {}", group_names.at(g)), ShareCause::heat,
                              work.heat.at(g)};
      split.by_part.push_back(share);
      split.by_cause.push_back(share);
    }
  split.by_cause.push_back({"weight and handle", ShareCause::load, loads});
  for (std::size_t n = 0; n < unit.size(); ++n)
    split.whole += dot(unit[n], solved.moves[door_body][n]);
  split.miss = std::max(std::abs(sum_of(split.by_part) - split.whole),
                        std::abs(sum_of(split.by_cause) - split.whole));
  return split;
}

} // namespace hangtrue
