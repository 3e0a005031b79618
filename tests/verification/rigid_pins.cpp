// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/verification/rigid_pins.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <vector>

namespace hangtrue::test
{

namespace
{

using Row = std::vector<double>;

// Minimum of cost . x under rows x <= room (room >= 0), x free: every x is the difference of two
// values that are not negative. The tableau has the columns outside the basis only.
class Simplex
{
public:
  Simplex(const std::vector<Row>& rows, const std::vector<double>& room, const Row& cost)
      : unknowns_(cost.size()), basis_(rows.size()), outside_(2 * cost.size())
  {
    for (std::size_t i = 0; i < rows.size(); ++i) {
      Row row;
      for (const double a : rows[i]) {
        row.push_back(a);
        row.push_back(-a);
      }
      row.push_back(room[i]);
      table_.push_back(row);
      basis_[i] = outside_.size() + i;
    }
    Row last;
    for (const double c : cost) {
      last.push_back(c);
      last.push_back(-c);
    }
    last.push_back(0.0);
    table_.push_back(last);
    for (std::size_t j = 0; j < outside_.size(); ++j)
      outside_[j] = j;
  }

  Row solve()
  {
    int position = 0; // pivots in a row without progress
    for (int step = 0; step < 100000; ++step) {
      const int column = entering(position > patience);
      if (column < 0)
        return answer();
      const int row = leaving(column);
      position = table_[row].back() > zero ? 0 : position + 1;
      pivot(row, column);
    }
    throw std::runtime_error("simplex: no end");
  }

private:
  std::size_t unknowns_;
  std::vector<Row> table_; // the last row is the cost, the last column the right-hand side
  std::vector<std::size_t> basis_;
  std::vector<std::size_t> outside_;
  static constexpr double zero = 1e-10; // entries are of order one
  static constexpr double smallest_pivot = 1e-8;
  static constexpr int patience = 200;

  // Steepest cost; the lowest index (Bland) where that could go round in circles.
  [[nodiscard]] int entering(bool by_index) const
  {
    int best = -1;
    const Row& cost = table_.back();
    for (std::size_t j = 0; j < outside_.size(); ++j) {
      if (cost[j] > -zero)
        continue;
      if (best < 0 || (by_index ? outside_[j] < outside_[best] : cost[j] < cost[best]))
        best = static_cast<int>(j);
    }
    return best;
  }

  [[nodiscard]] int leaving(int column) const
  {
    // First how far it may go, then the largest pivot among those that stop it there.
    double minimum = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i < basis_.size(); ++i)
      if (const double a = table_[i][column]; a > smallest_pivot)
        minimum = std::min(minimum, (std::max(0.0, table_[i].back()) + 1e-11) / a);
    int best = -1;
    for (std::size_t i = 0; i < basis_.size(); ++i)
      if (const double a = table_[i][column]; a > smallest_pivot &&
                                              std::max(0.0, table_[i].back()) / a <= minimum &&
                                              (best < 0 || a > table_[best][column]))
        best = static_cast<int>(i);
    if (best < 0)
      throw std::runtime_error("simplex: the door falls out of its hinges");
    return best;
  }

  void pivot(int r, int s)
  {
    Row& pivot_row = table_[r];
    const double p = pivot_row[s];
    for (double& v : pivot_row)
      v /= p;
    pivot_row[s] = 1.0 / p;
    for (std::size_t i = 0; i < table_.size(); ++i) {
      if (static_cast<int>(i) == r || table_[i][s] == 0.0)
        continue;
      const double factor = table_[i][s];
      table_[i][s] = 0.0;
      for (std::size_t j = 0; j < pivot_row.size(); ++j)
        table_[i][j] -= factor * pivot_row[j];
    }
    std::swap(basis_[r], outside_[s]);
  }

  [[nodiscard]] Row answer() const
  {
    Row x(unknowns_, 0.0);
    for (std::size_t i = 0; i < basis_.size(); ++i)
      if (basis_[i] < 2 * unknowns_)
        x[basis_[i] / 2] += (basis_[i] % 2 == 0 ? 1.0 : -1.0) * table_[i].back();
    return x;
  }
};

// The linear programme of one door. Shifts are in units of the mean clearance, turns in that unit
// per height of the door, so that all entries are of order one.
struct Programme {
  const door::Door& door;
  Vec3 origin; // of the door's turns
  double unit = 0.0;
  std::vector<int> pin; // first unknown of the pin of every hinge, -1 when it is fixed
  int unknowns = 5;     // of the door: shift x, y, z, turn about x, y
  std::vector<Row> rows;
  std::vector<double> room;

