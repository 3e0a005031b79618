// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field_output/state_file.hpp"

#include "solver/elasticity/stress.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/fe/tensors.hpp"

#include <deal.II/dofs/dof_handler.h>
#include <deal.II/fe/fe_q.h>
#include <deal.II/fe/fe_system.h>
#include <deal.II/grid/filtered_iterator.h>
#include <deal.II/lac/vector.h>
#include <deal.II/numerics/data_out.h>
#include <deal.II/numerics/data_postprocessor.h>
#include <fmt/format.h>

#include <optional>
#include <sstream>

namespace hangtrue::field_output
{

namespace
{

using dealii::DataComponentInterpretation::component_is_part_of_vector;

// The points of a patch with two subdivisions are the nodes of the cell, i + 3 j + 9 k.
constexpr unsigned subdivisions = fe::degree;

// Stress at the nodes of each cell from the displacement's gradients there.
class StressOutput : public dealii::DataPostprocessorTensor<3>
{
public:
  StressOutput(const fe::Discretization& space, const StateFields& fields)
      : DataPostprocessorTensor<3>("stress_Pa", dealii::update_gradients), space_(space),
        fields_(fields)
  {
  }

  void evaluate_vector_field(const dealii::DataPostprocessorInputs::Vector<3>& inputs,
                             std::vector<dealii::Vector<double>>& computed) const override
  {
    const mesh::Hex27& cell =
        space_.body().cells[inputs.template get_cell<3>()->active_cell_index()];
    const elasticity::Elasticity e = fields_.elasticity(cell);
    const auto tensor = elasticity::elasticity_tensor(e);
    for (std::size_t p = 0; p < computed.size(); ++p) {
      dealii::Tensor<2, 3> gradient;
      for (unsigned d = 0; d < 3; ++d)
        gradient[d] = inputs.solution_gradients[p][d];
      elasticity::Stress stress = tensor * symmetrize(gradient);
      if (!fields_.free_strain.empty())
        stress -= elasticity::free_strain_stress(e, fields_.free_strain[cell.node[p]]);
      for (unsigned i = 0; i < 3; ++i)
        for (unsigned j = 0; j < 3; ++j)
          computed[p][3 * i + j] = stress[i][j];
    }
  }

private:
  const fe::Discretization& space_;
  const StateFields& fields_;
};

// The displacements as deal.II's vector-valued field of FE_Q(2).
struct DisplacementField {
  dealii::FESystem<3> element{dealii::FE_Q<3>(fe::degree), 3};
  dealii::DoFHandler<3> dofs;
  dealii::Vector<double> value; // m

  DisplacementField(const fe::Discretization& space, const elasticity::NodeField& displacement)
      : dofs(space.triangulation())
  {
    dofs.distribute_dofs(element);
    value.reinit(dofs.n_dofs());
    std::vector<dealii::types::global_dof_index> of_cell(element.n_dofs_per_cell());
    for (const auto& cell : dofs.active_cell_iterators()) {
      cell->get_dof_indices(of_cell);
      const auto nodes = fe::nodes_of(space.body().cells[cell->active_cell_index()]);
      for (unsigned i = 0; i < of_cell.size(); ++i) {
        const auto [component, shape] = element.system_to_component_index(i);
        value[of_cell[i]] = fe::tensor(displacement[nodes[shape]])[component];
      }
    }
  }
};

dealii::Vector<double> temperature_dofs(const fe::Discretization& space,
                                        const std::vector<double>& temperature)
{
  const std::vector<int>& node = space.node_of_dof();
  dealii::Vector<double> result(static_cast<unsigned>(node.size()));
  for (unsigned d = 0; d < node.size(); ++d)
    result[d] = temperature[node[d]];
  return result;
}

template <typename ValueOf>
dealii::Vector<double> by_cell(const mesh::BodyMesh& body, const ValueOf& value_of)
{
  dealii::Vector<double> result(static_cast<unsigned>(body.cells.size()));
  for (unsigned c = 0; c < body.cells.size(); ++c)
    result[c] = value_of(body.cells[c]);
  return result;
}

} // namespace

std::string state_file(const fe::Discretization& space, const StateFields& fields)
{
  const mesh::BodyMesh& body = space.body();
  const auto part = by_cell(body, [](const auto& c) { return static_cast<int>(c.part); });
  const auto hinge = by_cell(body, [](const auto& c) { return c.hinge + 1; });
  const StressOutput stress(space, fields);
  std::optional<DisplacementField> displacement;
  dealii::Vector<double> temperature;
  dealii::DataOut<3> out;
  out.attach_triangulation(space.triangulation());
  out.add_data_vector(part, "part", dealii::DataOut<3>::type_cell_data);
  out.add_data_vector(hinge, "hinge", dealii::DataOut<3>::type_cell_data);
  if (!fields.displacement.empty()) {
    displacement.emplace(space, fields.displacement);
    out.add_data_vector(displacement->dofs, displacement->value,
                        std::vector<std::string>(3, "displacement_m"),
                        {3, component_is_part_of_vector});
    if (fields.elasticity)
      out.add_data_vector(displacement->dofs, displacement->value, stress);
    out.set_cell_selection([&](const dealii::Triangulation<3>::cell_iterator& cell) {
      return fe::is_steel(body.cells[cell->active_cell_index()]);
    });
  }
  if (!fields.temperature.empty()) {
    temperature = temperature_dofs(space, fields.temperature);
    out.add_data_vector(space.dofs(), temperature, "temperature_degC");
  }
  out.build_patches(space.mapping(), subdivisions, dealii::DataOut<3>::curved_inner_cells);
  dealii::DataOutBase::VtkFlags flags;
  flags.write_higher_order_cells = true;
  flags.print_date_and_time = false; // the same bytes for the same input
  flags.compression_level = dealii::DataOutBase::VtkFlags::best_speed;
  out.set_flags(flags);
  std::ostringstream text;
  out.write_vtu(text);
  return text.str();
}

// Not write_pvd_record: it gives every file of a time step the same part, and writes the time of
// day.
std::string collection_file(const std::vector<CollectedFile>& files)
{
  std::string text = "<?xml version=\"1.0\"?>\n"
                     "<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
                     "  <Collection>\n";
  for (const auto& f : files)
    text += fmt::format("    <DataSet timestep=\"{}\" part=\"{}\" file=\"{}\"/>\n", f.state, f.body,
                        f.name);
  return text + "  </Collection>\n</VTKFile>\n";
}

} // namespace hangtrue::field_output
