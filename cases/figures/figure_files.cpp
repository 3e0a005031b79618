#include "cases/figures/figure_files.hpp"

#include "viz/page/pdf_writer.hpp"
#include "viz/page/raster_writer.hpp"
#include "viz/page/temporary_folder.hpp"

#include <algorithm>

namespace hangtrue
{

namespace
{

constexpr double dots_of_png = 8.0; // per mm: 203 to the inch

}

void write_figures(OutputFolder& folder, const std::vector<Figure>& figures,
                   const std::vector<std::string>& formats, std::string& trouble,
                   const Progress& progress)
{
  const auto wanted = [&](const char* format) {
    return std::find(formats.begin(), formats.end(), format) != formats.end();
  };
  std::vector<PdfJob> jobs;
  for (const auto& f : figures) {
    if (wanted("png"))
      folder.write(f.name + ".png", png_bytes(rasterized(f.page, dots_of_png)));
    if (wanted("svg"))
      folder.write(f.name + ".svg", page_svg(f.page));
  }
  if (!wanted("pdf"))
    return;
  const ScratchFolder scratch;
  for (const auto& f : figures) {
    const std::string html =
        scratch.write(f.name + ".html", figure_html(page_svg(f.page), f.page.width, f.page.height));
    jobs.push_back({html, scratch.path(f.name + ".pdf")});
  }
  const std::string in_the_way = make_pdfs(jobs, [&] { progress("writing figures", 1.0); });
  if (!in_the_way.empty()) {
    trouble += (trouble.empty() ? "" : "\n") + in_the_way;
    return;
  }
  for (const auto& f : figures)
    folder.write(f.name + ".pdf", scratch.read(f.name + ".pdf"));
}

} // namespace hangtrue
