#include "solver/error/qoi_error.hpp"

#include "solver/error/bore_facet_error.hpp"
#include "solver/error/dwr_estimator.hpp"

#include <algorithm>

namespace hangtrue
{

MissingIn answer_error(const Assembly& assembly, const std::vector<int>& held,
                       const SolvedContact& solved, const UnitAnswer& adjoint)
{
  std::vector<ContactPoint> points;
  std::vector<double> real_push;
  std::vector<double> dual_push;
  for (std::size_t p = 0; p < solved.points.size(); ++p)
    if (at_hinge(solved.points[p])) {
      points.push_back(solved.points[p]);
      real_push.push_back(solved.state.push[p]);
      dual_push.push_back(adjoint.push[p]);
    }
  MissingIn made;
  made.bores = flat_bores(solved, adjoint);
  for (std::size_t b = 0; b < assembly.bodies.size(); ++b) {
    const LoadedBody& body = assembly.bodies[b];
    const int index = static_cast<int>(b);
    const std::size_t nodes = body.mesh->nodes.size();
    GoalFields fields{*body.mesh,
                      b == door_body ? assembly.of_door : assembly.of_frame,
                      solved.moves[b],
                      adjoint.moves[b],
                      body.free_strain,
                      push_forces(points, real_push, index, nodes),
                      push_forces(points, dual_push, index, nodes),
                      std::vector<char>(nodes, 0),
                      std::vector<char>(nodes, 0)};
    for (const int n : touching_nodes(points, index))
      fields.touching[n] = 1;
    if (b == frame_body)
      for (const int n : held)
        fields.held[n] = 1;
    const std::vector<double> errors = goal_error(fields);
    for (std::size_t c = 0; c < errors.size(); ++c)
      (body.mesh->cells[c].hinge >= 0 ? made.hinges : made.panel) += errors[c];
  }
  return made;
}

MissingIn answer_error(const Assembly& assembly, const std::vector<int>& held,
                       const SolvedContact& solved, const UnitAnswer& adjoint, KnownError& known)
{
  const auto same = [](const std::vector<NodeField>& a, const std::vector<NodeField>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_field);
  };
  if (known.real_push != solved.state.push || known.dual_push != adjoint.push ||
      !same(known.real, solved.moves) || !same(known.dual, adjoint.moves))
    known = {solved.moves, adjoint.moves, solved.state.push, adjoint.push,
             answer_error(assembly, held, solved, adjoint)};
  return known.missing;
}

} // namespace hangtrue
