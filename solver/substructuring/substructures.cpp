// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/substructuring/substructures.hpp"

#include "solver/fe/cell_values.hpp"

#include <numeric>

namespace hangtrue::substructuring
{

namespace
{

bool is_of_hinge(const mesh::Hex27& cell)
{
  return cell.part == mesh::Part::neck || cell.part == mesh::Part::ring ||
         cell.part == mesh::Part::lug || cell.part == mesh::Part::pin;
}

// Groups of connected nodes, by cells (union by the smaller number).
class Groups
{
public:
  explicit Groups(std::size_t count) : parent_(count)
  {
    std::iota(parent_.begin(), parent_.end(), 0);
  }
  int find(int n)
  {
    while (parent_[n] != n) {
      parent_[n] = parent_[parent_[n]];
      n = parent_[n];
    }
    return n;
  }
  void join(int a, int b)
  {
    a = find(a);
    b = find(b);
    if (a != b)
      parent_[std::max(a, b)] = std::min(a, b);
  }

private:
  std::vector<int> parent_;
};

// Substructure of every cell: 0 the base, 1 and on the hinge substructures, -1 without steel.
std::vector<int> part_of_cells(const mesh::BodyMesh& body, int& count)
{
  bool base = false;
  Groups groups(body.nodes.size());
  for (const auto& cell : body.cells) {
    base = base || (fe::is_steel(cell) && !is_of_hinge(cell));
    if (is_of_hinge(cell))
      for (const int n : cell.node)
        groups.join(cell.node[0], n);
  }
  std::vector<int> part(body.cells.size(), -1);
  std::vector<int> number(body.nodes.size(), -1);
  count = 1;
  for (std::size_t c = 0; c < body.cells.size(); ++c) {
    if (!fe::is_steel(body.cells[c]))
      continue;
    if (!base || !is_of_hinge(body.cells[c])) {
      part[c] = 0;
      continue;
    }
    int& piece = number[groups.find(body.cells[c].node[0])];
    if (piece < 0)
      piece = count++;
    part[c] = piece;
  }
  return part;
}

} // namespace

Substructures partition_body(const mesh::BodyMesh& body)
{
  int count = 0;
  const std::vector<int> part_of_cell = part_of_cells(body, count);
  Substructures result;
  result.substructures.resize(count);
  result.substructure_of.assign(body.nodes.size(), -1);
  result.local_of.assign(body.nodes.size(), -1);
  std::vector<int> local(body.nodes.size(), -1);
  for (int p = 0; p < count; ++p) {
    Substructure& part = result.substructures[p];
    for (std::size_t c = 0; c < body.cells.size(); ++c) {
      if (part_of_cell[c] != p)
        continue;
      part.cell.push_back(static_cast<int>(c));
      std::array<int, 27> own{};
      for (int k = 0; k < 27; ++k) {
        const int n = body.cells[c].node[k];
        if (local[n] < 0) {
          local[n] = static_cast<int>(part.node.size());
          part.node.push_back(n);
          if (result.substructure_of[n] >= 0) {
            part.interface.push_back(local[n]);
          } else {
            result.substructure_of[n] = p;
            result.local_of[n] = local[n];
          }
        }
        own[k] = local[n];
      }
      part.corners.push_back(own);
    }
    for (const int n : part.node)
      local[n] = -1;
  }
  return result;
}

std::vector<int> boundary_nodes(const Substructure& part, std::size_t nodes)
{
  // The middle node of a face that lies outside belongs to one cell only.
  constexpr std::array<int, 6> face_middle{4, 22, 10, 16, 12, 14};
  std::vector<int> cells_at(nodes, 0);
  for (const auto& corners : part.corners)
    for (const int f : face_middle)
      ++cells_at[corners[f]];
  std::vector<char> outside(nodes, 0);
  for (const auto& corners : part.corners)
    for (const int f : face_middle) {
      if (cells_at[corners[f]] != 1)
        continue;
      const int axis = f == 4 || f == 22 ? 2 : f == 10 || f == 16 ? 1 : 0;
      const int side = f == 4 || f == 10 || f == 12 ? 0 : 2;
      for (int k = 0; k < 27; ++k) {
        const std::array<int, 3> index{k % 3, (k / 3) % 3, k / 9};
        if (index[axis] == side)
          outside[corners[k]] = 1;
      }
    }
  std::vector<int> found;
  for (std::size_t n = 0; n < nodes; ++n)
    if (outside[n] != 0)
      found.push_back(static_cast<int>(n));
  return found;
}

} // namespace hangtrue::substructuring
