// SPDX-License-Identifier: GPL-3.0-or-later
// A door file after reading: the door, its limits, and the options of the computation.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/analysis/wear_analysis.hpp"

#include <string>
#include <vector>

namespace hangtrue::input
{

/// Units of the door file and of its results.
enum class UnitSystem {
  us, ///< inches, pounds-force, ksi, degF
  si  ///< mm, N, MPa, degC
};

/// A limit and where it comes from ("given in the door file", "common practice, no source", ...).
struct Limit {
  double value = 0.0; ///< SI
  std::string origin;
};

/// Limits of the checks on an open door.
struct Limits {
  Limit drop;           ///< m
  Limit lean;           ///< m
  Limit elastic_sag;    ///< m, of the part of the drop by elastic strain
  Limit weld_stress;    ///< Pa, on the throat, cold
  Limit touch;          ///< degC, of the outside
  Limit long_life;      ///< degC, of steel
  Limit share_of_yield; ///< plain, for pin and leaf in bending and with shear
  Limit hand;           ///< N, at the lever of a latch
  Limit reveal_left;    ///< m, least gap round the closed door
};

/// Required accuracy.
struct Accuracy {
  double tolerance = 0.02; ///< of the limit: the run refines until the error estimate is below
  int finest = 3;          ///< finest mesh level that may be used
};

/// How far one size or property of the door may be from what the file says, to either side.
struct InputTolerance {
  std::string key;    ///< as in solver/sensitivity/uncertain_inputs: "hinge.clearance"
  double half = 0.0;  ///< a fraction of the value, or m where `plain` is not set
  bool plain = true;  ///< `half` is a fraction
  bool given = false; ///< by the file; else common practice, no source
};

/// What the shop pays; money is in whatever `currency` says.
struct Prices {
  bool given = false; ///< the file gives at least one
  std::string currency;
  double steel = 0.0;      ///< per kg, panel, leaves, knuckles
  double pin_steel = 0.0;  ///< per kg
  double insulation = 0.0; ///< per kg
  double hinge = 0.0;      ///< for each hinge, work and small parts
  double close_bore = 0.0; ///< for each bore with little play, reamed or turned
};

/// One key of the door file as understood: "hinge[0].pin_diameter", "0.0254 m", "1 in" as the file
/// or the default has it, and whether the file gave it.
struct InputEcho {
  std::string key;
  std::string value;
  std::string written;
  bool given = false;
};

/// Everything that one door file says.
struct DoorCase {
  std::string file;
  door::Door door;
  Limits limits;
  Prices prices;
  analysis::Usage use;
  UnitSystem units = UnitSystem::us;
  Accuracy accuracy;
  std::vector<InputTolerance> bands; ///< inputs known within a tolerance only
  std::vector<InputEcho> echo;
};

} // namespace hangtrue::input
