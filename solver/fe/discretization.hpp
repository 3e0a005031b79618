// SPDX-License-Identifier: GPL-3.0-or-later
// The finite elements of one body: deal.II's triangulation, mapping and degrees of freedom.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <array>
#include <functional>
#include <memory>
#include <vector>

namespace dealii
{
template <int dim, int spacedim>
class DoFHandler;
template <int dim, int spacedim>
class FEValues;
template <int dim, int spacedim>
class Mapping;
template <int dim, int spacedim>
class Triangulation;
template <typename number>
class AffineConstraints;
} // namespace dealii

namespace hangtrue::fe
{

/// Polynomial degree of displacement, temperature and geometry: the 27 nodes of a cell are the
/// support points of FE_Q(2).
inline constexpr int degree = 2;

/// Node of Hex27 (i + 3 j + 9 k) that each shape function of FE_Q(2) belongs to.
const std::array<int, 27>& node_of_shape_function();

/// A body with its finite elements; copies share them. The 27 nodes of a cell are its geometry,
/// so round parts stay round.
///
/// The triangulation has the cells of the body in their order; material ids are parts (mesh::Part).
/// Cells that are joined along welds only (mesh::joint_group) have vertices of their own there, and
/// the degrees of freedom of common nodes are tied: a weld may join the corners of a face and not
/// its middle.
class Discretization
{
public:
  /// Not explicit: what asks for a body's finite elements takes its mesh as well.
  Discretization(const mesh::BodyMesh& body); // NOLINT(google-explicit-constructor)
  /// The same with the joint group of every cell in place of those of the body.
  Discretization(const mesh::BodyMesh& body, const std::vector<int>& groups);

  [[nodiscard]] const mesh::BodyMesh& body() const;
  [[nodiscard]] const dealii::Triangulation<3, 3>& triangulation() const;
  [[nodiscard]] const dealii::Mapping<3, 3>& mapping() const;
  /// FE_Q(2): temperatures. The dofs of nodes that are not tied come first, in the order of the
  /// body's nodes.
  [[nodiscard]] const dealii::DoFHandler<3, 3>& temperature() const;
  /// FESystem of three FE_Q(2): displacements.
  [[nodiscard]] const dealii::DoFHandler<3, 3>& displacement() const;
  /// Ties of the temperatures: a dof equals the first one at its node.
  [[nodiscard]] const dealii::AffineConstraints<double>& ties() const;
  /// The body's node of each dof of `temperature`.
  [[nodiscard]] const std::vector<int>& node_of_dof() const;
  /// The body's node and component of each dof of `displacement`, 3 node + component.
  [[nodiscard]] std::vector<int> unknown_of_dof() const;

private:
  struct Parts;
  std::shared_ptr<const Parts> parts_;
};

} // namespace hangtrue::fe
