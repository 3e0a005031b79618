// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sensitivity/uncertain_inputs.hpp"

#include "solver/material/insulation_properties.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue::sensitivity
{

namespace
{

// A thousandth of a size: large against the precision of a mesh (1e-9 m), and the cube of a
// thickness is linear over it to a part in a million.
constexpr double shape_share = 1e-3;
constexpr double property_share = 0.01;
// Temperatures converge to a part in ten thousand, and time steps are chosen anew.
constexpr double heat_share = 0.05;

UncertainInput shape(std::string key, std::string what, double value,
                     std::function<void(door::Door&, double)> apply)
{
  UncertainInput n;
  n.key = std::move(key);
  n.what = std::move(what);
  n.value = value;
  n.step = shape_share * value;
  n.shapes = true;
  n.apply = std::move(apply);
  return n;
}

void add_hinges(const door::Door& door, std::vector<UncertainInput>& all)
{
  const door::Hinge& first = door.hinges.front();
  auto every = [](auto change) {
    return [change](door::Door& d, double by) {
      for (auto& hinge : d.hinges)
        change(hinge, by);
    };
  };
  all.push_back(shape("hinge.clearance", "play in the bores", first.clearance,
                      every([](door::Hinge& h, double by) { h.clearance += by; })));
  all.back().step = 0.01 * first.clearance; // gaps are linear in it
  all.push_back(shape("hinge.pin_diameter", "pin and bore", first.pin_diameter,
                      every([](door::Hinge& h, double by) { h.pin_diameter += by; })));
  all.push_back(shape("hinge.leaf_thickness", "thickness of the leaves", first.leaf.thickness,
                      every([](door::Hinge& h, double by) { h.leaf.thickness += by; })));
  all.push_back(shape("hinge.standoff", "standoff of the pins", first.leaf.standoff,
                      every([](door::Hinge& h, double by) { h.leaf.standoff += by; })));
  UncertainInput end_float;
  end_float.key = "hinge.end_float";
  end_float.what = "play along the pins";
  end_float.value = first.end_float;
  end_float.step = 0.01 * first.end_float;
  end_float.apply = every([](door::Hinge& h, double by) { h.end_float += by; });
  if (first.end_float > 0.0)
    all.push_back(end_float);
  if (door.hinges.size() < 2)
    return;
  const auto [low, high] = std::minmax_element(
      door.hinges.begin(), door.hinges.end(),
      [](const door::Hinge& a, const door::Hinge& b) { return a.position < b.position; });
  const auto lowest = low - door.hinges.begin();
  const auto highest = high - door.hinges.begin();
  all.push_back(shape("hinge.at", "spacing of the outermost hinges", high->position - low->position,
                      [lowest, highest](door::Door& d, double by) {
                        d.hinges[lowest].position -= 0.5 * by;
                        d.hinges[highest].position += 0.5 * by;
                      }));
}

void add_panel(const door::Door& door, std::vector<UncertainInput>& all)
{
  all.push_back(shape("skins.outer", "outer skin", door.panel.outer_skin,
                      [](door::Door& d, double by) { d.panel.outer_skin += by; }));
  all.push_back(shape("skins.inner", "inner skin", door.panel.inner_skin,
                      [](door::Door& d, double by) { d.panel.inner_skin += by; }));
  all.push_back(shape("rim.depth", "rim depth and insulation thickness", door.rim.depth,
                      [](door::Door& d, double by) { d.rim.depth += by; }));
  for (std::size_t i = all.size() - 3; i < all.size(); ++i)
    all[i].thermal_step = heat_share * all[i].value;
  all.push_back(shape("jamb.thickness", "jamb", door.jamb.thickness,
                      [](door::Door& d, double by) { d.jamb.thickness += by; }));
}

// Whether a property affects the temperatures, or gaps and forces of the contact alone.
enum class Affects { heat, contact };

UncertainInput property(std::string key, std::string what, double value, Affects affects,
                        std::function<void(door::Door&, double)> apply)
{
  UncertainInput n;
  n.key = std::move(key);
  n.what = std::move(what);
  n.value = value;
  n.step = property_share * value;
  n.thermal_step = affects == Affects::heat ? heat_share * value : 0.0;
  n.apply = std::move(apply);
  return n;
}

void add_properties(const door::Door& door, std::vector<UncertainInput>& all)
{
  if (door.insulation.density > 0.0) {
    all.push_back(property("insulation.density", "weight of the insulation",
                           door.insulation.density, Affects::heat,
                           [](door::Door& d, double by) { d.insulation.density += by; }));
    all.push_back(property("insulation.conductivity", "conductivity of the insulation", 1.0,
                           Affects::heat, [](door::Door& d, double by) {
                             d.insulation.conductivity =
                                 material::insulation_of(d.insulation).conductivity;
                             for (auto& row : d.insulation.conductivity)
                               row.second *= 1.0 + by;
                           }));
    all.back().factor = true;
  }
  if (!door.fire.measured.given) {
    all.push_back(property("fire.film", "film on the fire side", door.fire.film, Affects::heat,
                           [](door::Door& d, double by) { d.fire.film += by; }));
    all.push_back(property("fire.emissivity_inside", "emissivity inside",
                           door.fire.emissivity_inside, Affects::heat,
                           [](door::Door& d, double by) { d.fire.emissivity_inside += by; }));
  }
  all.push_back(property("fire.emissivity_outside", "emissivity outside",
                         door.fire.emissivity_outside, Affects::heat,
                         [](door::Door& d, double by) { d.fire.emissivity_outside += by; }));
  all.push_back(property("fire.outside_film", "natural convection outside", 1.0, Affects::heat,
                         [](door::Door& d, double by) { d.fire.outside_film *= 1.0 + by; }));
  all.back().factor = true;
  all.push_back(property("fire.frame", "how hot the frame face is", 1.0, Affects::heat,
                         [](door::Door& d, double by) { d.fire.frame_excess *= 1.0 + by; }));
  all.back().factor = true;
  if (door.fire.schedule.empty() && !door.fire.measured.given)
    all.erase(std::remove_if(all.begin(), all.end(),
                             [](const UncertainInput& n) {
                               return n.thermal_step > 0.0 && !n.shapes &&
                                      n.key != "insulation.density";
                             }),
              all.end());
}

void add_closing(const door::Door& door, std::vector<UncertainInput>& all)
{
  if (!door::can_close(door))
    return;
  const std::size_t first = all.size();
  all.push_back(property("gasket.curve", "load of the gasket", 1.0, Affects::contact,
                         [](door::Door& d, double by) {
                           for (auto& row : d.gasket.curve)
                             row.second *= 1.0 + by;
                         }));
  all.back().factor = true;
  all.push_back(property("gasket.set_gap", "set gap of the gasket", door.gasket.set_gap,
                         Affects::contact,
                         [](door::Door& d, double by) { d.gasket.set_gap += by; }));
  all.back().thermal_step = heat_share * std::max(1e-3, door.gasket.set_gap); // a slot to the heat
  const double draw = std::max(1e-4, door.latches.front().draw);
  all.push_back(property("latch.draw", "draw of the latches", draw, Affects::contact,
                         [](door::Door& d, double by) {
                           for (auto& latch : d.latches)
                             latch.draw += by;
                         }));
  all.back().value = door.latches.front().draw;
  for (std::size_t i = first; i < all.size(); ++i)
    all[i].step *= shape_share / property_share; // the curve of a gasket has corners
}

} // namespace

std::vector<UncertainInput> uncertain_inputs(const door::Door& door)
{
  std::vector<UncertainInput> all;
  add_hinges(door, all);
  add_panel(door, all);
  add_properties(door, all);
  add_closing(door, all);
  // Nodes displaced within the panel come to points of other temperature.
  for (auto& input : all)
    if (input.key == "hinge.at" || input.key == "hinge.leaf_thickness" ||
        input.key == "hinge.standoff")
      input.thermal_step = property_share * input.value;
  if (door.fire.schedule.empty() && !door.fire.measured.given)
    for (auto& input : all)
      input.thermal_step = 0.0;
  return all;
}

} // namespace hangtrue::sensitivity
