// What an open cold door has in common with the next one that is drawn alike: kept between the two.
#pragma once

#include "meshing/door.hpp"
#include "meshing/mesh.hpp"
#include "solver/answer_share.hpp"
#include "solver/factored_bodies.hpp"
#include "solver/hinge_contact.hpp"
#include "solver/joined_body.hpp"

#include <memory>
#include <vector>

namespace hangtrue
{

/// What a drop was found to miss, and of what (`answer_error`).
struct KnownError {
  std::vector<NodeField> real;   ///< m, of all bodies
  std::vector<NodeField> dual;   ///< m per N
  std::vector<double> real_push; ///< N
  std::vector<double> dual_push; ///< N per N
  MissingIn missing;             ///< m
};

/// A door on its hinges without its loads, the play along its pins and its wear.
struct KeptHang {
  Door drawn;                                       ///< as_drawn
  std::vector<std::vector<Vec3>> nodes;             ///< m, of door, frame and pins
  std::vector<std::shared_ptr<JoinedBody>> elastic; ///< the same bodies
  std::vector<NodeField> weight;                    ///< N, of each
  KeptColumns columns;                              ///< of their contact
  KnownError error;                                 ///< of the last door
};

/// The kept hang of this door on this mesh, taken out of `kept`; an empty one of the same door
/// where there is none. Throws nothing.
std::shared_ptr<KeptHang> take_hang(const Door& door, const Mesh& mesh, FactoredBodies& kept);

/// Puts a hang back for the next door, the latest few only.
void keep_hang(std::shared_ptr<KeptHang> hang, FactoredBodies& kept);

} // namespace hangtrue
