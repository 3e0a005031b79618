#include "solver/cell_shapes.hpp"

#include "meshing/errors.hpp"

#include <deal.II/base/quadrature_lib.h>
#include <deal.II/fe/fe_q.h>
#include <deal.II/fe/fe_tools.h>
#include <deal.II/fe/fe_values.h>
#include <deal.II/fe/mapping_q_cache.h>
#include <deal.II/grid/grid_tools.h>
#include <deal.II/grid/tria.h>

#include <string>
#include <vector>

namespace hangtrue
{

namespace
{

constexpr std::array<int, 8> corner_node{0, 2, 6, 8, 18, 20, 24, 26};

// deal.II may turn a cell when it makes line directions agree; this finds the node of ours that
// sits at place i, j, k (0..2) of the turned cell.
struct Turned {
  std::array<int, 3> origin{};
  std::array<std::array<int, 3>, 3> step{};

  [[nodiscard]] int node(int i, int j, int k) const
  {
    std::array<int, 3> at{};
    for (int d = 0; d < 3; ++d)
      at[d] = 2 * origin[d] + i * step[0][d] + j * step[1][d] + k * step[2][d];
    return at[0] + 3 * at[1] + 9 * at[2];
  }
};

std::array<int, 3> corner_place(int corner)
{
  return {corner & 1, (corner >> 1) & 1, (corner >> 2) & 1};
}

Turned find_turn(const std::array<int, 8>& ours, const std::vector<unsigned int>& theirs)
{
  auto place_of = [&](unsigned int vertex) {
    for (int c = 0; c < 8; ++c)
      if (ours[c] == static_cast<int>(vertex))
        return corner_place(c);
    throw ComputeError("mesh: a cell lost one of its corners; report this door");
  };
  Turned turned;
  turned.origin = place_of(theirs[0]);
  for (int d = 0; d < 3; ++d) {
    const auto end = place_of(theirs[1U << d]);
    for (int e = 0; e < 3; ++e)
      turned.step[d][e] = end[e] - turned.origin[e];
  }
  return turned;
}

// The body's wanted cells as a deal.II triangulation with our nodes as its geometry.
struct Geometry {
  dealii::Triangulation<3> triangulation;
  std::vector<int> cell;      // of the body, per active cell
  std::vector<Turned> turned; // per active cell
};

void build(const BodyMesh& body, const WantedCell& wanted, Geometry& geometry)
{
  std::vector<int> vertex_of(body.nodes.size(), -1);
  std::vector<dealii::Point<3>> vertices;
  std::vector<dealii::CellData<3>> cells;
  std::vector<std::array<int, 8>> corners;
  for (std::size_t c = 0; c < body.cells.size(); ++c) {
    if (!wanted(body.cells[c]))
      continue;
    dealii::CellData<3> data;
    std::array<int, 8> own{};
    for (std::size_t k = 0; k < 8; ++k) {
      const int node = body.cells[c].node[corner_node[k]];
      if (vertex_of[node] < 0) {
        vertex_of[node] = static_cast<int>(vertices.size());
        const Vec3& p = body.nodes[node];
        vertices.emplace_back(p.x, p.y, p.z);
      }
      own[k] = vertex_of[node];
      data.vertices[k] = static_cast<unsigned int>(own[k]);
    }
    cells.push_back(data);
    corners.push_back(own);
    geometry.cell.push_back(static_cast<int>(c));
  }
  dealii::GridTools::consistently_order_cells(cells);
  for (std::size_t c = 0; c < cells.size(); ++c)
    geometry.turned.push_back(find_turn(corners[c], cells[c].vertices));
  geometry.triangulation.create_triangulation(vertices, cells, dealii::SubCellData());
}

} // namespace

bool is_steel(const Hex& cell)
{
  return cell.part != Part::insulation && cell.part != Part::hollow;
}

void visit_cells(const BodyMesh& body, const WantedCell& wanted, const CellVisitor& visit)
{
  Geometry geometry;
  build(body, wanted, geometry);
  const auto lexicographic = dealii::FETools::hierarchic_to_lexicographic_numbering<3>(2);
  // ours[cell][h]: our local node at deal.II's support point h of that cell
  auto our_node = [&](unsigned int index, unsigned int h) {
    const int lex = static_cast<int>(lexicographic[h]);
    return geometry.turned[index].node(lex % 3, (lex / 3) % 3, lex / 9);
  };

  dealii::MappingQCache<3> mapping(2);
  mapping.initialize(geometry.triangulation,
                     [&](const dealii::Triangulation<3>::cell_iterator& cell) {
                       std::vector<dealii::Point<3>> points(27);
                       const unsigned int index = cell->index();
                       const Hex& hex = body.cells[geometry.cell[index]];
                       for (unsigned int h = 0; h < 27; ++h) {
                         const Vec3& p = body.nodes[hex.node[our_node(index, h)]];
                         points[h] = dealii::Point<3>(p.x, p.y, p.z);
                       }
                       return points;
                     });
  const dealii::FE_Q<3> element(2);
  dealii::FEValues<3> values(mapping, element, dealii::QGauss<3>(3),
                             dealii::update_values | dealii::update_gradients |
                                 dealii::update_JxW_values);
  CellShape shape;
  for (const auto& cell : geometry.triangulation.active_cell_iterators()) {
    values.reinit(cell);
    const unsigned int index = cell->index();
    std::array<int, 27> ours{};
    for (unsigned int h = 0; h < 27; ++h)
      ours[h] = our_node(index, h);
    for (unsigned int q = 0; q < 27; ++q) {
      shape.volume[q] = values.JxW(q);
      for (unsigned int h = 0; h < 27; ++h) {
        const auto& g = values.shape_grad(h, q);
        shape.slope[q][ours[h]] = {g[0], g[1], g[2]};
        shape.value[q][ours[h]] = values.shape_value(h, q);
      }
    }
    visit(body.cells[geometry.cell[index]], shape);
  }
}

} // namespace hangtrue
