// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/qoi/contribution_split.hpp"

#include "solver/elasticity/stress.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue::qoi
{

namespace
{

constexpr int groups = static_cast<int>(ContributingPart::jamb) + 1; // of parts with strain

ContributingPart group_of(mesh::Part part, int body)
{
  switch (part) {
  case mesh::Part::pin:
    return ContributingPart::pins;
  case mesh::Part::ring:
    return body == contact::frame_body ? ContributingPart::frame_knuckles
                                       : ContributingPart::door_knuckles;
  case mesh::Part::land:
  case mesh::Part::web:
  case mesh::Part::neck:
  case mesh::Part::lug:
    return body == contact::frame_body ? ContributingPart::frame_leaves
                                       : ContributingPart::door_leaves;
  case mesh::Part::jamb:
    return ContributingPart::jamb;
  case mesh::Part::inner_skin:
    return ContributingPart::inner_skin;
  case mesh::Part::outer_skin:
    return ContributingPart::outer_skin;
  case mesh::Part::stiffener:
    return ContributingPart::stiffeners;
  case mesh::Part::strip:
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
void add_body(const contact::BodyResponse& body, int index,
              const elasticity::CellElasticity& cell_elasticity, const elasticity::NodeField& real,
              const elasticity::NodeField& virtual_move, Work& work)
{
  fe::visit_cells(*body.space, fe::is_steel, [&](const fe::CellValues& at) {
    const auto stress = elasticity::stresses(at, cell_elasticity(at.cell), virtual_move);
    const auto strain = elasticity::strains(at, real);
    std::array<double, fe::quadrature_points> free_strain{};
    if (!body.free_strain.empty())
      free_strain = fe::values(at, body.free_strain);
    double all = 0.0;
    double free = 0.0;
    for (unsigned q = 0; q < fe::quadrature_points; ++q) {
      all += stress[q] * strain[q] * at.fe.JxW(q);
      free += trace(stress[q]) * free_strain[q] * at.fe.JxW(q);
    }
    const auto group = static_cast<std::size_t>(group_of(at.cell.part, index));
    work.bending.at(group) += all - free;
    work.heat.at(group) += free;
  });
}

// A gap of a contributing part of its own, where its pairs do not specify another.
GapContribution whole_gap(const contact::ContactPair& pair)
{
  switch (pair.kind) {
  case contact::ContactKind::bore:
    return {ContributingPart::hinge_play, ContributionSource::play, pair.gap, pair.hinge};
  case contact::ContactKind::thrust:
    return {ContributingPart::end_float, ContributionSource::play, pair.gap};
  case contact::ContactKind::skin:
    return {ContributingPart::loose_skin, ContributionSource::play, pair.gap};
  case contact::ContactKind::gasket:
    return {ContributingPart::gasket, ContributionSource::nominal, pair.gap};
  case contact::ContactKind::latch:
    return {ContributingPart::latches, ContributionSource::nominal, pair.gap};
  case contact::ContactKind::stop:
    return {ContributingPart::stops, ContributionSource::nominal, pair.gap};
  }
  return {};
}

// Adjoint contact forces times nominal gaps and times the compression between the sides by the real
// contact forces.
void add_contacts(const ContactStateData& solved, const std::vector<double>& virtual_force,
                  ContributionSplit& split)
{
  for (std::size_t p = 0; p < solved.points.size(); ++p) {
    const contact::ContactPair& pair = solved.points[p];
    const double q = virtual_force[p];
    if (q == 0.0)
      continue;
    std::vector<GapContribution> parts;
    if (p < solved.nominal.size())
      parts = solved.nominal[p];
    if (parts.empty())
      parts.push_back(whole_gap(pair));
    for (const auto& part : parts) {
      Contribution one{part.part, part.source, q * part.gap, part.hinge};
      add_contribution(split.by_cause, one);
      one.part = part.by_part.value_or(part.part);
      add_contribution(split.by_part, one);
    }
    if (pair.compliance != 0.0)
      add_contribution(split.by_part,
                       {pair.kind == contact::ContactKind::latch ? ContributingPart::latches
                                                                 : ContributingPart::gasket,
                        ContributionSource::compliance,
                        q * pair.compliance * solved.state.contact_force[p]});
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

double sum(const std::vector<Contribution>& all)
{
  double sum = 0.0;
  for (const auto& one : all)
    sum += one.value;
  return sum;
}

ContributionSplit split_contributions(Quantity quantity, const system::DoorSystem& system,
                                      const ContactStateData& solved,
                                      const contact::AdjointSolution& adjoint,
                                      const elasticity::NodeField& unit)
{
  ContributionSplit split;
  split.quantity = quantity;
  Work work;
  double loads = 0.0;
  for (std::size_t b = 0; b < system.bodies.size(); ++b) {
    const contact::BodyResponse& body = system.bodies[b];
    add_body(body, static_cast<int>(b), b == contact::door_body ? system.of_door : system.of_frame,
             solved.displacements[b], adjoint.displacements[b], work);
    for (std::size_t n = 0; n < body.load.size(); ++n)
      loads += dot(body.load[n], adjoint.displacements[b][n]);
  }
  add_contacts(solved, adjoint.contact_force, split);
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
  split.whole = nodal_work(unit, solved.displacements[contact::door_body]);
  split.closure_error = std::max(std::abs(sum(split.by_part) - split.whole),
                                 std::abs(sum(split.by_cause) - split.whole));
  return split;
}

} // namespace hangtrue::qoi
