// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/qoi/contribution.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue::qoi
{

namespace
{

const char* part_label(ContributingPart part)
{
  switch (part) {
  case ContributingPart::pins:
    return "pins";
  case ContributingPart::door_knuckles:
    return "knuckles of the door";
  case ContributingPart::frame_knuckles:
    return "knuckles of the frame";
  case ContributingPart::door_leaves:
    return "leaves of the door";
  case ContributingPart::frame_leaves:
    return "leaves of the frame";
  case ContributingPart::inner_skin:
    return "inner skin";
  case ContributingPart::outer_skin:
    return "outer skin";
  case ContributingPart::rim:
    return "rim";
  case ContributingPart::stiffeners:
    return "stiffeners";
  case ContributingPart::strip:
    return "break strip";
  case ContributingPart::jamb:
    return "jamb";
  case ContributingPart::panel:
    return "panel";
  case ContributingPart::hinge_play:
    return "play in hinge";
  case ContributingPart::end_float:
    return "end float";
  case ContributingPart::loose_skin:
    return "loose inner skin";
  case ContributingPart::gasket:
    return "gasket";
  case ContributingPart::gasket_height:
    return "gasket height less set gap";
  case ContributingPart::frame_warp:
    return "warp of the frame face";
  case ContributingPart::gasket_set:
    return "set of the gasket";
  case ContributingPart::gasket_curve:
    return "bend of the gasket's curve";
  case ContributingPart::latches:
    return "draw of the latches";
  case ContributingPart::stops:
    return "gap at the stops";
  case ContributingPart::applied_load:
    return "weight and handle";
  }
  return "";
}

} // namespace

std::string contribution_label(const Contribution& c)
{
  if (c.source == ContributionSource::heat)
    return fmt::format("heat of the {}", part_label(c.part));
  if (c.source == ContributionSource::compliance && c.part == ContributingPart::gasket)
    return "give of the gasket";
  if (c.source == ContributionSource::compliance && c.part == ContributingPart::latches)
    return "give of the latches";
  if (c.part == ContributingPart::hinge_play)
    return fmt::format("{} {}", part_label(c.part), c.hinge + 1);
  return part_label(c.part);
}

const ContributionSplit* find_split(const std::vector<ContributionSplit>& splits, Quantity quantity)
{
  const auto found =
      std::find_if(splits.begin(), splits.end(),
                   [quantity](const ContributionSplit& s) { return s.quantity == quantity; });
  return found != splits.end() ? &*found : nullptr;
}

} // namespace hangtrue::qoi
