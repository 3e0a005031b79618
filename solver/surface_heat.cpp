#include "solver/surface_heat.hpp"

#include <cmath>

namespace hangtrue
{

namespace
{

constexpr double kelvin = 273.15;
constexpr double gravity = 9.80665; // m/s^2

} // namespace

Air air_at(double t)
{
  // Sutherland's law for viscosity and conductivity, ideal gas (White, Viscous Fluid Flow, from
  // memory).
  const double ratio = t / kelvin;
  const double dynamic = 1.716e-5 * std::pow(ratio, 1.5) * (kelvin + 110.4) / (t + 110.4);
  const double density = 101325.0 / (287.05 * t);
  Air air;
  air.conductivity = 0.0241 * std::pow(ratio, 1.5) * (kelvin + 194.0) / (t + 194.0);
  air.viscosity = dynamic / density;
  constexpr double specific_heat = 1012.0; // J/(kg K), rises by 2 % to 500 K
  air.diffusivity = air.conductivity / (density * specific_heat);
  return air;
}

double natural_film(double surface, double ambient, double height)
{
  const double film = 0.5 * (surface + ambient) + kelvin;
  const Air air = air_at(film);
  const double prandtl = air.viscosity / air.diffusivity;
  const double rayleigh = gravity / film * std::abs(surface - ambient) * std::pow(height, 3) /
                          (air.viscosity * air.diffusivity);
  const double wall = std::pow(1.0 + std::pow(0.492 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
  const double nusselt = std::pow(0.825 + 0.387 * std::pow(rayleigh, 1.0 / 6.0) / wall, 2);
  return nusselt * air.conductivity / height;
}

Flux exchange(double surface, double around, double film, double emissivity)
{
  const double a = around + kelvin;
  const double s = surface + kelvin;
  const double radiation = emissivity * stefan_boltzmann;
  return {film * (around - surface) + radiation * (a * a * a * a - s * s * s * s),
          -film - 4.0 * radiation * s * s * s};
}

double hollow_conductivity(double temperature, double across, double emissivity)
{
  const double t = temperature + kelvin;
  return air_at(t).conductivity +
         4.0 * stefan_boltzmann * t * t * t * across / (2.0 / emissivity - 1.0);
}

} // namespace hangtrue
