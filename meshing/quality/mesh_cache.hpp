// Cache of meshes, for doors that differ in nothing that a mesh depends on.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "meshing/quality/mesh_quality.hpp"

#include <memory>
#include <optional>

namespace hangtrue
{

/// By what a mesh is found again.
struct MeshKey {
  Door drawn; ///< as_drawn
  Levels levels;
  bool operator==(const MeshKey&) const = default;
};

/// A mesh of some levels.
struct KeptMesh {
  Levels levels;
  Mesh mesh;
  std::optional<MeshQuality> inspected; ///< once it was
};

/// The last few: the levels commonly worked on, two of them shut as well.
struct KeptMeshes {
  LruCache<MeshKey, std::shared_ptr<KeptMesh>> meshes{CacheLimits{.count = 5}};
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
