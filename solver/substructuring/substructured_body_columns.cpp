// Many sets of a few forces on a substructured body, solved with cached columns: without solving
// with the base.
#include "solver/substructuring/condensed_substructure.hpp"
#include "solver/substructuring/substructured_body.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

using Matrix = Eigen::MatrixXd;
using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// Solves L L^T x = b, a column for each set of forces, where only the last `joints` rows of b may
// be nonzero, or only those of x are wanted.
void solve_joined(const std::vector<double>& lower_of, Eigen::Index joints, bool pushed,
                  bool wanted, Matrix& x)
{
  const auto n = static_cast<Eigen::Index>(std::llround(std::sqrt(lower_of.size())));
  const Eigen::Map<const Matrix> lower(lower_of.data(), n, n);
  const auto corner = lower.bottomRightCorner(joints, joints).triangularView<Eigen::Lower>();
  if (pushed)
    lower.triangularView<Eigen::Lower>().solveInPlace(x);
  else if (joints > 0)
    corner.solveInPlace(x.bottomRows(joints));
  if (wanted)
    lower.triangularView<Eigen::Lower>().transpose().solveInPlace(x);
  else if (joints > 0)
    corner.transpose().solveInPlace(x.bottomRows(joints));
}

} // namespace

// A contact force acts on one substructure, or on two of one body.
struct JoinedBody::Pushed {
  std::vector<std::vector<std::vector<NodeForce>>> sets; // of every loaded substructure
  std::vector<std::vector<std::size_t>> set_of;          // whose they are
  std::vector<std::vector<std::size_t>> answer_at;       // of each, among its columns
  Matrix waiting;        // a column per set: forces on interface and retained, then displacements
  bool at_seats = false; // some of the forces
};

JoinedBody::Pushed JoinedBody::push_parts(const std::vector<std::vector<NodeForce>>& sets) const
{
  Pushed made;
  made.sets.resize(factored_.size());
  made.set_of.resize(factored_.size());
  made.waiting =
      Matrix::Zero(static_cast<Eigen::Index>(waiting()), static_cast<Eigen::Index>(sets.size()));
  for (std::size_t s = 0; s < sets.size(); ++s)
    for (const auto& f : sets[s]) {
      const int p = parts_.part_of[f.node];
      if (p == 0 && waiting() > 0) {
        push_seats(f, made.waiting.col(static_cast<Eigen::Index>(s)).data());
        made.at_seats = true;
        continue;
      }
      if (made.set_of[p].empty() || made.set_of[p].back() != s) {
        made.set_of[p].push_back(s);
        made.sets[p].emplace_back();
      }
      made.sets[p].back().push_back({parts_.local_of[f.node], inward(f.force)});
    }
  for (std::size_t p = 0; p < factored_.size(); ++p) {
    made.answer_at.push_back(made.sets[p].empty() ? std::vector<std::size_t>{}
                                                  : factored_[p]->answer_to(made.sets[p]));
    for (std::size_t i = 0; i < made.answer_at[p].size() && p > 0; ++i) {
      const auto& own = factored_[p]->answer(made.answer_at[p][i]).on_joints;
      for (std::size_t j = 0; j < own.size(); ++j)
        made.waiting(static_cast<Eigen::Index>(seats_ + first_joint_[p - 1] + j),
                     static_cast<Eigen::Index>(made.set_of[p][i])) += own[j];
    }
  }
  return made;
}

void JoinedBody::move_joints(const std::vector<int>& at, Pushed& pushed) const
{
  if (waiting() == 0)
    return;
  const bool wanted =
      std::any_of(at.begin(), at.end(), [&](int n) { return parts_.part_of[n] == 0; });
  solve_joined(lower_, static_cast<Eigen::Index>(joints_), pushed.at_seats, wanted, pushed.waiting);
}

// Displacements of a substructure under its own forces, interface fixed.
void JoinedBody::add_own_moves(int part, const std::vector<int>& at,
                               const std::vector<std::size_t>& here, const Pushed& pushed,
                               std::vector<NodeField>& made) const
{
  const auto& answer_at = pushed.answer_at[part];
  for (std::size_t i = 0; i < answer_at.size(); ++i) {
    const auto& moves = factored_[part]->answer(answer_at[i]).moves;
    for (const std::size_t a : here)
      made[pushed.set_of[part][i]][a] += moves[factored_[part]->outside(parts_.local_of[at[a]])];
  }
}

void JoinedBody::add_seat_moves(const std::vector<int>& at, const std::vector<std::size_t>& here,
                                const Pushed& pushed, std::vector<NodeField>& made) const
{
  for (std::size_t s = 0; s < made.size(); ++s)
    for (const std::size_t a : here) {
      const auto first = 3 * static_cast<std::size_t>(parts_.local_of[at[a]]);
      const double* u = pushed.waiting.col(static_cast<Eigen::Index>(s)).data();
      made[s][a] += {at_seat(u, first), at_seat(u, first + 1), at_seat(u, first + 2)};
    }
}

// Displacements of a hinge substructure by those of its interface.
void JoinedBody::add_joint_moves(int part, const std::vector<int>& at,
                                 const std::vector<std::size_t>& here, const Pushed& pushed,
                                 std::vector<NodeField>& made) const
{
  const auto count = static_cast<Eigen::Index>(factored_[part]->joint_unknowns());
  Rows rows(static_cast<Eigen::Index>(3 * here.size()), count);
  for (std::size_t a = 0; a < here.size(); ++a)
    rows.middleRows(static_cast<Eigen::Index>(3 * a), 3) =
        Eigen::Map<const Rows>(factored_[part]->spread(3 * parts_.local_of[at[here[a]]]), 3, count);
  const auto first = static_cast<Eigen::Index>(seats_ + first_joint_[part - 1]);
  const Matrix along = rows * pushed.waiting.middleRows(first, count);
  for (std::size_t s = 0; s < made.size(); ++s)
    for (std::size_t a = 0; a < here.size(); ++a) {
      const double* move =
          along.col(static_cast<Eigen::Index>(s)).data() + 3 * static_cast<std::ptrdiff_t>(a);
      made[s][here[a]] += Vec3{move[0], move[1], move[2]};
    }
}

std::vector<NodeField> JoinedBody::solve(const std::vector<std::vector<NodeForce>>& sets,
                                         const std::vector<int>& at) const
{
  if (sets.empty())
    return {};
  if (!answers_can_do(sets, at))
    return solve_through_carrier(sets, at);
  Pushed pushed = push_parts(sets);
  move_joints(at, pushed);
  std::vector<NodeField> made(sets.size(), NodeField(at.size()));
  for (int p = 0; p < static_cast<int>(factored_.size()); ++p) {
    std::vector<std::size_t> here; // of `at`
    for (std::size_t a = 0; a < at.size(); ++a)
      if (parts_.part_of[at[a]] == p)
        here.push_back(a);
    add_own_moves(p, at, here, pushed, made);
    if (p == 0 && waiting() > 0)
      add_seat_moves(at, here, pushed, made);
    if (p > 0 && !here.empty())
      add_joint_moves(p, at, here, pushed, made);
  }
  for (auto& field : made)
    for (auto& move : field)
      move = outward(move);
  return made;
}

} // namespace hangtrue
