#include "solver/bow_readings.hpp"

#include "solver/cell_shapes.hpp"

#include <cmath>

namespace hangtrue
{

namespace
{

struct Read {
  Vec3 place;
  Vec3 move;
  int node = 0;
};

// The node of a skin's face that is nearest to a place on it.
class Skin
{
public:
  Skin(const BodyMesh& body, const std::vector<Vec3>& moves, double y)
  {
    std::vector<char> steel(body.nodes.size(), 0);
    for (const auto& cell : body.cells)
      if (cell.part == Part::outer_skin || cell.part == Part::inner_skin)
        for (const int n : cell.node)
          steel[n] = 1;
    for (std::size_t n = 0; n < body.nodes.size(); ++n)
      if (steel[n] != 0 && std::abs(body.nodes[n].y - y) < 1e-7)
        face_.push_back({body.nodes[n], moves[n], static_cast<int>(n)});
  }
  [[nodiscard]] Read at(double x, double z) const
  {
    const Read* best = &face_.front();
    auto away = [x, z](const Read& r) { return std::hypot(r.place.x - x, r.place.z - z); };
    for (const auto& r : face_)
      if (away(r) < away(*best))
        best = &r;
    return *best;
  }

private:
  std::vector<Read> face_;
};

// How far along the line from one end to the other the middle is.
double share_along(const Read& from, const Read& to, const Read& middle)
{
  const Vec3 along = to.place - from.place;
  return dot(middle.place - from.place, along) / dot(along, along);
}

// How far `middle` stands outwards of the line from one end to the other.
double off_line(const Read& from, const Read& to, const Read& middle)
{
  const double share = share_along(from, to, middle);
  return middle.move.y - (from.move.y + share * (to.move.y - from.move.y));
}

} // namespace

BowReadings bow_readings(const Door& door, const BodyMesh& body, const std::vector<Vec3>& moves)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  BowReadings r;
  const Skin outer(body, moves, depth(door));
  const Skin inner(body, moves, 0.0);
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

std::vector<WeightedNode> middle_against_corners(const Door& door, const BodyMesh& body)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  const std::vector<Vec3> still(body.nodes.size());
  const Skin outer(body, still, depth(door));
  const Read middle = outer.at(0.5 * w, 0.5 * h);
  std::vector<WeightedNode> made{{middle.node, 1.0}};
  auto add_line = [&](const Read& from, const Read& to) {
    const double share = share_along(from, to, middle);
    made.push_back({from.node, -0.5 * (1.0 - share)});
    made.push_back({to.node, -0.5 * share});
  };
  add_line(outer.at(0.0, 0.0), outer.at(w, h));
  add_line(outer.at(w, 0.0), outer.at(0.0, h));
  return made;
}

} // namespace hangtrue
