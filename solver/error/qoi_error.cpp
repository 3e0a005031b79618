// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/error/qoi_error.hpp"

#include "solver/error/bore_facet_error.hpp"
#include "solver/error/dwr_estimator.hpp"

#include <algorithm>

namespace hangtrue::error
{

system::ErrorByRegion qoi_error(const system::DoorSystem& system, const std::vector<int>& held,
                                const qoi::ContactStateData& solved,
                                const contact::AdjointSolution& adjoint)
{
  std::vector<contact::ContactPair> pairs;
  std::vector<double> primal_force;
  std::vector<double> dual_force;
  for (std::size_t p = 0; p < solved.points.size(); ++p)
    if (contact::at_hinge(solved.points[p])) {
      pairs.push_back(solved.points[p]);
      primal_force.push_back(solved.state.contact_force[p]);
      dual_force.push_back(adjoint.contact_force[p]);
    }
  system::ErrorByRegion result;
  result.bores = bore_facet_error(solved, adjoint);
  for (std::size_t b = 0; b < system.bodies.size(); ++b) {
    const contact::BodyResponse& body = system.bodies[b];
    const int index = static_cast<int>(b);
    const std::size_t nodes = body.mesh->nodes.size();
    PrimalDualFields fields{*body.space,
                            b == contact::door_body ? system.of_door : system.of_frame,
                            solved.displacements[b],
                            adjoint.displacements[b],
                            body.free_strain,
                            contact::contact_nodal_forces(pairs, primal_force, index, nodes),
                            contact::contact_nodal_forces(pairs, dual_force, index, nodes),
                            std::vector<char>(nodes, 0),
                            std::vector<char>(nodes, 0)};
    for (const int n : contact::contact_nodes(pairs, index))
      fields.active[n] = 1;
    if (b == contact::frame_body)
      for (const int n : held)
        fields.fixed_dofs[n] = 1;
    const std::vector<double> errors = dual_weighted_error(fields);
    for (std::size_t c = 0; c < errors.size(); ++c)
      (body.mesh->cells[c].hinge >= 0 ? result.hinges : result.panel) += errors[c];
  }
  return result;
}

system::ErrorByRegion qoi_error(const system::DoorSystem& system, const std::vector<int>& held,
                                const qoi::ContactStateData& solved,
                                const contact::AdjointSolution& adjoint,
                                system::CachedErrorEstimate& known)
{
  const auto same = [](const std::vector<elasticity::NodeField>& a,
                       const std::vector<elasticity::NodeField>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), elasticity::same_field);
  };
  if (known.primal_contact_force != solved.state.contact_force ||
      known.dual_contact_force != adjoint.contact_force ||
      !same(known.displacements, solved.displacements) || !same(known.dual, adjoint.displacements))
    known = {solved.displacements, adjoint.displacements, solved.state.contact_force,
             adjoint.contact_force, qoi_error(system, held, solved, adjoint)};
  return known.by_region;
}

} // namespace hangtrue::error
