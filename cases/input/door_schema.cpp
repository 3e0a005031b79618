#include "cases/input/door_schema.hpp"

#include "meshing/door/part_limits.hpp"

#include <numbers>
#include <utility>

namespace hangtrue
{

namespace
{

DoorKey text(std::string section, std::string name, std::string fallback, std::string sentence)
{
  return {std::move(section), std::move(name), ValueKind::text, {}, std::move(fallback), 0, 0, {},
          std::move(sentence)};
}

DoorKey word(std::string section, std::string name, std::string fallback,
             std::vector<std::string> words, std::string sentence)
{
  return {std::move(section), std::move(name),    ValueKind::word, {}, std::move(fallback), 0, 0,
          std::move(words),   std::move(sentence)};
}

DoorKey quantity(std::string section, std::string name, Kind kind, std::string fallback,
                 double least, double most, std::string sentence)
{
  return {std::move(section),
          std::move(name),
          ValueKind::quantity,
          kind,
          std::move(fallback),
          least,
          most,
          {},
          std::move(sentence)};
}

DoorKey length(std::string section, std::string name, std::string fallback, double least,
               double most, std::string sentence)
{
  return quantity(std::move(section), std::move(name), Kind::length, std::move(fallback), least,
                  most, std::move(sentence));
}

DoorKey number(std::string section, std::string name, ValueKind value, std::string fallback,
               double least, double most, std::string sentence)
{
  return {std::move(section), std::move(name), value, {}, std::move(fallback), least, most, {},
          std::move(sentence)};
}

void add_door(std::vector<DoorKey>& keys)
{
  keys.push_back(text("door", "name", "\"unnamed door\"", "Name of the door on every sheet."));
  keys.push_back(text("door", "shop", "\"\"", "The shop that builds it."));
  keys.push_back(word("door", "units", "\"us\"", {"us", "si"},
                      "Units of the answer: inches and pounds, or millimetres and newtons."));
  keys.push_back(word("door", "hanging", "\"side\"", {"side", "top", "bottom"},
                      "The edge that it hangs from."));
  keys.push_back(length("door", "width", "", 0.1, 4.0, "From the hinge edge to the latch edge."));
  keys.push_back(length("door", "height", "", 0.1, 4.0, "Along the hinge edge."));
  keys.push_back(quantity("door", "swing", Kind::angle, "\"90 deg\"", 0.0, std::numbers::pi,
                          "How far it stands open in the open states."));
  keys.push_back(length("door", "reveal", "\"3/16 in\"", 0.5e-3, 0.05,
                        "Gap between the hinge edge and the jamb."));
  keys.push_back(quantity("door", "temperature", Kind::temperature, "\"68 degF\"", 20.0, 1200.0,
                          "The same everywhere for now; it lowers stiffness and yield."));
  keys.push_back(length("skins", "outer", "\"1/4 in\"", 0.5e-3, 0.05, "Outer skin, thickness."));
  keys.push_back(
      length("skins", "inner", "\"1/4 in\"", 0.5e-3, 0.05, "Inner skin (fire side), thickness."));
  keys.push_back(word("inner_hold", "kind", "\"welded\"",
                      {"welded", "stitched", "floating", "split"},
                      "Welded to rim and stiffeners all over; stitched to the outer wall of the "
                      "rim only; floating on one anchor weld in the middle of the lower edge; or "
                      "welded, but cut from top to bottom."));
  keys.push_back(length("inner_hold", "stitch", "\"2 in\"", 5e-3, 1.0,
                        "Length of a stitch, or of the anchor weld of a floating skin."));
  keys.push_back(
      length("inner_hold", "pitch", "\"6 in\"", 10e-3, 2.0,
             "From middle to middle of the stitches; one sits in the middle of a side."));
  keys.push_back(word("inner_hold", "keep", "\"clips\"", {"clips", "lip"},
                      "What keeps a floating or stitched skin from lifting: clips, or a lip all "
                      "along its edge."));
  keys.push_back(
      number("inner_hold", "clips", ValueKind::count, "3", 1, 20, "Clips to each side."));
  keys.push_back(
      length("inner_hold", "lift", "\"0 in\"", 0.0, 0.02, "Play of the skin under clips or lip."));
  keys.push_back(length("inner_hold", "slot", "\"1/8 in\"", 1e-4, 0.05,
                        "Sliding that slots and edge gaps leave free, or width of the cut."));
  keys.push_back(length("inner_hold", "split_at", "(middle of the door)", 0.0, 4.0,
                        "The cut of a split skin, from the hinge edge."));
  keys.push_back(length("strip", "thickness", "\"0 in\"", 0.0, 0.05,
                        "Board between the inner skin and rim and stiffeners; 0: none."));
  keys.push_back(quantity("strip", "conductivity", Kind::conductivity, "\"0.2 W/m/K\"", 0.005, 50.0,
                          "Of the board (silicate board 0.1 to 0.3, from memory)."));
  keys.push_back(
      quantity("strip", "density", Kind::density, "\"900 kg/m^3\"", 10.0, 9000.0, "Of the board."));
  keys.push_back(quantity("strip", "youngs_modulus", Kind::stress, "\"2 GPa\"", 1e6, 3e11,
                          "Of the board; it lets the skin slip against the rim."));
  keys.push_back(length("rim", "width", "\"1-1/2 in\"", 5e-3, 0.3,
                        "Rim tube, size in the plane of the door."));
  keys.push_back(
      length("rim", "depth", "\"1-1/2 in\"", 5e-3, 0.3, "Rim tube, size from skin to skin."));
  keys.push_back(length("rim", "wall", "\"1/8 in\"", 0.5e-3, 0.05, "Rim tube, wall."));
  keys.push_back(word("stiffener", "shape", "\"flat bar\"", {"flat bar", "tube"},
                      "Flat bar on edge, or a tube, from skin to skin."));
  keys.push_back(word("stiffener", "runs", "\"along\"", {"along", "across"},
                      "Along the hinge edge, or across from hinge edge to latch edge."));
  keys.push_back(length("stiffener", "at", "", 0.0, 4.0,
                        "Its middle, from the hinge edge (along) or the lower edge (across)."));
  keys.push_back(length("stiffener", "width", "\"1/4 in\"", 0.5e-3, 0.3,
                        "Thickness of a flat bar, or size of a tube in the plane of the door."));
  keys.push_back(length("stiffener", "wall", "\"1/8 in\"", 0.5e-3, 0.05, "Wall of a tube."));
  keys.push_back(word("insulation", "kind", "\"mineral wool\"",
                      {"none", "mineral wool", "ceramic fibre", "calcium silicate", "perlite"},
                      "What fills the cavity."));
  keys.push_back(quantity("insulation", "density", Kind::density, "(by kind)", 0.0, 2000.0,
                          "Weight of the filling; it does not stiffen."));
  keys.push_back({"insulation",
                  "conductivity",
                  ValueKind::curve,
                  Kind::conductivity,
                  "(by kind)",
                  0.001,
                  50.0,
                  {},
                  "Own conductivity over mean temperature, pairs as in [[\"100 degC\", \"0.05 "
                  "W/m/K\"], [\"300 degC\", \"0.09 W/m/K\"]]; held beyond its ends."});
}

void add_hinge(std::vector<DoorKey>& keys)
{
  const std::string h = "hinge";
  keys.push_back(length(h, "at", "", 0.0, 4.0, "Middle of the hinge, from the lower edge."));
  keys.push_back(word(h, "kind", "\"barrels\"", {"barrels", "lugs"},
                      "Tube barrels on a leaf, or drilled plates threaded on the rod."));
  keys.push_back(
      length(h, "leaf_length", "\"4-1/2 in\"", 5e-3, 2.0, "Leaf along the hinge edge (barrels)."));
  keys.push_back(length(h, "leaf_width", "\"2 in\"", 5e-3, 0.5,
                        "Leaf, or foot of a lug, on the face of door and jamb."));
  keys.push_back(length(h, "leaf_thickness", "\"1/4 in\"", 1e-3, 0.05, "Leaf, thickness."));
  keys.push_back(length(h, "standoff", "\"2 in\"", 5e-3, 0.5,
                        "Pin axis above the outer face; the same for every hinge of a door."));
  keys.push_back(number(h, "knuckles", ValueKind::count, "3", 2, 9, "Knuckles on both halves."));
  keys.push_back({h,
                  "knuckle_length",
                  ValueKind::lengths,
                  Kind::length,
                  "\"1-1/2 in\"",
                  2e-3,
                  1.0,
                  {},
                  "Length along the pin, one for all or a list from the lowest up."});
  keys.push_back(word(h, "first_knuckle", "\"frame\"", {"frame", "door"},
                      "Which half owns the lowest knuckle; they take turns."));
  keys.push_back(length(h, "knuckle_gap", "\"0 in\"", 0.0, 0.5,
                        "Drawn distance between knuckles, filled with spacers (lugs)."));
  keys.push_back(length(h, "outside_diameter", "\"1-1/2 in\"", 4e-3, 0.3,
                        "Of the barrels, or of the round end of the lugs."));
  keys.push_back(length(h, "pin_diameter", "\"1 in\"", 2e-3, 0.2, "Solid round pin or rod."));
  keys.push_back(
      {h,
       "clearance",
       ValueKind::play,
       Kind::length,
       "\"drilled\"",
       5e-6,
       0.01,
       {"reamed", "drilled", "drilled loose", "pipe"},
       "Bore less pin, on the diameter: a length, or how the bore is made: reamed "
       "0.0035 in, drilled 0.018 in (1/64 over), drilled loose 0.033 in (1/32 over), pipe "
       "0.08 in; common practice, no source."});
  keys.push_back(length(h, "end_float", "\"1/32 in\"", 0.0, 0.05, "All the play along the pin."));
  keys.push_back(word(h, "pin", "\"floating\"", {"floating", "fixed"},
                      "Free in every bore, or fast in the frame half."));
  keys.push_back(number(h, "carries_weight", ValueKind::flag, "(lowest hinge)", 0, 1,
                        "Whether its knuckles stand on each other when the door hangs; as welded "
                        "one hinge carries, the others have play below."));
  keys.push_back(length(h, "weld_leg", "\"3/16 in\"", 1e-3, 0.03, "Leg of the fillets of a leaf."));
  keys.push_back(word(h, "weld", "\"beads\"", {"beads", "full face"},
                      "Fillets round the leaf, or joined all over."));
}

// Rows of the user's own steel table; the sentence of the first tells of them all.
void add_steel_table(std::vector<DoorKey>& keys, const std::string& section)
{
  auto add = [&](const std::string& name, Kind kind, double least, double most,
                 const std::string& sentence) {
    keys.push_back(
        {section, name, ValueKind::row, kind, "(EN 1993-1-2)", least, most, {}, sentence});
  };
  add("temperatures", Kind::temperature, -50.0, 1500.0,
      "A steel of your own by table: rising temperatures here, and below as many values in each of "
      "the six rows that end in _at; without it EN 1993-1-2 holds.");
  add("modulus_at", Kind::stress, 1e8, 1e12, "Young's modulus at these temperatures.");
  add("yield_at", Kind::stress, 1e5, 3e9, "Yield at these temperatures.");
  add("proof_at", Kind::stress, 1e5, 3e9,
      "Stress up to which it is elastic, at these temperatures.");
  add("elongation_at", Kind::strain, -0.01, 0.05, "Total elongation from 20 degC.");
  add("conductivity_at", Kind::conductivity, 1.0, 500.0, "Thermal conductivity.");
  add("specific_heat_at", Kind::specific_heat, 100.0, 10000.0, "Specific heat.");
}

void add_fire(std::vector<DoorKey>& keys)
{
  keys.push_back({"fire",
                  "instants",
                  ValueKind::row,
                  Kind::time,
                  "(none)",
                  1.0,
                  400.0 * unit::hour,
                  {},
                  "Times of the firing at which the door is looked at besides the worst, as in "
                  "[\"20 min\", \"2 h\"]."});
  keys.push_back(number("fire", "outside_film", ValueKind::number, "1", 0.1, 20.0,
                        "Natural convection outside as a factor of that of still air on a free "
                        "upright plate: a draught over the door makes it 2 to 3, a corner or a "
                        "curtain that keeps air from it 0.7 (common practice, no source)."));
  keys.push_back(quantity("fire", "frame", Kind::temperature,
                          "(a plate of the jamb's thickness, half of it in the gas)", -40.0, 1200.0,
                          "Frame face before the edges of the shut door as measured while the "
                          "schedule is at its hottest."));
  keys.push_back(quantity("fire", "hot_spot", Kind::temperature, "(none)", -50.0, 1500.0,
                          "Hottest gas at a hot spot while the schedule is at its hottest; one "
                          "corner is often 200 degF above the rest (common practice, no source)."));
  keys.push_back(length("fire", "hot_spot_x", "(latch edge)", 0.0, 4.0,
                        "Middle of the hot spot, from the hinge edge."));
  keys.push_back(
      length("fire", "hot_spot_z", "(upper edge)", 0.0, 4.0, "The same, from the lower edge."));
  keys.push_back(length("fire", "hot_spot_reach", "(a third of the width)", 0.01, 4.0,
                        "Where its excess has fallen to 37 %."));
  keys.push_back(quantity("fire", "measured_inner", Kind::temperature, "(not measured)", -40.0,
                          1200.0,
                          "Inner skin as measured, steady; it and the next two take the place of "
                          "the schedule."));
  keys.push_back(quantity("fire", "measured_outer", Kind::temperature, "(not measured)", -40.0,
                          1200.0, "Outer skin between the rim tubes as measured."));
  keys.push_back(quantity("fire", "measured_over_rim", Kind::temperature, "(not measured)", -40.0,
                          1200.0, "Outer skin over the rim tubes as measured."));
}

void add_closing(std::vector<DoorKey>& keys)
{
  keys.push_back(word("gasket", "kind", "\"none\"",
                      {"none", "knitted glass rope", "braided rope", "tadpole", "woven tape",
                       "ceramic rope", "silicone", "own"},
                      "It gives curve, set and the heat that it stands where they are not given "
                      "(common practice, no source); \"own\" needs a curve; \"none\": the closed "
                      "door is not computed."));
  keys.push_back(length("gasket", "height", "\"3/4 in\"", 1e-3, 0.1, "Free height."));
  keys.push_back(length("gasket", "width", "(as high as it is)", 1e-3, 0.2,
                        "Of its bead; it has to find room between its line and the edge."));
  keys.push_back(length("gasket", "set_gap",
                        "(so that it is squeezed half way from sealing to crushing)", 0.0, 0.1,
                        "Between inner skin and frame face, shut as drawn."));
  keys.push_back(
      length("gasket", "corner", "\"1 in\"", 0.0, 1.0, "Radius of its corners; 0: square."));
  keys.push_back({"gasket",
                  "curve",
                  ValueKind::load_curve,
                  Kind::force_per_length,
                  "(by kind)",
                  0.0,
                  1e7,
                  {},
                  "Own measured points of squeeze and load on its length, both rising, as in "
                  "[[\"0 in\", \"0 lbf/in\"], [\"0.15 in\", \"2 lbf/in\"], [\"0.3 in\", \"10 "
                  "lbf/in\"]]: 12 in between flat bars on a scale."});
  keys.push_back(quantity("gasket", "sealing", Kind::force_per_length, "(by kind)", 1.0, 1e6,
                          "Least load on its length that seals."));
  keys.push_back(
      length("gasket", "crushing", "(by kind)", 1e-4, 0.1, "Squeeze beyond which it is crushed."));
  keys.push_back(number("gasket", "set", ValueKind::number, "(by kind)", 0.0, 1.0,
                        "Share of its greatest squeeze that stays after heat."));
  keys.push_back(quantity("gasket", "hottest", Kind::temperature, "(by kind)", 20.0, 1500.0,
                          "Hottest that it stands."));
  const std::string l = "latch";
  keys.push_back(word(l, "kind", "\"wedge\"", {"wedge", "cam", "bevel", "over-centre"},
                      "What pulls the door in."));
  keys.push_back(word(l, "edge", "\"latch\"", {"latch", "lower", "upper"}, "The edge it sits on."));
  keys.push_back(length(l, "at", "", 0.0, 4.0,
                        "Its place on that edge, from the lower edge or from the hinge edge."));
  keys.push_back(length(l, "inset", "(half the rim)", 0.0, 0.5, "Its pull from the edge."));
  keys.push_back(length(l, "draw", "\"0 in\"", -0.05, 0.05,
                        "How far inwards of the drawn place it would pull a door that nothing "
                        "holds: set cold; more makes it tighter."));
  keys.push_back(quantity(l, "stiffness", Kind::force_per_length, "\"10000 lbf/in\"", 1e3, 1e10,
                          "Of rod, bolt and strike (from memory)."));
  keys.push_back(quantity(l, "lead", Kind::angle, "\"7 deg\"", 0.0, 1.2,
                          "Angle of wedge, bevel or cam; 5 to 8 deg holds itself (common practice, "
                          "no source)."));
  keys.push_back(number(l, "friction", ValueKind::number, "0.15", 0.0, 1.0, "On its slope."));
  keys.push_back(length(l, "arm", "\"1 in\"", 1e-3, 1.0, "From the pivot to where it pulls."));
  keys.push_back(length(l, "lever", "\"6 in\"", 5e-3, 2.0, "From the pivot to the hand."));
  keys.push_back(length("opening", "latch", "(the reveal of the door)", 0.5e-3, 0.05,
                        "Gap at the latch edge, shut and cold."));
  keys.push_back(length("opening", "lower", "(the reveal of the door)", 0.5e-3, 0.05,
                        "Gap at the lower edge."));
  keys.push_back(length("opening", "upper", "(the reveal of the door)", 0.5e-3, 0.05,
                        "Gap at the upper edge."));
  keys.push_back(length("opening", "warp", "\"0 in\"", -0.02, 0.02,
                        "How far the corners of the chamber face stand back from its middle."));
}

void add_rest(std::vector<DoorKey>& keys)
{
  add_closing(keys);
  keys.push_back(length("jamb", "thickness", "\"1/4 in\"", 1e-3, 0.05,
                        "Plate that carries the frame leaves, flush with the outer face."));
  keys.push_back(length("jamb", "free_width", "\"4 in\"", 5e-3, 1.0,
                        "From the opening to where the plate is held."));
  keys.push_back(word("jamb", "backing", "\"edge\"", {"edge", "flange", "solid"},
                      "Held along its far edge only; the same with a return flange at the opening; "
                      "or held all over its back."));
  keys.push_back(
      length("jamb", "flange_depth", "\"1-1/2 in\"", 3e-3, 0.5, "Depth of the return flange."));
  keys.push_back(quantity("jamb", "hot", Kind::temperature,
                          "(as the outer skin over the rim at the hinges)", -40.0, 1200.0,
                          "Temperature of jamb and frame leaves while the fire burns."));
  for (const std::string s : {"steel", "pin_steel"}) {
    keys.push_back(
        word(s, "grade", s == "steel" ? "\"A36\"" : "\"1018 hot rolled\"",
             {"A36", "A500 B", "A500 C", "1018 hot rolled", "1018 cold drawn", "S235", "S355"},
             "Grade; it gives the numbers below where they are not given."));
    keys.push_back(
        quantity(s, "youngs_modulus", Kind::stress, "(by grade)", 1e9, 1e12, "At 20 degC."));
    keys.push_back(quantity(s, "yield", Kind::stress, "(by grade)", 1e6, 3e9, "At 20 degC."));
    keys.push_back(quantity(s, "ultimate", Kind::stress, "(by grade)", 1e6, 3e9, "At 20 degC."));
    keys.push_back(quantity(s, "density", Kind::density, "(by grade)", 500.0, 30000.0, "Density."));
    add_steel_table(keys, s);
  }
  keys.push_back(
      {"fire",
       "schedule",
       ValueKind::schedule,
       Kind::temperature,
       "(no fire)",
       -50.0,
       1500.0,
       {},
       "Gas temperature behind the door over time, pairs of time and temperature, as in "
       "[[\"0 min\", \"68 degF\"], [\"30 min\", \"800 degF\"], [\"4 h\", \"800 degF\"]]; without "
       "it the door is checked at one temperature only."});
  keys.push_back(quantity("fire", "film", Kind::film, "\"25 W/m^2/K\"", 1.0, 500.0,
                          "Convection on the fire side (EN 1991-1-2, from memory)."));
  keys.push_back(number("fire", "emissivity_inside", ValueKind::number, "0.8", 0.0, 1.0,
                        "Of the fire side: oxidised steel 0.8."));
  keys.push_back(number("fire", "emissivity_outside", ValueKind::number, "0.8", 0.0, 1.0,
                        "Of the outside: oxidised 0.8, painted 0.9, bright 0.25."));
  keys.push_back(quantity("fire", "ambient", Kind::temperature, "\"68 degF\"", -40.0, 60.0,
                          "The room, at which the door is drawn."));
  keys.push_back(
      length("fire", "gasket_inset", "\"1 in\"", 1e-3, 0.3,
             "Line of the gasket from the edges of the inner skin; inside it is the fire."));
  add_fire(keys);
  keys.push_back(quantity("handle", "force", Kind::force, "\"0 lbf\"", 0.0, 5000.0,
                          "Someone leans on the latch edge: 50-100 lbf a push, 200-250 lbf a "
                          "person (common practice, no source)."));
  keys.push_back(length("handle", "at", "(middle of the edge)", 0.0, 4.0,
                        "Place on the latch edge, from the lower edge."));
  keys.push_back(length("handle", "breadth", "\"4 in\"", 0.0, 4.0,
                        "Length of the edge that takes it, its middle at that place; of the edge "
                        "that a hand takes to hold a lid as well."));
  keys.push_back(length("limits", "drop", "(1/16 in or half the reveal, the lesser)", 1e-5, 0.1,
                        "Most that the latch corner may drop when open."));
  keys.push_back(length("limits", "lean", "\"1/8 in\"", 1e-5, 0.1,
                        "Most that the upper latch corner may lean out against the lower one."));
  keys.push_back(length("limits", "elastic_sag", "\"1/64 in\"", 1e-6, 0.1,
                        "Most of the drop that may come from steel bending."));
  keys.push_back(
      quantity("limits", "weld_stress", Kind::stress, "\"21 ksi\"", 1e6, 1e9,
               "Most stress on the throat of a fillet when cold; hot it is taken less by k_w of EN "
               "1993-1-2. Default 0.60 x 70 ksi / 2.00, AISC 360 (from memory)."));
  keys.push_back(
      quantity("limits", "touch", Kind::temperature, "\"140 degF\"", 20.0, 200.0,
               "Hottest that the outside may be where a hand reaches; it can be changed but "
               "not left out."));
  keys.push_back(quantity("limits", "long_life", Kind::temperature, "\"750 degF\"", 100.0, 1200.0,
                          "Hottest that steel may be for years of use."));
  keys.push_back(quantity("limits", "hand", Kind::force, "\"50 lbf\"", 1.0, 2000.0,
                          "Most that a hand has to pull to draw a latch home; 25 lbf is "
                          "comfortable, 50 too much one-handed (common practice, no source)."));
  keys.push_back(length("limits", "reveal_left", "\"1/32 in\"", 0.0, 0.05,
                        "Least gap that has to be left round the closed door."));
  keys.push_back(
      number("limits", "share_of_yield", ValueKind::number, "0.66", 0.05, 1.0,
             "Share of yield that pin and leaf may reach in bending, and in bending with shear "
             "(von Mises). 0.66 is this program's own: solid rounds and plates flatwise "
             "may reach 0.75 by AISC ASD 1989 F2, 0.96 and 0.90 by AISC 360-16 F11 / "
             "1.67, pins to be replaced 0.80 by EN 1993-1-8 Table 3.10 (all from "
             "memory)."));
  keys.push_back(number("accuracy", "tolerance", ValueKind::number, "0.02", 1e-4, 0.5,
                        "Error that is allowed in the drop, as a share of its limit."));
  keys.push_back(number("accuracy", "finest_level", ValueKind::count, "3", 1, 5,
                        "Finest mesh that may be used to get there."));
}

void add_prices(std::vector<DoorKey>& keys)
{
  const std::string s = "prices";
  keys.push_back(text(s, "currency", "\"\"", "What the prices are in."));
  keys.push_back(quantity(s, "steel", Kind::price, "(no price)", 0.0, 1e6,
                          "Plate, tube and knuckles of the door."));
  keys.push_back(quantity(s, "pin_steel", Kind::price, "(no price)", 0.0, 1e6, "Pins."));
  keys.push_back(quantity(s, "insulation", Kind::price, "(no price)", 0.0, 1e6, "The filling."));
  keys.push_back(
      number(s, "hinge", ValueKind::number, "0", 0.0, 1e6, "Work and small parts of each hinge."));
  keys.push_back(number(s, "close_bore", ValueKind::number, "0", 0.0, 1e6,
                        "More for each knuckle whose play is under 0.010 in (0.25 mm), since it is "
                        "reamed or turned."));
}

void add_use(std::vector<DoorKey>& keys)
{
  keys.push_back(number("use", "swings_per_day", ValueKind::number, "(wear is not computed)", 0.1,
                        5000.0, "How often the door is opened and shut again in a day."));
  keys.push_back(number("use", "years", ValueKind::number, "10", 0.1, 100.0,
                        "After how many years the drop is judged."));
  keys.push_back(number("use", "greased", ValueKind::flag, "true", 0, 1,
                        "Whether the pins are kept greased; dry pins wear a hundred times as fast "
                        "and more."));
}

// Each is a half width: the value lies between so much less and so much more.
void add_spread_keys(std::vector<DoorKey>& keys)
{
  const auto share = [&](const char* name, const char* fallback, const char* sentence) {
    keys.push_back(number("spread", name, ValueKind::number, fallback, 0.0, 0.9, sentence));
  };
  share("clearance", "0.25", "Play in the bores, as a share of itself.");
  share("skins", "0.05", "Thickness of both skins, as a share: mill tolerance.");
  share("conductivity", "0.3",
        "Conductivity of the insulation, as a share: makers, packing and age differ.");
  share("film", "0.5", "Film on the fire side, as a share: gas may stand or rush.");
  share("emissivity", "0.15", "Emissivity inside and outside, each, as a share.");
  share("outside_film", "0.2",
        "Natural convection outside, as a share: scatter of measured plates about the formula, and "
        "rooms that are not still.");
  share("frame", "0.3", "How much hotter than the room the frame face is, as a share.");
  share("gasket_load", "0.3", "Load of the gasket at every squeeze, as a share.");
  keys.push_back(length("spread", "set_gap", "\"1/32 in\"", 0.0, 0.02,
                        "Set gap of the gasket, as built against as drawn."));
  keys.push_back(
      length("spread", "draw", "\"1/64 in\"", 0.0, 0.02, "Draw of every latch, as set."));
}

std::vector<DoorKey> make_keys()
{
  std::vector<DoorKey> keys;
  add_door(keys);
  add_hinge(keys);
  add_rest(keys);
  add_prices(keys);
  add_use(keys);
  add_spread_keys(keys);
  return keys;
}

} // namespace

const std::vector<DoorSection>& door_sections()
{
  static const std::vector<DoorSection> sections{
      {"door", 0, "The door as a whole."},
      {"skins", 0, "The two plates."},
      {"inner_hold", 0, "How the inner skin is held: it may be let go."},
      {"strip", 0, "A board under the inner skin that breaks the thermal bridge of the rim."},
      {"rim", 0, "The mitred rim of square or rectangular tube between the skins."},
      {"stiffener", most_stiffeners, "Up to 60 stiffeners between the skins, or none."},
      {"insulation", 0, "What fills the cavity."},
      {"hinge", most_hinges, "One to four hinges, all on one pin axis."},
      {"jamb", 0, "The plate that the frame halves are welded to."},
      {"steel", 0, "Steel of panel, leaves, knuckles and jamb."},
      {"pin_steel", 0, "Steel of the pins."},
      {"gasket", 0, "The gasket round the inner skin, on the line fire.gasket_inset."},
      {"latch", most_latches, "One to six latches on the free edges, or none."},
      {"opening", 0, "The opening that it closes."},
      {"fire", 0, "The fire behind the door, if it is to be computed."},
      {"handle", 0, "A load on the latch edge, downwards."},
      {"limits", 0, "What the door is held against."},
      {"accuracy", 0, "How exact the answer has to be."},
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

} // namespace hangtrue
