#include "solver/substructuring/condensed_substructure.hpp"

#include "meshing/common/errors.hpp"
#include "solver/substructuring/substructures.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace hangtrue
{

namespace
{

constexpr std::size_t together = 32; // right-hand sides per block: enough for level-3 BLAS
// The same where a column must not depend on its position in the block: widths of 16 and 32 do with
// OpenBLAS's kernels for AVX-512, 4, 8, 12 and 24 do not (tests/unit/solver/factor_test.cpp).
constexpr std::size_t block_width = 12;

BlockMatrix stiffness(const PartContent& content)
{
  BodyMesh mesh;
  mesh.nodes = content.nodes;
  mesh.cells.resize(content.cells.size());
  for (std::size_t c = 0; c < content.cells.size(); ++c) {
    mesh.cells[c].node = content.cells[c];
    mesh.cells[c].part = Part::ring; // some steel
  }
  return assemble_stiffness(mesh, content.elasticity);
}

std::vector<char> held_marks(const PartContent& content)
{
  std::vector<char> mark(3 * content.nodes.size(), 0);
  for (const auto& h : content.held)
    mark[3 * h.node + h.component] = 1;
  return mark;
}

// Interface and retained unknowns: eliminated last.
std::vector<int> waiting(const PartContent& content)
{
  std::vector<int> last;
  for (const auto& s : content.seats)
    last.push_back(3 * s.node + s.component);
  for (const int n : content.joint)
    last.insert(last.end(), {3 * n, 3 * n + 1, 3 * n + 2});
  return last;
}

// A hinge substructure has no support but its interface: springs, N/m, as stiff as the steel there,
// so that it can be factorized. They act on what is eliminated last only, and are subtracted again
// there.
std::vector<double> hold_joints(const PartContent& content, BlockMatrix& matrix)
{
  std::vector<double> springs;
  for (const int n : content.joint) {
    auto& block = matrix.block[matrix.start[n]]; // the diagonal one comes first
    for (const int i : {0, 4, 8}) {
      springs.push_back(block[i]);
      block[i] *= 2.0;
    }
  }
  return springs;
}

std::vector<double> by_unknown(const std::vector<Vec3>& forces)
{
  std::vector<double> made;
  made.reserve(3 * forces.size());
  for (const auto& f : forces)
    made.insert(made.end(), {f.x, f.y, f.z});
  return made;
}

std::vector<Vec3> by_node(const std::vector<double>& values)
{
  std::vector<Vec3> made;
  made.reserve(values.size() / 3);
  for (std::size_t n = 0; n + 2 < values.size(); n += 3)
    made.push_back({values[n], values[n + 1], values[n + 2]});
  return made;
}

} // namespace

FactoredPart::FactoredPart(PartKey content, std::shared_ptr<const FactorOrdering> like,
                           std::size_t loads)
    : key_(std::move(content)), content_(*key_), solved_({.count = loads}),
      started_({.count = loads})
{
  const std::size_t nodes = content_.nodes.size();
  BlockMatrix matrix = stiffness(content_);
  if (content_.piece)
    springs_ = hold_joints(content_, matrix);
  // The matrix is of the size of the factor's half: it goes before that comes.
  factor_.emplace(std::move(matrix), held_marks(content_), std::move(like), waiting(content_));
  if (content_.piece)
    spread_joints();
  BodyPart shape;
  shape.corners = content_.cells;
  outside_ = outside_nodes(shape, nodes);
  outside_place_.assign(nodes, -1);
  for (std::size_t i = 0; i < outside_.size(); ++i)
    outside_place_[outside_[i]] = static_cast<int>(i);
}

std::vector<double> FactoredPart::joint_matrix() const
{
  std::vector<double> made = factor_->last_matrix();
  for (std::size_t u = 0; u < springs_.size(); ++u)
    made[u * (springs_.size() + 1)] -= springs_[u];
  return made;
}

// Constraint modes: displacements of all nodes for one metre of one interface unknown, the others
// fixed.
void FactoredPart::spread_joints()
{
  const std::size_t count = joint_unknowns();
  const std::size_t unknowns = 3 * content_.nodes.size();
  spread_.assign(unknowns * count, 0.0);
  for (std::size_t first = 0; first < count; first += together) {
    const std::size_t last = std::min(count, first + together);
    std::vector<std::vector<double>> unit(last - first, std::vector<double>(count, 0.0));
    for (std::size_t u = first; u < last; ++u)
      unit[u - first][u] = 1.0;
    const auto found = factor_->finish(factor_->nothing(last - first), unit);
    for (std::size_t u = first; u < last; ++u)
      for (std::size_t i = 0; i < unknowns; ++i)
        spread_[count * i + u] = found[u - first][i];
  }
}

std::vector<Vec3> FactoredPart::solve(const std::vector<Vec3>& forces)
{
  if (auto known = solved_.find(forces))
    return *std::move(known);
  std::vector<Vec3> moves = by_node(held_at_joints({by_unknown(forces)}).moves.front());
  solved_.insert(forces, moves);
  return moves;
}

std::shared_ptr<const SymmetricFactor::Begun> FactoredPart::begin(const std::vector<Vec3>& forces)
{
  if (auto known = started_.find(forces))
    return *std::move(known);
  auto begun = std::make_shared<const SymmetricFactor::Begun>(
      std::move(factor_->begin({by_unknown(forces)}).front()));
  started_.insert(forces, begun);
  return begun;
}

const FactoredPart::Answer& FactoredPart::answer(std::size_t place) const
{
  const std::lock_guard<std::mutex> alone(alone_);
  return answers_[place];
}

std::vector<Vec3> FactoredPart::finish(const SymmetricFactor::Begun& begun,
                                       const std::vector<double>& joint_moves) const
{
  return by_node(factor_->finish({begun}, {joint_moves}).front());
}

// Forces on a grid as fine as the rounding of a rotation, for the same reason as coordinates.
std::vector<NodeForce> FactoredPart::rounded(const std::vector<NodeForce>& set)
{
  constexpr double grain = 0x1p-40; // of a unit force
  std::vector<NodeForce> made = set;
  for (auto& f : made)
    f.force = {grain * std::round(f.force.x / grain), grain * std::round(f.force.y / grain),
               grain * std::round(f.force.z / grain)};
  return made;
}

std::vector<std::size_t> FactoredPart::answer_to(const std::vector<std::vector<NodeForce>>& sets)
{
  std::vector<std::vector<double>> keys;
  std::vector<std::vector<NodeForce>> fresh;
  std::vector<std::vector<double>> fresh_keys;
  {
    const std::lock_guard<std::mutex> alone(alone_);
    std::set<std::vector<double>> asked;
    for (const auto& given : sets) {
      std::vector<NodeForce> set = rounded(given);
      std::vector<double> key;
      for (const auto& f : set)
        key.insert(key.end(), {static_cast<double>(f.node), f.force.x, f.force.y, f.force.z});
      if (answer_place_.count(key) == 0 && asked.insert(key).second) {
        fresh.push_back(std::move(set));
        fresh_keys.push_back(key);
      }
      keys.push_back(std::move(key));
    }
  }
  std::vector<Answer> made;
  for (std::size_t first = 0; first < fresh.size(); first += block_width) {
    const auto from = fresh.begin() + static_cast<std::ptrdiff_t>(first);
    const auto width = static_cast<std::ptrdiff_t>(std::min(block_width, fresh.size() - first));
    for (auto& answer : answer_block({from, from + width}))
      made.push_back(std::move(answer));
  }
  const std::lock_guard<std::mutex> alone(alone_);
  for (std::size_t i = 0; i < made.size(); ++i) // unless another thread came first
    if (answer_place_.try_emplace(fresh_keys[i], answers_.size()).second)
      answers_.push_back(std::move(made[i]));
  std::vector<std::size_t> places;
  places.reserve(keys.size());
  for (const auto& key : keys)
    places.push_back(answer_place_.at(key));
  return places;
}

// Always of the same width, the rest zero: BLAS takes another path for other widths, and the last
// digits of a column would depend on its neighbours in the block.
std::vector<FactoredPart::Answer>
FactoredPart::answer_block(const std::vector<std::vector<NodeForce>>& sets) const
{
  std::vector<std::vector<double>> right(block_width,
                                         std::vector<double>(3 * content_.nodes.size(), 0.0));
  for (std::size_t s = 0; s < sets.size(); ++s)
    for (const auto& f : sets[s]) {
      right[s][3 * f.node] += f.force.x;
      right[s][3 * f.node + 1] += f.force.y;
      right[s][3 * f.node + 2] += f.force.z;
    }
  const Held all = held_at_joints(right);
  std::vector<Answer> answers;
  for (std::size_t s = 0; s < sets.size(); ++s) {
    Answer made;
    made.moves.reserve(outside_.size());
    for (const int n : outside_)
      made.moves.push_back({all.moves[s][3 * n], all.moves[s][3 * n + 1], all.moves[s][3 * n + 2]});
    if (content_.piece)
      made.on_joints = all.on_joints[s];
    answers.push_back(std::move(made));
  }
  return answers;
}

FactoredPart::Held
FactoredPart::held_at_joints(const std::vector<std::vector<double>>& right_sides) const
{
  Held made;
  if (!content_.piece || content_.joint.empty()) {
    made.moves = factor_->solve(right_sides);
    return made;
  }
  const auto begun = factor_->begin(right_sides);
  const std::vector<std::vector<double>> still(begun.size(),
                                               std::vector<double>(joint_unknowns(), 0.0));
  made.moves = factor_->finish(begun, still);
  for (const auto& b : begun)
    made.on_joints.push_back(b.last);
  return made;
}

std::size_t FactoredPart::bytes() const
{
  const std::lock_guard<std::mutex> alone(alone_);
  return factor_->bytes() + sizeof(double) * spread_.size() +
         answers_.size() * outside_.size() * sizeof(Vec3) +
         2 * (solved_.size() + started_.size()) * content_.nodes.size() * sizeof(Vec3) +
         content_.cells.size() * sizeof(std::array<int, 27>);
}

} // namespace hangtrue
