// The retained unknowns of a substructured body, for forces and readings without solving with the
// base.
#include "solver/substructuring/condensed_substructure.hpp"
#include "solver/substructuring/substructured_body.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace hangtrue
{

namespace
{

// Unknowns of a base that are solved with the rest of it, and those fixed at zero.
constexpr int none = -1;
constexpr int at_rest = -2;

} // namespace

// A retained unknown that is also on the interface, or fixed, or on a hinge substructure, is not
// listed again.
void JoinedBody::take_seats(const std::vector<HeldUnknown>& seats, PartContent& carrier)
{
  seat_of_.assign(3 * carrier.nodes.size(), none);
  for (const int n : carrier.joint)
    for (int c = 0; c < 3; ++c)
      seat_of_[3 * n + c] = at_rest;
  for (const auto& h : carrier.held)
    seat_of_[3 * h.node + h.component] = at_rest;
  for (const auto& s : seats)
    if (parts_.part_of[s.node] == 0) {
      const HeldUnknown own{parts_.local_of[s.node], s.component};
      int& place = seat_of_[3 * own.node + own.component];
      if (place != none)
        continue;
      place = static_cast<int>(seats_++);
      carrier.seats.push_back(own);
    }
  for (std::size_t j = 0; j < joints_; ++j)
    seat_of_[3 * carrier.joint[j / 3] + static_cast<int>(j % 3)] = static_cast<int>(seats_ + j);
}

bool JoinedBody::is_seat(int node) const
{
  const int* place = &seat_of_[3 * static_cast<std::size_t>(parts_.local_of[node])];
  return std::any_of(place, place + 3, [](int p) { return p != none; });
}

// What a base's retained unknowns alone give of its displacements.
std::vector<Vec3> JoinedBody::seat_moves(const std::vector<double>& u) const
{
  std::vector<Vec3> moves(seat_of_.size() / 3);
  for (std::size_t n = 0; n < moves.size(); ++n)
    moves[n] = {at_seat(u.data(), 3 * n), at_seat(u.data(), 3 * n + 1),
                at_seat(u.data(), 3 * n + 2)};
  return moves;
}

double JoinedBody::at_seat(const double* u, std::size_t unknown) const
{
  return seat_of_[unknown] >= 0 ? u[seat_of_[unknown]] : 0.0;
}

// Forces and readings at retained unknowns or on the boundary of hinge substructures (or of a body
// without an interface) need no base.
bool JoinedBody::answers_can_do(const std::vector<std::vector<NodeForce>>& sets,
                                const std::vector<int>& at) const
{
  auto reachable = [&](int node) {
    const int p = parts_.part_of[node];
    if (p == 0 && waiting() > 0)
      return is_seat(node);
    return p >= 0 && factored_[p]->outside(parts_.local_of[node]) >= 0;
  };
  auto pushed = [&](const NodeForce& f) {
    if (!reachable(f.node))
      return false;
    if (parts_.part_of[f.node] > 0 || waiting() == 0)
      return true;
    const auto first = 3 * static_cast<std::size_t>(parts_.local_of[f.node]);
    return (f.force.x == 0.0 || seat_of_[first] != none) &&
           (f.force.y == 0.0 || seat_of_[first + 1] != none) &&
           (f.force.z == 0.0 || seat_of_[first + 2] != none);
  };
  for (const auto& set : sets)
    if (!std::all_of(set.begin(), set.end(), pushed))
      return false;
  return std::all_of(at.begin(), at.end(), reachable);
}

NodeField JoinedBody::solve_seats(const NodeField& forces) const
{
  std::vector<double> on_carrier(waiting(), 0.0);
  std::vector<double> on_joints(joints_, 0.0);
  std::vector<double> unused;
  for (std::size_t n = 0; n < forces.size(); ++n) {
    const Vec3& f = forces[n];
    if (f.x == 0.0 && f.y == 0.0 && f.z == 0.0)
      continue;
    const NodeForce one{static_cast<int>(n), f};
    if (parts_.part_of[n] == 0)
      push_seats(one, on_carrier.data());
    else
      spread_force(one, unused, on_joints);
  }
  const auto moves = seat_moves(joint_moves(on_joints, on_carrier));
  NodeField made(forces.size());
  for (std::size_t n = 0; n < forces.size(); ++n)
    if (parts_.part_of[n] == 0)
      made[n] = outward(moves[parts_.local_of[n]]);
  return made;
}

void JoinedBody::forget_carrier(FactoredBodies& kept) const
{
  if (waiting() > 0)
    forget(carrier(), kept);
}

void JoinedBody::let_carrier_go()
{
  if (waiting() > 0)
    factored_[0].reset();
}

FactoredPart& JoinedBody::carrier() const
{
  if (factored_[0] == nullptr)
    throw std::logic_error("the carrier of this body was let go");
  return *factored_[0];
}

void JoinedBody::push_seats(const NodeForce& f, double* on_seats) const
{
  const auto first = 3 * static_cast<std::size_t>(parts_.local_of[f.node]);
  const std::array<double, 3> force{f.force.x, f.force.y, f.force.z};
  for (std::size_t c = 0; c < 3; ++c)
    if (seat_of_[first + c] >= 0)
      on_seats[seat_of_[first + c]] += force[c];
}

} // namespace hangtrue
