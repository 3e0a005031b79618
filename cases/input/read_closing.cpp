#include "cases/input/read_closing.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue
{

namespace
{

// Squeeze from sealing to crushing and load there, as fractions of the height and N/m; common
// practice, no source.
struct GasketKind {
  std::string name;
  double seals_at;
  double crushes_at;
  double least; // lbf/in
  double most;  // lbf/in
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

Gasket gasket_from(const SectionValues& s, std::vector<FileFault>& faults)
{
  Gasket made;
  made.kind = s.text("kind");
  if (made.kind == "none")
    return made;
  const double pound_per_inch = unit::pound_force / unit::inch; // N/m
  made.height = s.number("height");
  made.width = s.at("width").given ? s.number("width") : made.height;
  made.corner = s.number("corner");
  made.curve = s.at("curve").pairs;
  if (const GasketKind* kind = gasket_kind(made.kind)) {
    const double h = made.height;
    // Past crushing it is all but solid: five times the load in another fifth of its height.
    if (made.curve.empty())
      made.curve = {{0.0, 0.0},
                    {kind->seals_at * h, kind->least * pound_per_inch},
                    {kind->crushes_at * h, kind->most * pound_per_inch},
                    {(kind->crushes_at + 0.2) * h, 5.0 * kind->most * pound_per_inch}};
    made.sealing = kind->least * pound_per_inch;
    made.crushing = kind->crushes_at * h;
    made.set = kind->set;
    made.hottest = unit::celsius(kind->hottest);
  } else if (made.curve.empty()) {
    faults.push_back({s.place, s.section + ".curve",
                      "it is missing; a gasket of your own needs its measured curve; allowed are "
                      "pairs of squeeze and load; measure 12 in of it between flat bars"});
    return {};
  } else {
    made.sealing = made.curve[1].second;
    made.crushing = made.curve.back().first;
    made.set = 0.5;
    made.hottest = 540.0;
  }
  auto take = [&](const std::string& key, double& value) {
    if (s.at(key).given)
      value = s.number(key);
  };
  take("sealing", made.sealing);
  take("crushing", made.crushing);
  take("set", made.set);
  take("hottest", made.hottest);
  const double half = 0.5 * (made.crushing + made.curve[1].first);
  made.set_gap = std::max(0.0, made.height - half);
  take("set_gap", made.set_gap);
  return made;
}

std::vector<Latch> latches_from(const std::vector<SectionValues>& sections, const Door& door)
{
  std::vector<Latch> made;
  for (const auto& s : sections) {
    Latch latch;
    const std::string& kind = s.text("kind");
    latch.kind = kind == "wedge"   ? LatchKind::wedge
                 : kind == "cam"   ? LatchKind::cam
                 : kind == "bevel" ? LatchKind::bevel
                                   : LatchKind::over_centre;
    const std::string& edge = s.text("edge");
    latch.edge = edge == "latch"   ? FreeEdge::latch
                 : edge == "lower" ? FreeEdge::lower
                                   : FreeEdge::upper;
    latch.at = s.number("at");
    latch.inset = s.at("inset").given ? s.number("inset") : 0.5 * door.rim.width;
    latch.draw = s.number("draw");
    latch.stiffness = s.number("stiffness");
    latch.lead = s.number("lead");
    latch.friction = s.number("friction");
    latch.arm = s.number("arm");
    latch.lever = s.number("lever");
    made.push_back(latch);
  }
  return made;
}

Opening opening_from(const SectionValues& s, double reveal)
{
  auto gap = [&](const std::string& key) { return s.at(key).given ? s.number(key) : reveal; };
  return {gap("latch"), gap("lower"), gap("upper"), s.number("warp")};
}

} // namespace hangtrue
