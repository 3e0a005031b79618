// SPDX-License-Identifier: GPL-3.0-or-later
// Fields of a body in one state as a .vtu file for general viewers.
#pragma once

#include "solver/elasticity/isotropic_elasticity.hpp"
#include "solver/elasticity/node_field.hpp"
#include "solver/fe/discretization.hpp"

#include <string>
#include <vector>

namespace hangtrue::field_output
{

/// What is known of a body in one state; whatever is empty is not written.
struct StateFields {
  elasticity::NodeField displacement;    ///< m, per node; the file then has steel only
  std::vector<double> temperature;       ///< degC, per node
  std::vector<double> free_strain;       ///< m/m, per node, that the displacement contains
  elasticity::CellElasticity elasticity; ///< for the stress of the displacement
};

/// The text of a .vtu file: the cells as Lagrange hexahedra of second order with their part
/// (mesh::Part) and hinge (from 1, 0 for none), `displacement_m`, `temperature_degC` and
/// `stress_Pa` (nine components), as far as these are given. Nodes are not shared between cells, so
/// that stress is that of each cell.
std::string state_file(const fe::Discretization& space, const StateFields& fields);

/// A file of one body in one state.
struct CollectedFile {
  int state = 0;    ///< from 0, in the order of a check
  int body = 0;     ///< from 0: door, frame, pins
  std::string name; ///< relative to the collection
};

/// The text of a .pvd file that collects files: a time step a state.
std::string collection_file(const std::vector<CollectedFile>& files);

} // namespace hangtrue::field_output
