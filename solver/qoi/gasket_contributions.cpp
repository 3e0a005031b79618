#include "solver/qoi/gasket_contributions.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// The nominal gap of one length of gasket.
std::vector<DrawnPart> drawn_parts(const GasketGaps& gaps, const GasketAt& g)
{
  std::vector<DrawnPart> parts{{ContributingPart::gasket_height, ContributionSource::drawn,
                                gaps.gasket.set_gap - gaps.gasket.height}};
  if (const double back = gaps.stands_back(g.place); back != 0.0)
    parts.push_back({ContributingPart::frame_warp, ContributionSource::drawn, back});
  if (const double set = gaps.gasket.height - g.height; set != 0.0)
    parts.push_back({ContributingPart::gasket_set, ContributionSource::drawn, set});
  return parts;
}

double sum(const std::vector<DrawnPart>& parts)
{
  double all = 0.0;
  for (const auto& part : parts)
    all += part.gap;
  return all;
}

} // namespace

SolvedAnswer squeeze_answer_of(const Assembly& assembly, const ContactSolver& solver,
                               SolvedContact solved, const GasketGaps& gaps)
{
  // At a kink of its curve, the intercept of its linear piece counts beside the nominal gap.
  solved.drawn.assign(solved.points.size(), {});
  std::size_t least = 0;
  for (std::size_t i = 0; i < gaps.line.size(); ++i) {
    const std::size_t point = gaps.first + i;
    auto& parts = solved.drawn[point];
    parts = drawn_parts(gaps, gaps.line[i]);
    if (const double bend = solved.points[point].gap - sum(parts); bend != 0.0)
      parts.push_back({ContributingPart::gasket_curve, ContributionSource::give, bend, -1,
                       ContributingPart::gasket});
    if (gaps.line[i].squeeze < gaps.line[least].squeeze)
      least = i;
  }
  for (std::size_t b = 0; b < assembly.bodies.size(); ++b)
    solved.moves.push_back(body_moves(assembly.bodies[b], static_cast<int>(b), assembly.modes,
                                      solved.points, solved.state, {}));
  SolvedAnswer made;
  made.unit.assign(assembly.bodies[door_body].mesh->nodes.size(), {});
  for (const auto& w : solved.points[gaps.first + least].outer.nodes)
    made.unit[w.node].y -= w.weight;
  made.adjoint = solver.answer_to(solved.state, door_body, made.unit);
  made.split =
      split_contributions(Quantity::least_squeeze, assembly, solved, made.adjoint, made.unit);
  made.split.place = gaps.line[least].place;
  for (const auto& part : drawn_parts(gaps, gaps.line[least])) {
    add_contribution(made.split.by_part, {part.part, part.source, -part.gap});
    add_contribution(made.split.by_cause, {part.part, part.source, -part.gap});
    made.split.whole -= part.gap;
  }
  // Against the squeeze of the contact solution itself.
  made.split.miss =
      std::max(made.split.miss, std::abs(made.split.whole - gaps.line[least].squeeze));
  made.solved = std::move(solved);
  return made;
}

} // namespace hangtrue
