// SPDX-License-Identifier: GPL-3.0-or-later
// The open cold door on one mesh after the other until the error of its drop is small enough.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/check/refinement_strategy.hpp"
#include "cases/input/door_case.hpp"
#include "cases/runtime/memory_estimate.hpp"
#include "cases/verdict/discretization_error.hpp"
#include "meshing/common/progress.hpp"
#include "meshing/quality/mesh_cache.hpp"
#include "solver/analysis/analysis_cache.hpp"

#include <memory>
#include <vector>

namespace hangtrue::check
{

/// The meshes of one check and their caches.
class OpenRefinement
{
public:
  /// Makes the meshes that are needed in any case and estimates their memory before the work
  /// begins. `shared` is a cache of many doors, or null: then each mesh has one of its own. All
  /// arguments must outlive it. Throws ComputeError where a mesh would not fit into memory.
  OpenRefinement(const input::DoorCase& door_case, const Progress& progress,
                 analysis::AnalysisCache* shared, const runtime::MemoryPolicy& policy,
                 CheckRun& run);

  /// Solves the door on this mesh and, while the error of the drop is too large, on the next.
  /// Nothing may use the cache of the last mesh any more. Throws ComputeError like the analyses.
  void solve();

  /// After all states of the mesh: true where another mesh is needed, on which `solve` goes on.
  bool refine(bool undecided);

  /// Number of the current mesh, 1 the first.
  [[nodiscard]] int round() const { return loop_.round(); }
  /// That of the mesh on which most doors end, and the mesh itself.
  [[nodiscard]] int likely_last() const { return static_cast<int>(meshes_.size()); }
  [[nodiscard]] const quality::CachedMesh& likely_last_mesh() const { return *meshes_.back(); }

  /// Of the current mesh.
  [[nodiscard]] analysis::AnalysisCache& cache() const
  {
    return shared_ != nullptr ? *shared_ : *own_;
  }
  /// The last mesh that was coarser in every part.
  [[nodiscard]] verdict::CoarseSolution& coarse() { return coarse_; }

private:
  const input::DoorCase& door_case_;
  const Progress& progress_;
  analysis::AnalysisCache* shared_;
  const runtime::MemoryPolicy& policy_;
  CheckRun& run_;
  RefinementLoop loop_;
  std::unique_ptr<analysis::AnalysisCache> own_;
  std::unique_ptr<analysis::AnalysisCache> own_coarse_;
  verdict::CoarseSolution coarse_;
  std::vector<std::shared_ptr<const quality::CachedMesh>> meshes_;
  std::vector<contact::ActiveContact> warm_start_; // active contacts on the mesh before

  [[nodiscard]] Progress progress_of_level() const;
  void add_first_meshes();
  void add_mesh();
  void accept_as_coarse();
  void solve_on(const quality::CachedMesh& mesh, const Progress& part);
};

} // namespace hangtrue::check
