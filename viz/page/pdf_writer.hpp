// SPDX-License-Identifier: GPL-3.0-or-later
// HTML to PDF through WeasyPrint, where that is installed.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace hangtrue::page
{

/// One page set: the HTML file and the PDF to make of it.
struct PdfJob {
  std::string html;
  std::string pdf;
};

/// Writes all PDFs in one run of WeasyPrint, fonts embedded. Returns what prevents it, with the
/// package to install, or nothing. `meanwhile` is called several times a second until they are
/// finished; it may throw, which ends the run.
std::string make_pdfs(const std::vector<PdfJob>& jobs, const std::function<void()>& meanwhile = {});

/// HTML of one figure on a page of its own size, mm.
std::string figure_html(const std::string& svg, double width, double height);

} // namespace hangtrue::page
