// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/section/quad9_mesh.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/common/gmsh_session.hpp"

#include <fmt/format.h>
#include <gmsh.h>

#include <cmath>
#include <cstdlib>
#include <unordered_map>

namespace hangtrue::section
{

int PlaneDrawing::point(double x, double y)
{
  points.push_back({x, y});
  return static_cast<int>(points.size()) - 1;
}

int PlaneDrawing::curve(int from, int to, int cells, int centre)
{
  if (const auto there = known.find({from, to}); there != known.end())
    return there->second + 1;
  if (const auto there = known.find({to, from}); there != known.end())
    return -(there->second + 1);
  curves.push_back({from, to, centre, cells});
  const int index = static_cast<int>(curves.size()) - 1;
  known[{from, to}] = index;
  return index + 1;
}

void PlaneDrawing::patch(const std::array<int, 4>& corners, int label)
{
  patch({std::vector<int>{corners[0], corners[1]},
         {corners[1], corners[2]},
         {corners[2], corners[3]},
         {corners[3], corners[0]}},
        label);
}

void PlaneDrawing::patch(const std::array<std::vector<int>, 4>& chains, int label)
{
  PlanePatch result;
  result.label = label;
  for (int side = 0; side < 4; ++side) {
    result.corners[side] = chains[side].front();
    for (std::size_t k = 0; k + 1 < chains[side].size(); ++k)
      result.sides[side].push_back(curve(chains[side][k], chains[side][k + 1]));
  }
  patches.push_back(result);
}

namespace
{

// Gmsh numbers from 1; the drawing from 0.
void draw(const PlaneDrawing& drawing)
{
  namespace geo = gmsh::model::geo;
  for (std::size_t p = 0; p < drawing.points.size(); ++p)
    geo::addPoint(drawing.points[p].x, drawing.points[p].y, 0.0, 0.0, static_cast<int>(p) + 1);
  for (std::size_t c = 0; c < drawing.curves.size(); ++c) {
    const auto& curve = drawing.curves[c];
    const int tag = static_cast<int>(c) + 1;
    if (curve.centre < 0)
      geo::addLine(curve.from + 1, curve.to + 1, tag);
    else
      geo::addCircleArc(curve.from + 1, curve.centre + 1, curve.to + 1, tag);
    geo::mesh::setTransfiniteCurve(tag, curve.cells + 1);
  }
  for (std::size_t s = 0; s < drawing.patches.size(); ++s) {
    const auto& patch = drawing.patches[s];
    const int tag = static_cast<int>(s) + 1;
    std::vector<int> loop;
    for (const auto& side : patch.sides)
      loop.insert(loop.end(), side.begin(), side.end());
    geo::addCurveLoop(loop, tag);
    geo::addPlaneSurface({tag}, tag);
    geo::mesh::setTransfiniteSurface(
        tag, "Left",
        {patch.corners[0] + 1, patch.corners[1] + 1, patch.corners[2] + 1, patch.corners[3] + 1});
    geo::mesh::setRecombine(2, tag);
  }
  geo::synchronize();
}

double signed_area(const std::array<PlanePoint, 4>& p)
{
  double twice = 0.0;
  for (int i = 0; i < 4; ++i) {
    const auto& a = p[i];
    const auto& b = p[(i + 1) % 4];
    twice += a.x * b.y - b.x * a.y;
  }
  return 0.5 * twice;
}

// Gmsh gives corners, then edge middles, then the centre, in either sense of rotation.
PlaneQuad ordered(const std::array<int, 9>& g, const std::vector<PlanePoint>& nodes, int label)
{
  PlaneQuad quad;
  quad.label = label;
  if (signed_area({nodes[g[0]], nodes[g[1]], nodes[g[2]], nodes[g[3]]}) > 0.0)
    quad.node = {g[0], g[4], g[1], g[7], g[8], g[5], g[3], g[6], g[2]};
  else
    quad.node = {g[0], g[7], g[3], g[4], g[8], g[6], g[1], g[5], g[2]};
  return quad;
}

// Point number `k` of `last` on an arc that is divided uniformly, its ends 0 and `last`.
PlanePoint on_arc(const PlanePoint& from, const PlanePoint& to, const PlanePoint& centre, int k,
                  int last)
{
  const double x = from.x - centre.x;
  const double y = from.y - centre.y;
  const double sweep = std::atan2(x * (to.y - centre.y) - y * (to.x - centre.x),
                                  x * (to.x - centre.x) + y * (to.y - centre.y));
  const double c = std::cos(sweep * k / last);
  const double s = std::sin(sweep * k / last);
  return {centre.x + c * x - s * y, centre.y + s * x + c * y};
}

// Only nodes of cells are taken: Gmsh also meshes the lone points in the middle of arcs. It places
// nodes on an arc to some 1e-9 of it, differently for every radius; they are put at uniform angles,
// so that the same directions are the same numbers in every door.
class NodeTable
{
public:
  NodeTable(const PlaneDrawing& drawing, PlaneMesh& mesh) : mesh_(mesh)
  {
    std::vector<std::size_t> tags;
    std::vector<double> xyz;
    std::vector<double> unused;
    gmsh::model::mesh::getNodes(tags, xyz, unused, -1, -1, false, false);
    for (std::size_t n = 0; n < tags.size(); ++n)
      place_[tags[n]] = {xyz[3 * n], xyz[3 * n + 1]};
    for (std::size_t c = 0; c < drawing.curves.size(); ++c) {
      if (drawing.curves[c].centre < 0)
        continue;
      gmsh::model::mesh::getNodes(tags, xyz, unused, 1, static_cast<int>(c) + 1, false, false);
      for (const auto tag : tags)
        put_on_arc(drawing, drawing.curves[c], place_.at(tag));
    }
  }
  int operator()(std::size_t tag)
  {
    const auto [entry, added] = index_.try_emplace(tag, static_cast<int>(mesh_.nodes.size()));
    if (added)
      mesh_.nodes.push_back(place_.at(tag));
    return entry->second;
  }

private:
  PlaneMesh& mesh_;
  std::unordered_map<std::size_t, PlanePoint> place_;
  std::unordered_map<std::size_t, int> index_;

