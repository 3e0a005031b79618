// SPDX-License-Identifier: GPL-3.0-or-later
// Pins and bores that wear by the years, and what that adds to the drop.
#pragma once

#include "meshing/common/progress.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/analysis/open_result.hpp"

#include <vector>

namespace hangtrue::analysis
{

/// Range of the wear coefficient of Archard's law, plain: volume worn = K x load x distance slid /
/// hardness, without the third that the law has where worn bits are half spheres (Archard 1953;
/// Rabinowicz); a coefficient of that form counts a third here. It is known to an order of
/// magnitude at best.
struct WearCoefficient {
  double low = 0.0;
  double usual = 0.0;
  double high = 0.0;
};

/// Mild steel on itself: dry 7e-3 (Archard and Hirst, Proceedings of the Royal Society A 236, 1956,
/// 397, from memory: their rate of 1.574e-7 cm3 per cm at 400 g is that K by the law without the
/// third), a factor of three either way; greased (lubricated boundary) 1e-6 to 1e-4 (from memory,
/// an order of magnitude), usual the geometric mean.
WearCoefficient wear_coefficient(bool greased);

/// Hardness of mild steel, Pa: 186 kgf/mm2 (Archard and Hirst 1956, from memory).
inline constexpr double mild_steel_hardness = 186.0 * 9.80665e6;

/// Depth, m, worn over the contact of a pin of any diameter in a bore of length L, m, by one
/// rotation through `angle`, rad, under a force F, N: the volume K F (angle d / 2) / H over the
/// area d x L gives K F angle / (2 H L).
double worn_depth(double coefficient, double force, double angle, double length);

/// How a door is used.
struct Usage {
  double swings_per_day = 0.0; ///< open and closed again; 0: no wear analysis
  double years = 10.0;
  bool greased = true;
};

/// The door after some wear.
struct WearPoint {
  double worn = 0.0;  ///< wear coefficient times number of swings
  double drop = 0.0;  ///< m
  double depth = 0.0; ///< m, of the bore that is worn most, with its pin
};

/// One year of the curve: drop, m, by the low, the usual and the high coefficient.
struct WearYear {
  double year = 0.0;
  double low = 0.0;
  double usual = 0.0;
  double high = 0.0;
};

/// What wear makes of a door.
struct WearCurve {
  std::vector<WearPoint> points;
  std::vector<WearYear> years;
  double depth = 0.0;        ///< m, usual coefficient, after all years
  bool worn_through = false; ///< the high coefficient takes more than a tenth of a pin, where the
                             ///< curve ends
};

/// Integrates the wear in four steps. While a door wears, its bores deepen where they press: depth
/// is proportional to the line load along every knuckle (worn_depth), which makes Archard's law a
/// compliance of the bore, m^2/N, and one step of it one contact solution (implicit Euler, so no
/// step is too long). The depth worn in a step remains, plane by plane, all round the bore. A pin
/// clamped in the frame slides in the door's knuckles only, a floating one half in these and half
/// in those. The history depends on coefficient times swings only, so one run to the high
/// coefficient serves all three. Throws ComputeError.
WearCurve integrate_wear(const door::Door& door, const mesh::Mesh& mesh, const Usage& use,
                         const OpenDoorResult& fresh, AnalysisCache& cache,
                         const Progress& progress);

/// Drop, m, at a given product of coefficient and swings, interpolated between the points.
double drop_at(const std::vector<WearPoint>& points, double worn);

} // namespace hangtrue::analysis
