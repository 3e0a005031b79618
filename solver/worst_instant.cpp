#include "solver/worst_instant.hpp"

#include "solver/bow_readings.hpp"
#include "solver/elastic_body.hpp"
#include "solver/steel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// Bow of the free door at given temperatures, with the stiffness of cold steel: stiffness hardly
// shapes a free bow, and so one factor serves every instant.
class FreeBow
{
public:
  FreeBow(const Door& door, const BodyMesh& body)
      : door_(door), body_(body), cold_(elasticity(door.steel.youngs_modulus, door.steel.poisson)),
        elastic_(
            body, [this](const Hex&) { return cold_; }, hold_lightly(body))
  {
  }
  [[nodiscard]] double at(const std::vector<double>& temperatures) const
  {
    std::vector<double> strain;
    for (const double t : temperatures)
      strain.push_back(elongation(t) - elongation(door_.fire.ambient));
    const NodeField heat = free_strain_forces(
        body_, [this](const Hex&) { return cold_; }, strain);
    return bow_readings(door_, body_, elastic_.solve(heat)).outer_corners;
  }

private:
  const Door& door_;
  const BodyMesh& body_;
  Elasticity cold_;
  ElasticBody elastic_;
};

Warmth warmth_of(const Door& door, const BodyMesh& body, const std::vector<double>& at)
{
  Warmth w;
  const SkinMeans means = skin_means(body, at);
  w.inner_skin = means.inner;
  w.outer_skin = means.outer;
  w.hand_bow = hand_bow(door, means);
  const double d = depth(door);
  const Vec3 middle{0.5 * door.panel.width, d, 0.5 * door.panel.height};
  std::vector<char> steel(body.nodes.size(), 0);
  std::vector<char> ring(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    for (const int n : cell.node) {
      steel[n] = steel[n] != 0 || is_steel(cell) ? 1 : 0;
      ring[n] = ring[n] != 0 || cell.part == Part::ring ? 1 : 0;
    }
  double nearest = 1e9;
  double rings = 0.0;
  double count = 0.0;
  w.hottest = at.front();
  w.outside_hottest = door.fire.ambient;
  for (std::size_t n = 0; n < at.size(); ++n) {
    if (steel[n] == 0)
      continue;
    w.hottest = std::max(w.hottest, at[n]);
    if (ring[n] != 0) {
      rings += at[n];
      count += 1.0;
    }
    if (std::abs(body.nodes[n].y - d) > 1e-7)
      continue;
    w.outside_hottest = std::max(w.outside_hottest, at[n]);
    const double away = norm(body.nodes[n] - middle);
    if (away < nearest) {
      nearest = away;
      w.outside_middle = at[n];
    }
  }
  w.knuckles = count > 0.0 ? rings / count : door.fire.ambient;
  return w;
}

} // namespace

Firing fire_door(const Door& door, const BodyMesh& body,
                 const std::function<void(double share)>& told)
{
  WarmUp way = warm_up(door, body, told);
  Firing made;
  double largest = 0.0;
  for (const auto& i : way.instants) {
    made.curve.push_back({i.time, i.gas, i.means.inner, i.means.outer, i.hand});
    largest = std::max(largest, std::abs(i.hand));
  }
  const FreeBow bow(door, body);
  double worst = -1.0;
  WarmInstant* at = &way.instants.front();
  for (auto& i : way.instants) {
    if (std::abs(i.hand) < 0.9 * largest)
      continue;
    const double here = std::abs(bow.at(i.at));
    if (here > worst) {
      worst = here;
      at = &i;
    }
  }
  made.worst.warmth = warmth_of(door, body, at->at);
  made.worst.warmth.time = at->time;
  made.worst.warmth.gas = at->gas;
  made.worst.warmth.energy_error = way.largest_imbalance;
  made.worst.state = fmt::format("open, most bowed at {:.0f} min", at->time / 60.0);
  made.worst.at = std::move(at->at);
  made.steady.warmth = warmth_of(door, body, way.steady.at);
  made.steady.warmth.time = door.fire.schedule.back().time;
  made.steady.warmth.gas = door.fire.schedule.back().gas;
  made.steady.warmth.energy_error = way.steady.imbalance;
  made.steady.state = "open hot, steady";
  made.steady.at = std::move(way.steady.at);
  return made;
}

} // namespace hangtrue
