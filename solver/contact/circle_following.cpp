// A contact solver that meets bores and thrust edges as circles: pairs between nodes come and go.
#include "solver/contact/contact_state.hpp"

#include <algorithm>

namespace hangtrue
{

void add_openings(ContactSolver::Whole& whole)
{
  const auto& points = whole.points;
  const auto& bodies = whole.bodies;
  DenseMatrix rigid(static_cast<int>(points.size()), static_cast<int>(whole.modes.size()));
  for (int m = 0; m < rigid.columns; ++m)
    for (int p = 0; p < whole.rigid.rows; ++p)
      rigid(p, m) = whole.rigid(p, m);
  for (std::size_t p = whole.by_load.size(); p < points.size(); ++p) {
    double open = 0.0;
    double warm = 0.0;
    for (std::size_t b = 0; b < bodies.size(); ++b) {
      const int index = static_cast<int>(b);
      open += opening(points[p], index, [&](int node) { return bodies[b].load_move[node]; });
      const NodeField& heat_move = whole.heat_of(index);
      if (!heat_move.empty())
        warm += opening(points[p], index, [&](int node) { return heat_move[node]; });
    }
    whole.by_load.push_back(open);
    whole.by_heat.push_back(warm);
    for (int m = 0; m < rigid.columns; ++m) {
      const RigidMode& mode = whole.modes[m];
      rigid(static_cast<int>(p), m) = opening(points[p], mode.body, [&](int node) {
        return rigid_move(mode, bodies[mode.body].mesh->nodes[node]);
      });
    }
  }
  whole.rigid = std::move(rigid);
}

void ContactSolver::follow_circles(std::vector<ContactPoint>& points)
{
  growing_ = &points;
  if (!known_.empty()) {
    take_between_out();
    return;
  }
  circles_ = contact_circles(points);
  known_.resize(circles_.size());
}

// Starts from the nodes again: pairs between nodes leave the programme, and where they carried the
// nodes beside them are tried first.
void ContactSolver::take_between_out()
{
  for (auto& circle : circles_)
    circle.between.clear();
  std::vector<int> nodes;
  for (const int p : last_) {
    const ContactPoint& pair = whole_->points[p];
    nodes.push_back(pair.node_before >= 0 ? pair.node_before : p);
  }
  std::erase_if(nodes, [&](int p) { return columns_->place_of.count(p) == 0; });
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  last_ = std::move(nodes);
}

std::vector<char> left_out(const std::vector<ContactCircle>& circles,
                           const std::vector<std::map<int, int>>& known, std::size_t pairs)
{
  std::vector<char> out(pairs, 0);
  for (std::size_t c = 0; c < circles.size(); ++c)
    for (const auto& [step, pair] : known[c])
      out[pair] = circles[c].between.count(step) == 0 ? 1 : 0;
  return out;
}

// Places among the candidates that are in the programme.
std::vector<int> ContactSolver::taking_part() const
{
  const std::vector<char> out = left_out(circles_, known_, whole_->points.size());
  std::vector<int> result;
  for (std::size_t c = 0; c < columns_->candidate.size(); ++c)
    if (out[columns_->candidate[c]] == 0)
      result.push_back(static_cast<int>(c));
  return result;
}

// Adds pairs where the solution passes a circle between its nodes; false when none does.
bool ContactSolver::add_between(const HingeContact& found, double tolerance)
{
  std::vector<int> taken; // again or anew
  std::vector<int> fresh;
  const std::vector<ContactPoint>& points = *growing_;
  for (const auto& place :
       places_beyond_circles(circles_, points, found.gap, found.state.push, tolerance)) {
    ContactCircle& circle = circles_[place.circle];
    double gap = 0.0; // of the nodes, as they are set now
    for (const auto& w : weights_between(circle, place.step))
      gap += w.weight * whole_->drawn[w.node];
    const auto [known, is_new] =
        known_[place.circle].try_emplace(place.step, static_cast<int>(points.size()));
    if (is_new) {
      growing_->push_back(pair_between(points, circle, place.step));
      whole_->drawn.push_back(gap);
      whole_->compliance.push_back(0.0);
      fresh.push_back(known->second);
    }
    whole_->drawn[known->second] = gap;
    circle.between[place.step] = known->second;
    taken.push_back(known->second);
  }
  if (taken.empty())
    return false;
  // Beside what carried on their circle: alone they may not hold the door.
  last_.insert(last_.end(), taken.begin(), taken.end());
  if (fresh.empty())
    return true;
  add_openings(*whole_);
  columns_->add(fresh);
  return true;
}

} // namespace hangtrue
