// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/vtu_writer.hpp"

#include "meshing/common/errors.hpp"
#include "solver/fe/shape_functions.hpp"

#include <fmt/format.h>
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkCellType.h>
#include <vtkDoubleArray.h>
#include <vtkIntArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include <array>
#include <fstream>

namespace hangtrue::viz
{

namespace
{

// VTK's order of the triquadratic hexahedron: corners, edges, faces (-x, +x, -y, +y, -z, +z) and
// the centre, as indices i + 3 j + 9 k.
constexpr std::array<int, 27> vtk_order{0,  2,  8, 6,  18, 20, 26, 24, 1,  5,  7, 3,  19, 23,
                                        25, 21, 9, 11, 17, 15, 12, 14, 10, 16, 4, 22, 13};

} // namespace

void write_vtu(const mesh::BodyMesh& body, const std::vector<Vec3>* displacements,
               const std::string& path)
{
  const vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const auto& p : body.nodes)
    points->InsertNextPoint(p.x, p.y, p.z);
  const vtkNew<vtkUnstructuredGrid> grid;
  grid->SetPoints(points);
  const vtkNew<vtkIntArray> part;
  part->SetName("part");
  const vtkNew<vtkIntArray> hinge;
  hinge->SetName("hinge");
  for (const auto& cell : body.cells) {
    if (displacements != nullptr && !fe::is_steel(cell))
      continue; // parts without stiffness have no displacement of their own
    std::array<vtkIdType, 27> ids{};
    for (std::size_t k = 0; k < 27; ++k)
      ids[k] = cell.node[vtk_order[k]];
    grid->InsertNextCell(VTK_TRIQUADRATIC_HEXAHEDRON, 27, ids.data());
    part->InsertNextValue(static_cast<int>(cell.part));
    hinge->InsertNextValue(cell.hinge + 1);
  }
  grid->GetCellData()->AddArray(part);
  grid->GetCellData()->AddArray(hinge);
  const vtkNew<vtkDoubleArray> movement;
  if (displacements != nullptr) {
    movement->SetName("movement_m");
    movement->SetNumberOfComponents(3);
    for (const auto& m : *displacements)
      movement->InsertNextTuple3(m.x, m.y, m.z);
    grid->GetPointData()->AddArray(movement);
  }
  // Through a string: on a full disk the library reports success and leaves a truncated file.
  const vtkNew<vtkXMLUnstructuredGridWriter> writer;
  writer->WriteToOutputStringOn();
  writer->SetInputData(grid);
  writer->SetDataModeToAppended();
  const bool result = writer->Write() != 0;
  std::ofstream file(path, std::ios::binary);
  file << writer->GetOutputString();
  file.close();
  if (!result || !file)
    throw InputError(path + ": the file cannot be written; allowed is a disk with room for it; "
                            "make room, or name another folder with --out");
}

std::string pvd_text(const std::vector<SetEntry>& entries)
{
  std::string text = "<?xml version=\"1.0\"?>\n"
                     "<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
                     "  <Collection>\n";
  int part = 0;
  for (const auto& e : entries)
    text += fmt::format("    <DataSet timestep=\"{}\" part=\"{}\" file=\"{}\"/>\n", e.step, part++,
                        e.file);
  return text + "  </Collection>\n</VTKFile>\n";
}

} // namespace hangtrue::viz
