// SPDX-License-Identifier: GPL-3.0-or-later
// Door files: gasket, latches, opening, and attachment of the skin; what is refused, and the
// messages.
#include <boost/test/unit_test.hpp>

#include "tests/support/door_texts.hpp"

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const std::string gasket = "[gasket]\nkind = \"tadpole\"\n";
const std::string latch = "[[latch]]\nat = \"15 in\"\n";
const std::string fire = "[fire]\nschedule = [[\"0 min\", \"68 degF\"], [\"1 h\", \"400 degF\"]]\n";

} // namespace

BOOST_AUTO_TEST_CASE(gasket_defaults_by_kind)
{
  const input::DoorCase c = input::read_door_text(good + gasket + latch, "door.toml");
  const door::Gasket& g = c.door.gasket;
  constexpr double inch = 0.0254;
  BOOST_TEST(std::abs(g.height - 0.75 * inch) < 1e-12);
  BOOST_TEST(g.curve.size() == 4U);
  // 20 to 40 % squeeze at 5 to 20 lbf/in: common practice, no source.
  BOOST_TEST(std::abs(g.curve[1].first - 0.2 * 0.75 * inch) < 1e-12);
  BOOST_TEST(std::abs(g.sealing - 5.0 * 4.4482216152605 / inch) < 1e-6);
  BOOST_TEST(std::abs(g.crushing - 0.4 * 0.75 * inch) < 1e-12);
  BOOST_TEST(std::abs(g.set_gap - 0.7 * 0.75 * inch) < 1e-12); // half way from sealing to crushing
  BOOST_TEST(c.door.latches.size() == 1U);
  BOOST_TEST(std::abs(c.door.latches[0].inset - 0.75 * inch) < 1e-12); // half the rim
  BOOST_TEST(std::abs(c.door.opening.latch - c.door.reveal) < 1e-15);
  BOOST_TEST(door::can_close(c.door));
  BOOST_TEST(!door::can_close(input::read_door_text(good + gasket, "door.toml").door)); // no latch
  BOOST_TEST(!door::can_close(input::read_door_text(good, "door.toml").door));
}

BOOST_AUTO_TEST_CASE(a_set_gap_beyond_the_free_height_is_allowed)
{
  BOOST_TEST(message_of(good + gasket + "set_gap = \"1 in\"\n" + latch).empty());
}

BOOST_AUTO_TEST_CASE(bad_gaskets)
{
  const std::string own = "[gasket]\nkind = \"own\"\n";
  check_message(message_of(good + own), {"gasket.curve", "it is missing", "measure"});
  check_message(message_of(good + own +
                           "curve = [[\"0 in\", \"0 lbf/in\"], [\"0.1 in\", \"5 lbf/in\"], "
                           "[\"0.2 in\", \"4 lbf/in\"]]\n"),
                {"door.toml:14:9: gasket.curve", "the curve falls", "rise", "again"});
  check_message(
      message_of(good + own + "curve = [[\"0.1 in\", \"2 lbf/in\"], [\"0.2 in\", \"4 lbf/in\"]]\n"),
      {"gasket.curve", "does not begin", "no load"});
  check_message(
      message_of(good + own + "curve = [[\"0 in\", \"0 lbf/in\"], [\"0 in\", \"4 lbf/in\"]]\n"),
      {"gasket.curve", "does not rise"});
  check_message(
      message_of(good + own + "curve = [[\"0 in\", \"0 lbf\"], [\"0.1 in\", \"4 lbf/in\"]]\n"),
      {"gasket.curve", "lbf/in"});
  check_message(message_of(good + "[gasket]\nkind = \"tadpol\"\n"), {"gasket.kind", "tadpole"});
  check_message(message_of(good + gasket + "width = \"3 in\"\n"),
                {"fire.gasket_inset", "wider than its land", "narrower"});
  check_message(message_of(good + gasket + "set = 1.5\n"), {"gasket.set", "0 to 1"});
  check_message(message_of(good + gasket + "corner = \"20 in\"\n"),
                {"gasket.corner", "run into each other", "smaller radius"});
  check_message(message_of(good + gasket + "[fire]\ngasket_inset = \"9 in\"\n"),
                {"fire.gasket_inset", "does not fit", "outwards"});
}

BOOST_AUTO_TEST_CASE(bad_latches)
{
  check_message(message_of(good + gasket + "[[latch]]\nat = \"31 in\"\n"),
                {"door.toml:15:6: latch[0].at", "off the door", "onto its edge"});
  check_message(message_of(good + gasket + "[[latch]]\n"), {"latch[0].at", "it is missing"});
  check_message(message_of(good + gasket + latch + "draw = \"1 in\"\n"),
                {"latch[0].draw", "through the frame face", "set gap"});
  check_message(message_of(good + gasket + latch + "kind = \"hasp\"\n"), {"latch[0].kind", "cam"});
  std::string many;
  for (int i = 0; i < 7; ++i)
    many += latch;
  check_message(message_of(good + gasket + many), {"latch", "found 7 latches", "take some out"});
}

