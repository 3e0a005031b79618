#include "solver/closed_door.hpp"

#include "meshing/errors.hpp"
#include "meshing/loft.hpp"
#include "solver/door_assembly.hpp"
#include "solver/door_loads.hpp"
#include "solver/gasket_line.hpp"
#include "solver/hinge_contact.hpp"
#include "solver/hinge_results.hpp"
#include "solver/hot_fit.hpp"
#include "solver/latch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// Points of the closed door behind those of the hinges, in this order.
struct ShutPoints {
  std::size_t first_gasket = 0;
  std::size_t first_latch = 0;
  std::size_t first_stop = 0;
};

// How far the chamber face stands back from its middle at a place, m.
double stands_back(const Door& door, const Vec3& p)
{
  const double u = 2.0 * p.x / door.panel.width - 1.0;
  const double v = 2.0 * p.z / door.panel.height - 1.0;
  return door.opening.warp * 0.5 * (u * u + v * v);
}

ContactPoint pressed(ContactKind kind, const Vec3& place, double gap,
                     std::vector<WeightedNode> nodes)
{
  ContactPoint point; // pushes the door outwards
  point.kind = kind;
  point.hinge = -1;
  point.knuckle = -1;
  point.place = place;
  point.normal = {0.0, 1.0, 0.0};
  point.gap = gap;
  point.outer = {door_body, std::move(nodes)};
  point.inner = {ground, {}};
  return point;
}

ContactPoint pulled(const Door& door, const Latch& latch, const SkinFace& outer)
{
  ContactPoint point; // pushes the door inwards
  point.kind = ContactKind::latch;
  point.hinge = -1;
  point.knuckle = -1;
  point.place = latch_place(door, latch);
  point.normal = {0.0, 1.0, 0.0};
  point.gap = -latch.draw;
  point.compliance = 1.0 / latch.stiffness;
  point.outer = {ground, {}};
  point.inner = {door_body, outer.at(point.place.x, point.place.z)};
  return point;
}

// Corners and quarter points of the inner skin's edges, where steel can meet the frame face.
std::vector<Vec3> stop_places(const Door& door)
{
  const double inset = 0.5 * door.fire.gasket_inset;
  const double w = door.panel.width - 2.0 * inset;
  const double h = door.panel.height - 2.0 * inset;
  std::vector<Vec3> places;
  constexpr int cuts = 4;
  for (int i = 0; i < cuts; ++i) {
    const double s = static_cast<double>(i) / cuts;
    places.push_back({inset + s * w, 0.0, inset});
    places.push_back({inset + w, 0.0, inset + s * h});
    places.push_back({inset + (1.0 - s) * w, 0.0, inset + h});
    places.push_back({inset, 0.0, inset + (1.0 - s) * h});
  }
  return places;
}

ShutPoints add_shut_points(const Door& door, const BodyMesh& body,
                           const std::vector<GasketAt>& gasket, std::vector<ContactPoint>& points)
{
  const SkinFace inner(body, Part::inner_skin, 0.0);
  const SkinFace outer(body, Part::outer_skin, depth(door));
  ShutPoints at;
  at.first_gasket = points.size();
  for (const auto& g : gasket)
    points.push_back(pressed(ContactKind::gasket, g.place, 0.0, inner.at(g.place.x, g.place.z)));
  at.first_latch = points.size();
  for (const auto& latch : door.latches)
    points.push_back(pulled(door, latch, outer));
  at.first_stop = points.size();
  for (const auto& p : stop_places(door))
    points.push_back(pressed(ContactKind::stop, p, door.gasket.set_gap + stands_back(door, p),
                             inner.at(p.x, p.z)));
  return at;
}

double outward(const std::vector<WeightedNode>& nodes, const NodeField& moves)
{
  double sum = 0.0;
  for (const auto& w : nodes)
    sum += w.weight * moves[w.node].y;
  return sum;
}

// The line at rest: free height less what has set in earlier states, and the skin's temperature.
std::vector<GasketAt> gasket_at_rest(const Door& door, const BodyMesh& body, const WarmDoor* warm,
                                     const std::vector<const ClosedDoor*>& after)
{
  const SkinFace inner(body, Part::inner_skin, 0.0);
  std::vector<GasketAt> line;
  constexpr int least = 64;
  for (const auto& piece : gasket_line(door, least)) {
    GasketAt at{piece.place, piece.arc, piece.length, 0.0, 0.0, door.gasket.height, 20.0};
    if (warm != nullptr) {
      at.temperature = 0.0;
      for (const auto& w : inner.at(piece.place.x, piece.place.z))
        at.temperature += w.weight * warm->at[w.node];
    }
    double most = 0.0;
    for (const ClosedDoor* earlier : after)
      most = std::max(most, earlier->gasket[line.size()].squeeze);
    at.height -= door.gasket.set * most;
    line.push_back(at);
  }
  return line;
}

