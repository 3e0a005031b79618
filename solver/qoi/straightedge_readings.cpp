// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/qoi/straightedge_readings.hpp"

#include "meshing/common/errors.hpp"
#include "solver/fe/cell_values.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace hangtrue::qoi
{

namespace
{

struct Read {
  Vec3 place;
  Vec3 move;
  std::vector<contact::NodeWeight> of; // what the displacement is interpolated from
};

// Weights of three values of a quadratic through them, at `x`.
std::array<double, 3> quadratic(const std::array<double, 3>& position, double x)
{
  return {(x - position[1]) * (x - position[2]) /
              ((position[0] - position[1]) * (position[0] - position[2])),
          (x - position[0]) * (x - position[2]) /
              ((position[1] - position[0]) * (position[1] - position[2])),
          (x - position[0]) * (x - position[1]) /
              ((position[2] - position[0]) * (position[2] - position[1]))};
}

constexpr double same_place = 1e-7; // m

// The face of one cell of a skin: nine nodes in three rows along x and three along z.
struct Face {
  std::array<double, 3> x{}; // m, rising
  std::array<double, 3> z{};
  std::array<int, 9> node{}; // i + 3 k

  [[nodiscard]] bool holds(double px, double pz) const
  {
    return px > x[0] - same_place && px < x[2] + same_place && pz > z[0] - same_place &&
           pz < z[2] + same_place;
  }
};

std::array<double, 3> three_of(std::array<double, 9> places)
{
  std::sort(places.begin(), places.end());
  return {places[0], places[4], places[8]};
}

// The side of a cell that lies in the plane y.
std::optional<Face> face_at(const mesh::BodyMesh& body, const mesh::Hex27& cell, double y)
{
  std::vector<int> on;
  for (const int n : cell.node)
    if (std::abs(body.nodes[n].y - y) < same_place)
      on.push_back(n);
  if (on.size() != 9)
    return std::nullopt;
  std::array<double, 9> x{};
  std::array<double, 9> z{};
  for (std::size_t i = 0; i < 9; ++i) {
    x[i] = body.nodes[on[i]].x;
    z[i] = body.nodes[on[i]].z;
  }
  Face result{three_of(x), three_of(z), {}};
  const auto row = [](const std::array<double, 3>& rows, double place) {
    return std::find_if(rows.begin(), rows.end(),
                        [place](double r) { return std::abs(r - place) < same_place; }) -
           rows.begin();
  };
  for (std::size_t i = 0; i < 9; ++i) {
    const auto along = row(result.x, x[i]);
    const auto up = row(result.z, z[i]);
    if (along == 3 || up == 3)
      return std::nullopt;
    result.node[along + 3 * up] = on[i];
  }
  return result;
}

// Displacements of a skin's face between its nodes, by the cells' shape functions: the middle of a
// door is seldom a node, and the nearest one differs between meshes.
class Skin
{
public:
  Skin(const mesh::BodyMesh& body, const std::vector<Vec3>& displacements, double y)
      : displacements_(displacements), y_(y)
  {
    for (const auto& cell : body.cells)
      if (cell.part == mesh::Part::outer_skin || cell.part == mesh::Part::inner_skin)
        if (const auto face = face_at(body, cell, y))
          faces_.push_back(*face);
  }
  [[nodiscard]] Read at(double x, double z) const
  {
    Read result{{x, y_, z}, {}, {}};
    const auto face =
        std::find_if(faces_.begin(), faces_.end(), [x, z](const Face& f) { return f.holds(x, z); });
    if (face == faces_.end())
      throw ComputeError("bow: a skin has no cell at a place where it is read");
    const auto along = quadratic(face->x, x);
    const auto up = quadratic(face->z, z);
    for (std::size_t k = 0; k < 3; ++k)
      for (std::size_t i = 0; i < 3; ++i)
        result.of.push_back({face->node[i + 3 * k], along[i] * up[k]});
    for (const auto& w : result.of)
      result.move += w.weight * displacements_[w.node];
    return result;
  }

private:
  const std::vector<Vec3>& displacements_;
  double y_;
  std::vector<Face> faces_;
};

// How far along the line from one end to the other the middle is.
double share_along(const Read& from, const Read& to, const Read& middle)
{
  const Vec3 along = to.place - from.place;
  return dot(middle.place - from.place, along) / dot(along, along);
}

// How far `middle` is outwards of the line from one end to the other.
double off_line(const Read& from, const Read& to, const Read& middle)
{
  const double share = share_along(from, to, middle);
  return middle.move.y - (from.move.y + share * (to.move.y - from.move.y));
}

} // namespace

BowReadings bow_readings(const door::Door& door, const mesh::BodyMesh& body,
                         const std::vector<Vec3>& displacements)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  BowReadings r;
  const Skin outer(body, displacements, door::depth(door));
  const Skin inner(body, displacements, 0.0);
  auto read = [&](const Skin& skin, double& across, double& along, double& diagonal,
                  double& corners) {
    const Read middle = skin.at(0.5 * w, 0.5 * h);
    across = off_line(skin.at(0.0, 0.5 * h), skin.at(w, 0.5 * h), middle);
    along = off_line(skin.at(0.5 * w, 0.0), skin.at(0.5 * w, h), middle);
    const double one = off_line(skin.at(0.0, 0.0), skin.at(w, h), middle);
    const double other = off_line(skin.at(w, 0.0), skin.at(0.0, h), middle);
    diagonal = std::abs(one) > std::abs(other) ? one : other;
    corners = 0.5 * (one + other);
  };
  read(outer, r.outer_across, r.outer_along, r.outer_diagonal, r.outer_corners);
  read(inner, r.inner_across, r.inner_along, r.inner_diagonal, r.inner_corners);
  r.width_growth = outer.at(w, 0.5 * h).move.x - outer.at(0.0, 0.5 * h).move.x;
  r.height_growth = outer.at(0.5 * w, h).move.z - outer.at(0.5 * w, 0.0).move.z;
  return r;
}

std::vector<contact::NodeWeight> middle_against_corners(const door::Door& door,
                                                        const mesh::BodyMesh& body)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  const std::vector<Vec3> still(body.nodes.size());
  const Skin outer(body, still, door::depth(door));
  const Read middle = outer.at(0.5 * w, 0.5 * h);
  std::vector<contact::NodeWeight> result = middle.of;
  auto add = [&](const Read& read, double times) {
    for (const auto& one : read.of)
      result.push_back({one.node, times * one.weight});
  };
  auto add_line = [&](const Read& from, const Read& to) {
    const double share = share_along(from, to, middle);
    add(from, -0.5 * (1.0 - share));
    add(to, -0.5 * share);
  };
  add_line(outer.at(0.0, 0.0), outer.at(w, h));
  add_line(outer.at(w, 0.0), outer.at(0.0, h));
  return result;
}

} // namespace hangtrue::qoi