BOOST_AUTO_TEST_CASE(attachments_of_the_inner_skin)
{
  const input::DoorCase c = input::read_door_text(
      good + "[inner_hold]\nkind = \"split\"\n[strip]\nthickness = \"1/4 in\"\n", "door.toml");
  BOOST_TEST(std::abs(c.door.inner_hold.split_at - 0.5 * c.door.panel.width) < 1e-12);
  BOOST_TEST(std::abs(door::depth(c.door) - (2.0 * 0.25 + 0.25 + 1.5) * 0.0254) < 1e-12);
  check_message(message_of(good + "[inner_hold]\nkind = \"stitched\"\nstitch = \"6 in\"\n"),
                {"inner_hold.pitch", "run into each other", "longer than the stitch"});
  check_message(message_of(good + "[inner_hold]\nkind = \"split\"\nsplit_at = \"1 in\"\n"),
                {"inner_hold.split_at", "between the sides of the rim", "inwards"});
  check_message(message_of(good + "[inner_hold]\nkind = \"glued\"\n"),
                {"inner_hold.kind", "floating"});
}

BOOST_AUTO_TEST_CASE(impossible_heat_is_refused)
{
  check_message(message_of(good + fire + "instants = [\"2 h\"]\n"),
                {"fire.instants", "120 min", "up to 60 min", "lengthen"});
  check_message(message_of(good + fire + "hot_spot = \"300 degF\"\n"),
                {"fire.hot_spot", "not hotter than the schedule", "raise it"});
  check_message(message_of(good + "[fire]\nmeasured_inner = \"400 degF\"\n"),
                {"fire.measured_outer", "it is missing", "all three"});
  check_message(message_of(good + fire +
                           "measured_inner = \"400 degF\"\nmeasured_outer = \"120 degF\"\n"
                           "measured_over_rim = \"160 degF\"\n"),
                {"fire.schedule", "beside measured skins", "one of the two"});
  check_message(message_of(good + "[insulation]\nconductivity = [[\"300 degC\", \"0.1 W/m/K\"], "
                                  "[\"100 degC\", \"0.05 W/m/K\"]]\n"),
                {"insulation.conductivity", "does not rise", "temperatures"});
}

BOOST_AUTO_TEST_CASE(steel_by_a_table_of_the_file)
{
  const std::string rows =
      "modulus_at = [\"200 GPa\", \"150 GPa\"]\nyield_at = [\"250 MPa\", \"150 MPa\"]\n"
      "proof_at = [\"250 MPa\", \"100 MPa\"]\nelongation_at = [\"0 mm/m\", \"8 mm/m\"]\n"
      "conductivity_at = [\"15 W/m/K\", \"20 W/m/K\"]\n";
  const std::string temperatures = "[steel]\ntemperatures = [\"20 degC\", \"600 degC\"]\n";
  const std::string last = "specific_heat_at = [\"500 J/kg/K\", \"600 J/kg/K\"]\n";
  const input::DoorCase c = input::read_door_text(good + temperatures + rows + last, "door.toml");
  BOOST_TEST(c.door.steel.table.size() == 2U);
  BOOST_TEST(std::abs(c.door.steel.table[1].elongation - 8e-3) < 1e-15);
  check_message(message_of(good + temperatures + rows),
                {"steel.specific_heat_at", "found 0 values", "allowed are 2", "six rows"});
  check_message(
      message_of(good + "[steel]\ntemperatures = [\"600 degC\", \"20 degC\"]\n" + rows + last),
      {"steel.temperatures", "rising"});
}

// What the sheet repeats of the file is what the user wrote, not a rounding of its SI value: 400
// degF is no 204.44444444444446 degC.
BOOST_AUTO_TEST_CASE(the_echo_shows_values_as_written)
{
  const std::string fire =
      "[fire]\nschedule = [[\"0 min\", \"68 degF\"], [\"30 min\", \"400 degF\"]]\n"
      "[insulation]\nconductivity = [[\"100 degC\", \"0.05 W/m/K\"], [\"300 degC\", \"0.09 "
      "W/m/K\"]]\n"
      "[use]\nswings_per_day = 20\ngreased = false\n";
  const input::DoorCase c = input::read_door_text(good + fire, "door.toml");
  const auto written = [&](const std::string& key) {
    for (const auto& line : c.echo)
      if (line.key == key)
        return line.written;
    return std::string("not there");
  };
  BOOST_TEST(written("fire.schedule") == "0 min: 68 degF, 30 min: 400 degF");
  BOOST_TEST(written("insulation.conductivity") == "100 degC: 0.05 W/m/K, 300 degC: 0.09 W/m/K");
  BOOST_TEST(written("rim.width") == "1-1/2 in");
  BOOST_TEST(written("rim.wall") == "1/8 in"); // the default
  BOOST_TEST(written("door.width") == "30 in");
  BOOST_TEST(written("use.swings_per_day") == "20");
  BOOST_TEST(written("fire.emissivity_inside") == "0.8"); // not 0.80000000000000004
  BOOST_TEST(written("use.greased") == "false");
  BOOST_TEST(written("hinge[0].clearance") == "drilled");
  for (const auto& line : c.echo)
    BOOST_TEST(!line.written.empty() == !line.value.empty(), line.key);
}
