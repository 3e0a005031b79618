// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/thermal_quantities.hpp"

#include "cases/input/units.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/skin_buckling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::verdict
{

namespace
{

// Effect of the outside film and of the frame face, each known within a fraction, on the hottest
// point outside, K: root sum of squares, as they are independent.
double outside_doubt(const input::DoorCase& c, const heat::TemperatureSummary& w)
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

// A hand that touches the outside, and the durability of steel.
void add_temperatures(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                      std::vector<QuantityOfInterest>& all)
{
  const auto shown = [&](double t) {
    return input::format_short(t, input::Dimension::temperature, c.units);
  };
  all.push_back(limited(
      {d.state, qoi::Quantity::outside_temperature}, d.temperatures.outside_hottest, c.limits.touch,
      fmt::format("hottest over the rim; {} in the middle; keep hands off and fence what is "
                  "hotter than the limit",
                  shown(d.temperatures.outside_middle))));
  all.back().model_error = outside_doubt(c, d.temperatures);
  all.push_back(limited({d.state, qoi::Quantity::steel_temperature}, d.temperatures.hottest,
                        c.limits.long_life, "inner skin; above it steel scales and creeps"));
}

// Added to the stress of a skin whose buckling is not evaluated.
std::string no_buckling_verdict(const analysis::OpenDoorResult& d, mesh::Part plate)
{
  for (const auto& skin : d.buckling)
    if (skin.skin == plate && !skin.no_verdict.empty())
      return "; whether it buckles is not judged: " + skin.no_verdict;
  return "";
}

// Stress that heat leaves in skins and rim.
void add_plates(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                std::vector<QuantityOfInterest>& all)
{
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, c.units);
  };
  for (const auto& plate : d.plates)
    all.push_back(limited(
        {d.state, qoi::Quantity::plate_stress, static_cast<int>(plate.plate)}, plate.stress,
        {plate.proof, "k_p f_y, EN 1993-1-2 Table 3.1, at the temperature there"},
        fmt::format("at {} from the hinge edge, {} up, {}; mean over a piece as wide as "
                    "the rim, worse face; above the limit some bow stays after cooling{}",
                    length(plate.place.x), length(plate.place.z),
                    input::format_short(plate.temperature, input::Dimension::temperature, c.units),
                    no_buckling_verdict(d, plate.plate))));
}

// What the linear solution omits near buckling: an initial deflection grows to 1 / (1 - P / P_cr)
// of itself (Timoshenko and Gere, 1.9, from memory).
std::string left_out(double supported, double clamped)
{
  constexpr double no_matter = 0.05; // a dent grows by as much
  constexpr const char* so = "which stress, bow and gaps of this state leave out";
  if (clamped >= 1.0)
    return "; it buckles however its edges are held, and stress, bow and gaps of this state are "
           "those of a skin that stays flat";
  if (supported >= 1.0)
    return fmt::format("; whether it buckles depends on how far rim and stiffeners keep its edges "
                       "from turning; between clamped edges dents and bulges of it grow to {:.1f} "
                       "times their size, {}",
                       1.0 / (1.0 - clamped), so);
  if (supported < no_matter)
    return "";
  return fmt::format("; dents and bulges of it grow to between {:.2f} and {:.2f} times their size, "
                     "{}",
                     1.0 / (1.0 - clamped), 1.0 / (1.0 - supported), so);
}

// Membrane stress under a mode: where it is tensile in the mean, compression is beside the crest.
std::string pressed_by(const input::DoorCase& c, double compression)
{
  return input::format_short(std::abs(compression), input::Dimension::stress, c.units) +
         (compression > 0.0 ? " of compression" : " of pull on the whole, pressed beside it");
}

std::string waves(int count)
{
  return fmt::format("{} half wave{}", count, count == 1 ? "" : "s");
}

// The skin past what stays elastic has another stress than the one that buckles it here.
std::string past_elastic(const analysis::OpenDoorResult& d, mesh::Part skin)
{
  for (const auto& plate : d.plates)
    if (plate.plate == skin && plate.utilisation > 1.0)
      return fmt::format("; its stress, elastic here, is {:.0f} % of what stays elastic",
                         100.0 * plate.utilisation);
  return "";
}

// How near the skins are to buckling, between both bounds on their edges; evaluated on the side
// that buckles sooner.
void add_buckling(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                  std::vector<QuantityOfInterest>& all)
{
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, c.units);
  };
  for (const auto& skin : d.buckling) {
    const strength::FieldBuckling& f = skin.supported;
    if (!skin.no_verdict.empty() || !(f.utilisation > 0.0))
      continue;
    all.push_back(limited(
        {d.state, qoi::Quantity::buckling, static_cast<int>(skin.skin)}, f.utilisation,
        {1.0, "1 / buckling factor of its field, edges simply supported on lines that do not leave "
              "their plane; Kirchhoff plate, Ritz (Timoshenko and Gere, chapter 9, from memory)"},
        fmt::format(
            "crest at {} from the hinge edge, {} up, {} across and {} along in a field of "
            "{} x {}, {} under it; edges clamped instead: {:.3f}{}{}",
            length(f.crest.x), length(f.crest.z), waves(f.waves_across), waves(f.waves_along),
            length(f.width), length(f.height), pressed_by(c, f.stress), skin.clamped.utilisation,
            left_out(f.utilisation, skin.clamped.utilisation), past_elastic(d, skin.skin))));
  }
}

