// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of a door: each a page and its caption.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_result.hpp"
#include "viz/page/page.hpp"
#include "viz/plots/bar_charts.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue::figures
{

/// How quantities are written and scaled on figures: SI in, the user's units out.
struct UnitFormatter {
  std::function<std::string(double)> length;      ///< of displacements, m, with the tape fraction
  std::function<std::string(double)> size;        ///< of the door itself, m
  std::function<std::string(double)> force;       ///< N
  std::function<std::string(double)> moment;      ///< N m
  std::function<std::string(double)> temperature; ///< degC
  std::function<std::string(double)> stress;      ///< Pa
  std::function<double(double)> length_number;
  std::function<double(double)> temperature_number;
  std::function<double(double)> stress_number;
  std::function<double(double)> force_number;
  std::string length_unit;
  std::string temperature_unit;
  std::string stress_unit;
  std::string force_unit;
};

/// One figure and the name that selects it.
struct Figure {
  std::string name;
  page::Page page;
  std::string caption;
};

/// The size of a figure, mm, and the resolution of its pictures.
struct FigureOptions {
  plots::FigureSize size;
  double dots = 8.0;         ///< per mm, of pictures
  bool as_requested = false; ///< no figure may be higher than `size`; else one with more panels may
};

/// The undeformed door: from outside, along the hinge axis and at a slant, with dimensions, weight
/// and centre of gravity. A Display must be ready, as for all of these.
Figure door_figure(const door::Door& door, const mesh::Mesh& mesh,
                   const analysis::OpenDoorResult& d, const UnitFormatter& words,
                   const FigureOptions& form);

/// The open door under load, displacement magnified over a thin outline of the undeformed door,
/// with the drop of the latch corner. `drop_error`, m, is the discretization error of the drop.
Figure drop_figure(const door::Door& door, const mesh::Mesh& mesh,
                   const analysis::OpenDoorResult& d, double drop_error, const UnitFormatter& words,
                   const FigureOptions& form);

/// The hinge with the highest use cut through its pin, gaps and displacements magnified by one
/// factor, with the forces on the knuckles, and the moment along the pin beside it.
Figure hinge_figure(const door::Door& door, const mesh::Mesh& mesh,
                    const analysis::OpenDoorResult& d, const UnitFormatter& words,
                    const FigureOptions& form);

/// Temperatures of both skins and of a cut through the rim, with the limit of touch.
/// `at`: degC per node of the door.
Figure temperature_figure(const door::Door& door, const mesh::Mesh& mesh,
                          const analysis::OpenDoorResult& d, const std::vector<double>& temperature,
                          std::optional<double> touch, const UnitFormatter& words,
                          const FigureOptions& form);

/// Deviation of the outer skin from the plane of its corners, with straightedge readings.
Figure bow_figure(const door::Door& door, const mesh::Mesh& mesh, const analysis::OpenDoorResult& d,
                  const UnitFormatter& words, const FigureOptions& form);

/// Stress of both skins and the rim as a fraction of the proportional limit at the temperature
/// there (k_p f_y), cell by cell, with the positions of the largest use. `d.plates` and
/// `d.plate_use` must be filled.
Figure stress_figure(const door::Door& door, const mesh::Mesh& mesh,
                     const analysis::OpenDoorResult& d, const UnitFormatter& words,
                     const FigureOptions& form);

/// The gasket as a ribbon on the door, coloured by its squeeze to both sides of what just seals,
/// with the latches and their forces.
Figure gasket_figure(const door::Door& door, const mesh::Mesh& mesh,
                     const analysis::ClosedDoorResult& closed, const UnitFormatter& words,
                     const FigureOptions& form);

/// The factor 1, 2, 5, 10 ... that is not above `maximum`.
double round_factor(double maximum);

} // namespace hangtrue::figures
