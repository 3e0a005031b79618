// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/contact_pairs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace hangtrue::contact
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
  const auto temperature =
      std::min_element(angles.begin(), angles.end(),
                       [angle](double a, double b) { return apart(a, angle) < apart(b, angle); });
  return static_cast<int>(temperature - angles.begin());
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

std::vector<NodeWeight> on_annulus(const mesh::Annulus& face, double radius, double angle)
{
  std::vector<NodeWeight> result;
  for (const auto& [circle, along] : between_circles(face.radius, radius))
    for (const auto& w : on_circle(face.angle, face.node[circle], angle))
      if (std::abs(along * w.weight) > 1e-12)
        result.push_back({w.node, along * w.weight});
  return result;
}

int body_of(door::KnuckleOwner owner)
{
  return owner == door::KnuckleOwner::door ? door_body : frame_body;
}

// Depth worn, m, at a fraction of the knuckle's length from its lower end.
double worn_at(const door::Knuckle& knuckle, double share)
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

void add_bore(const door::Door& door, const mesh::HingeMesh& mesh, int h, int k,
              std::vector<ContactPair>& pairs)
{
  const mesh::KnuckleMesh& knuckle = mesh.knuckles[k];
  const mesh::Cylinder& bore = knuckle.bore;
  const mesh::Cylinder& pin = mesh.pin[k];
  const door::Hinge& hinge = door.hinges[h];
  const std::vector<double> lengths = plane_lengths(bore);
  for (std::size_t p = 0; p < bore.z.size(); ++p)
    for (std::size_t a = 0; a < bore.angle.size(); ++a) {
      ContactPair pair;
      pair.hinge = h;
      pair.knuckle = k;
      pair.round = static_cast<int>(p);
      pair.angle = bore.angle[a];
      pair.normal = {std::cos(bore.angle[a]), std::sin(bore.angle[a]), 0.0};
      const double r = door::pin_radius(door.hinges[h]);
      pair.place = {mesh.axis.x + r * pair.normal.x, mesh.axis.y + r * pair.normal.y, bore.z[p]};
      pair.gap = 0.5 * hinge.clearance +
                 worn_at(hinge.knuckles[k],
                         (bore.z[p] - bore.z.front()) / (bore.z.back() - bore.z.front()));
      pair.circle_compliance = hinge.knuckles[k].wearing / lengths[p];
      pair.outer = {body_of(knuckle.owner), {{bore.node[p][a], 1.0}}};
      pair.inner = {mesh.pin_body < 0 ? frame_body : first_pin_body + mesh.pin_body,
                    on_circle(pin.angle, pin.node[p], bore.angle[a])};
      pairs.push_back(pair);
    }
}

} // namespace

double thrust_gap(const door::Hinge& hinge, door::KnuckleOwner upper)
{
  const double below = hinge.carries_weight ? 0.0 : 0.5 * hinge.end_float;
  return upper == door::KnuckleOwner::door ? below : hinge.end_float - below;
}

namespace
{

void add_thrust(const door::Door& door, const mesh::HingeMesh& mesh, int h, int k,
                std::vector<ContactPair>& pairs)
{
  const mesh::KnuckleMesh& lower = mesh.knuckles[k];
  const mesh::KnuckleMesh& upper = mesh.knuckles[k + 1];
  const bool door_above = upper.owner == door::KnuckleOwner::door;
  const mesh::Annulus& own = door_above ? upper.lower : lower.upper;
  const mesh::Annulus& other = door_above ? lower.upper : upper.lower;
  for (std::size_t c = 0; c < own.radius.size(); ++c)
    for (std::size_t a = 0; a < own.angle.size(); ++a) {
      ContactPair pair;
      pair.kind = ContactKind::thrust;
      pair.hinge = h;
      pair.knuckle = k + 1;
      pair.round = static_cast<int>(c);
      pair.angle = own.angle[a];
      pair.normal = {0.0, 0.0, 1.0};
      pair.place = {mesh.axis.x + own.radius[c] * std::cos(own.angle[a]),
                    mesh.axis.y + own.radius[c] * std::sin(own.angle[a]), own.z};
      pair.gap = thrust_gap(door.hinges[h], upper.owner);
      const ContactSide door_side{door_body, {{own.node[c][a], 1.0}}};
      const ContactSide frame_side{frame_body, on_annulus(other, own.radius[c], own.angle[a])};
      pair.outer = door_above ? door_side : frame_side;
      pair.inner = door_above ? frame_side : door_side;
      pairs.push_back(pair);
    }
}

} // namespace

const mesh::BodyMesh& body_mesh(const mesh::Mesh& mesh, int body)
{
  if (body == door_body)
    return mesh.door;
  return body == frame_body ? mesh.frame : mesh.pins[body - first_pin_body];
}

bool is_intermediate(const ContactPair& pair)
{
  return pair.node_before >= 0;
}

bool at_hinge(const ContactPair& pair)
{
  return pair.kind == ContactKind::bore || pair.kind == ContactKind::thrust;
}

std::vector<NodeWeight> on_circle(const std::vector<double>& angles, const std::vector<int>& nodes,
                                  double angle)
{
  constexpr double same_angle = 1e-9; // rad
  const int n = static_cast<int>(angles.size());
  const int middle = nearest(angles, angle);
  if (apart(angles[middle], angle) < same_angle)
    return {{nodes[middle], 1.0}};
  const std::array<int, 3> index{(middle + n - 1) % n, middle, (middle + 1) % n};
  // Trigonometric Lagrange interpolation: half-angle sines in place of differences.
  std::vector<NodeWeight> result;
  for (int i = 0; i < 3; ++i) {
    double w = 1.0;
    for (int j = 0; j < 3; ++j)
      if (j != i)
        w *= std::sin(0.5 * (angle - angles[index[j]])) /
             std::sin(0.5 * (angles[index[i]] - angles[index[j]]));
    result.push_back({nodes[index[i]], w});
  }
  return result;
}

bool on_one_circle(const ContactPair& a, const ContactPair& b)
{
  return a.kind == b.kind && a.hinge == b.hinge && a.knuckle == b.knuckle && a.round == b.round;
}

std::vector<double> plane_lengths(const mesh::Cylinder& bore)
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

std::vector<ContactPair> contact_pairs(const door::Door& door, const mesh::Mesh& mesh)
{
  std::vector<ContactPair> pairs;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const mesh::HingeMesh& hinge = mesh.hinges[h];
    const int index = static_cast<int>(h);
    const int knuckles = static_cast<int>(hinge.knuckles.size());
    for (int k = 0; k < knuckles; ++k)
      add_bore(door, hinge, index, k, pairs);
    for (int k = 0; k + 1 < knuckles; ++k)
      if (hinge.knuckles[k].owner != hinge.knuckles[k + 1].owner)
        add_thrust(door, hinge, index, k, pairs);
  }
  return pairs;
}

std::string pair_label(const ContactPair& pair)
{
  const auto hinge = [&] {
    return fmt::format("of hinge {}, knuckle {}", pair.hinge + 1, pair.knuckle + 1);
  };
  const auto place = [&] {
    return fmt::format(", {:.2f} m from the hinge edge and {:.2f} m up", pair.place.x,
                       pair.place.z);
  };
  switch (pair.kind) {
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

} // namespace hangtrue::contact