// The law of each length made straight at its squeeze: push = length (load + slope (s - squeeze)).
void make_straight(const Door& door, const std::vector<GasketAt>& line, std::size_t first,
                   ContactSolver& solver)
{
  for (std::size_t i = 0; i < line.size(); ++i) {
    const GasketAt& g = line[i];
    const LineLoad law = line_load(door.gasket, g.squeeze);
    const double rest = door.gasket.set_gap + stands_back(door, g.place) - g.height;
    const double shift = law.load > 0.0 ? g.squeeze - law.load / law.slope : 0.0;
    solver.set(static_cast<int>(first + i), rest + shift, 1.0 / (law.slope * g.length));
  }
}

struct Settled {
  HingeContact contact;
  NodeField moves;
  int rounds = 0;
};

// Newton's method on the gasket's law: straight pieces, so it ends when no length changes its
// piece.
Settled settle(const Door& door, Assembly& assembly, const ShutPoints& at,
               std::vector<GasketAt>& line)
{
  ContactSolver solver(assembly.bodies, assembly.modes, assembly.points);
  for (auto& g : line)
    g.squeeze = std::max(0.0, g.height - door.gasket.set_gap - stands_back(door, g.place));
  constexpr int most = 40;
  double change = 0.0;
  for (int round = 1; round <= most; ++round) {
    make_straight(door, line, at.first_gasket, solver);
    Settled now{solver.solve({}), {}, round};
    now.moves = body_moves(assembly.bodies[door_body], door_body, assembly.modes, assembly.points,
                           now.contact.state, {});
    change = 0.0;
    for (std::size_t i = 0; i < line.size(); ++i) {
      GasketAt& g = line[i];
      const ContactPoint& point = assembly.points[at.first_gasket + i];
      const double gap = door.gasket.set_gap + stands_back(door, g.place) - g.height +
                         outward(point.outer.nodes, now.moves);
      const double push = now.contact.state.push[at.first_gasket + i];
      change = std::max(change, std::abs(line_load(door.gasket, -gap).load - push / g.length));
      g.squeeze = -gap;
      g.load = push / g.length;
    }
    if (change <= 1e-9 * std::max(1.0, door.gasket.curve.back().second))
      return now;
  }
  throw ComputeError(fmt::format(
      "closed door: the gasket did not settle in {} rounds (its load still changed by {:.2g} N/m); "
      "look at its curve for a jump in slope",
      most, change));
}

GasketSum sum_up(const Door& door, const std::vector<GasketAt>& line)
{
  GasketSum s;
  const double seals = sealing_squeeze(door.gasket);
  s.least_load = line.front().load;
  s.least_at = s.most_at = line.front().place;
  s.most_squeeze = line.front().squeeze;
  double least_squeeze = line.front().squeeze;
  for (const auto& g : line) {
    s.length += g.length;
    s.total += g.load * g.length;
    s.hottest = std::max(s.hottest, g.temperature);
    s.least_load = std::min(s.least_load, g.load);
    if (g.squeeze < least_squeeze) {
      least_squeeze = g.squeeze;
      s.least_at = g.place;
    }
    if (g.squeeze > s.most_squeeze) {
      s.most_squeeze = g.squeeze;
      s.most_at = g.place;
    }
    s.below_sealing += g.load < door.gasket.sealing ? g.length : 0.0;
    s.crushed += g.squeeze > door.gasket.crushing ? g.length : 0.0;
    if (g.squeeze < 0.0) {
      s.open_length += g.length;
      s.largest_gap = std::max(s.largest_gap, -g.squeeze);
      s.leak_area -= g.squeeze * g.length;
    }
    s.short_by = std::max(s.short_by, seals - g.squeeze);
  }
  s.mean_load = s.total / s.length;
  s.below_sealing /= s.length;
  s.crushed /= s.length;
  return s;
}

