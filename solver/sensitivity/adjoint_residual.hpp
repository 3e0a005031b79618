// Residual of the Lagrangian: primal and adjoint fields of a solved door in a slightly changed
// door.
#pragma once

#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/door_system.hpp"

#include <vector>

namespace hangtrue
{

/// A door with its mesh, heat and contact points, none of it solved.
struct Setting {
  const Door& door;
  const Mesh& mesh;
  const WarmDoor* warm = nullptr; ///< nothing: at the one temperature
  Standing standing = Standing::open;
  std::vector<ContactPoint> points; ///< gaps, m, and compliances, m/N
};

/// v . f + v . h - v . K u + sum of p (B v) + q (g + c p + B u), in m (N m per N): the change of a
/// quantity of interest with the door while the fields stay (adjoint_sensitivities). The mesh must
/// have the nodes and cells of that of the fields, the points their order.
double virtual_work(const Setting& setting, const SolvedAnswer& fields);

/// True when both meshes have the same cells and nodes, wherever these lie.
bool same_cells(const Mesh& a, const Mesh& b);

} // namespace hangtrue
