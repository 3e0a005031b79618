// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/qoi/gasket_contributions.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::qoi
{

namespace
{

// The nominal gap of one length of gasket.
std::vector<GapContribution> nominal_parts(const GasketGaps& gaps, const contact::GasketPoint& g)
{
  std::vector<GapContribution> parts{{ContributingPart::gasket_height, ContributionSource::nominal,
                                      gaps.gasket.set_gap - gaps.gasket.height}};
  if (const double back = gaps.face_setback(g.place); back != 0.0)
    parts.push_back({ContributingPart::frame_warp, ContributionSource::nominal, back});
  if (const double set = gaps.gasket.height - g.height; set != 0.0)
    parts.push_back({ContributingPart::gasket_set, ContributionSource::nominal, set});
  return parts;
}

double sum(const std::vector<GapContribution>& parts)
{
  double all = 0.0;
  for (const auto& part : parts)
    all += part.gap;
  return all;
}

} // namespace

QoiSolution least_squeeze_solution(const system::DoorSystem& system,
                                   const contact::ContactSolver& solver, ContactStateData solved,
                                   const GasketGaps& gaps)
{
  // At a kink of its curve, the intercept of its linear segment counts beside the nominal gap.
  solved.nominal.assign(solved.points.size(), {});
  std::size_t minimum = 0;
  for (std::size_t i = 0; i < gaps.line.size(); ++i) {
    const std::size_t point = gaps.first + i;
    auto& parts = solved.nominal[point];
    parts = nominal_parts(gaps, gaps.line[i]);
    if (const double bend = solved.points[point].gap - sum(parts); bend != 0.0)
      parts.push_back({ContributingPart::gasket_curve, ContributionSource::compliance, bend, -1,
                       ContributingPart::gasket});
    if (gaps.line[i].squeeze < gaps.line[minimum].squeeze)
      minimum = i;
  }
  for (std::size_t b = 0; b < system.bodies.size(); ++b)
    solved.displacements.push_back(contact::body_displacements(
        system.bodies[b], static_cast<int>(b), system.modes, solved.points, solved.state, {}));
  QoiSolution result;
  result.unit_load.assign(system.bodies[contact::door_body].mesh->nodes.size(), {});
  for (const auto& w : solved.points[gaps.first + minimum].outer.nodes)
    result.unit_load[w.node].y -= w.weight;
  result.adjoint = solver.solve_adjoint(solved.state, contact::door_body, result.unit_load);
  result.split = split_contributions(Quantity::least_squeeze, system, solved, result.adjoint,
                                     result.unit_load);
  result.split.place = gaps.line[minimum].place;
  for (const auto& part : nominal_parts(gaps, gaps.line[minimum])) {
    add_contribution(result.split.by_part, {part.part, part.source, -part.gap});
    add_contribution(result.split.by_cause, {part.part, part.source, -part.gap});
    result.split.whole -= part.gap;
  }
  // Against the squeeze of the contact solution itself.
  result.split.closure_error = std::max(result.split.closure_error,
                                        std::abs(result.split.whole - gaps.line[minimum].squeeze));
  result.contact = std::move(solved);
  return result;
}

} // namespace hangtrue::qoi