  explicit Programme(const door::Door& d) : door(d)
  {
    const door::AxisPosition axis = door::pin_axis(door, door.hinges.front());
    origin = {axis.x, axis.y, 0.5 * door.panel.height};
    for (const auto& hinge : door.hinges) {
      unit += 0.5 * hinge.clearance / static_cast<double>(door.hinges.size());
      pin.push_back(hinge.fixity == door::PinFixity::floating ? unknowns : -1);
      unknowns += hinge.fixity == door::PinFixity::floating ? 4 : 0;
    }
  }

  [[nodiscard]] double relative(double length) const { return length / door.panel.height; }

  // Adds `times` the displacement of a point of the door along `way` to a row.
  void add_door(Row& row, const Vec3& place, const Vec3& way, double times) const
  {
    const Vec3 d = place - origin;
    row[0] += times * way.x;
    row[1] += times * way.y;
    row[2] += times * way.z;
    row[3] += times * relative(-d.z * way.y + d.y * way.z);
    row[4] += times * relative(d.z * way.x - d.x * way.z);
  }

  // The same of the axis of a pin, at height z.
  void add_pin(Row& row, std::size_t h, double z, const Vec3& way, double times) const
  {
    const int first = pin[h];
    if (first < 0)
      return;
    const double dz = z - door.hinges[h].position;
    row[first] += times * way.x;
    row[first + 1] += times * way.y;
    row[first + 2] -= times * relative(dz) * way.y;
    row[first + 3] += times * relative(dz) * way.x;
  }

  void ask(const Row& row, double gap)
  {
    rows.push_back(row);
    room.push_back(gap / unit);
  }
};

// gap + n . (bore - pin) >= 0 at both ends of a knuckle.
void add_bore(Programme& lp, std::size_t h, std::size_t k, double start, int directions)
{
  const door::Hinge& hinge = lp.door.hinges[h];
  const door::Knuckle& knuckle = hinge.knuckles[k];
  if (knuckle.owner == door::KnuckleOwner::frame && hinge.fixity == door::PinFixity::fixed)
    return;
  const door::AxisPosition axis = door::pin_axis(lp.door, hinge);
  const double from = door::knuckle_start(hinge, static_cast<int>(k));
  for (const double z : {from, from + knuckle.length})
    for (int i = 0; i < directions; ++i) {
      const double angle = start + 2.0 * std::numbers::pi * i / directions;
      const Vec3 n{std::cos(angle), std::sin(angle), 0.0};
      Row row(lp.unknowns, 0.0);
      if (knuckle.owner == door::KnuckleOwner::door)
        lp.add_door(row, {axis.x, axis.y, z}, n, -1.0);
      lp.add_pin(row, h, z, n, 1.0);
      lp.ask(row, 0.5 * hinge.clearance);
    }
}

// Between a knuckle and the next above it; a flat ring on a flat ring touches at its rim first.
void add_thrust(Programme& lp, std::size_t h, std::size_t k, double start, int directions)
{
  const door::Hinge& hinge = lp.door.hinges[h];
  if (hinge.knuckles[k].owner == hinge.knuckles[k + 1].owner)
    return;
  const bool door_above = hinge.knuckles[k + 1].owner == door::KnuckleOwner::door;
  const double below = hinge.carries_weight ? 0.0 : 0.5 * hinge.end_float;
  const door::AxisPosition axis = door::pin_axis(lp.door, hinge);
  const double z = door::knuckle_start(hinge, static_cast<int>(k) + 1);
  for (int i = 0; i < directions; ++i) {
    const double angle = start + 2.0 * std::numbers::pi * i / directions;
    const double r = door::outside_radius(hinge);
    Row row(lp.unknowns, 0.0);
    lp.add_door(row, {axis.x + r * std::cos(angle), axis.y + r * std::sin(angle), z},
                {0.0, 0.0, 1.0}, door_above ? -1.0 : 1.0);
    lp.ask(row, door_above ? below : hinge.end_float - below);
  }
}

double times(const Row& a, const Row& x)
{
  double sum = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i)
    sum += a[i] * x[i];
  return sum;
}

} // namespace

