// The bodies of a door brought together: stiffness, loads, heat, rigid movements, contact points.
#pragma once

#include "meshing/door.hpp"
#include "meshing/mesh.hpp"
#include "solver/contact_points.hpp"
#include "solver/elastic_body.hpp"
#include "solver/factored_bodies.hpp"
#include "solver/hinge_contact.hpp"
#include "solver/joined_body.hpp"
#include "solver/open_door.hpp"

#include <vector>

namespace hangtrue
{

/// Everything that the contact needs, kept together because bodies point at their factors.
struct Assembly {
  std::vector<JoinedBody> elastic;
  std::vector<LoadedBody> bodies; ///< door, frame, floating pins
  std::vector<RigidMode> modes;
  std::vector<ContactPoint> points;
};

/// Assembles and factors all bodies and puts weight, handle load and, with `warm`, heat on them.
/// The mesh must outlive the assembly. Parts that `kept` holds are not factored again. Throws
/// ComputeError when a body cannot be factored.
Assembly assemble(const Door& door, const Mesh& mesh, const Progress& tell, const WarmDoor* warm,
                  FactoredBodies& kept);

/// Elasticity of frame and pins, and of a door at one temperature. A temperature that is the same
/// everywhere lets all parts grow alike, so nothing moves against anything: only the stiffness
/// falls.
ElasticityOf elasticity_of(const Door& door);

/// Elasticity of the door: by the temperature of every cell in a warm state.
ElasticityOf door_elasticity(const Door& door, const WarmDoor* warm);

/// Free strain of a temperature, degC, against the ambient one, at which the door is drawn.
double free_strain(const Door& door, double temperature);

/// Temperature of the pins in a warm state, degC: the mean of the door's knuckles and the ambient.
double pin_temperature(const Door& door, const WarmDoor& warm);

} // namespace hangtrue
