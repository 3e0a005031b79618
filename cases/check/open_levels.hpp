// The open cold door from mesh to mesh until its drop is known well enough.
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

namespace hangtrue
{

/// Meshes of one check with what is cached for them.
class OpenLevels
{
public:
  /// Makes the meshes that are worked on in any case and weighs them before the work begins.
  /// `shared` is a cache of many doors, or null: then each mesh has one of its own. All arguments
  /// must outlive it. Throws ComputeError where a mesh would not fit into memory.
  OpenLevels(const DoorCase& door_case, const Progress& progress, AnalysisCache* shared,
             const MemoryCare& care, CheckRun& run);

  /// Solves the door on this mesh and, while the drop is not known well enough, on the next. What
  /// stands on the cache of the last mesh must be gone. Throws ComputeError like the analyses.
  void solve();

  /// After all states of the mesh: true where another mesh is worth it, which `solve` takes then.
  bool refine(bool undecided);

  /// Number of the mesh at hand, 1 the first.
  [[nodiscard]] int round() const { return loop_.round(); }
  /// That of the mesh that most doors are done at, and the mesh itself.
  [[nodiscard]] int likely_last() const { return static_cast<int>(meshes_.size()); }
  [[nodiscard]] const KeptMesh& likely_last_mesh() const { return *meshes_.back(); }

  /// Of the mesh at hand.
  [[nodiscard]] AnalysisCache& cache() const { return shared_ != nullptr ? *shared_ : *own_; }
  /// The last mesh that was coarser in every part.
  [[nodiscard]] LevelBefore& before() { return before_; }

private:
  const DoorCase& door_case_;
  const Progress& progress_;
  AnalysisCache* shared_;
  const MemoryCare& care_;
  CheckRun& run_;
  RefinementLoop loop_;
  std::unique_ptr<AnalysisCache> own_;
  std::unique_ptr<AnalysisCache> own_before_;
  LevelBefore before_;
  std::vector<std::shared_ptr<const KeptMesh>> meshes_;
  std::vector<Touch> foreseen_; // where the door touched on the mesh before

  [[nodiscard]] Progress progress_of_level() const;
  void add_first_meshes();
  void add_mesh();
  void step_back();
  void solve_on(const KeptMesh& mesh, const Progress& part);
};

} // namespace hangtrue
