// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/sheet/report_sheet.hpp"

#include "viz/page/palette.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace hangtrue::sheet
{

namespace
{

std::string style(Paper paper)
{
  const std::string dark = page::hex(page::ink());
  return fmt::format(
      "@page {{ size: {paper}; margin: 14mm 15mm 16mm 15mm; @bottom-right {{ content: "
      "counter(page) "
      "\" of \" counter(pages); font: 8pt 'Liberation Sans', Arial, sans-serif }} @bottom-left {{ "
      "content: "
      "string(running); font: 8pt 'Liberation Sans', Arial, sans-serif }} }}\n"
      "html {{ color: {ink}; background: #ffffff; font-family: 'Liberation Sans', Arial, "
      "Helvetica, "
      "sans-serif; font-size: 9.5pt; line-height: 1.35 }}\n"
      "body {{ max-width: 180mm; margin: 6mm auto }}\n"
      "@media print {{ body {{ margin: 0 auto }} .screen {{ display: none }} }}\n"
      ".running {{ string-set: running content(); font-size: 0; height: 0; overflow: hidden; "
      "margin: "
      "0 }}\n"
      "h1 {{ font-size: 17pt; margin: 5mm 0 1mm }} h2 {{ font-size: 12pt; margin: 6mm 0 2mm; "
      "border-bottom: 0.35mm solid {ink}; break-after: avoid }}\n"
      "table {{ border-collapse: collapse; width: 100% }} th {{ text-align: left; font-weight: "
      "bold; border-bottom: 0.35mm solid {ink} }}\n"
      "th, td {{ padding: 0.7mm 1.5mm 0.7mm 0; vertical-align: top }} tr {{ break-inside: avoid "
      "}}\n"
      ".verdict {{ width: 17mm }} .short {{ font-size: 8pt }} .short td {{ padding-top: 0.3mm; "
      "padding-bottom: 0.3mm }}\n"
      "thead {{ display: table-header-group }} tbody tr {{ border-bottom: 0.18mm solid {line} }}\n"
      ".block td {{ border: 0.35mm solid {ink}; padding: 0.6mm 1.5mm 0.8mm; height: 8mm }} .block "
      "small {{ display: block; font-size: 6.5pt }} .block {{ table-layout: fixed }}\n"
      ".block td {{ overflow-wrap: anywhere }}\n"
      ".number {{ text-align: right; white-space: nowrap; padding-left: 2mm }} .fine {{ "
      "line-height: 1.2 }} .fine {{ font-size: 8pt; color: {soft} "
      "}}\n"
      ".holds, .close, .fails {{ font-weight: bold; white-space: nowrap; padding-right: 3mm }}\n"
      ".holds:before, .close:before, .fails:before {{ content: ''; display: inline-block; width: "
      "2.6mm; height: 2.6mm; margin-right: 1.2mm; border: 0.25mm solid {ink} }}\n"
      ".holds:before {{ background: {holds} }} .close:before {{ background: {close} }} "
      ".fails:before {{ background: {fails} }}\n"
      ".whole {{ font-size: 14pt }} .summary {{ margin: 1mm 0 3mm }}\n"
      "figure {{ margin: 4mm 0; break-inside: avoid }} figure svg {{ max-width: 100%; height: "
      "auto; "
      "display: block; border: 0.18mm solid {line} }}\n"
      "figcaption {{ font-size: 8.5pt; margin-top: 1mm }} ul {{ margin: 1mm 0; padding-left: 5mm "
      "}}\n"
      ".cautions {{ border: 0.7mm solid {fails}; padding: 1mm 3mm; break-inside: avoid }}\n"
      ".keys {{ columns: 2; column-gap: 6mm; font-size: 7.5pt }} .keys div {{ break-inside: avoid; "
      "overflow-wrap: anywhere }}\n"
      ".given {{ font-weight: bold }}\n",
      fmt::arg("paper", paper == Paper::letter ? "letter" : "A4"), fmt::arg("ink", dark),
      fmt::arg("line", page::hex(page::tone(0.85, 0.01, 230.0))),
      fmt::arg("soft", page::hex(page::tone(0.45, 0.02, 230.0))),
      fmt::arg("holds", page::hex(page::tone(0.72, 0.07, 215.0))),
      fmt::arg("close", page::hex(page::tone(0.66, 0.12, 75.0))),
      fmt::arg("fails", page::hex(page::tone(0.46, 0.14, 30.0))));
}

std::string field(const char* name, const std::string& value, int columns, bool bold = false)
{
  const std::string safe = value.empty() ? "&nbsp;" : page::escaped_xml(value);
  return fmt::format("<td colspan=\"{}\"><small>{}</small>{}</td>", columns, name,
                     bold ? fmt::format("<b>{}</b>", safe) : safe);
}

// Mandatory fields of ISO 7200; who made and who approved it is written by hand.
std::string title_block(const TitleBlock& t)
{
  return fmt::format(
      "<table class=\"block\"><tr>{}{}{}</tr><tr>{}{}{}</tr><tr>{}{}{}{}</tr></table>\n",
      field("Legal owner", t.owner, 5), field("Created by", "", 4), field("Approved by", "", 3),
      field("Title", t.title, 5, true), field("Document type", t.document_type, 4),
      field("Date of issue", t.date, 3), field("Identification number", t.number, 5),
      field("Revision", t.revision, 2), field("Language", "en", 2), field("Sheet", "see foot", 3));
}

// The worst state of each check, with its reasons.
std::string verdict_table(const std::vector<SheetVerdict>& verdicts)
{
  std::string html =
      "<table><thead><tr><th class=\"verdict\">Verdict</th><th>Check, worst state</th><th "
      "class=\"number\">Found</th>"
      "<th class=\"number\">Limit</th><th class=\"number\">Use</th><th>Where the limit comes "
      "from</th></tr></thead><tbody>\n";
  std::set<std::string> seen;
  for (const auto& v : verdicts) {
    if (!seen.insert(v.check).second)
      continue;
    html += fmt::format(
        "<tr><td class=\"{0}\">{0}</td><td><b>{1}</b>, {2}<br><span class=\"fine\">{3}</span></td>"
        "<td class=\"number\">{4}{5}</td><td class=\"number\">{6}</td><td "
        "class=\"number\">{7}</td><td class=\"fine\">{8}</td></tr>\n",
        page::escaped_xml(v.verdict), page::escaped_xml(v.check), page::escaped_xml(v.state),
        page::escaped_xml(v.reason), page::escaped_xml(v.found),
        v.error.empty()
            ? ""
            : fmt::format("<br><span class=\"fine\">\u00b1 {}</span>", page::escaped_xml(v.error)),
        page::escaped_xml(v.limit), page::escaped_xml(v.utilisation), page::escaped_xml(v.origin));
  }
  return html + "</tbody></table>\n";
}

// Every check in every state, in short.
std::string state_table(const std::vector<SheetVerdict>& verdicts)
{
  std::string html = "<table class=\"short\"><thead><tr><th "
                     "class=\"verdict\">Verdict</th><th>Check</th><th>State</th>"
                     "<th class=\"number\">Found</th><th class=\"number\">Limit</th><th "
                     "class=\"number\">Use</th></tr></thead><tbody>\n";
  for (const auto& v : verdicts)
    html += fmt::format("<tr><td class=\"{0}\">{0}</td><td>{1}</td><td>{2}</td><td "
                        "class=\"number\">{3}</td><td class=\"number\">{4}</td><td "
                        "class=\"number\">{5}</td></tr>\n",
                        page::escaped_xml(v.verdict), page::escaped_xml(v.check),
                        page::escaped_xml(v.state), page::escaped_xml(v.found),
                        page::escaped_xml(v.limit), page::escaped_xml(v.utilisation));
  return html + "</tbody></table>\n";
}

bool many_states(const std::vector<SheetVerdict>& verdicts)
{
  return std::any_of(verdicts.begin(), verdicts.end(),
                     [&](const SheetVerdict& v) { return v.state != verdicts.front().state; });
}

std::string list_of(const std::vector<std::string>& items)
{
  std::string html = "<ul>\n";
  for (const auto& i : items)
    html += "<li>" + page::escaped_xml(i) + "</li>\n";
  return html + "</ul>\n";
}

std::string hand_table(const std::vector<HandCheck>& checks)
{
  std::string html =
      "<table><thead><tr><th>What</th><th>By hand</th><th>Computed</th><th>Formula and "
      "remark</th></tr></thead><tbody>\n";
  for (const auto& c : checks)
    html += fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{}<br><span "
                        "class=\"fine\">{}</span></td></tr>\n",
                        page::escaped_xml(c.what), page::escaped_xml(c.by_hand),
                        page::escaped_xml(c.computed), page::escaped_xml(c.formula),
                        page::escaped_xml(c.remark));
  return html + "</tbody></table>\n";
}

std::string key_list(const std::vector<SheetKey>& keys)
{
  std::string html = "<div class=\"keys\">\n";
  for (const auto& k : keys)
    html += fmt::format("<div{}>{} = {}</div>\n", k.given ? " class=\"given\"" : "",
                        page::escaped_xml(k.key), page::escaped_xml(k.value));
  return html + "</div>\n";
}

std::string figures_of(const Sheet& sheet)
{
  std::string html;
  int number = 0;
  for (const auto& f : sheet.figures)
    html += fmt::format("<figure>\n{}<figcaption><b>Figure {}.</b> {}</figcaption></figure>\n",
                        page::page_svg(f.page), ++number, page::escaped_xml(f.caption));
  if (!sheet.trouble.empty())
    html += "<p><b>Pictures are missing:</b> " + page::escaped_xml(sheet.trouble) + "</p>\n";
  return html;
}

} // namespace