// Clearance in the bores that heat takes, and play that a loose skin needs.
void add_fits(const input::DoorCase& c, const analysis::OpenDoorResult& d,
              std::vector<QuantityOfInterest>& all)
{
  const door::Door& door = c.door;
  struct AtHinge {
    double found = 0.0;
    std::string where;
  };
  AtHinge bore;
  double play = 0.0;
  for (const auto& fit : d.thermal_clearances) {
    const door::Hinge& hinge = door.hinges[fit.hinge];
    const std::string where = fmt::format("hinge {}", fit.hinge + 1);
    const double taken = hinge.clearance - fit.bore;
    if (bore.where.empty() || taken / hinge.clearance > bore.found / play) {
      bore = {taken, where};
      play = hinge.clearance;
    }
  }
  all.push_back(limited({d.state, qoi::Quantity::bore_play}, std::max(0.0, bore.found),
                        {play, "the play as drawn"},
                        bore.where + ": a pin hotter than its knuckle; shops keep 0.004 in at 3/4 "
                                     "to 1 in (common practice, no source)"));
  if (d.skin_slip.slide > 0.0)
    all.push_back(limited(
        {d.state, qoi::Quantity::skin_slide}, d.skin_slip.slide,
        {c.door.inner_hold.slot, "inner_hold.slot"},
        fmt::format("slots and edge gaps must let it slide; it lifts {} off the "
                    "rim at most",
                    input::format_short(d.skin_slip.lift, input::Dimension::length, c.units))));
  if (d.skin_slip.closing > 0.0)
    all.push_back(limited({d.state, qoi::Quantity::cut_closing}, d.skin_slip.closing,
                          {c.door.inner_hold.slot, "inner_hold.slot"},
                          "the two halves of the inner skin grow towards each other"));
}

// Readings of a straightedge and a tape. A reading that is small beside the others is a difference
// of displacements as large as theirs.
void add_bow(const analysis::OpenDoorResult& d, std::vector<QuantityOfInterest>& all)
{
  const qoi::BowReadings& b = d.bow;
  std::vector<QuantityOfInterest> read;
  const auto add = [&](qoi::Quantity quantity, double value) {
    read.push_back(reading({d.state, quantity}, value));
  };
  add(qoi::Quantity::outer_across, b.outer_across);
  add(qoi::Quantity::outer_along, b.outer_along);
  add(qoi::Quantity::outer_diagonal, b.outer_diagonal);
  add(qoi::Quantity::bow, b.outer_corners);
  add(qoi::Quantity::inner_across, b.inner_across);
  add(qoi::Quantity::inner_along, b.inner_along);
  add(qoi::Quantity::inner_diagonal, b.inner_diagonal);
  add(qoi::Quantity::inner_bow, b.inner_corners);
  add(qoi::Quantity::width_growth, b.width_growth);
  add(qoi::Quantity::height_growth, b.height_growth);
  double largest = 0.0;
  for (const auto& q : read)
    largest = std::max(largest, std::abs(q.value));
  for (auto& q : read) {
    q.scale = largest;
    all.push_back(q);
  }
}

void add_mean_temperatures(const analysis::OpenDoorResult& d, std::vector<QuantityOfInterest>& all)
{
  const heat::TemperatureSummary& w = d.temperatures;
  const auto add = [&](qoi::Quantity quantity, double value) {
    all.push_back(reading({d.state, quantity}, value));
  };
  add(qoi::Quantity::inner_skin_temperature, w.inner_skin);
  add(qoi::Quantity::outer_skin_temperature, w.outer_skin);
  add(qoi::Quantity::outside_middle_temperature, w.outside_middle);
  add(qoi::Quantity::rim_temperature, w.rim);
  add(qoi::Quantity::knuckle_temperature, w.knuckles);
  add(qoi::Quantity::jamb_temperature, w.jamb);
}

} // namespace

void add_thermal_checks(const input::DoorCase& door_case,
                        const analysis::OpenDoorResult& open_result,
                        std::vector<QuantityOfInterest>& all)
{
  add_temperatures(door_case, open_result, all);
  add_plates(door_case, open_result, all);
  add_buckling(door_case, open_result, all);
  add_fits(door_case, open_result, all);
}

void add_clamped_buckling(const analysis::OpenDoorResult& open_result,
                          std::vector<QuantityOfInterest>& all)
{
  for (const auto& skin : open_result.buckling)
    if (skin.no_verdict.empty() && skin.clamped.utilisation > 0.0)
      all.push_back(
          reading({open_result.state, qoi::Quantity::clamped_buckling, static_cast<int>(skin.skin)},
                  skin.clamped.utilisation));
}

void add_thermal_readings(const analysis::OpenDoorResult& open_result,
                          std::vector<QuantityOfInterest>& all)
{
  add_bow(open_result, all);
  add_mean_temperatures(open_result, all);
}

} // namespace hangtrue::verdict
