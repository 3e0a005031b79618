// Shape functions of a body's cells at their quadrature points, from those of deal.II.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"

#include <array>
#include <functional>

namespace hangtrue
{

/// One cell at the 27 points of the 3 x 3 x 3 Gauss rule; node order as in Hex.
struct CellShape {
  std::array<double, 27> volume{};                ///< m^3, Jacobian times weight
  std::array<std::array<double, 27>, 27> value{}; ///< [point][node]
  std::array<std::array<Vec3, 27>, 27> slope{}; ///< 1/m, [point][node], gradients in the door frame
};

using WantedCell = std::function<bool(const Hex&)>;
using CellVisitor = std::function<void(const Hex&, const CellShape&)>;

/// True for steel: every cell that can carry load.
bool is_steel(const Hex& cell);

/// Calls `visit` for every wanted cell of the body in turn, isoparametric (triquadratic).
/// Throws ComputeError at a cell that is turned inside out.
void visit_cells(const BodyMesh& body, const WantedCell& wanted, const CellVisitor& visit);

} // namespace hangtrue
