#include "solver/sensitivity/adjoint_residual.hpp"

#include "solver/contact/contact_response.hpp"

#include <algorithm>

namespace hangtrue
{

namespace
{

// Work of the real stress on the virtual strain of one cell, less that of its free strain.
double cell_work(const Hex& cell, const CellShape& shape, const Elasticity& e,
                 const std::vector<double>& free_strain, const NodeField& real,
                 const NodeField& virtual_move)
{
  const auto stress = stresses(cell, shape, e, real);
  double work = 0.0;
  for (int q = 0; q < 27; ++q) {
    const double density = work_density(stress[q], cell, shape, q, virtual_move);
    double strain = 0.0;
    double swelling = 0.0;
    for (int n = 0; n < 27; ++n) {
      swelling += dot(virtual_move[cell.node[n]], shape.slope[q][n]);
      if (!free_strain.empty())
        strain += shape.value[q][n] * free_strain[cell.node[n]];
    }
    work += (density - (3.0 * e.lambda + 2.0 * e.mu) * strain * swelling) * shape.volume[q];
  }
  return work;
}

bool same_body(const BodyMesh& a, const BodyMesh& b)
{
  return a.nodes.size() == b.nodes.size() &&
         std::equal(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                    [](const Hex& x, const Hex& y) {
                      return x.node == y.node && x.part == y.part && x.hinge == y.hinge &&
                             x.knuckle == y.knuckle;
                    });
}

} // namespace

double virtual_work(const Setting& setting, const SolvedAnswer& fields)
{
  const Door& door = setting.door;
  const WarmDoor* warm = setting.warm;
  const ElasticityOf of_frame = warm != nullptr
                                    ? elasticity_of(door, warm->warmth.jamb, warm->warmth.pins)
                                    : elasticity_of(door, door.temperature, door.temperature);
  const ElasticityOf of_door = warm != nullptr ? elasticity_at(door, warm->at) : of_frame;
  const auto loads =
      body_loads(door, setting.mesh, setting.standing, body_weights(door, setting.mesh));
  std::vector<std::vector<double>> strains(loads.size());
  if (warm != nullptr)
    strains = body_strains(door, setting.mesh, *warm);
  const auto& u = fields.solved.moves;
  const auto& v = fields.adjoint.moves;
  double work = 0.0;
  for (std::size_t b = 0; b < loads.size(); ++b) {
    for (std::size_t n = 0; n < loads[b].size(); ++n)
      work += dot(loads[b][n], v[b][n]);
    const ElasticityOf& of = b == door_body ? of_door : of_frame;
    visit_cells(body_mesh(setting.mesh, static_cast<int>(b)), is_steel,
                [&](const Hex& cell, const CellShape& shape) {
                  work -= cell_work(cell, shape, of(cell), strains[b], u[b], v[b]);
                });
  }
  for (std::size_t i = 0; i < setting.points.size(); ++i) {
    const ContactPoint& point = setting.points[i];
    const double p = fields.solved.state.push[i];
    const double q = fields.adjoint.push[i];
    if (p != 0.0)
      work += p * gap_change(point, v);
    if (q != 0.0)
      work += q * (point.gap + point.compliance * p + gap_change(point, u));
  }
  return work;
}

bool same_cells(const Mesh& a, const Mesh& b)
{
  return same_body(a.door, b.door) && same_body(a.frame, b.frame) &&
         std::equal(a.pins.begin(), a.pins.end(), b.pins.begin(), b.pins.end(), same_body);
}

} // namespace hangtrue
