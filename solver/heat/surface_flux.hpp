// SPDX-License-Identifier: GPL-3.0-or-later
// Heat between a surface and what is around it.
#pragma once

#include "solver/heat/heat_equation.hpp"

namespace hangtrue::heat
{

/// Stefan-Boltzmann constant, W/(m^2 K^4) (CODATA 2018).
inline constexpr double stefan_boltzmann = 5.670374419e-8;

/// Properties of dry air at a temperature, K, and one atmosphere.
struct Air {
  double conductivity = 0.0; ///< W/(m K)
  double viscosity = 0.0;    ///< kinematic, m^2/s
  double diffusivity = 0.0;  ///< m^2/s
};
/// Air at an absolute temperature, K.
Air air_at(double kelvin);

/// Mean Nusselt number of natural convection on an upright plate: Churchill and Chu, Int. J. Heat
/// Mass Transfer 18 (1975). Laminar, to Ra = 1e9: 0.68 + 0.670 Ra^(1/4) / [1 +
/// (0.492/Pr)^(9/16)]^(4/9); turbulent: {0.825 + 0.387 Ra^(1/6) / [1 +
/// (0.492/Pr)^(9/16)]^(8/27)}^2. The second is a third more where they meet; from 1e9 to 1.5e9 one
/// leads into the other, linearly in log Ra.
double vertical_plate_nusselt(double rayleigh, double prandtl);

/// Film coefficient of natural convection on an upright plate of a height, m, W/(m^2 K), by
/// `vertical_plate_nusselt`, air at the film temperature. Temperatures in degC.
double natural_convection_coefficient(double surface, double ambient, double height);

/// Nusselt number, on the width, of still air in an upright slot that is `aspect` times as high as
/// wide: ElSherbiny, Raithby and Hollands, J. Heat Transfer 104 (1982), from memory; 1 where the
/// air only conducts.
double slot_nusselt(double rayleigh, double aspect);

/// Heat exchange between a surface and the wall opposite, over an upright slot of a width and a
/// height, m: grey parallel plates of one emissivity, sigma (T_wall^4 - T^4) / (2 / emissivity -
/// 1), and the air between them by `slot_nusselt`. Temperatures in degC. The derivative is at
/// constant Nusselt number.
SurfaceFlux slot_exchange(double surface, double wall, double width, double height,
                          double emissivity);

/// Convection with a film coefficient, W/(m^2 K), and grey radiation to surroundings of one
/// temperature.
SurfaceFlux exchange(double surface, double around, double film, double emissivity);

/// Equivalent conductivity, W/(m K), of the closed air in a tube of size `across`, m: still air and
/// radiation between its walls, 4 sigma T^3 across / (2 / emissivity - 1).
double hollow_conductivity(double temperature, double across, double emissivity);

} // namespace hangtrue::heat
