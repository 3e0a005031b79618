// SPDX-License-Identifier: GPL-3.0-or-later
// Three plain problems on the swept mesh of a door, with this program's results, for another
// finite-element library to solve as well: ours <door file> <text file>. See compare.py.
#include "cases/input/door_file.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/heat/heat_equation.hpp"

#include <deal.II/fe/fe_values.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iostream>

using namespace hangtrue;

namespace
{

constexpr double steel_k = 45.0;       // W/(m K)
constexpr double filling_k = 0.08;     // W/(m K), insulation and closed air
constexpr double hot = 300.0;          // degC, fire side of the inner skin
constexpr double cold = 40.0;          // degC, outer face
constexpr double elongation = 12e-6;   // 1/K
constexpr double modulus = 200e9;      // Pa
constexpr double per_volume = 76982.0; // N/m^3, along -z

std::vector<double> warm(const mesh::BodyMesh& mesh, double depth)
{
  heat::HeatProblem problem{mesh};
  problem.conducts = [](const mesh::Hex27&) { return true; };
  for (const double k : {steel_k, filling_k})
    problem.materials.push_back(
        {[k](double) { return k; }, [](double t) { return t; }, [](double) { return 1.0; }});
  problem.material_of = [](const mesh::Hex27& cell) { return fe::is_steel(cell) ? 0 : 1; };
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n) {
    const int node = static_cast<int>(n);
    if (mesh.nodes[n].y < 1e-9)
      problem.prescribed.push_back({node, [](double) { return hot; }});
    else if (mesh.nodes[n].y > depth - 1e-9)
      problem.prescribed.push_back({node, [](double) { return cold; }});
  }
  return heat::HeatSolver(problem).steady(0.0, 100.0).value;
}

void write(std::ofstream& out, const char* name, const elasticity::NodeField& field)
{
  out << name << ' ' << field.size() << '\n';
  for (const auto& v : field)
    out << fmt::format("{:.17g} {:.17g} {:.17g}\n", v.x, v.y, v.z);
}

} // namespace

int main(int argc, char** argv)
try {
  if (argc != 3)
    throw std::runtime_error("ours <door file> <text file>");
  const door::Door door = input::read_door_file(argv[1]).door;
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 4.0;
  fine.around_pin = 12;
  const mesh::Mesh lofted = sweep::make_mesh(door, fine);
  const mesh::BodyMesh& mesh = lofted.door;
  std::ofstream out(argv[2]);
  write(out, "nodes", mesh.nodes);
  out << "cells " << mesh.cells.size() << '\n';
  for (const auto& cell : mesh.cells) {
    out << (fe::is_steel(cell) ? 1 : 0);
    for (const int n : cell.node)
      out << ' ' << n;
    out << '\n';
  }

  const std::vector<double> t = warm(mesh, lofted.depth);
  out << "temperature " << t.size() << '\n';
  for (const double degrees : t)
    out << fmt::format("{:.17g}\n", degrees);

  const elasticity::CellElasticity steel = [](const mesh::Hex27&) {
    return elasticity::elasticity(modulus, 0.3);
  };
  const auto light = elasticity::isostatic_supports(mesh);
  out << "lightly " << light.size() << '\n';
  for (const auto& h : light)
    out << h.node << ' ' << h.component << '\n';
  std::vector<double> strain;
  for (const double degrees : t)
    strain.push_back(elongation * (degrees - 20.0));
  write(out, "bowed",
        elasticity::ElasticBody(mesh, steel, light)
            .solve(elasticity::free_strain_forces(mesh, steel, strain)));

  // Knuckles fixed all over, under its own weight.
  std::vector<char> in_ring(mesh.nodes.size(), 0);
  for (const auto& cell : mesh.cells)
    if (cell.part == mesh::Part::ring)
      for (const int n : cell.node)
        in_ring[n] = 1;
  std::vector<int> held;
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
    if (in_ring[n] != 0)
      held.push_back(static_cast<int>(n));
  out << "held " << held.size() << '\n';
  for (const int n : held)
    out << n << '\n';
  elasticity::NodeField load(mesh.nodes.size());
  fe::visit_cells(mesh, fe::is_steel, [&](const fe::CellValues& at) {
    for (int n = 0; n < 27; ++n)
      for (int q = 0; q < 27; ++q)
        load[at.node[n]].z -= per_volume * at.fe.shape_value(n, q) * at.fe.JxW(q);
  });
  write(out, "hung", elasticity::ElasticBody(mesh, steel, elasticity::fix_all(held)).solve(load));
  out.close();
  return out ? 0 : 1;
} catch (const std::exception& error) {
  std::cerr << error.what() << '\n';
  return 1;
}