std::vector<LatchAt> latch_results(const Door& door, const Assembly& assembly, const ShutPoints& at,
                                   const Settled& settled)
{
  std::vector<LatchAt> made;
  for (std::size_t l = 0; l < door.latches.size(); ++l) {
    const Latch& latch = door.latches[l];
    const ContactPoint& point = assembly.points[at.first_latch + l];
    LatchAt found;
    found.latch = static_cast<int>(l);
    found.place = point.place;
    found.force = settled.contact.state.push[at.first_latch + l];
    found.hand = hand_force(latch, found.force);
    found.holds_itself = holds_itself(latch);
    found.slack = std::max(0.0, -(latch.draw + outward(point.inner.nodes, settled.moves)));
    made.push_back(found);
  }
  return made;
}

RevealLeft reveal_left(const Door& door, const BodyMesh& body, const NodeField& moves)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  RevealLeft left{door.reveal, door.opening.latch, door.opening.lower, door.opening.upper};
  constexpr double same_place = 1e-7; // m
  for (const auto& cell : body.cells) {
    if (cell.part != Part::outer_skin && cell.part != Part::inner_skin)
      continue;
    for (const int n : cell.node) {
      const Vec3& p = body.nodes[n];
      const Vec3& u = moves[n];
      if (p.x < same_place)
        left.hinge = std::min(left.hinge, door.reveal + u.x);
      if (p.x > w - same_place)
        left.latch = std::min(left.latch, door.opening.latch - u.x);
      if (p.z < same_place)
        left.lower = std::min(left.lower, door.opening.lower + u.z);
      if (p.z > h - same_place)
        left.upper = std::min(left.upper, door.opening.upper - u.z);
    }
  }
  return left;
}

// Books of the door: all pushes against its weight; moments about the lower end of the axis.
void add_balance(const Door& door, const Mesh& shut, const Assembly& assembly,
                 const ContactState& state, ClosedDoor& made)
{
  const AxisPlace axis = pin_axis(door, door.hinges.front());
  NodeField on_door = push_forces(assembly.points, state.push, door_body, shut.door.nodes.size());
  double scale = 0.0; // what the gasket alone presses with, or the weight
  for (std::size_t n = 0; n < on_door.size(); ++n)
    on_door[n] += assembly.bodies[door_body].load[n];
  for (const auto& f : assembly.bodies[door_body].load)
    scale += norm(f);
  scale = std::max(scale, made.sum.total);
  const Resultant left = resultant(shut.door, on_door, {axis.x, axis.y, 0.0});
  made.balance.force_error = norm(left.force) / scale;
  made.balance.moment_error = norm(left.moment) / (scale * door.panel.width);
  made.balance.least_gap = state.least_gap;
  made.balance.least_force = state.least_push;
  constexpr double allowed = 1e-8;
  const double worst = std::max(made.balance.force_error, made.balance.moment_error);
  if (!(worst < allowed))
    throw ComputeError(
        fmt::format("balance: the forces on the closed door leave {:.1e} of the gasket's force "
                    "over; try another mesh level in [accuracy]",
                    worst));
}

} // namespace

Mesh shut_mesh(const Door& door, int level)
{
  Door shut = door;
  shut.swing = 0.0;
  return loft(shut, fineness(shut, level));
}

ClosedDoor deflect_closed(const Door& door, const Mesh& shut, const WarmDoor* warm,
                          const std::vector<const ClosedDoor*>& after, FactoredBodies& kept,
                          const Progress& progress)
{
  const Progress tell = progress ? progress : [](const std::string&, double) {};
  Door standing = door;
  standing.swing = 0.0;
  ClosedDoor made;
  made.warm = warm != nullptr;
  made.time = made.warm ? warm->warmth.time : 0.0;
  made.gasket = gasket_at_rest(door, shut.door, warm, after);
  Assembly assembly = assemble(standing, shut, tell, warm, kept, Standing::shut);
  const ShutPoints at = add_shut_points(door, shut.door, made.gasket, assembly.points);
  tell("gasket, latches and hinges", 0.7);
  Settled settled = settle(door, assembly, at, made.gasket);
  const ContactState& state = settled.contact.state;
  made.rounds = settled.rounds;
  made.sum = sum_up(door, made.gasket);
  made.latches = latch_results(door, assembly, at, settled);
  for (std::size_t p = at.first_stop; p < assembly.points.size(); ++p)
    if (state.push[p] > 0.0) {
      made.stop_force += state.push[p];
      made.stops.push_back(assembly.points[p].place);
    }
  made.reveal = reveal_left(door, shut.door, settled.moves);
  made.knuckles = knuckle_forces(standing, shut, assembly.points, state.push);
  if (made.warm)
    made.fits = hot_fits(door, warm->warmth);
  add_balance(standing, shut, assembly, state, made);
  made.door_move = std::move(settled.moves);
  tell("done", 1.0);
  return made;
}

} // namespace hangtrue
