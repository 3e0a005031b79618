// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/results_json.hpp"

#include "cases/check/input_uncertainty.hpp"
#include "cases/output/check_json.hpp"
#include "cases/output/contribution_text.hpp"
#include "cases/output/uncertainty_text.hpp"
#include "cases/runtime/version.hpp"
#include "cases/verdict/check_result.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/contribution.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "solver/strength/skin_buckling.hpp"

#include <nlohmann/json.hpp>

namespace hangtrue::output
{

namespace
{

using Json = nlohmann::ordered_json;

Json vector_json(const Vec3& v)
{
  return Json::array({v.x, v.y, v.z});
}

const char* owner_word(door::KnuckleOwner owner)
{
  return owner == door::KnuckleOwner::door ? "door" : "frame";
}

Json corners_json(const analysis::OpenDoorResult& d)
{
  Json list = Json::array();
  for (const auto& c : d.corners)
    list.push_back({{"corner", qoi::corner_label(c.corner)}, {"move_m", vector_json(c.move)}});
  return list;
}

// Force on every node plane of a bore, as the contact has it.
Json bore_json(const strength::KnuckleForce& k)
{
  Json list = Json::array();
  for (const auto& plane : k.planes)
    list.push_back(
        {{"z_m", plane.z}, {"length_m", plane.length}, {"force_N", vector_json(plane.force)}});
  return list;
}

Json knuckles_json(const std::vector<strength::KnuckleForce>& knuckles)
{
  Json list = Json::array();
  for (const auto& k : knuckles)
    list.push_back({{"hinge", k.hinge + 1},
                    {"knuckle", k.knuckle + 1},
                    {"owner", owner_word(k.owner)},
                    {"force_N", vector_json(k.pin_force + Vec3{0.0, 0.0, k.thrust})},
                    {"pin_force_N", norm(k.pin_force)},
                    {"thrust_N", k.thrust},
                    {"moment_Nm", vector_json(k.moment)},
                    {"line_load_lower_N_per_m", vector_json(k.line_load[0])},
                    {"line_load_upper_N_per_m", vector_json(k.line_load[1])},
                    {"bore", bore_json(k)},
                    {"bearing_Pa", k.bearing}});
  return list;
}

Json pins_json(const std::vector<strength::PinForces>& pins)
{
  Json list = Json::array();
  for (const auto& p : pins)
    list.push_back({{"hinge", p.hinge + 1},
                    {"greatest_shear_N", p.greatest_shear},
                    {"greatest_bending_Nm", p.greatest_bending},
                    {"tilt_rad", p.tilt},
                    {"z_m", p.z},
                    {"shear_N", p.shear},
                    {"bending_Nm", p.bending}});
  return list;
}

Json leaves_json(const std::vector<strength::LeafForces>& leaves)
{
  Json list = Json::array();
  for (const auto& l : leaves) {
    Json leaf{{"hinge", l.hinge + 1}, {"owner", owner_word(l.owner)}};
    if (l.knuckle >= 0)
      leaf["lug"] = l.knuckle + 1;
    leaf["force_N"] = vector_json(l.force);
    leaf["moment_Nm"] = vector_json(l.moment);
    leaf["foot_m"] = vector_json(l.foot);
    leaf["root_bending_Nm"] = l.root_bending;
    list.push_back(leaf);
  }
  return list;
}

Json bow_json(const qoi::BowReadings& b)
{
  return {
      {"outer_across_m", b.outer_across},     {"outer_along_m", b.outer_along},
      {"outer_diagonal_m", b.outer_diagonal}, {"outer_middle_against_corners_m", b.outer_corners},
      {"inner_across_m", b.inner_across},     {"inner_along_m", b.inner_along},
      {"inner_diagonal_m", b.inner_diagonal}, {"inner_middle_against_corners_m", b.inner_corners},
      {"width_growth_m", b.width_growth},     {"height_growth_m", b.height_growth}};
}

Json warmth_json(const heat::TemperatureSummary& w)
{
  return {{"time_s", w.time},
          {"gas_degC", w.gas},
          {"inner_skin_degC", w.inner_skin},
          {"outer_skin_degC", w.outer_skin},
          {"outside_middle_degC", w.outside_middle},
          {"outside_hottest_degC", w.outside_hottest},
          {"hottest_steel_degC", w.hottest},
          {"knuckles_degC", w.knuckles},
          {"pins_degC", w.pins},
          {"frame_face_degC", w.frame_face},
          {"jamb_degC", w.jamb},
          {"rim_degC", w.rim},
          {"hinge_edge_degC", w.hinge_edge},
          {"outside_by_film_K", w.outside_by_film},
          {"outside_by_frame_K", w.outside_by_frame},
          {"hand_bow_m", w.estimated_bow},
          {"energy_error", w.energy_error}};
}

Json curve_json(const std::vector<firing::HeatingCurvePoint>& curve)
{
  Json list = Json::array();
  for (const auto& p : curve)
    list.push_back({{"time_s", p.time},
                    {"gas_degC", p.gas},
                    {"inner_skin_degC", p.inner_skin},
                    {"outer_skin_degC", p.outer_skin},
                    {"hand_bow_m", p.estimated_bow}});
  return list;
}

Json plates_json(const analysis::OpenDoorResult& d)
{
  Json list = Json::array();
  for (const auto& p : d.plates)
    list.push_back({{"plate", strength::plate_label(p.plate)},
                    {"place_m", vector_json(p.place)},
                    {"stress_Pa", p.stress},
                    {"proof_Pa", p.proof},
                    {"temperature_degC", p.temperature},
                    {"use", p.utilisation}});
  return list;
}

Json field_buckling_json(const strength::FieldBuckling& f)
{
  if (!(f.utilisation > 0.0))
    return nullptr;
  return {{"use", f.utilisation},
          {"factor", 1.0 / f.utilisation},
          {"crest_m", vector_json(f.crest)},
          {"half_waves", {f.waves_across, f.waves_along}},
          {"compression_Pa", f.stress},
          {"field_m", {f.width, f.height}}};
}

Json buckling_json(const analysis::OpenDoorResult& d)
{
  Json list = Json::array();
  for (const auto& skin : d.buckling) {
    const bool judged = skin.no_verdict.empty();
    list.push_back({{"skin", strength::plate_label(skin.skin)},
                    {"not_judged", judged ? Json(nullptr) : Json(skin.no_verdict)},
                    {"supported", judged ? field_buckling_json(skin.supported) : Json(nullptr)},
                    {"clamped", judged ? field_buckling_json(skin.clamped) : Json(nullptr)}});
  }
  return list;
}

Json fits_json(const analysis::OpenDoorResult& d)
{
  Json list = Json::array();
  for (const auto& f : d.thermal_clearances)
    list.push_back({{"hinge", f.hinge + 1}, {"bore_left_m", f.bore}});
  return list;
}

Json axial_json(const contact::AxialPlay& axial)
{
  Json hinges = Json::array();
  for (const auto& at : axial.hinges)
    hinges.push_back({{"hinge", at.hinge + 1},
                      {"left_under_door_m", at.has_rest ? Json(at.below) : Json(nullptr)},
                      {"left_over_door_m", at.has_hold ? Json(at.above) : Json(nullptr)},
                      {"taken_m", at.taken},
                      {"room_m", at.room},
                      {"needed_end_float_m", at.required},
                      {"taken_by_hand_m", at.hand_estimate},
                      {"lifts_door_N", at.rests},
                      {"holds_door_down_N", at.held}});
  Json faces = Json::array();
  for (const auto& face : axial.faces)
    faces.push_back({{"hinge", face.hinge + 1},
                     {"between_knuckles", {face.knuckle, face.knuckle + 1}},
                     {"push_N", face.contact_force},
                     {"centre_off_pin_m", face.off},
                     {"friction_arm_m", face.arm},
                     {"tilt_rad", face.tilt}});
  return {{"locked_N", axial.locked}, {"hinges", hinges}, {"thrust_faces", faces}};
}

const char* cause_word(qoi::ContributionSource source)
{
  return source == qoi::ContributionSource::bending ? "bending"
         : source == qoi::ContributionSource::heat  ? "heat"
                                                    : "play";
}

Json budget_json(const analysis::OpenDoorResult& d)
{
  Json list = Json::array();
  for (const auto& s : d.drop_contributions)
    list.push_back({{"part", qoi::contribution_label(s)},
                    {"cause", cause_word(s.source)},
                    {"drop_m", s.value}});
  return list;
}

Json poise_json(const analysis::LoadOffsetResult& load_offset)
{
  const auto both = [](const std::array<analysis::OpenDoorResult, 2>& ways) {
    Json list = Json::array();
    for (const auto& way : ways)
      list.push_back({{"drop_m", way.drop}, {"lean_m", way.lean}});
    return list;
  };
  return {{"shift_m", load_offset.offset},
          {"sides", both(load_offset.sides)},
          {"turned", both(load_offset.turned)}};
}

Json state_json(const check::CheckRun& run, const analysis::OpenDoorResult& d)
{
  Json state{{"name", system::state_label(d.state)},
             {"drop_m", d.drop},
             {"drop_error_m", verdict::error_of(run.quantities, {d.state, qoi::Quantity::drop})},
             {"elastic_drop_m", d.elastic_drop},
             {"drop_shares", budget_json(d)},
             {"lean_m", d.lean},
             {"set_back_m", d.set_back},
             {"corners", corners_json(d)},
             {"couple_N", d.couple},
             {"knuckles", knuckles_json(d.knuckles)},
             {"pins", pins_json(d.pins)},
             {"leaves", leaves_json(d.leaves)},
             {"end_float", axial_json(d.axial)},
             {"equilibrium_force_error", d.balance.force_error},
             {"equilibrium_moment_error", d.balance.moment_error},
             {"reaction_error", d.balance.reaction_error},
             {"deepest_penetration_m", -d.balance.min_gap},
             {"contacts", d.contacts},
             {"unknowns", d.unknowns}};
  for (const auto& split : d.splits)
    state["splits"].push_back(contributions_json(split));
  if (d.load_offset)
    state["poise"] = poise_json(*d.load_offset);
  if (d.warm) {
    state["heat_drop_m"] = d.heat_drop;
    state["bow"] = bow_json(d.bow);
    state["warmth"] = warmth_json(d.temperatures);
    state["plates"] = plates_json(d);
    state["buckling"] = buckling_json(d);
    state["inner_skin"] = {{"slide_m", d.skin_slip.slide},
                           {"lift_m", d.skin_slip.lift},
                           {"cut_closing_m", d.skin_slip.closing}};
    state["hot_fits"] = fits_json(d);
  }
  return state;
}

Json states_json(const check::CheckRun& run)
{
  Json list = Json::array({state_json(run, run.open_cold)});
  for (const auto& d : run.open_thermal)
    list.push_back(state_json(run, d));
  return list;
}

Json gasket_json(const analysis::ClosedDoorResult& d)
{
  Json line = Json::array();
  for (const auto& g : d.gasket)
    line.push_back({{"arc_m", g.arc},
                    {"place_m", vector_json(g.place)},
                    {"squeeze_m", g.squeeze},
                    {"load_N_per_m", g.load},
                    {"skin_degC", g.temperature}});
  const analysis::GasketSummary& s = d.gasket_summary;
  return {{"least_load_N_per_m", s.min_load},
          {"mean_load_N_per_m", s.mean_load},
          {"most_squeeze_m", s.max_squeeze},
          {"share_below_sealing", s.below_sealing},
          {"share_crushed", s.crushed},
          {"open_length_m", s.open_length},
          {"largest_gap_m", s.largest_gap},
          {"leak_area_m2", s.leak_area},
          {"squeeze_missing_to_seal_m", s.short_by},
          {"length_m", s.length},
          {"force_N", s.total},
          {"line", line}};
}

Json closed_json(const check::CheckRun& run)
{
  Json list = Json::array();
  for (const auto& d : run.closed) {
    Json latches = Json::array();
    for (const auto& l : d.latches)
      latches.push_back({{"latch", l.latch + 1},
                         {"force_N", l.force},
                         {"hand_N", l.hand},
                         {"slack_m", l.slack},
                         {"holds_itself", l.self_locking}});
    list.push_back({{"name", system::state_label(d.state)},
                    {"time_s", d.time},
                    {"gasket", gasket_json(d)},
                    {"latches", latches},
                    {"steel_on_frame_N", d.stop_force},
                    {"reveal_left_m",
                     {{"hinge", d.reveal.hinge},
                      {"latch", d.reveal.latch},
                      {"lower", d.reveal.lower},
                      {"upper", d.reveal.upper}}},
                    {"reveal_least_at_m", vector_json(d.reveal.min_at)},
                    {"hinges_degC", d.hinge_temperature},
                    {"knuckles", knuckles_json(d.knuckles)},
                    {"pins", pins_json(d.pins)},
                    {"leaves", leaves_json(d.leaves)},
                    {"end_float", axial_json(d.axial)},
                    {"equilibrium_force_error", d.balance.force_error},
                    {"equilibrium_moment_error", d.balance.moment_error},
                    {"deepest_penetration_m", -d.balance.min_gap},
                    {"least_squeeze", d.split ? contributions_json(*d.split) : Json(nullptr)},
                    {"rounds", d.rounds}});
  }
  return list;
}

Json closed_history_json(const std::vector<analysis::ClosedDoorSample>& history)
{
  Json list = Json::array();
  for (const auto& i : history)
    list.push_back({{"time_s", i.time},
                    {"least_load_N_per_m", i.min_load},
                    {"least_squeeze_m", i.min_squeeze},
                    {"latch_force_N", i.latch}});
  return list;
}

Json mesh_json(const input::DoorCase& c, const check::CheckRun& run)
{
  Json levels = Json::array();
  for (const auto& l : run.steps) {
    Json level{{"level", l.level.panel},
               {"level_in_hinges", l.level.hinge},
               {"unknowns", l.unknowns},
               {"drop_m", l.drop}};
    level["change_m"] = l.change ? Json(*l.change) : Json(nullptr);
    levels.push_back(level);
  }
  return {{"cells", run.quality.cells},
          {"nodes", run.quality.nodes},
          {"worst_jacobian_ratio", run.quality.worst_ratio},
          {"worst_volume_error", run.quality.worst_volume},
          {"worst_joint_error", run.quality.worst_joint},
          {"levels", levels},
          {"tolerance_reached", run.reached},
          {"above_tolerance", above_tolerance_json(c, run)}};
}

Json wear_json(const input::DoorCase& c, const analysis::WearCurve& wear)
{
  const analysis::WearCoefficient k = analysis::wear_coefficient(c.use.greased);
  Json years = Json::array();
  for (const auto& y : wear.years)
    years.push_back({{"year", y.year},
                     {"drop_low_m", y.low},
                     {"drop_usual_m", y.usual},
                     {"drop_high_m", y.high}});
  return {{"swings_per_day", c.use.swings_per_day},
          {"greased", c.use.greased},
          {"wear_coefficient", {k.low, k.usual, k.high}},
          {"hardness_Pa", analysis::mild_steel_hardness},
          {"deepest_m", wear.depth},
          {"worn_through", wear.worn_through},
          {"curve", years}};
}

Json echo_json(const input::DoorCase& c)
{
  Json echo = Json::object();
  for (const auto& line : c.echo)
    echo[line.key] = {{"value", line.value}, {"as_written", line.written}, {"given", line.given}};
  return echo;
}

} // namespace

std::string results_json(const input::DoorCase& door_case, const check::CheckRun& run)
{
  Json results{{"program", "hangtrue"},
               {"version", version},
               {"format", 2},
               {"libraries", library_versions},
               {"door", door_case.door.name},
               {"shop", door_case.door.shop},
               {"weight_N", run.open_cold.weight},
               {"centre_of_gravity_m", vector_json(run.open_cold.centre_of_gravity)},
               {"verdict", verdict::verdict_text(verdict::worst(run.checks))},
               {"states", states_json(run)},
               {"checks", checks_json(door_case, run)},
               {"mesh", mesh_json(door_case, run)},
               {"door_as_understood", echo_json(door_case)}};
  if (run.compared_with)
    results["readings"] = readings_json(door_case, run);
  if (!run.closed.empty())
    results["closed"] = closed_json(run);
  if (!run.closed_history.empty())
    results["closed_on_the_way"] = closed_history_json(run.closed_history);
  if (!run.uncertainty.intervals.empty())
    results["spread"] = uncertainty_json(run.uncertainty);
  if (!run.remedies.empty())
    results["advice"] = run.remedies;
  if (!run.wear.years.empty())
    results["wear"] = wear_json(door_case, run.wear);
  if (!run.curve.empty())
    results["warm_up"] = curve_json(run.curve);
  // Text from the file may contain anything; what is not UTF-8 was refused on reading.
  return results.dump(1) + "\n";
}

} // namespace hangtrue::output
