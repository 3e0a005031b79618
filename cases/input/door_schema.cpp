// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/door_schema.hpp"

#include "cases/input/key_tables.hpp"
#include "meshing/door/part_limits.hpp"

namespace hangtrue::input
{

namespace
{

// In the order of the reference and of a new file.
std::vector<DoorKey> make_keys()
{
  std::vector<DoorKey> keys;
  for (const auto& table :
       {door_section_keys(), panel_keys(), hinge_keys(), gasket_keys(), latch_keys(), jamb_keys(),
        steel_keys("steel", "\"A36\""), steel_keys("pin_steel", "\"1018 hot rolled\""), fire_keys(),
        handle_keys(), limit_keys(), price_keys(), use_keys(), spread_keys()})
    keys.insert(keys.end(), table.begin(), table.end());
  return keys;
}

} // namespace

const std::vector<DoorSection>& door_sections()
{
  static const std::vector<DoorSection> sections{
      {"door", 0, "The door as a whole."},
      {"skins", 0, "The two plates."},
      {"inner_hold", 0, "How the inner skin is attached; it need not be welded all round."},
      {"strip", 0, "A board under the inner skin that breaks the thermal bridge of the rim."},
      {"rim", 0, "The mitred rim of square or rectangular tube between the skins."},
      {"stiffener", door::max_stiffeners, "Up to 60 stiffeners between the skins, or none."},
      {"insulation", 0, "What fills the cavity."},
      {"hinge", door::max_hinges, "One to four hinges, all on one pin axis."},
      {"jamb", 0, "The plate that the frame halves are welded to."},
      {"steel", 0, "Steel of panel, leaves, knuckles and jamb."},
      {"pin_steel", 0, "Steel of the pins."},
      {"gasket", 0, "The gasket round the inner skin, on the line fire.gasket_inset."},
      {"latch", door::max_latches, "One to six latches on the free edges, or none."},
      {"opening", 0, "The opening that it closes."},
      {"fire", 0, "The fire behind the door, if it is to be computed."},
      {"handle", 0, "A load on the latch edge, downwards."},
      {"limits", 0, "What the door is held against."},
      {"accuracy", 0, "How accurate the results have to be."},
      {"prices", 0, "What material and work cost, to find the cheapest of several doors."},
      {"use", 0, "How the door is used over the years, for the wear of its pins."},
      {"spread", 0,
       "How far things may be from what the file says, to either side, for `--spread`; the "
       "defaults are common practice, no source."}};
  return sections;
}

const std::vector<DoorKey>& door_keys()
{
  static const std::vector<DoorKey> keys = make_keys();
  return keys;
}

const DoorKey* find_key(const std::string& section, const std::string& name)
{
  for (const auto& key : door_keys())
    if (key.section == section && key.name == name)
      return &key;
  return nullptr;
}

} // namespace hangtrue::input