std::string sheet_html(const Sheet& s, Paper paper, const std::string& turning)
{
  const TitleBlock& t = s.title;
  std::string html = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n<meta name=\"viewport\" "
      "content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n<style>\n{}</style>"
      "</head><body>\n<p class=\"running\">{}, {}, revision {}, {}</p>\n",
      page::escaped_xml(t.title), style(paper), page::escaped_xml(t.title),
      page::escaped_xml(t.number), page::escaped_xml(t.revision), page::escaped_xml(t.date));
  html += title_block(t);
  html += fmt::format("<h1>{}</h1>\n<p class=\"summary\"><span class=\"whole {}\">The door "
                      "{}.</span> {}</p>\n",
                      page::escaped_xml(t.title), page::escaped_xml(s.verdict),
                      s.verdict == "close" ? "is close to a limit" : page::escaped_xml(s.verdict),
                      page::escaped_xml(s.summary));
  html += "<h2>Verdicts</h2>\n" + verdict_table(s.verdicts);
  html += turning;
  html += "<h2>Pictures</h2>\n" + figures_of(s);
  if (many_states(s.verdicts))
    html += "<h2>Every check in every state</h2>\n" + state_table(s.verdicts);
  html += "<h2>Assumptions</h2>\n" + list_of(s.assumptions);
  html += "<h2>By hand beside the computed</h2>\n" + hand_table(s.hand_checks);
  html += "<h2>Equilibrium and energy balance</h2>\n" + list_of(s.books);
  html += "<h2>What was not checked</h2>\n" + list_of(s.not_checked);
  html += "<h2>Cautions</h2>\n<div class=\"cautions\">" + list_of(s.cautions) + "</div>\n";
  html +=
      "<h2>The door file as understood</h2>\n<p class=\"fine\">Bold: as the file has it; the rest "
      "are defaults.</p>\n" +
      key_list(s.keys);
  html += "<h2>Made with</h2>\n<table><tbody>\n";
  for (const auto& [what, which] : s.versions)
    html += fmt::format("<tr><td>{}</td><td>{}</td></tr>\n", page::escaped_xml(what),
                        page::escaped_xml(which));
  return html + "</tbody></table>\n</body></html>\n";
}

} // namespace hangtrue::sheet
