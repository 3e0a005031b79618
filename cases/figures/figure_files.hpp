// SPDX-License-Identifier: GPL-3.0-or-later
// Figures as files: PNG, SVG, PDF.
#pragma once

#include "cases/output/output_folder.hpp"
#include "meshing/common/progress.hpp"
#include "viz/figures/figures.hpp"

#include <string>
#include <vector>

namespace hangtrue::case_figures
{

/// Writes every figure under its name in the requested formats: "png", "svg", "pdf". What prevents
/// PDF is added to `trouble`, in the user's words; the others are written all the same.
void write_figures(output::OutputFolder& folder, const std::vector<figures::Figure>& figures,
                   const std::vector<std::string>& formats, std::string& trouble,
                   const Progress& progress);

} // namespace hangtrue::case_figures
