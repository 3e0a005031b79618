#include "solver/qoi/contribution_split.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue
{

namespace
{

constexpr int groups = static_cast<int>(ContributingPart::jamb) + 1; // of parts with strain

ContributingPart group_of(Part part, int body)
{
  switch (part) {
  case Part::pin:
    return ContributingPart::pins;
  case Part::ring:
    return body == frame_body ? ContributingPart::frame_knuckles : ContributingPart::door_knuckles;
  case Part::land:
  case Part::web:
  case Part::neck:
  case Part::lug:
    return body == frame_body ? ContributingPart::frame_leaves : ContributingPart::door_leaves;
  case Part::jamb:
    return ContributingPart::jamb;
  case Part::inner_skin:
    return ContributingPart::inner_skin;
  case Part::outer_skin:
    return ContributingPart::outer_skin;
  case Part::stiffener:
    return ContributingPart::stiffeners;
  case Part::strip:
    return ContributingPart::strip;
  default:
    return ContributingPart::rim;
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
    const auto group = static_cast<std::size_t>(group_of(cell.part, index));
    work.bending.at(group) += all - free;
    work.heat.at(group) += free;
  });
}

// A gap of a contributing part of its own, where its pairs do not specify another.
DrawnPart whole_gap(const ContactPoint& point)
{
  switch (point.kind) {
  case ContactKind::bore:
    return {ContributingPart::hinge_play, ContributionSource::play, point.gap, point.hinge};
  case ContactKind::thrust:
    return {ContributingPart::end_float, ContributionSource::play, point.gap};
  case ContactKind::skin:
    return {ContributingPart::loose_skin, ContributionSource::play, point.gap};
  case ContactKind::gasket:
    return {ContributingPart::gasket, ContributionSource::drawn, point.gap};
  case ContactKind::latch:
    return {ContributingPart::latches, ContributionSource::drawn, point.gap};
  case ContactKind::stop:
    return {ContributingPart::stops, ContributionSource::drawn, point.gap};
  }
  return {};
}

// Adjoint contact forces times nominal gaps and times the compression between the sides by the real
// contact forces.
void add_contacts(const SolvedContact& solved, const std::vector<double>& virtual_push,
                  ContributionSplit& split)
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
      Contribution one{part.part, part.source, q * part.gap, part.hinge};
      add_contribution(split.by_cause, one);
      one.part = part.by_part.value_or(part.part);
      add_contribution(split.by_part, one);
    }
    if (point.compliance != 0.0)
      add_contribution(
          split.by_part,
          {point.kind == ContactKind::latch ? ContributingPart::latches : ContributingPart::gasket,
           ContributionSource::give, q * point.compliance * solved.state.push[p]});
  }
}

} // namespace

void add_contribution(std::vector<Contribution>& all, const Contribution& one)
{
  for (auto& known : all)
    if (known.part == one.part && known.source == one.source && known.hinge == one.hinge) {
      known.value += one.value;
      return;
    }
  all.push_back(one);
}

double sum_of(const std::vector<Contribution>& all)
{
  double sum = 0.0;
  for (const auto& one : all)
    sum += one.value;
  return sum;
}

ContributionSplit split_contributions(Quantity quantity, const Assembly& assembly,
                                      const SolvedContact& solved, const UnitAnswer& adjoint,
                                      const NodeField& unit)
{
  ContributionSplit split;
  split.quantity = quantity;
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
      split.by_part.push_back(
          {static_cast<ContributingPart>(g), ContributionSource::bending, work.bending.at(g)});
  for (int g = 0; g < groups; ++g)
    if (work.heat.at(g) != 0.0) {
      const Contribution heat{static_cast<ContributingPart>(g), ContributionSource::heat,
                              work.heat.at(g)};
      split.by_part.push_back(heat);
      split.by_cause.push_back(heat);
    }
  split.by_cause.push_back({ContributingPart::applied_load, ContributionSource::load, loads});
  split.whole = work_of(unit, solved.moves[door_body]);
  split.miss = std::max(std::abs(sum_of(split.by_part) - split.whole),
                        std::abs(sum_of(split.by_cause) - split.whole));
  return split;
}

} // namespace hangtrue
