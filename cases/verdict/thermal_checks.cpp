#include "cases/verdict/thermal_checks.hpp"

#include "solver/heat/thermal_state.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// What the film outside and the frame face, each known to a share, do to the hottest place outside,
// K: off by chance, neither with the other.
double outside_doubt(const DoorCase& c, const Warmth& w)
{
  double squares = 0.0;
  for (const auto& band : c.bands) {
    if (band.key == "fire.outside_film")
      squares += std::pow(band.half * w.outside_by_film, 2);
    if (band.key == "fire.frame")
      squares += std::pow(band.half * w.outside_by_frame, 2);
  }
  return std::sqrt(squares);
}

// A hand that touches the outside, and steel that lasts.
void add_temperatures(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  const auto shown = [&](double t) { return format_short(t, Kind::temperature, c.units); };
  all.push_back(make_finding(
      "outside temperature", d.state, d.warmth.outside_hottest, c.limits.touch, Kind::temperature,
      0.0,
      fmt::format("hottest over the rim; {} in the middle; keep hands off and fence what is "
                  "hotter than the limit",
                  shown(d.warmth.outside_middle))));
  all.back().model_error = outside_doubt(c, d.warmth);
  all.back().verdict = judge_again(all.back());
  all.push_back(make_finding("hottest steel", d.state, d.warmth.hottest, c.limits.long_life,
                             Kind::temperature, 0.0,
                             "inner skin; above it steel scales and creeps"));
}

// Said beside the stress of a skin whose buckling is not judged.
std::string no_buckling_verdict(const Deflection& d, Part plate)
{
  for (const auto& skin : d.buckling)
    if (skin.skin == plate && !skin.not_judged.empty())
      return "; whether it buckles is not judged: " + skin.not_judged;
  return "";
}

// Stress that heat leaves in skins and rim.
void add_plates(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  const auto length = [&](double v) { return format_short(v, Kind::length, c.units); };
  for (const auto& plate : d.plates)
    all.push_back(make_finding(
        std::string(plate_label(plate.plate)) + " stays elastic", d.state, plate.stress,
        {plate.proof, "k_p f_y, EN 1993-1-2 Table 3.1, at the temperature there"}, Kind::stress,
        0.0,
        fmt::format("at {} from the hinge edge, {} up, {}; mean over a piece as wide as "
                    "the rim, worse face; above the limit some bow stays after cooling{}",
                    length(plate.place.x), length(plate.place.z),
                    format_short(plate.temperature, Kind::temperature, c.units),
                    no_buckling_verdict(d, plate.plate))));
}

// What a state near buckling leaves out of its own linear answer: a deflection that is there from
// the beginning grows to 1 / (1 - P / P_cr) of itself (Timoshenko and Gere, 1.9, from memory).
std::string left_out(double supported, double clamped)
{
  constexpr double no_matter = 0.05; // a dent grows by as much
  constexpr const char* so = "which stress, bow and gaps of this state leave out";
  if (clamped >= 1.0)
    return "; it buckles however its edges are held, and stress, bow and gaps of this state are "
           "those of a skin that stays flat";
  if (supported >= 1.0)
    return fmt::format("; whether it buckles hangs on how far rim and stiffeners keep its edges "
                       "from turning; between clamped edges dents and bulges of it grow to {:.1f} "
                       "times their size, {}",
                       1.0 / (1.0 - clamped), so);
  if (supported < no_matter)
    return "";
  return fmt::format("; dents and bulges of it grow to between {:.2f} and {:.2f} times their size, "
                     "{}",
                     1.0 / (1.0 - clamped), 1.0 / (1.0 - supported), so);
}

// Membrane stress under a mode: where it pulls in the mean, what presses lies beside the crest.
std::string pressed_by(const DoorCase& c, double compression)
{
  return format_short(std::abs(compression), Kind::stress, c.units) +
         (compression > 0.0 ? " of compression" : " of pull on the whole, pressed beside it");
}

