#include "meshing/section/skin_welds.hpp"

namespace hangtrue
{

std::vector<double> stitch_middles(const InnerHold& hold, double length)
{
  std::vector<double> middles{0.5 * length};
  for (double away = hold.pitch; 0.5 * length + away + 0.5 * hold.stitch < length;
       away += hold.pitch) {
    middles.push_back(0.5 * length - away);
    middles.push_back(0.5 * length + away);
  }
  return middles;
}

std::vector<double> hold_places(const Door& door, double length, StiffenerRun run)
{
  const InnerHold& hold = door.inner_hold;
  const bool level = run == StiffenerRun::across;
  std::vector<double> places;
  auto add = [&](double middle) {
    places.push_back(middle - 0.5 * hold.stitch);
    places.push_back(middle + 0.5 * hold.stitch);
  };
  if (hold.kind == SkinHold::stitched)
    for (const double m : stitch_middles(hold, length))
      add(m);
  if (hold.kind == SkinHold::floating && level)
    add(0.5 * length);
  if (hold.kind == SkinHold::split && level)
    places.push_back(hold.split_at);
  return places;
}

} // namespace hangtrue