RigidSolution rigid_formula(const door::Door& door, const Vec3& centre)
{
  const door::Hinge& low = door.hinges.front();
  const door::Hinge& high = door.hinges.back();
  const bool floats = low.fixity == door::PinFixity::floating;
  const bool door_outside = low.knuckles.front().owner == door::KnuckleOwner::door;
  const door::KnuckleOwner owner =
      floats && door_outside ? door::KnuckleOwner::frame : door::KnuckleOwner::door;
  const auto owned = [owner](const door::Knuckle& k) { return k.owner == owner; };
  const auto first = std::find_if(low.knuckles.begin(), low.knuckles.end(), owned);
  const auto last = std::find_if(high.knuckles.rbegin(), high.knuckles.rend(), owned);
  const double bottom = door::knuckle_start(low, static_cast<int>(first - low.knuckles.begin()));
  const double top =
      door::knuckle_start(high, static_cast<int>(high.knuckles.rend() - last) - 1) + last->length;
  const double play = (floats ? 2.0 : 1.0) * 0.5 * low.clearance;
  const double per_height = 2.0 * play / (top - bottom);
  const door::AxisPosition axis = door::pin_axis(door, low);
  const double far = std::hypot(centre.x - axis.x, centre.y - axis.y);
  const double ex = (centre.x - axis.x) / far;
  const double ey = (centre.y - axis.y) / far;
  const double along = ex * (door.panel.width - axis.x) + ey * (door::depth(door) - axis.y);
  return {per_height * (along - door::outside_radius(low)), per_height * ex * door.panel.height,
          per_height * ey * door.panel.height, 0.0};
}

RigidSolution rigid_search(const door::Door& door, const Vec3& centre, int directions)
{
  Programme lp(door);
  const double start = std::atan2(centre.y - lp.origin.y, centre.x - lp.origin.x);
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const std::size_t knuckles = door.hinges[h].knuckles.size();
    for (std::size_t k = 0; k < knuckles; ++k)
      add_bore(lp, h, k, start, directions);
    for (std::size_t k = 0; k + 1 < knuckles; ++k)
      add_thrust(lp, h, k, start, directions);
  }
  const Vec3 up{0.0, 0.0, 1.0};
  Row weight(lp.unknowns, 0.0);
  lp.add_door(weight, centre, up, 1.0);
  const Vec3 low{door.panel.width, door::depth(door), 0.0};
  const Vec3 high{door.panel.width, door::depth(door), door.panel.height};
  Row corner(lp.unknowns, 0.0);
  lp.add_door(corner, low, up, 1.0);

  // Among equally low positions of the weight the two that have the corner highest and lowest.
  std::vector<RigidSolution> ends;
  for (const double tipped : {1e-4, -1e-4}) {
    Row cost = weight;
    for (int i = 0; i < lp.unknowns; ++i)
      cost[i] += tipped * corner[i];
    const Row x = Simplex(lp.rows, lp.room, cost).solve();
    for (std::size_t i = 0; i < lp.rows.size(); ++i)
      if (times(lp.rows[i], x) > lp.room[i] + 1e-6)
        throw std::runtime_error("simplex: a pin stands in the steel");
    Row lean(lp.unknowns, 0.0);
    lp.add_door(lean, high, {1.0, 0.0, 0.0}, 1.0);
    lp.add_door(lean, low, {1.0, 0.0, 0.0}, -1.0);
    Row back(lp.unknowns, 0.0);
    lp.add_door(back, high, {0.0, 1.0, 0.0}, 1.0);
    lp.add_door(back, low, {0.0, 1.0, 0.0}, -1.0);
    ends.push_back(
        {-lp.unit * times(corner, x), lp.unit * times(lean, x), lp.unit * times(back, x), 0.0});
  }
  RigidSolution cached;
  cached.drop = 0.5 * (ends[0].drop + ends[1].drop);
  cached.lean = 0.5 * (ends[0].lean + ends[1].lean);
  cached.set_back = 0.5 * (ends[0].set_back + ends[1].set_back);
  cached.spread = std::abs(ends[1].drop - ends[0].drop);
  return cached;
}

} // namespace hangtrue::test
