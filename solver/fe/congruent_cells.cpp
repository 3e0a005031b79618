// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/congruent_cells.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <unordered_map>

namespace hangtrue::fe
{

namespace
{

std::array<std::int64_t, 81> shape_key(const mesh::BodyMesh& body, const mesh::Hex27& cell)
{
  // m; a thousand times the rounding of a coordinate, and no size that a shop works to lies
  // half-way
  constexpr double grid = 1.4142135623730951e-13;
  std::array<std::int64_t, 81> key{};
  const Vec3& origin = body.nodes[cell.node[0]];
  for (int n = 0; n < 27; ++n) {
    const Vec3 v = (1.0 / grid) * (body.nodes[cell.node[n]] - origin);
    key[3 * n] = std::llround(v.x);
    key[3 * n + 1] = std::llround(v.y);
    key[3 * n + 2] = std::llround(v.z);
  }
  return key;
}

} // namespace

std::vector<CongruentGroup> congruent_cells(const mesh::BodyMesh& body,
                                            const CellPredicate& include)
{
  constexpr std::uint64_t prime = 1099511628211U; // FNV-1a
  std::vector<CongruentGroup> result;
  std::unordered_multimap<std::uint64_t, std::size_t> known;
  std::vector<std::array<std::int64_t, 81>> keys;
  for (std::size_t c = 0; c < body.cells.size(); ++c) {
    if (!include(body.cells[c]))
      continue;
    const auto key = shape_key(body, body.cells[c]);
    std::uint64_t hash = 14695981039346656037U;
    for (const std::int64_t k : key)
      hash = (hash ^ static_cast<std::uint64_t>(k)) * prime;
    const auto [begin, end] = known.equal_range(hash);
    const auto found =
        std::find_if(begin, end, [&](const auto& entry) { return keys[entry.second] == key; });
    if (found != end) {
      result[found->second].members.push_back(c);
      continue;
    }
    known.emplace(hash, result.size());
    keys.push_back(key);
    result.push_back({c, {c}});
  }
  return result;
}

CellValues at_member(const CellValues& first, const mesh::BodyMesh& body, std::size_t cell)
{
  return {first.fe, body.cells[cell], cell, nodes_of(body.cells[cell])};
}

void visit_congruent(const Discretization& space, const std::vector<CongruentGroup>& groups,
                     const std::function<void(const CongruentGroup&, const CellValues&)>& visit)
{
  const auto& cells = space.body().cells;
  std::vector<const CongruentGroup*> of_first(cells.size(), nullptr);
  for (const auto& group : groups)
    of_first[group.first] = &group;
  const auto is_first = [&](const mesh::Hex27& cell) {
    return of_first[static_cast<std::size_t>(&cell - cells.data())] != nullptr;
  };
  visit_cells(space, is_first, [&](const CellValues& at) { visit(*of_first[at.index], at); });
}

} // namespace hangtrue::fe
