// SPDX-License-Identifier: GPL-3.0-or-later
// Steel grades by name.
#pragma once

#include "meshing/door/door.hpp"

#include <string>

namespace hangtrue::input
{

/// Density, stiffness and strength of a grade at 20 degC. Yield and ultimate: A36 36/58 ksi, A500 B
/// 46/58 ksi, A500 C 50/62 ksi, EN 10025-2 S235 235/360 MPa and S355 355/470 MPa; 1018 hot rolled
/// 32/58 ksi and cold drawn 54/64 ksi (ultimates of 1018 from memory). E 29,000 ksi, nu 0.3,
/// 490 lb/ft^3 (AISC, from memory), 210 GPa and 7850 kg/m^3 for the EN grades (EN 1993-1-1).
door::Steel steel_grade(const std::string& name);

} // namespace hangtrue::input
