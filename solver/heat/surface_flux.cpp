// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/surface_flux.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::heat
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

namespace
{

double rayleigh_number(const Air& air, double film, double difference, double size)
{
  return gravity / film * std::abs(difference) * size * size * size /
         (air.viscosity * air.diffusivity);
}

} // namespace

double vertical_plate_nusselt(double rayleigh, double prandtl)
{
  constexpr double laminar_to = 1e9;
  constexpr double turbulent_from = 1.5e9;
  const double fluid = 1.0 + std::pow(0.492 / prandtl, 9.0 / 16.0);
  const double sixth = std::pow(rayleigh, 1.0 / 6.0);
  const double laminar = 0.68 + 0.670 * std::sqrt(std::sqrt(rayleigh)) / std::pow(fluid, 4.0 / 9.0);
  if (rayleigh <= laminar_to)
    return laminar;
  const double root = 0.825 + 0.387 * sixth / std::pow(fluid, 8.0 / 27.0);
  const double turbulent = root * root;
  if (rayleigh >= turbulent_from)
    return turbulent;
  const double share = std::log(rayleigh / laminar_to) / std::log(turbulent_from / laminar_to);
  return laminar + share * (turbulent - laminar);
}

double natural_convection_coefficient(double surface, double ambient, double height)
{
  const double film = 0.5 * (surface + ambient) + kelvin;
  const Air air = air_at(film);
  return vertical_plate_nusselt(rayleigh_number(air, film, surface - ambient, height),
                                air.viscosity / air.diffusivity) *
         air.conductivity / height;
}

double slot_nusselt(double rayleigh, double aspect)
{
  if (!(rayleigh > 0.0))
    return 1.0;
  const double turbulent = 0.0605 * std::cbrt(rayleigh);
  const double turning =
      0.104 * std::pow(rayleigh, 0.293) / (1.0 + std::pow(6310.0 / rayleigh, 1.36));
  const double layers = 0.242 * std::pow(rayleigh / aspect, 0.272);
  return std::max({turbulent, std::cbrt(1.0 + turning * turning * turning), layers});
}

SurfaceFlux slot_exchange(double surface, double wall, double width, double height,
                          double emissivity)
{
  const double film = 0.5 * (surface + wall) + kelvin;
  const Air air = air_at(film);
  const double nusselt =
      slot_nusselt(rayleigh_number(air, film, surface - wall, width), height / width);
  return exchange(surface, wall, nusselt * air.conductivity / width,
                  emissivity / (2.0 - emissivity));
}

SurfaceFlux exchange(double surface, double around, double film, double emissivity)
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

} // namespace hangtrue::heat
