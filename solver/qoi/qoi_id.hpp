// SPDX-License-Identifier: GPL-3.0-or-later
// Which number of which state: how a quantity of interest is named between rooms.
#pragma once

#include "solver/system/state_id.hpp"

namespace hangtrue::qoi
{

/// All quantities of interest of a door. One row each in cases/verdict/quantity_table has its
/// label, its unit, its convergence class and the source of its limit.
enum class Quantity {
  // Displacements of the open door.
  drop,
  lean,
  elastic_sag,
  set_back,
  drop_after_years,
  // What hinges carry.
  pin_bending,
  pin_shear,
  pin_combined,
  knuckle_bearing,
  pin_contact,
  leaf_bending,
  leaf_combined,
  weld_throat_stress,
  weld_base_metal,
  knuckle_force,
  // Play along the pins.
  end_float,
  bound_hinges,
  thrust_face,
  pin_head,
  // Temperatures.
  outside_temperature,
  steel_temperature,
  inner_skin_temperature,
  outer_skin_temperature,
  outside_middle_temperature,
  rim_temperature,
  knuckle_temperature,
  jamb_temperature,
  // Skins and rim of the hot door; index: the Part of the mesh.
  plate_stress,
  buckling,
  clamped_buckling,
  bore_play,
  skin_slide,
  cut_closing,
  // What a straightedge and a tape read.
  outer_across,
  outer_along,
  outer_diagonal,
  bow, ///< of the outer skin, middle against corners
  inner_across,
  inner_along,
  inner_diagonal,
  inner_bow,
  width_growth,
  height_growth,
  // The closed door.
  gasket_load,
  gasket_squeeze,
  gasket_temperature,
  latch_pull,
  reveal,
  least_squeeze,
  mean_gasket_load,
  latch_force, ///< index: the latch
  count        ///< how many there are; no quantity
};

/// One quantity of interest of one state.
struct QoiId {
  system::StateId state{};
  Quantity quantity = Quantity::drop;
  int index = 0; ///< where a state has several: latch or part, from 0

  bool operator==(const QoiId&) const = default;
};

/// True for the same number in whatever state.
inline bool same_number(const QoiId& a, const QoiId& b)
{
  return a.quantity == b.quantity && a.index == b.index;
}

} // namespace hangtrue::qoi
