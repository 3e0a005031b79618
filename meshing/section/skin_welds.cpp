// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/section/skin_welds.hpp"

namespace hangtrue::section
{

std::vector<double> stitch_middles(const door::InnerSkinAttachment& hold, double length)
{
  std::vector<double> middles{0.5 * length};
  for (double away = hold.pitch; 0.5 * length + away + 0.5 * hold.stitch < length;
       away += hold.pitch) {
    middles.push_back(0.5 * length - away);
    middles.push_back(0.5 * length + away);
  }
  return middles;
}

std::vector<double> weld_segments(const door::Door& door, double length, door::StiffenerRun run)
{
  const door::InnerSkinAttachment& hold = door.inner_hold;
  const bool level = run == door::StiffenerRun::across;
  std::vector<double> places;
  auto add = [&](double middle) {
    places.push_back(middle - 0.5 * hold.stitch);
    places.push_back(middle + 0.5 * hold.stitch);
  };
  if (hold.kind == door::SkinRelease::stitched)
    for (const double m : stitch_middles(hold, length))
      add(m);
  if (hold.kind == door::SkinRelease::floating && level)
    add(0.5 * length);
  if (hold.kind == door::SkinRelease::split && level)
    places.push_back(hold.split_at);
  return places;
}

} // namespace hangtrue::section
