// SPDX-License-Identifier: GPL-3.0-or-later
// Carbon steel at temperature, by EN 1993-1-2:2005.
#pragma once

#include "meshing/door/door.hpp"

namespace hangtrue::material
{

/// Highest temperature of the tables, degC.
inline constexpr double hottest_steel = 1200.0;

/// Reduction factors of EN 1993-1-2:2005 Table 3.1, linear between rows.
struct SteelReduction {
  double yield = 1.0;        ///< k_y: effective yield strength, at 2 % strain
  double proportional = 1.0; ///< k_p: proportional limit
  double modulus = 1.0;      ///< k_E: slope of the linear part
};

/// Reduction at a temperature, degC; 1 up to 100 degC (k_y up to 400). Throws ComputeError outside
/// -50 to 1200 degC.
SteelReduction reduction(double temperature);

/// Total elongation from 20 degC, m/m (EN 1993-1-2:2005, 3.4.1.1); it jumps by 8.4e-6 at 750 degC
/// as the standard prints it. Throws ComputeError outside -50 to 1200 degC.
double elongation(double temperature);

/// Specific heat, J/(kg K) (EN 1993-1-2:2005, 3.4.1.2). Throws like `elongation`.
double specific_heat(double temperature);

/// Thermal conductivity, W/(m K) (EN 1993-1-2:2005, 3.4.1.3). Throws like `elongation`.
double conductivity(double temperature);

/// The same for a steel: by its own table, linear between rows, where it has one, else by EN
/// 1993-1-2. Throw ComputeError beyond the table's last row; below the first they are constant.
SteelReduction reduction(const door::Steel& steel, double temperature);
double elongation(const door::Steel& steel, double temperature);
double specific_heat(const door::Steel& steel, double temperature);
double conductivity(const door::Steel& steel, double temperature);

/// Ultimate strength, Pa, at a temperature, degC: what it has above yield at 20 degC stays up to
/// 300 degC and is gone at 400, from where on it is the yield (strain hardening of EN 1993-1-2:2005
/// Annex A, from memory). Throws like `reduction`.
double ultimate_at(const door::Steel& steel, double temperature);

/// Reduction k_w of the strength of a fillet weld at a temperature, degC (EN 1993-1-2:2005 Table
/// D.1, from memory), linear between rows. Throws ComputeError outside -50 to 1200 degC.
double weld_reduction(double temperature);

/// Last temperature of the steel's tables, degC.
double hottest(const door::Steel& steel);

} // namespace hangtrue::material
