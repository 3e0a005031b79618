// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/quantity_table.hpp"

#include "solver/strength/plate_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>

namespace hangtrue::verdict
{

namespace
{

using Q = qoi::Quantity;
using C = ConvergenceClass;
using L = LimitSource;

constexpr auto length = input::Dimension::length;
constexpr auto stress = input::Dimension::stress;
constexpr auto force = input::Dimension::force;
constexpr auto temperature = input::Dimension::temperature;
constexpr auto line_force = input::Dimension::force_per_length;
constexpr std::nullopt_t share = std::nullopt;

constexpr std::array<QuantityRow, static_cast<std::size_t>(qoi::Quantity::count)> table{{
    {Q::drop, "drop of the latch corner", length, C::on_hinges, L::limits},
    {Q::lean, "lean of the latch edge", length, C::on_hinges, L::limits},
    {Q::elastic_sag, "sag from steel alone", length, C::on_hinges, L::limits},
    {Q::set_back, "set-back", length, C::on_hinges},
    {Q::drop_after_years, "drop after {} years", length, C::on_hinges, L::limits, false,
     IndexOf::years},
    {Q::pin_bending, "pin bending", stress, C::hinge_forces, L::steel},
    {Q::pin_shear, "pin shear", stress, C::hinge_forces, L::steel},
    {Q::pin_combined, "pin bending and shear together", stress, C::hinge_forces, L::steel},
    {Q::knuckle_bearing, "knuckle bearing", stress, C::hinge_forces, L::steel},
    {Q::pin_contact, "pin contact pressure", stress, C::hinge_forces, L::steel},
    {Q::leaf_bending, "leaf bending", stress, C::hinge_forces, L::steel},
    {Q::leaf_combined, "leaf bending and shear together", stress, C::hinge_forces, L::steel},
    {Q::weld_throat_stress, "weld throat", stress, C::hinge_forces, L::steel},
    {Q::weld_base_metal, "base metal at the weld", stress, C::hinge_forces, L::steel},
    {Q::knuckle_force, "largest force on a knuckle", force, C::hinge_forces},
    {Q::end_float, "end float taken", length, C::on_hinges, L::drawn},
    {Q::bound_hinges, "hinges bound along the pin", force, C::on_hinges, L::weight},
    {Q::thrust_face, "thrust face bearing", stress, C::hinge_forces, L::steel},
    {Q::pin_head, "pin head and cotter", force, C::on_hinges, L::steel},
    {Q::outside_temperature, "outside temperature", temperature, C::on_hinges, L::limits},
    {Q::steel_temperature, "hottest steel", temperature, C::on_hinges, L::limits},
    {Q::inner_skin_temperature, "inner skin, mean", temperature, C::on_hinges},
    {Q::outer_skin_temperature, "outer skin, mean", temperature, C::on_hinges},
    {Q::outside_middle_temperature, "outside in the middle", temperature, C::on_hinges},
    {Q::rim_temperature, "rim, mean", temperature, C::on_hinges},
    {Q::knuckle_temperature, "knuckles", temperature, C::on_hinges},
    {Q::jamb_temperature, "jamb", temperature, C::on_hinges},
    {Q::plate_stress, "{} stays elastic", stress, C::plates, L::steel, false, IndexOf::plate},
    {Q::buckling, "buckling of the {}", share, C::plates, L::theory, false, IndexOf::plate},
    {Q::clamped_buckling, "buckling of the {}, edges clamped", share, C::plates, L::none, false,
     IndexOf::plate},
    {Q::bore_play, "bore play taken by heat", length, C::on_hinges, L::drawn},
    {Q::skin_slide, "sliding of the inner skin", length, C::on_hinges, L::drawn},
    {Q::cut_closing, "closing of the cut", length, C::on_hinges, L::drawn},
    {Q::outer_across, "outer skin across", length, C::bow},
    {Q::outer_along, "outer skin along", length, C::bow},
    {Q::outer_diagonal, "outer skin diagonal", length, C::bow},
    {Q::bow, "outer skin, middle against corners", length, C::bow, L::none, false, IndexOf::nothing,
     "bow, middle of the outer skin against its corners"},
    {Q::inner_across, "inner skin across", length, C::bow},
    {Q::inner_along, "inner skin along", length, C::bow},
    {Q::inner_diagonal, "inner skin diagonal", length, C::bow},
    {Q::inner_bow, "inner skin, middle against corners", length, C::bow},
    {Q::width_growth, "growth in width", length, C::bow},
    {Q::height_growth, "growth in height", length, C::bow},
    {Q::gasket_load, "least load of the gasket", line_force, C::closed, L::gasket, true},
    {Q::gasket_squeeze, "most squeeze of the gasket", length, C::closed, L::gasket},
    {Q::gasket_temperature, "heat under the gasket", temperature, C::closed, L::gasket},
    {Q::latch_pull, "pull of the hand on a latch", force, C::closed, L::limits},
    {Q::reveal, "reveal left", length, C::closed, L::limits, true},
    {Q::least_squeeze, "least squeeze of the gasket", length, C::closed},
    {Q::mean_gasket_load, "mean load of the gasket", line_force, C::closed},
    {Q::latch_force, "force of latch {}", force, C::closed, L::none, false, IndexOf::latch},
}};

std::string index_text(const input::DoorCase& door_case, const qoi::QoiId& id)
{
  switch (row_of(id.quantity).index) {
  case IndexOf::latch:
    return fmt::format("{}", id.index + 1);
  case IndexOf::plate:
    return strength::plate_label(static_cast<mesh::Part>(id.index));
  case IndexOf::years:
    return fmt::format("{:g}", door_case.use.years);
  case IndexOf::nothing:
    break;
  }
  return "";
}

} // namespace

const QuantityRow& row_of(qoi::Quantity quantity)
{
  const auto row = std::find_if(table.begin(), table.end(), [quantity](const QuantityRow& r) {
    return r.quantity == quantity && r.label != nullptr;
  });
  if (row == table.end())
    throw std::logic_error("a quantity of interest without a row in its table");
  return *row;
}

ConvergenceClass convergence_of(const qoi::QoiId& id)
{
  const ConvergenceClass open = row_of(id.quantity).convergence;
  if (id.state.position == system::DoorPosition::open)
    return open;
  return open == ConvergenceClass::hinge_forces ? ConvergenceClass::closed_hinge_forces
                                                : ConvergenceClass::closed;
}

std::string quantity_label(const input::DoorCase& door_case, const qoi::QoiId& id)
{
  return fmt::format(fmt::runtime(row_of(id.quantity).label), index_text(door_case, id));
}

const char* goal_label(qoi::Quantity quantity)
{
  const QuantityRow& row = row_of(quantity);
  return row.goal_label != nullptr ? row.goal_label : row.label;
}

std::string si_unit(qoi::Quantity quantity)
{
  const auto dimension = row_of(quantity).dimension;
  return dimension ? si_unit(*dimension) : "1";
}

std::string si_unit(input::Dimension kind)
{
  if (kind == input::Dimension::temperature)
    return "degC";
  if (kind == input::Dimension::force)
    return "N";
  if (kind == input::Dimension::force_per_length)
    return "N/m";
  return kind == input::Dimension::length ? "m" : "Pa";
}

std::string value_text(qoi::Quantity quantity, double value, input::UnitSystem units, int digits)
{
  const auto dimension = row_of(quantity).dimension;
  return dimension ? input::format_short(value, *dimension, units)
                   : fmt::format("{:.{}f}", value, digits);
}

} // namespace hangtrue::verdict
