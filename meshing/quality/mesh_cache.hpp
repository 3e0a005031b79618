// Cache of meshes, for doors that differ in nothing that a mesh depends on.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "meshing/quality/mesh_quality.hpp"

#include <memory>
#include <mutex>
#include <optional>
#include <vector>

namespace hangtrue
{

/// A mesh and the door that it is of.
struct KeptMesh {
  Door drawn; ///< as_drawn
  Levels levels;
  Mesh mesh;
  std::optional<MeshQuality> inspected; ///< once it was
};

/// The last few, the one used last at the end.
struct KeptMeshes {
  std::vector<std::shared_ptr<KeptMesh>> meshes;
  std::shared_ptr<std::mutex> alone = std::make_shared<std::mutex>(); ///< locked during a look-up
};

/// The door without what affects neither its mesh, nor the stiffness of its steel, nor the
/// positions of its contacts: names, play along the pins and which hinge carries, wear, the load on
/// the handle, the gasket's law, how latches pull, gaps of the opening, fire and conductivity.
Door as_drawn(Door door);

/// The mesh of a door on these levels, from the cache or newly built; both are bit-identical.
/// Throws ComputeError like `loft`.
std::shared_ptr<KeptMesh> mesh_of(const Door& door, const Levels& levels, KeptMeshes& kept);

/// The inspected mesh of a door on these levels, from the cache or newly built; both are
/// bit-identical. Throws ComputeError like `loft` and `inspect`.
std::shared_ptr<const KeptMesh> inspected_mesh(const Door& door, const Levels& levels,
                                               KeptMeshes& kept);

} // namespace hangtrue
