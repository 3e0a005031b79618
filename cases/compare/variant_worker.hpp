// SPDX-License-Identifier: GPL-3.0-or-later
// The work on one variant: check its door and leave everything in its folder.
#pragma once

#include "cases/compare/variants.hpp"
#include "cases/runtime/memory_estimate.hpp"
#include "meshing/common/progress.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/open_analysis.hpp"

#include <string>

namespace hangtrue::compare
{

/// Checks one variant and writes door.toml, results.json, drop.svg and row.json into its folder
/// below `folder`. What cannot be computed leaves a row that says so. `cache` passes factorized
/// bodies from one variant to the next.
void check_variant(const Variant& variant, const std::string& folder,
                   analysis::AnalysisCache& cache, const runtime::MemoryPolicy& policy,
                   const Progress& progress);

} // namespace hangtrue::compare
