// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sensitivity/adjoint_residual.hpp"

#include "solver/contact/contact_response.hpp"
#include "solver/elasticity/stress.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <array>

namespace hangtrue::sensitivity
{

namespace
{

// Work of the real stress on the virtual strain of one cell, less that of its free strain.
double cell_work(const fe::CellValues& at, const elasticity::Elasticity& e,
                 const std::vector<double>& free_strain, const elasticity::NodeField& real,
                 const elasticity::NodeField& virtual_move)
{
  const auto stress = elasticity::stresses(at, e, real);
  const auto strain = elasticity::strains(at, virtual_move);
  std::array<double, fe::quadrature_points> free{};
  if (!free_strain.empty())
    free = fe::values(at, free_strain);
  double work = 0.0;
  for (unsigned q = 0; q < fe::quadrature_points; ++q)
    work += (stress[q] - elasticity::free_strain_stress(e, free[q])) * strain[q] * at.fe.JxW(q);
  return work;
}

bool same_body(const mesh::BodyMesh& a, const mesh::BodyMesh& b)
{
  return a.nodes.size() == b.nodes.size() &&
         std::equal(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                    [](const mesh::Hex27& x, const mesh::Hex27& y) {
                      return x.node == y.node && x.part == y.part && x.hinge == y.hinge &&
                             x.knuckle == y.knuckle;
                    });
}

} // namespace

double lagrangian_residual(const PerturbedModel& model, const qoi::QoiSolution& fields)
{
  const door::Door& door = model.door;
  const heat::ThermalState* thermal = model.thermal;
  const system::DoorElasticity elasticity = system::door_elasticity(door, thermal);
  const std::vector<fe::Discretization> spaces = system::body_spaces(model.mesh);
  const auto loads =
      system::body_loads(door, model.mesh, model.standing, system::body_weights(door, spaces));
  std::vector<std::vector<double>> strains(loads.size());
  if (thermal != nullptr)
    strains = system::body_strains(door, model.mesh, *thermal);
  const auto& u = fields.contact.displacements;
  const auto& v = fields.adjoint.displacements;
  double work = 0.0;
  for (std::size_t b = 0; b < loads.size(); ++b) {
    for (std::size_t n = 0; n < loads[b].size(); ++n)
      work += dot(loads[b][n], v[b][n]);
    const elasticity::CellElasticity& cell_elasticity =
        b == contact::door_body ? elasticity.of_door : elasticity.of_frame;
    fe::visit_cells(spaces[b], fe::is_steel, [&](const fe::CellValues& at) {
      work -= cell_work(at, cell_elasticity(at.cell), strains[b], u[b], v[b]);
    });
  }
  for (std::size_t i = 0; i < model.pairs.size(); ++i) {
    const contact::ContactPair& pair = model.pairs[i];
    const double p = fields.contact.state.contact_force[i];
    const double q = fields.adjoint.contact_force[i];
    if (p != 0.0)
      work += p * contact::gap_change(pair, v);
    if (q != 0.0)
      work += q * (pair.gap + pair.compliance * p + contact::gap_change(pair, u));
  }
  return work;
}

bool same_cells(const mesh::Mesh& a, const mesh::Mesh& b)
{
  return same_body(a.door, b.door) && same_body(a.frame, b.frame) &&
         std::equal(a.pins.begin(), a.pins.end(), b.pins.begin(), b.pins.end(), same_body);
}

} // namespace hangtrue::sensitivity
