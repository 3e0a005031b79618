// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/mesh/msh_writer.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/common/gmsh_session.hpp"

#include <gmsh.h>

#include <array>
#include <fstream>
#include <map>

namespace hangtrue::mesh
{

namespace
{

// Gmsh's order of the 27 nodes: corners, edges, faces, centre (Gmsh reference manual, node
// ordering of the 27-node hexahedron), as indices i + 3 j + 9 k.
constexpr std::array<int, 27> gmsh_order{0,  2,  8,  6,  18, 20, 26, 24, 1,  3,  9,  5,  11, 7,
                                         17, 15, 19, 21, 23, 25, 4,  10, 12, 14, 16, 22, 13};

struct Counter {
  std::size_t node = 1;
  std::size_t cell = 1;
  int entity = 1;
};

void add_body(const BodyMesh& body, Counter& count)
{
  constexpr int hexahedron_27 = 12; // Gmsh's element type
  const std::size_t first_node = count.node;
  std::map<Part, std::vector<std::size_t>> nodes_of;
  for (const auto& cell : body.cells)
    for (const int k : gmsh_order)
      nodes_of[cell.part].push_back(first_node + cell.node[k]);

  bool nodes_given = false;
  for (const auto& [part, nodes] : nodes_of) {
    gmsh::model::addDiscreteEntity(3, count.entity);
    if (!nodes_given) { // all nodes of a body go with its first part
      std::vector<std::size_t> tags;
      std::vector<double> xyz;
      for (const auto& p : body.nodes) {
        tags.push_back(count.node++);
        xyz.insert(xyz.end(), {p.x, p.y, p.z});
      }
      gmsh::model::mesh::addNodes(3, count.entity, tags, xyz);
      nodes_given = true;
    }
    std::vector<std::size_t> cells(nodes.size() / 27);
    for (auto& c : cells)
      c = count.cell++;
    gmsh::model::mesh::addElements(3, count.entity, {hexahedron_27}, {cells}, {nodes});
    const int group = gmsh::model::addPhysicalGroup(3, {count.entity});
    gmsh::model::setPhysicalName(3, group, body.name + ": " + part_name(part));
    ++count.entity;
  }
}

// On a full disk the library reports nothing and leaves a truncated file: it is read back.
bool is_whole(const std::string& path, const Counter& written)
{
  std::ifstream file(path, std::ios::binary);
  const std::string end = "$EndElements\n";
  std::string found(end.size(), ' ');
  file.seekg(-static_cast<std::streamoff>(end.size()), std::ios::end);
  if (!file.read(found.data(), static_cast<std::streamsize>(found.size())) || found != end)
    return false;
  gmsh::open(path);
  std::vector<std::size_t> nodes;
  std::vector<double> xyz;
  std::vector<double> parameters;
  gmsh::model::mesh::getNodes(nodes, xyz, parameters);
  std::vector<int> types;
  std::vector<std::vector<std::size_t>> cells;
  std::vector<std::vector<std::size_t>> cell_nodes;
  gmsh::model::mesh::getElements(types, cells, cell_nodes);
  return nodes.size() + 1 == written.node && cells.size() == 1 &&
         cells.front().size() + 1 == written.cell;
}

} // namespace

void write_msh(const Mesh& mesh, const std::string& path)
{
  const GmshSession library;
  bool whole = false;
  try {
    gmsh::model::add("door");
    Counter count;
    add_body(mesh.door, count);
    add_body(mesh.frame, count);
    for (const auto& pin : mesh.pins)
      add_body(pin, count);
    gmsh::option::setNumber("Mesh.MshFileVersion", 4.1);
    gmsh::option::setNumber("Mesh.Binary", 1);
    gmsh::write(path);
    whole = is_whole(path, count);
  } catch (...) { // the Gmsh library throws integers and strings
  }
  if (!whole)
    throw InputError(path + ": the file cannot be written; allowed is a disk with room for it; "
                            "make room, or name another folder with --out");
}

} // namespace hangtrue::mesh
