// SPDX-License-Identifier: GPL-3.0-or-later
// Cache of meshes, for doors that differ in nothing that a mesh depends on.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "meshing/quality/mesh_quality.hpp"

#include <memory>
#include <optional>

namespace hangtrue::quality
{

/// Key of a mesh in the cache.
struct MeshKey {
  door::Door drawn; ///< mesh_key
  door::RefinementLevel levels;
  bool operator==(const MeshKey&) const = default;
};

/// A mesh of some levels.
struct CachedMesh {
  door::RefinementLevel level;
  mesh::Mesh mesh;
  std::optional<MeshQuality> quality; ///< once it was
};

/// The last few: the levels commonly worked on, two of them closed as well.
struct MeshCache {
  LruCache<MeshKey, std::shared_ptr<CachedMesh>> meshes{CacheLimits{.count = 5}};
};

/// The door without what affects neither its mesh, nor the stiffness of its steel, nor the
/// positions of its contacts: names, play along the pins and which hinge carries, wear, the load on
/// the handle, the gasket's law, how latches pull, gaps of the opening, fire and conductivity.
door::Door mesh_key(door::Door door);

/// The mesh of a door on these levels, from the cache or newly built; both are bit-identical.
/// Throws ComputeError like `make_mesh`.
std::shared_ptr<CachedMesh> cached_mesh(const door::Door& door, const door::RefinementLevel& level,
                                        MeshCache& cache);

/// The inspected mesh of a door on these levels, from the cache or newly built; both are
/// bit-identical. Throws ComputeError like `make_mesh` and `inspect`.
std::shared_ptr<const CachedMesh>
cached_inspected_mesh(const door::Door& door, const door::RefinementLevel& level, MeshCache& cache);

} // namespace hangtrue::quality
