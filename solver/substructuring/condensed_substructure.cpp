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

// Looks for the solution for the same forces and moves it to the end.
template <typename Answers>
bool found_again(Answers& answers, const std::vector<Vec3>& forces)
{
  const auto known = std::find_if(answers.begin(), answers.end(),
                                  [&](const auto& one) { return same_field(one.forces, forces); });
  if (known == answers.end())
    return false;
  std::rotate(known, known + 1, answers.end());
  return true;
}

template <typename Answers>
void remember_in(Answers& answers, typename Answers::value_type made, std::size_t most)
{
  if (answers.size() >= most)
    answers.erase(answers.begin());
  answers.push_back(std::move(made));
}

// Coordinates on a grid of about a hundredth of a nanometre, so that a substructure elsewhere along
// the axis has the same numbers, and the result does not depend on which of the two came first. No
// size that a shop works to lies half-way between two positions of this grid.
constexpr double grid = 1.4142135623730951e-11; // m

Vec3 on_grid(const Vec3& v)
{
  return {grid * std::round(v.x / grid), grid * std::round(v.y / grid),
          grid * std::round(v.z / grid)};
}

bool same_place(const Vec3& a, const Vec3& b)
{
  return a.x == b.x && a.y == b.y && a.z == b.z;
}

bool same_unknown(const HeldUnknown& x, const HeldUnknown& y)
{
  return x.node == y.node && x.component == y.component;
}

bool same_seats(const PartContent& a, const PartContent& b)
{
  return std::equal(a.seats.begin(), a.seats.end(), b.seats.begin(), b.seats.end(), same_unknown);
}

} // namespace

bool same_content(const PartContent& a, const PartContent& b)
{
  auto same_steel = [](const Elasticity& x, const Elasticity& y) {
    return x.lambda == y.lambda && x.mu == y.mu;
  };
  return a.piece == b.piece && a.cells.size() == b.cells.size() && same_place(a.axis, b.axis) &&
         a.joint == b.joint && same_field(a.nodes, b.nodes) && a.cells == b.cells &&
         std::equal(a.elasticity.begin(), a.elasticity.end(), b.elasticity.begin(),
                    b.elasticity.end(), same_steel) &&
         std::equal(a.held.begin(), a.held.end(), b.held.begin(), b.held.end(), same_unknown) &&
         same_seats(a, b);
}

namespace
{

// Evicts the least recently used until the rest fits.
void make_room(FactoredBodies& kept)
{
  std::size_t bytes = 0;
  for (const auto& part : kept.parts)
    bytes += part->bytes();
  std::size_t of_hangs = 0;
  for (const auto& hang : kept.hangs)
    of_hangs += kept.bytes_of_hang(*hang);
  if (bytes + of_hangs > kept.most_bytes)
    kept.hangs.clear();
  while (!kept.parts.empty() && bytes > kept.most_bytes) {
    kept.hangs.clear(); // they own references to their substructures
    bytes -= kept.parts.front()->bytes();
    kept.parts.erase(kept.parts.begin());
  }
}

} // namespace

std::shared_ptr<FactoredPart> factored(PartContent content, FactoredBodies& kept)
{
  for (Vec3& place : content.nodes)
    place = on_grid(place);
  content.axis = on_grid(content.axis);
  auto& parts = kept.parts;
  std::shared_ptr<FactoredPart> pattern;
  {
    const std::lock_guard<std::mutex> alone(*kept.alone);
    const auto found = std::find_if(parts.begin(), parts.end(), [&](const auto& part) {
      return !part->order_only() && same_content(part->content(), content);
    });
    if (found != parts.end()) {
      ++kept.reused;
      std::rotate(found, found + 1, parts.end());
      return parts.back();
    }
    // The same cells in another size: its order of unknowns is as good.
    const auto like = std::find_if(parts.rbegin(), parts.rend(), [&](const auto& part) {
      return part->content().piece == content.piece && part->content().joint == content.joint &&
             part->content().cells == content.cells && same_seats(part->content(), content);
    });
    pattern = like != parts.rend() ? *like : nullptr;
    make_room(kept);
  }
  auto made = std::make_shared<FactoredPart>(std::move(content), pattern.get());
  constexpr std::size_t all_of_a_check = 24; // closed at instants of the warm-up, a dozen
  if (!kept.for_one_door)
    made->remember(all_of_a_check);
  const std::lock_guard<std::mutex> alone(*kept.alone);
  ++kept.made;
  parts.push_back(made);
  return made;
}

void forget(const FactoredPart& part, FactoredBodies& kept)
{
  const std::lock_guard<std::mutex> alone(*kept.alone);
  auto& parts = kept.parts;
  kept.hangs.clear(); // they own references to their substructures
  parts.erase(std::remove_if(parts.begin(), parts.end(),
                             [&](const auto& one) { return one.get() == &part; }),
              parts.end());
}

void keep_orders_only(FactoredBodies& kept)
{
  const std::lock_guard<std::mutex> alone(*kept.alone);
  kept.hangs.clear(); // they own references to their substructures
  for (const auto& part : kept.parts)
    part->keep_order_only();
}

FactoredPart::FactoredPart(PartContent content, const FactoredPart* like)
    : content_(std::move(content))
{
  const std::size_t nodes = content_.nodes.size();
  BlockMatrix matrix = stiffness(content_);
  if (content_.piece)
    springs_ = hold_joints(content_, matrix);
  // The matrix is of the size of the factor's half: it is released before that is computed.
  factor_.emplace(std::move(matrix), held_marks(content_),
                  like != nullptr ? &like->factor() : nullptr, waiting(content_));
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

void FactoredPart::keep_order_only()
{
  const std::lock_guard<std::mutex> alone(alone_);
  order_only_ = true;
  factor_->keep_order_only();
  spread_ = {};
  answer_place_ = {};
  answers_ = {};
  solved_ = {};
  started_ = {};
}

std::vector<Vec3> FactoredPart::solve(const std::vector<Vec3>& forces)
{
  {
    const std::lock_guard<std::mutex> alone(alone_);
    if (found_again(solved_, forces))
      return solved_.back().moves;
  }
  std::vector<Vec3> moves = by_node(held_at_joints({by_unknown(forces)}).moves.front());
  const std::lock_guard<std::mutex> alone(alone_);
  remember_in(solved_, {forces, moves}, loads_kept_);
  return moves;
}

std::shared_ptr<const SymmetricFactor::Begun> FactoredPart::begin(const std::vector<Vec3>& forces)
{
  {
    const std::lock_guard<std::mutex> alone(alone_);
    if (found_again(started_, forces))
      return started_.back().begun;
  }
  auto begun = std::make_shared<const SymmetricFactor::Begun>(
      std::move(factor_->begin({by_unknown(forces)}).front()));
  const std::lock_guard<std::mutex> alone(alone_);
  remember_in(started_, {forces, begun}, loads_kept_);
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
