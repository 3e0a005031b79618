#include "solver/contact/contact_pairs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace hangtrue
{

namespace
{

double apart(double a, double b)
{
  const double turn = 2.0 * std::numbers::pi;
  const double d = std::fmod(std::abs(a - b), turn);
  return std::min(d, turn - d);
}

int nearest(const std::vector<double>& angles, double angle)
{
  const auto at = std::min_element(angles.begin(), angles.end(), [angle](double a, double b) {
    return apart(a, angle) < apart(b, angle);
  });
  return static_cast<int>(at - angles.begin());
}

// Quadratic Lagrange weights along the radius between the circles of one cell.
std::vector<std::pair<std::size_t, double>> between_circles(const std::vector<double>& radius,
                                                            double r)
{
  std::size_t first = 0;
  while (first + 4 < radius.size() && r > radius[first + 2])
    first += 2;
  std::vector<std::pair<std::size_t, double>> weights;
  for (std::size_t i = first; i < first + 3; ++i) {
    double w = 1.0;
    for (std::size_t j = first; j < first + 3; ++j)
      if (j != i)
        w *= (r - radius[j]) / (radius[i] - radius[j]);
    weights.emplace_back(i, w);
  }
  return weights;
}

std::vector<WeightedNode> on_annulus(const Annulus& face, double radius, double angle)
{
  std::vector<WeightedNode> made;
  for (const auto& [circle, along] : between_circles(face.radius, radius))
    for (const auto& w : on_circle(face.angle, face.node[circle], angle))
      if (std::abs(along * w.weight) > 1e-12)
        made.push_back({w.node, along * w.weight});
  return made;
}

int body_of(Owner owner)
{
  return owner == Owner::door ? door_body : frame_body;
}

// Depth worn, m, at a fraction of the knuckle's length from its lower end.
double worn_at(const Knuckle& knuckle, double share)
{
  const auto& worn = knuckle.worn;
  if (worn.empty())
    return 0.0;
  const double place = std::clamp(share, 0.0, 1.0) * static_cast<double>(worn.size() - 1);
  const std::size_t i = std::min(static_cast<std::size_t>(place), worn.size() - 1);
  if (i + 1 == worn.size())
    return worn.back();
  const double beyond = place - static_cast<double>(i);
  return (1.0 - beyond) * worn[i] + beyond * worn[i + 1];
}

void add_bore(const Door& door, const HingeMesh& mesh, int h, int k,
              std::vector<ContactPoint>& points)
{
  const KnuckleMesh& knuckle = mesh.knuckles[k];
  const Cylinder& bore = knuckle.bore;
  const Cylinder& pin = mesh.pin[k];
  const Hinge& hinge = door.hinges[h];
  const std::vector<double> lengths = plane_lengths(bore);
  for (std::size_t p = 0; p < bore.z.size(); ++p)
    for (std::size_t a = 0; a < bore.angle.size(); ++a) {
      ContactPoint point;
      point.hinge = h;
      point.knuckle = k;
      point.round = static_cast<int>(p);
      point.angle = bore.angle[a];
      point.normal = {std::cos(bore.angle[a]), std::sin(bore.angle[a]), 0.0};
      const double r = pin_radius(door.hinges[h]);
      point.place = {mesh.axis.x + r * point.normal.x, mesh.axis.y + r * point.normal.y, bore.z[p]};
      point.gap = 0.5 * hinge.clearance +
                  worn_at(hinge.knuckles[k],
                          (bore.z[p] - bore.z.front()) / (bore.z.back() - bore.z.front()));
      point.shared = hinge.knuckles[k].wearing / lengths[p];
      point.outer = {body_of(knuckle.owner), {{bore.node[p][a], 1.0}}};
      point.inner = {mesh.pin_body < 0 ? frame_body : first_pin_body + mesh.pin_body,
                     on_circle(pin.angle, pin.node[p], bore.angle[a])};
      points.push_back(point);
    }
}

} // namespace

double thrust_gap(const Hinge& hinge, Owner upper)
{
  const double below = hinge.carries_weight ? 0.0 : 0.5 * hinge.end_float;
  return upper == Owner::door ? below : hinge.end_float - below;
}

namespace
{

void add_thrust(const Door& door, const HingeMesh& mesh, int h, int k,
                std::vector<ContactPoint>& points)
{
  const KnuckleMesh& lower = mesh.knuckles[k];
  const KnuckleMesh& upper = mesh.knuckles[k + 1];
  const bool door_above = upper.owner == Owner::door;
  const Annulus& own = door_above ? upper.lower : lower.upper;
  const Annulus& other = door_above ? lower.upper : upper.lower;
  for (std::size_t c = 0; c < own.radius.size(); ++c)
    for (std::size_t a = 0; a < own.angle.size(); ++a) {
      ContactPoint point;
      point.kind = ContactKind::thrust;
      point.hinge = h;
      point.knuckle = k + 1;
      point.round = static_cast<int>(c);
      point.angle = own.angle[a];
      point.normal = {0.0, 0.0, 1.0};
      point.place = {mesh.axis.x + own.radius[c] * std::cos(own.angle[a]),
                     mesh.axis.y + own.radius[c] * std::sin(own.angle[a]), own.z};
      point.gap = thrust_gap(door.hinges[h], upper.owner);
      const ContactSide door_side{door_body, {{own.node[c][a], 1.0}}};
      const ContactSide frame_side{frame_body, on_annulus(other, own.radius[c], own.angle[a])};
      point.outer = door_above ? door_side : frame_side;
      point.inner = door_above ? frame_side : door_side;
      points.push_back(point);
    }
}

} // namespace

const BodyMesh& body_mesh(const Mesh& mesh, int body)
{
  if (body == door_body)
    return mesh.door;
  return body == frame_body ? mesh.frame : mesh.pins[body - first_pin_body];
}

bool between_nodes(const ContactPoint& point)
{
  return point.node_before >= 0;
}

bool at_hinge(const ContactPoint& point)
{
  return point.kind == ContactKind::bore || point.kind == ContactKind::thrust;
}

std::vector<WeightedNode> on_circle(const std::vector<double>& angles,
                                    const std::vector<int>& nodes, double angle)
{
  constexpr double same_angle = 1e-9; // rad
  const int n = static_cast<int>(angles.size());
  const int middle = nearest(angles, angle);
  if (apart(angles[middle], angle) < same_angle)
    return {{nodes[middle], 1.0}};
  const std::array<int, 3> at{(middle + n - 1) % n, middle, (middle + 1) % n};
  // Trigonometric Lagrange interpolation: half-angle sines in place of differences.
  std::vector<WeightedNode> made;
  for (int i = 0; i < 3; ++i) {
    double w = 1.0;
    for (int j = 0; j < 3; ++j)
      if (j != i)
        w *= std::sin(0.5 * (angle - angles[at[j]])) /
             std::sin(0.5 * (angles[at[i]] - angles[at[j]]));
    made.push_back({nodes[at[i]], w});
  }
  return made;
}

bool on_one_circle(const ContactPoint& a, const ContactPoint& b)
{
  return a.kind == b.kind && a.hinge == b.hinge && a.knuckle == b.knuckle && a.round == b.round;
}

std::vector<double> plane_lengths(const Cylinder& bore)
{
  std::vector<double> lengths(bore.z.size(), 0.0);
  for (std::size_t p = 0; p + 2 < bore.z.size(); p += 2) {
    const double cell = bore.z[p + 2] - bore.z[p];
    lengths[p] += cell / 6.0;
    lengths[p + 1] += 4.0 * cell / 6.0;
    lengths[p + 2] += cell / 6.0;
  }
  return lengths;
}

std::vector<ContactPoint> contact_points(const Door& door, const Mesh& mesh)
{
  std::vector<ContactPoint> points;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const HingeMesh& hinge = mesh.hinges[h];
    const int index = static_cast<int>(h);
    const int knuckles = static_cast<int>(hinge.knuckles.size());
    for (int k = 0; k < knuckles; ++k)
      add_bore(door, hinge, index, k, points);
    for (int k = 0; k + 1 < knuckles; ++k)
      if (hinge.knuckles[k].owner != hinge.knuckles[k + 1].owner)
        add_thrust(door, hinge, index, k, points);
  }
  return points;
}

std::string place_words(const ContactPoint& point)
{
  const auto hinge = [&] {
    return fmt::format("of hinge {}, knuckle {}", point.hinge + 1, point.knuckle + 1);
  };
  const auto place = [&] {
    return fmt::format(", {:.2f} m from the hinge edge and {:.2f} m up", point.place.x,
                       point.place.z);
  };
  switch (point.kind) {
  case ContactKind::bore:
    return "in the bore " + hinge();
  case ContactKind::thrust:
    return "on the thrust face " + hinge();
  case ContactKind::skin:
    return "under the loose skin" + place();
  case ContactKind::gasket:
    return "at the gasket" + place();
  case ContactKind::latch:
    return "at a latch" + place();
  case ContactKind::stop:
    return "on the frame face" + place();
  }
  return {};
}

} // namespace hangtrue