std::string waves(int count)
{
  return fmt::format("{} half wave{}", count, count == 1 ? "" : "s");
}

// The skin past what stays elastic has another stress than the one that buckles it here.
std::string past_elastic(const Deflection& d, Part skin)
{
  for (const auto& plate : d.plates)
    if (plate.plate == skin && plate.use > 1.0)
      return fmt::format("; its stress, elastic here, is {:.0f} % of what stays elastic",
                         100.0 * plate.use);
  return "";
}

// How near the skins are to buckling, between both bounds on what their edges do; judged on the
// side that buckles sooner.
void add_buckling(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  const auto length = [&](double v) { return format_short(v, Kind::length, c.units); };
  for (const auto& skin : d.buckling) {
    const FieldBuckling& f = skin.supported;
    if (!skin.not_judged.empty() || !(f.use > 0.0))
      continue;
    all.push_back(make_finding(
        buckling_name(skin), d.state, f.use,
        {1.0, "1 / buckling factor of its field, edges simply supported on lines that do not leave "
              "their plane; Kirchhoff plate, Ritz (Timoshenko and Gere, chapter 9, from memory)"},
        Kind::stress, 0.0,
        fmt::format("crest at {} from the hinge edge, {} up, {} across and {} along in a field of "
                    "{} x {}, {} under it; edges clamped instead: {:.3f}{}{}",
                    length(f.crest.x), length(f.crest.z), waves(f.waves_across),
                    waves(f.waves_along), length(f.width), length(f.height),
                    pressed_by(c, f.stress), skin.clamped.use, left_out(f.use, skin.clamped.use),
                    past_elastic(d, skin.skin))));
    all.back().plain = true;
  }
}

// Play in the bores that heat takes, and room that a loose skin needs.
void add_fits(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  const Door& door = c.door;
  struct AtHinge {
    double found = 0.0;
    std::string where;
  };
  AtHinge bore;
  double play = 0.0;
  for (const auto& fit : d.fits) {
    const Hinge& hinge = door.hinges[fit.hinge];
    const std::string where = fmt::format("hinge {}", fit.hinge + 1);
    const double taken = hinge.clearance - fit.bore;
    if (bore.where.empty() || taken / hinge.clearance > bore.found / play) {
      bore = {taken, where};
      play = hinge.clearance;
    }
  }
  all.push_back(make_finding("bore play taken by heat", d.state, std::max(0.0, bore.found),
                             {play, "the play as drawn"}, Kind::length, 0.0,
                             bore.where +
                                 ": a pin hotter than its knuckle; shops keep 0.004 in at 3/4 "
                                 "to 1 in (common practice, no source)"));
  if (d.skin_play.slide > 0.0)
    all.push_back(
        make_finding("sliding of the inner skin", d.state, d.skin_play.slide,
                     {c.door.inner_hold.slot, "inner_hold.slot"}, Kind::length, 0.0,
                     fmt::format("slots and edge gaps must let it slide; it lifts {} off the "
                                 "rim at most",
                                 format_short(d.skin_play.lift, Kind::length, c.units))));
  if (d.skin_play.closing > 0.0)
    all.push_back(make_finding("closing of the cut", d.state, d.skin_play.closing,
                               {c.door.inner_hold.slot, "inner_hold.slot"}, Kind::length, 0.0,
                               "the two halves of the inner skin grow towards each other"));
}

} // namespace

std::string buckling_name(const SkinBuckling& skin)
{
  return std::string("buckling of the ") + plate_label(skin.skin);
}

std::string clamped_buckling_name(const SkinBuckling& skin)
{
  return buckling_name(skin) + ", edges clamped";
}

void add_warm_findings(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  add_temperatures(c, d, all);
  add_plates(c, d, all);
  add_buckling(c, d, all);
  add_fits(c, d, all);
}

} // namespace hangtrue
