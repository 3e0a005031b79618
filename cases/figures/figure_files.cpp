// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/figures/figure_files.hpp"

#include "viz/page/pdf_writer.hpp"
#include "viz/page/raster_writer.hpp"
#include "viz/page/temporary_folder.hpp"

#include <algorithm>

namespace hangtrue::case_figures
{

namespace
{

constexpr double dots_of_png = 8.0; // per mm: 203 to the inch

}

void write_figures(output::OutputFolder& folder, const std::vector<figures::Figure>& figures,
                   const std::vector<std::string>& formats, std::string& trouble,
                   const Progress& progress)
{
  const auto wanted = [&](const char* format) {
    return std::find(formats.begin(), formats.end(), format) != formats.end();
  };
  std::vector<page::PdfJob> jobs;
  for (const auto& f : figures) {
    if (wanted("png"))
      folder.write(f.name + ".png", page::png_bytes(page::rasterized(f.page, dots_of_png)));
    if (wanted("svg"))
      folder.write(f.name + ".svg", page::page_svg(f.page));
  }
  if (!wanted("pdf"))
    return;
  const page::TemporaryFolder scratch;
  for (const auto& f : figures) {
    const std::string html = scratch.write(
        f.name + ".html", page::figure_html(page::page_svg(f.page), f.page.width, f.page.height));
    jobs.push_back({html, scratch.path(f.name + ".pdf")});
  }
  const std::string in_the_way = page::make_pdfs(jobs, [&] { progress("writing figures", 1.0); });
  if (!in_the_way.empty()) {
    trouble += (trouble.empty() ? "" : "\n") + in_the_way;
    return;
  }
  for (const auto& f : figures)
    folder.write(f.name + ".pdf", scratch.read(f.name + ".pdf"));
}

} // namespace hangtrue::case_figures
