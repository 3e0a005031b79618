// SPDX-License-Identifier: GPL-3.0-or-later
// Keys of the jamb and of the steels.
#include "cases/input/key_tables.hpp"

namespace hangtrue::input
{

std::vector<DoorKey> jamb_keys()
{
  return {
      {.section = "jamb",
       .name = "thickness",
       .value = ValueKind::quantity,
       .kind = Dimension::length,
       .fallback = "\"1/4 in\"",
       .minimum = 1e-3,
       .maximum = 0.05,
       .sentence = "Plate that carries the frame leaves, flush with the outer face."},
      {.section = "jamb",
       .name = "free_width",
       .value = ValueKind::quantity,
       .kind = Dimension::length,
       .fallback = "\"4 in\"",
       .minimum = 5e-3,
       .maximum = 1.0,
       .sentence = "From the opening to where the plate is held."},
      {.section = "jamb",
       .name = "backing",
       .value = ValueKind::word,
       .fallback = "\"edge\"",
       .words = {"edge", "flange", "solid"},
       .sentence = "Held along its far edge only; the same with a return flange at the opening; or "
                   "held all over its back."},
      {.section = "jamb",
       .name = "flange_depth",
       .value = ValueKind::quantity,
       .kind = Dimension::length,
       .fallback = "\"1-1/2 in\"",
       .minimum = 3e-3,
       .maximum = 0.5,
       .sentence = "Depth of the return flange."},
      {.section = "jamb",
       .name = "hot",
       .value = ValueKind::quantity,
       .kind = Dimension::temperature,
       .fallback = "(as the outer skin over the rim at the hinges)",
       .minimum = -40.0,
       .maximum = 1200.0,
       .sentence = "Temperature of jamb and frame leaves while the fire burns."},
  };
}

namespace
{

// Properties at 20 degC, by grade unless given.
std::vector<DoorKey> grade_keys(const std::string& section, const std::string& grade)
{
  return {
      {.section = section,
       .name = "grade",
       .value = ValueKind::word,
       .fallback = grade,
       .words = {"A36", "A500 B", "A500 C", "1018 hot rolled", "1018 cold drawn", "S235", "S355"},
       .sentence = "Grade; it gives the numbers below where they are not given."},
      {.section = section,
       .name = "youngs_modulus",
       .value = ValueKind::quantity,
       .kind = Dimension::stress,
       .fallback = "(by grade)",
       .minimum = 1e9,
       .maximum = 1e12,
       .sentence = "At 20 degC."},
      {.section = section,
       .name = "yield",
       .value = ValueKind::quantity,
       .kind = Dimension::stress,
       .fallback = "(by grade)",
       .minimum = 1e6,
       .maximum = 3e9,
       .sentence = "At 20 degC."},
      {.section = section,
       .name = "ultimate",
       .value = ValueKind::quantity,
       .kind = Dimension::stress,
       .fallback = "(by grade)",
       .minimum = 1e6,
       .maximum = 3e9,
       .sentence = "At 20 degC."},
      {.section = section,
       .name = "density",
       .value = ValueKind::quantity,
       .kind = Dimension::density,
       .fallback = "(by grade)",
       .minimum = 500.0,
       .maximum = 30000.0,
       .sentence = "Density."},
  };
}

// Columns of the user's own steel table; the description of the first is for all of them.
std::vector<DoorKey> steel_table_keys(const std::string& section)
{
  const auto row = [&](const char* name, Dimension kind, double minimum, double maximum,
                       const char* sentence) {
    return DoorKey{.section = section,
                   .name = name,
                   .value = ValueKind::row,
                   .kind = kind,
                   .fallback = "(EN 1993-1-2)",
                   .minimum = minimum,
                   .maximum = maximum,
                   .sentence = sentence};
  };
  return {
      row("temperatures", Dimension::temperature, -50.0, 1500.0,
          "A steel of your own by table: rising temperatures here, and below as many values in "
          "each of the six rows that end in _at; without it EN 1993-1-2 holds."),
      row("modulus_at", Dimension::stress, 1e8, 1e12, "Young's modulus at these temperatures."),
      row("yield_at", Dimension::stress, 1e5, 3e9, "Yield at these temperatures."),
      row("proof_at", Dimension::stress, 1e5, 3e9,
          "Stress up to which it is elastic, at these temperatures."),
      row("elongation_at", Dimension::strain, -0.01, 0.05, "Total elongation from 20 degC."),
      row("conductivity_at", Dimension::conductivity, 1.0, 500.0, "Thermal conductivity."),
      row("specific_heat_at", Dimension::specific_heat, 100.0, 10000.0, "Specific heat."),
  };
}

} // namespace

std::vector<DoorKey> steel_keys(const std::string& section, const std::string& grade)
{
  std::vector<DoorKey> keys = grade_keys(section, grade);
  const std::vector<DoorKey> table = steel_table_keys(section);
  keys.insert(keys.end(), table.begin(), table.end());
  return keys;
}

} // namespace hangtrue::input
