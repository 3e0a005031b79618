// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/read_closing.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue::input
{

namespace
{

// Squeeze from sealing to crushing and load there, as fractions of the height and N/m; common
// practice, no source.
struct GasketKind {
  std::string name;
  double seals_at;
  double crushes_at;
  double min_squeeze; // lbf/in
  double max_squeeze; // lbf/in
  double set;
  double hottest; // degF
};

const GasketKind* gasket_kind(const std::string& name)
{
  static const std::vector<GasketKind> kinds{{"knitted glass rope", 0.20, 0.40, 2, 10, 0.6, 1000},
                                             {"braided rope", 0.15, 0.30, 10, 40, 0.6, 1000},
                                             {"tadpole", 0.20, 0.40, 5, 20, 0.4, 1000},
                                             {"woven tape", 0.25, 0.40, 5, 15, 0.6, 1000},
                                             {"ceramic rope", 0.20, 0.30, 2, 8, 0.8, 2000},
                                             {"silicone", 0.25, 0.50, 1, 10, 0.2, 450}};
  const auto at =
      std::find_if(kinds.begin(), kinds.end(), [&](const GasketKind& k) { return k.name == name; });
  return at != kinds.end() ? &*at : nullptr;
}

} // namespace

door::Gasket gasket_from(const SectionValues& s, std::vector<FileFault>& faults)
{
  door::Gasket result;
  result.kind = s.text("kind");
  if (result.kind == "none")
    return result;
  const double pound_per_inch = unit::pound_force / unit::inch; // N/m
  result.height = s.number("height");
  result.width = s.at("width").given ? s.number("width") : result.height;
  result.corner = s.number("corner");
  result.curve = s.at("curve").pairs;
  if (const GasketKind* kind = gasket_kind(result.kind)) {
    const double h = result.height;
    // Past crushing it is all but solid: five times the load in another fifth of its height.
    if (result.curve.empty())
      result.curve = {{0.0, 0.0},
                      {kind->seals_at * h, kind->min_squeeze * pound_per_inch},
                      {kind->crushes_at * h, kind->max_squeeze * pound_per_inch},
                      {(kind->crushes_at + 0.2) * h, 5.0 * kind->max_squeeze * pound_per_inch}};
    result.sealing = kind->min_squeeze * pound_per_inch;
    result.crushing = kind->crushes_at * h;
    result.permanent_set = kind->set;
    result.hottest = unit::celsius(kind->hottest);
  } else if (result.curve.empty()) {
    faults.push_back({s.place, s.section + ".curve",
                      "it is missing; a gasket of your own needs its measured curve; allowed are "
                      "pairs of squeeze and load; measure 12 in of it between flat bars"});
    return {};
  } else {
    result.sealing = result.curve[1].second;
    result.crushing = result.curve.back().first;
    result.permanent_set = 0.5;
    result.hottest = 540.0;
  }
  auto take = [&](const std::string& key, double& value) {
    if (s.at(key).given)
      value = s.number(key);
  };
  take("sealing", result.sealing);
  take("crushing", result.crushing);
  take("set", result.permanent_set);
  take("hottest", result.hottest);
  const double half = 0.5 * (result.crushing + result.curve[1].first);
  result.set_gap = std::max(0.0, result.height - half);
  take("set_gap", result.set_gap);
  return result;
}

std::vector<door::Latch> latches_from(const std::vector<SectionValues>& sections,
                                      const door::Door& door)
{
  std::vector<door::Latch> result;
  for (const auto& s : sections) {
    door::Latch latch;
    const std::string& kind = s.text("kind");
    latch.kind = kind == "wedge"   ? door::LatchKind::wedge
                 : kind == "cam"   ? door::LatchKind::cam
                 : kind == "bevel" ? door::LatchKind::bevel
                                   : door::LatchKind::over_centre;
    const std::string& edge = s.text("edge");
    latch.edge = edge == "latch"   ? door::FreeEdge::latch
                 : edge == "lower" ? door::FreeEdge::lower
                                   : door::FreeEdge::upper;
    latch.position = s.number("at");
    latch.inset = s.at("inset").given ? s.number("inset") : 0.5 * door.rim.width;
    latch.draw = s.number("draw");
    latch.stiffness = s.number("stiffness");
    latch.lead = s.number("lead");
    latch.friction = s.number("friction");
    latch.arm = s.number("arm");
    latch.lever = s.number("lever");
    result.push_back(latch);
  }
  return result;
}

door::Opening opening_from(const SectionValues& s, double reveal)
{
  auto gap = [&](const std::string& key) { return s.at(key).given ? s.number(key) : reveal; };
  return {gap("latch"), gap("lower"), gap("upper"), s.number("warp")};
}

} // namespace hangtrue::input
