// Heat between a surface and what is around it.
#pragma once

#include "solver/conduction.hpp"

namespace hangtrue
{

/// Stefan-Boltzmann constant, W/(m^2 K^4) (CODATA 2018).
inline constexpr double stefan_boltzmann = 5.670374419e-8;

/// Properties of dry air at a temperature, K, and one atmosphere.
struct Air {
  double conductivity = 0.0; ///< W/(m K)
  double viscosity = 0.0;    ///< kinematic, m^2/s
  double diffusivity = 0.0;  ///< m^2/s
};
Air air_at(double kelvin);

/// Film coefficient of natural convection on an upright plate of a height, m, W/(m^2 K): Churchill
/// and Chu, Int. J. Heat Mass Transfer 18 (1975), Nu = {0.825 + 0.387 Ra^(1/6) / [1 +
/// (0.492/Pr)^(9/16)]^(8/27)}^2, air at the film temperature. Temperatures in degC.
double natural_film(double surface, double ambient, double height);

/// Convection with a film coefficient, W/(m^2 K), and grey radiation to surroundings of one
/// temperature.
Flux exchange(double surface, double around, double film, double emissivity);

/// Conductivity, W/(m K), that stands for the closed air in a tube of size `across`, m: still air
/// and radiation between its walls, 4 sigma T^3 across / (2 / emissivity - 1).
double hollow_conductivity(double temperature, double across, double emissivity);

} // namespace hangtrue
