// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/boundary_faces.hpp"

#include "solver/fe/tensors.hpp"

#include <deal.II/base/quadrature_lib.h>
#include <deal.II/dofs/dof_handler.h>
#include <deal.II/fe/fe_values.h>

#include <array>
#include <cmath>
#include <map>

namespace hangtrue::heat
{

namespace
{

// Counts sides by their middles: sides with the same middle are the same surface, whether or not
// nodes are shared. Middles are sorted into boxes and searched for in every box that the point
// could be in but for rounding: with one box only, rounding separates points on the border of two
// boxes, as an odd 1/32 in did, and the weld land of a leaf was a surface that the room cools.
class MetSides
{
public:
  int& count(const Vec3& p)
  {
    const std::array<long, 3> low = box_of(p, -same_place);
    const std::array<long, 3> high = box_of(p, same_place);
    for (long x = low[0]; x <= high[0]; ++x)
      for (long y = low[1]; y <= high[1]; ++y)
        for (long z = low[2]; z <= high[2]; ++z)
          if (const auto found = boxes_.find({x, y, z}); found != boxes_.end())
            for (auto& side : found->second)
              if (norm(side.middle - p) < same_place)
                return side.times;
    auto& box = boxes_[box_of(p, 0.0)];
    box.push_back({p, 0});
    return box.back().times;
  }

private:
  static constexpr double same_place = 1e-7; // m
  static constexpr double box_size = 1e-6;   // m
  struct Met {
    Vec3 middle;
    int times = 0;
  };
  std::map<std::array<long, 3>, std::vector<Met>> boxes_;

  static std::array<long, 3> box_of(const Vec3& p, double moved)
  {
    const auto number = [moved](double v) {
      return static_cast<long>(std::floor((v + moved) / box_size));
    };
    return {number(p.x), number(p.y), number(p.z)};
  }
};

// The sides of one cell, as a rule at their nodes sees them: Simpson's, which is Lobatto's of three
// points.
class Sides
{
public:
  explicit Sides(const fe::Discretization& space)
      : space_(space),
        values_(space.mapping(), space.dofs().get_fe(), dealii::QGaussLobatto<2>(3),
                dealii::update_values | dealii::update_normal_vectors | dealii::update_JxW_values)
  {
  }

  // Nodes and areas of a side; `normal` is its area vector, m^2.
  HeatFace measure(const dealii::DoFHandler<3>::active_cell_iterator& cell, unsigned side,
                   Vec3& normal)
  {
    values_.reinit(cell, side);
    const mesh::Hex27& hex = space_.body().cells[cell->active_cell_index()];
    const auto nodes = fe::nodes_of(hex);
    HeatFace face;
    for (unsigned q = 0; q < 9; ++q) {
      for (unsigned i = 0; i < 27; ++i)
        if (values_.shape_value(i, q) > 0.5) // one at its own node, zero at all others
          face.node[q] = nodes[i];
      face.area[q] = values_.JxW(q);
      normal += fe::vec3(values_.JxW(q) * values_.normal_vector(q));
    }
    return face;
  }

private:
  const fe::Discretization& space_;
  dealii::FEFaceValues<3> values_;
};

} // namespace

std::vector<HeatFace>
outer_faces(const fe::Discretization& space,
            const std::function<bool(const mesh::Hex27&)>& conducts,
            const std::function<int(const mesh::Hex27&, const Vec3&, const Vec3&)>& kind_of)
{
  constexpr unsigned middle_point = 4;
  const mesh::BodyMesh& body = space.body();
  const auto conducting = [&](const auto& cell) {
    return conducts(body.cells[cell->active_cell_index()]);
  };
  struct Candidate {
    HeatFace face;
    Vec3 normal; // m^2
    const mesh::Hex27* cell;
  };
  std::vector<Candidate> candidates;
  MetSides met;
  Sides sides(space);
  for (const auto& cell : space.dofs().active_cell_iterators()) {
    if (!conducting(cell))
      continue;
    for (const unsigned side : cell->face_indices()) {
      if (!cell->at_boundary(side) && conducting(cell->neighbor(side)))
        continue;
      Candidate one{{}, {}, &body.cells[cell->active_cell_index()]};
      one.face = sides.measure(cell, side, one.normal);
      ++met.count(body.nodes[one.face.node[middle_point]]);
      candidates.push_back(one);
    }
  }
  std::vector<HeatFace> faces;
  for (auto& one : candidates) {
    const Vec3 middle = body.nodes[one.face.node[middle_point]];
    if (met.count(middle) != 1)
      continue;
    one.face.kind = kind_of(*one.cell, middle, (1.0 / norm(one.normal)) * one.normal);
    if (one.face.kind >= 0)
      faces.push_back(one.face);
  }
  return faces;
}

} // namespace hangtrue::heat
