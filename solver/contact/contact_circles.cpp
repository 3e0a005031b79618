// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/contact_circles.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <tuple>

namespace hangtrue::contact
{

namespace
{

constexpr double full_turn = 2.0 * std::numbers::pi;

Vec3 direction(double angle)
{
  return {std::cos(angle), std::sin(angle), 0.0};
}

// Angle from `start` on, from 0 up to a full turn.
double angle_from(double start, double angle)
{
  const double a = std::fmod(angle - start, full_turn);
  return a < 0.0 ? a + full_turn : a;
}

// Radius and centre from two pairs far apart on the circle.
void add_centre(const std::vector<ContactPair>& pairs, ContactCircle& circle)
{
  const ContactPair& a = pairs[circle.pair.front()];
  const ContactPair& b = pairs[circle.pair[circle.pair.size() / 2]];
  circle.radius = norm(a.place - b.place) / norm(direction(a.angle) - direction(b.angle));
  circle.centre = a.place - circle.radius * direction(a.angle);
}

double angle_of_step(const ContactCircle& circle, int step)
{
  const std::size_t n = circle.angle.size();
  const auto node = static_cast<std::size_t>(step / steps_per_arc) % n;
  const double share =
      static_cast<double>(step % steps_per_arc) / static_cast<double>(steps_per_arc);
  const double from = circle.angle[node];
  return from + share * angle_from(from, circle.angle[(node + 1) % n]);
}

// Step at or before an angle.
int step_before(const ContactCircle& circle, double angle)
{
  const std::size_t n = circle.angle.size();
  const double on = angle_from(circle.angle.front(), angle);
  std::size_t node = 0;
  while (node + 1 < n && angle_from(circle.angle.front(), circle.angle[node + 1]) <= on)
    ++node;
  const double from = circle.angle[node];
  const double share = angle_from(from, angle) / angle_from(from, circle.angle[(node + 1) % n]);
  const int within =
      std::min(steps_per_arc - 1, static_cast<int>(share * static_cast<double>(steps_per_arc)));
  return static_cast<int>(node) * steps_per_arc + within;
}

struct Present {
  double angle = 0.0; // rad, from the first node on
  int pair = 0;
};

std::vector<Present> all_present(const ContactCircle& circle)
{
  std::vector<Present> result;
  for (std::size_t i = 0; i < circle.pair.size(); ++i)
    result.push_back({angle_from(circle.angle.front(), circle.angle[i]), circle.pair[i]});
  for (const auto& [step, pair] : circle.between)
    result.push_back({angle_from(circle.angle.front(), angle_of_step(circle, step)), pair});
  std::sort(result.begin(), result.end(),
            [](const Present& a, const Present& b) { return a.angle < b.angle; });
  return result;
}

// The gap round the circle near its least, as for a rigid displacement: C + A cos angle + B sin
// angle through the pair of least gap and its two neighbours.
struct MinGap {
  double angle = 0.0;  // rad, from the first node on
  double gap = 0.0;    // m
  double across = 0.0; // m, amplitude of the displacement
  double before = 0.0; // rad, nearest pairs to either side
  double behind = 0.0; // rad
};

std::optional<MinGap> min_gap(const ContactCircle& circle, const std::vector<double>& gaps)
{
  const std::vector<Present> present = all_present(circle);
  const std::size_t n = present.size();
  std::size_t minimum = 0;
  for (std::size_t i = 1; i < n; ++i)
    if (gaps[present[i].pair] < gaps[present[minimum].pair])
      minimum = i;
  const std::array<Present, 3> at{present[(minimum + n - 1) % n], present[minimum],
                                  present[(minimum + 1) % n]};
  Eigen::Matrix3d m;
  Eigen::Vector3d right;
  for (int i = 0; i < 3; ++i) {
    m.row(i) << 1.0, std::cos(at[i].angle), std::sin(at[i].angle);
    right[i] = gaps[at[i].pair];
  }
  const Eigen::Vector3d fit = m.partialPivLu().solve(right);
  MinGap result;
  result.across = std::hypot(fit[1], fit[2]);
  result.gap = fit[0] - result.across;
  result.angle = angle_from(0.0, std::atan2(-fit[2], -fit[1]));
  const double from = angle_from(at[0].angle, result.angle);
  const double middle = angle_from(at[0].angle, at[1].angle);
  const double end = angle_from(at[0].angle, at[2].angle);
  if (from >= end)
    return std::nullopt; // least at a pair
  result.before = from < middle ? at[0].angle : at[1].angle;
  result.behind = from < middle ? at[1].angle : at[2].angle;
  return result;
}

// The direction of the resultant contact force of the whole knuckle on this side: where a rigid
// body rests.
std::optional<double> angle_of_force(const ContactCircle& circle, const ContactPair& on,
                                     const std::vector<ContactPair>& pairs,
                                     const std::vector<double>& contact_force, double near)
{
  constexpr double one_side = 0.5; // cosine: within 60 degrees
  Vec3 sum;
  for (std::size_t p = 0; p < pairs.size(); ++p) {
    const ContactPair& pair = pairs[p];
    if (contact_force[p] > 0.0 && pair.kind == on.kind && pair.hinge == on.hinge &&
        pair.knuckle == on.knuckle && std::cos(pair.angle - near) > one_side)
      sum += contact_force[p] * direction(pair.angle);
  }
  if (!(norm(sum) > 0.0))
    return std::nullopt;
  return angle_from(circle.angle.front(), std::atan2(sum.y, sum.x));
}

} // namespace

std::vector<ContactCircle> contact_circles(const std::vector<ContactPair>& pairs)
{
  std::vector<ContactCircle> result;
  int last = -1;
  std::vector<int> circle_of(pairs.size(), -1);
  for (std::size_t p = 0; p < pairs.size(); ++p) {
    if (!at_hinge(pairs[p]))
      continue;
    if (is_intermediate(pairs[p])) {
      ContactCircle& circle = result[circle_of[pairs[p].node_before]];
      circle.between[pairs[p].step] = static_cast<int>(p);
      continue;
    }
    if (last < 0 || !on_one_circle(pairs[last], pairs[p]))
      result.emplace_back();
    last = static_cast<int>(p);
    circle_of[p] = static_cast<int>(result.size()) - 1;
    result.back().pair.push_back(last);
    result.back().angle.push_back(pairs[p].angle);
  }
  for (auto& circle : result)
    add_centre(pairs, circle);
  return result;
}

std::vector<IntermediatePosition> violated_intermediate_positions(
    const std::vector<ContactCircle>& circles, const std::vector<ContactPair>& pairs,
    const std::vector<double>& gaps, const std::vector<double>& contact_force, double tolerance)
{
  constexpr double share = 3e-6; // of the displacement: one step between two active ones makes 2e-6
  std::vector<IntermediatePosition> result;
  for (std::size_t c = 0; c < circles.size(); ++c) {
    const ContactCircle& circle = circles[c];
    const auto minimum = min_gap(circle, gaps);
    if (!minimum || !(minimum->gap < -std::max(tolerance, share * minimum->across)))
      continue;
    const double start = circle.angle.front();
    const auto rest = angle_of_force(circle, pairs[circle.pair.front()], pairs, contact_force,
                                     start + minimum->angle);
    const bool inside =
        rest && angle_from(minimum->before, *rest) < angle_from(minimum->before, minimum->behind);
    const int step = step_before(circle, start + (inside ? *rest : minimum->angle));
    const int all = steps_per_arc * static_cast<int>(circle.pair.size());
    for (const int s : {step, (step + 1) % all})
      if (s % steps_per_arc != 0 && circle.between.count(s) == 0)
        result.push_back({static_cast<int>(c), s});
  }
  return result;
}

std::vector<NodeWeight> intermediate_weights(const ContactCircle& circle, int step)
{
  return on_circle(circle.angle, circle.pair, angle_of_step(circle, step));
}

ContactPair intermediate_pair(const std::vector<ContactPair>& pairs, const ContactCircle& circle,
                              int step)
{
  const ContactPair& before = pairs[circle.pair[step / steps_per_arc]];
  ContactPair result = before;
  result.angle = angle_of_step(circle, step);
  result.node_before = circle.pair[step / steps_per_arc];
  result.step = step;
  if (before.kind == ContactKind::bore)
    result.normal = direction(result.angle);
  result.place = circle.centre + circle.radius * direction(result.angle);
  result.gap = 0.0;
  result.outer.nodes.clear();
  result.inner.nodes.clear();
  const auto add = [](const ContactSide& side, double weight, ContactSide& to) {
    for (const auto& w : side.nodes) {
      const auto known = std::find_if(to.nodes.begin(), to.nodes.end(),
                                      [&](const NodeWeight& o) { return o.node == w.node; });
      if (known != to.nodes.end())
        known->weight += weight * w.weight;
      else
        to.nodes.push_back({w.node, weight * w.weight});
    }
  };
  for (const auto& w : intermediate_weights(circle, step)) {
    const ContactPair& pair = pairs[w.node];
    result.gap += w.weight * pair.gap;
    add(pair.outer, w.weight, result.outer);
    add(pair.inner, w.weight, result.inner);
  }
  return result;
}

void add_intermediate_pairs(const std::vector<ContactPair>& like, std::vector<ContactPair>& pairs)
{
  const std::size_t at_nodes = pairs.size();
  const std::vector<ContactCircle> circles = contact_circles(pairs);
  for (std::size_t p = at_nodes; p < like.size(); ++p) {
    const auto circle = std::find_if(circles.begin(), circles.end(), [&](const ContactCircle& c) {
      return std::find(c.pair.begin(), c.pair.end(), like[p].node_before) != c.pair.end();
    });
    pairs.push_back(intermediate_pair(pairs, *circle, like[p].step));
  }
}

} // namespace hangtrue::contact
