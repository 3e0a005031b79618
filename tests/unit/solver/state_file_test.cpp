// SPDX-License-Identifier: GPL-3.0-or-later
// Files of a body in one state, read back by VTK's own reader.
#define BOOST_TEST_MODULE state_file
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/field_output/state_file.hpp"
#include "tests/support/test_doors.hpp"

#include <vtkCell.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

struct Panel {
  mesh::BodyMesh body;
  std::vector<mesh::Hex27> steel;
  field_output::StateFields fields;
  vtkNew<vtkXMLUnstructuredGridReader> reader;

  Panel() : body(sweep::make_panel_mesh(barrel_door(), door::mesh_density(barrel_door(), 1)))
  {
    for (const auto& cell : body.cells)
      if (fe::is_steel(cell))
        steel.push_back(cell);
    for (const auto& p : body.nodes) {
      fields.displacement.push_back({2e-3 * p.x * p.x + 1e-3 * p.z, -3e-3 * p.x * p.z, 4e-3 * p.y});
      fields.temperature.push_back(100.0 + 50.0 * p.x * p.y);
      fields.free_strain.push_back(1e-3 * p.x);
    }
    fields.elasticity = [](const mesh::Hex27&) { return elasticity::Elasticity{1.2e11, 8e10}; };
    reader->ReadFromInputStringOn();
    reader->SetInputString(field_output::state_file(body, fields));
    reader->Update();
  }
};

Vec3 place_of(vtkUnstructuredGrid* grid, vtkIdType point)
{
  double p[3];
  grid->GetPoint(point, p);
  return {p[0], p[1], p[2]};
}

} // namespace

// VTK's own shape functions: the middle of every cell must be its middle node, and so must the
// middles of its faces, or the order of nodes is wrong. Coordinates are written in single
// precision.
BOOST_AUTO_TEST_CASE(cells_are_where_they_were)
{
  const Panel panel;
  vtkUnstructuredGrid* grid = panel.reader->GetOutput();
  BOOST_REQUIRE(grid->GetNumberOfCells() == static_cast<vtkIdType>(panel.steel.size()));
  BOOST_TEST(grid->GetNumberOfPoints() == 27 * static_cast<vtkIdType>(panel.steel.size()));
  constexpr std::array<std::pair<std::array<double, 3>, int>, 5> places{{{{0.5, 0.5, 0.5}, 13},
                                                                         {{1.0, 0.5, 0.5}, 14},
                                                                         {{0.5, 0.0, 0.5}, 10},
                                                                         {{0.5, 0.5, 1.0}, 22},
                                                                         {{0.5, 0.0, 0.0}, 1}}};
  vtkDataArray* part = grid->GetCellData()->GetArray("part");
  if (part == nullptr)
    part = grid->GetPointData()->GetArray("part");
  BOOST_REQUIRE(part != nullptr);
  for (vtkIdType c = 0; c < grid->GetNumberOfCells(); ++c)
    for (const auto& [where, node] : places) {
      double position[3];
      double weights[27];
      double parameters[3] = {where[0], where[1], where[2]};
      int sub = 0;
      grid->GetCell(c)->EvaluateLocation(sub, parameters, position, weights);
      BOOST_REQUIRE(norm(Vec3{position[0], position[1], position[2]} -
                         panel.body.nodes[panel.steel[c].node[node]]) < 1e-6);
    }
}

// Fields against the formulas that they come from; stress by hand from the displacements'
// derivatives: e_xx = 4e-3 x, e_yy = e_zz = 0, 2 e_xy = -3e-3 z, 2 e_xz = 1e-3, 2 e_yz = 4e-3 -
// 3e-3 x; less (3 lambda + 2 mu) 1e-3 x.
BOOST_AUTO_TEST_CASE(fields_are_those_that_were_written)
{
  const Panel panel;
  vtkUnstructuredGrid* grid = panel.reader->GetOutput();
  vtkDataArray* displacement = grid->GetPointData()->GetArray("displacement_m");
  vtkDataArray* temperature = grid->GetPointData()->GetArray("temperature_degC");
  vtkDataArray* stress = grid->GetPointData()->GetArray("stress_Pa");
  BOOST_REQUIRE(displacement != nullptr);
  BOOST_REQUIRE(temperature != nullptr);
  BOOST_REQUIRE(stress != nullptr);
  BOOST_REQUIRE(displacement->GetNumberOfComponents() == 3);
  BOOST_REQUIRE(stress->GetNumberOfComponents() == 9);
  constexpr double lambda = 1.2e11;
  constexpr double mu = 8e10;
  double worst_move = 0.0;
  double worst_heat = 0.0;
  double worst_stress = 0.0;
  for (vtkIdType p = 0; p < grid->GetNumberOfPoints(); ++p) {
    const Vec3 at = place_of(grid, p);
    const Vec3 u{displacement->GetComponent(p, 0), displacement->GetComponent(p, 1),
                 displacement->GetComponent(p, 2)};
    worst_move = std::max(worst_move, norm(u - Vec3{2e-3 * at.x * at.x + 1e-3 * at.z,
                                                    -3e-3 * at.x * at.z, 4e-3 * at.y}));
    worst_heat = std::max(worst_heat,
                          std::abs(temperature->GetComponent(p, 0) - (100.0 + 50.0 * at.x * at.y)));
    const double all = lambda * 4e-3 * at.x - (3.0 * lambda + 2.0 * mu) * 1e-3 * at.x;
    const double xy = -3e-3 * at.z * mu;
    const double xz = 1e-3 * mu;
    const double yz = (4e-3 - 3e-3 * at.x) * mu;
    const std::array<double, 9> hand{
        all + 2.0 * mu * 4e-3 * at.x, xy, xz, xy, all, yz, xz, yz, all};
    for (int k = 0; k < 9; ++k)
      worst_stress = std::max(worst_stress, std::abs(stress->GetComponent(p, k) - hand[k]));
  }
  BOOST_TEST(worst_move < 1e-9); // single precision of 3e-3 m
  BOOST_TEST(worst_heat < 1e-4);
  BOOST_TEST(worst_stress < 1e-5 * 3e8);
}

// A bare body has its cells and nothing else, insulation included.
BOOST_AUTO_TEST_CASE(a_bare_body_has_all_cells)
{
  const mesh::BodyMesh body =
      sweep::make_panel_mesh(barrel_door(), door::mesh_density(barrel_door(), 1));
  const vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->ReadFromInputStringOn();
  reader->SetInputString(field_output::state_file(body, {}));
  reader->Update();
  BOOST_TEST(reader->GetOutput()->GetNumberOfCells() == static_cast<vtkIdType>(body.cells.size()));
  BOOST_TEST((reader->GetOutput()->GetPointData()->GetArray("displacement_m") == nullptr));
}