  // Corners and middles of cells are spaced uniformly along the arc.
  static void put_on_arc(const PlaneDrawing& drawing, const PlaneCurve& arc, PlanePoint& place)
  {
    const int last = 2 * arc.cells;
    for (int k = 1; k < last; ++k) {
      const PlanePoint even = on_arc(drawing.points[arc.from], drawing.points[arc.to],
                                     drawing.points[arc.centre], k, last);
      constexpr double rounding = 1e-7; // m
      if (std::hypot(place.x - even.x, place.y - even.y) < rounding) {
        place = even;
        return;
      }
    }
  }
};

// The middle of a cell from its rim, so that cells between two arcs are exact in polar angles.
void centre_cells(PlaneMesh& mesh)
{
  for (const auto& quad : mesh.quads) {
    const auto& n = quad.node;
    auto mix = [&](auto part) {
      const auto at = [&](int k) { return part(mesh.nodes[n[k]]); };
      return 0.5 * (at(1) + at(3) + at(5) + at(7)) - 0.25 * (at(0) + at(2) + at(6) + at(8));
    };
    const PlanePoint middle{mix([](const PlanePoint& p) { return p.x; }),
                            mix([](const PlanePoint& p) { return p.y; })};
    mesh.nodes[n[4]] = middle;
  }
}

PlaneMesh collect(const PlaneDrawing& drawing)
{
  constexpr int nine_node_quad = 10; // Gmsh's element type
  PlaneMesh mesh;
  NodeTable table(drawing, mesh);
  for (std::size_t s = 0; s < drawing.patches.size(); ++s) {
    std::vector<int> types;
    std::vector<std::vector<std::size_t>> elements;
    std::vector<std::vector<std::size_t>> nodes;
    gmsh::model::mesh::getElements(types, elements, nodes, 2, static_cast<int>(s) + 1);
    if (types.size() != 1 || types[0] != nine_node_quad)
      throw ComputeError(fmt::format("mesh of the section: patch {} is not all quadrilaterals", s));
    for (std::size_t e = 0; e < elements[0].size(); ++e) {
      std::array<int, 9> g{};
      for (std::size_t k = 0; k < 9; ++k)
        g[k] = table(nodes[0][9 * e + k]);
      mesh.quads.push_back(ordered(g, mesh.nodes, drawing.patches[s].label));
    }
  }
  centre_cells(mesh);
  return mesh;
}

} // namespace

PlaneMesh mesh_plane(const PlaneDrawing& drawing)
{
  const GmshSession library;
  try {
    gmsh::model::add("section");
    draw(drawing);
    gmsh::model::mesh::generate(2);
    gmsh::model::mesh::setOrder(2);
    PlaneMesh mesh = collect(drawing);
    gmsh::model::remove();
    return mesh;
  } catch (const ComputeError&) {
    throw;
  } catch (...) { // the Gmsh library throws integers and strings
    throw ComputeError("mesh of the section: Gmsh could not mesh it; look for parts that overlap");
  }
}

} // namespace hangtrue::section
