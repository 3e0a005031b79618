// SPDX-License-Identifier: GPL-3.0-or-later
// What each attachment of the inner skin gains: the bare panel, hot and steady, once for each.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/skin_buckling.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hangtrue::analysis
{

/// One attachment and its results, free of hinges, hot and steady.
struct SkinVariant {
  std::string name;     ///< "floating, with a strip"
  bool is_own = false;  ///< the attachment of the door file
  qoi::BowReadings bow; ///< m
  heat::TemperatureSummary temperatures;
  std::vector<strength::PlateUtilisation> plates;
  std::vector<strength::SkinBuckling> buckling;
  contact::SkinSlip slip;
};

/// The free panel of a door under its hottest gas (or its measured skins): heat, displacement with
/// the skin resting, clipped and sliding, and stress. `level` is the mesh level. Throws
/// ComputeError when an iteration does not converge.
SkinVariant hot_panel(const door::Door& door, int level);

/// Welded, stitched, floating and split, each without and with a break strip: the door's own, or
/// one of 1/4 in where it has none. `report` is called with the fraction that is done.
std::vector<SkinVariant> skin_variants(const door::Door& door, int level,
                                       const std::function<void(double share)>& report);

} // namespace hangtrue::analysis
