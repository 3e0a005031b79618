// SPDX-License-Identifier: GPL-3.0-or-later
// The sheet is one file: nothing fetched, everything escaped, complete on paper.
#define BOOST_TEST_MODULE sheet
#include <boost/test/unit_test.hpp>

#include "viz/page/escaped_xml.hpp"
#include "viz/page/pdf_writer.hpp"
#include "viz/page/temporary_folder.hpp"
#include "viz/sheet/report_sheet.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <string>
#include <sys/wait.h>

using namespace hangtrue;

namespace
{

const std::string nasty = "<script>alert(\"x\")</script> & 'y' \u00e4";

sheet::Sheet nasty_sheet()
{
  sheet::Sheet s;
  s.title = {nasty, nasty, nasty, nasty, nasty, nasty};
  s.verdict = "fails";
  s.summary = nasty;
  s.verdicts.push_back({"fails", nasty, "a", nasty, nasty, "120 %", nasty, nasty, nasty});
  s.verdicts.push_back({"holds", nasty, "b", nasty, nasty, "20 %", "", nasty, nasty});
  figures::Figure figure{"one", {}, nasty};
  figure.page.labels.push_back({{5.0, 5.0}, nasty});
  s.figures.push_back(figure);
  s.trouble = nasty;
  s.assumptions = {nasty};
  s.hand_checks.push_back({nasty, nasty, nasty, nasty, nasty});
  s.books = {nasty};
  s.not_checked = {nasty};
  s.cautions = {nasty};
  s.keys.push_back({nasty, nasty, true});
  s.versions = {{nasty, nasty}};
  return s;
}

std::size_t count(const std::string& text, const std::string& what)
{
  std::size_t n = 0;
  for (std::size_t index = text.find(what); index != std::string::npos;
       index = text.find(what, index + 1))
    ++n;
  return n;
}

} // namespace

BOOST_AUTO_TEST_CASE(everything_from_outside_is_escaped)
{
  const std::string html = sheet::sheet_html(nasty_sheet(), sheet::Paper::letter);
  BOOST_TEST(html.find("<script") == std::string::npos);
  BOOST_TEST(html.find("alert(\"") == std::string::npos);
  BOOST_TEST(count(html, "&lt;script&gt;") > 20U);
}

BOOST_AUTO_TEST_CASE(nothing_is_fetched)
{
  std::string html = sheet::sheet_html(nasty_sheet(), sheet::Paper::a4);
  // Names of XML spaces look like addresses but are names.
  html = std::regex_replace(html, std::regex("xmlns(:xlink)?=\"http://www.w3.org/[^\"]*\""), "");
  BOOST_TEST(html.find("http:") == std::string::npos);
  BOOST_TEST(html.find("https:") == std::string::npos);
  BOOST_TEST(html.find("url(") == std::string::npos);
  BOOST_TEST(html.find("@import") == std::string::npos);
  BOOST_TEST(!std::regex_search(html, std::regex("(src|href)=\"(?!data:)")));
}

BOOST_AUTO_TEST_CASE(verdicts_come_first_and_all_parts_are_there)
{
  const std::string html = sheet::sheet_html(nasty_sheet(), sheet::Paper::letter);
  std::size_t before = 0;
  for (const std::string part :
       {"Legal owner", "The door fails.", "<h2>Verdicts", "<h2>Pictures",
        "<h2>Every check in every state", "<h2>Assumptions", "<h2>By hand beside the computed",
        "<h2>Equilibrium and energy balance", "<h2>What was not checked", "<h2>Cautions",
        "<h2>The door file as understood", "<h2>Made with"}) {
    const std::size_t index = html.find(part, before);
    BOOST_TEST(index != std::string::npos, part);
    before = std::max(before, index == std::string::npos ? 0 : index);
  }
}

// The PDF has pages of the requested paper and embeds its fonts.
BOOST_AUTO_TEST_CASE(the_pdf_has_its_pages_and_letters)
{
  const page::TemporaryFolder scratch;
  for (const auto& [paper, size] :
       {std::pair{sheet::Paper::letter, "612 792"}, std::pair{sheet::Paper::a4, "595"}}) {
    const std::string html = scratch.write("sheet.html", sheet::sheet_html(nasty_sheet(), paper));
    const std::string pdf = scratch.path("sheet.pdf");
    const std::string trouble = page::make_pdfs({{html, pdf}});
    BOOST_REQUIRE_MESSAGE(trouble.empty(), trouble);
    const std::string bytes = scratch.read("sheet.pdf");
    BOOST_TEST(bytes.substr(0, 5) == "%PDF-");
    BOOST_TEST(bytes.find(std::string("/MediaBox [ 0 0 ") + size) != std::string::npos);
    BOOST_TEST(count(bytes, "/FontFile2") + count(bytes, "/FontFile3") >= 1U);
  }
}

BOOST_AUTO_TEST_CASE(a_page_that_wants_the_network_gets_nothing)
{
  const page::TemporaryFolder scratch;
  const std::string html =
      scratch.write("a.html", "<html><body><p>text</p><img src=\"file:///etc/hostname\"><img "
                              "src=\"http://127.0.0.1:9/x.png\"></body></html>");
  BOOST_TEST(page::make_pdfs({{html, scratch.path("a.pdf")}}).empty()); // a page without image
  BOOST_TEST(scratch.read("a.pdf").substr(0, 5) == "%PDF-");
}

// XML 1.0 (fifth edition), production 2 and the note below it: characters that a document may
// contain, and those that it should not; Unicode Standard Annex 9: marks that reverse the order of
// letters.
BOOST_AUTO_TEST_CASE(any_text_may_be_in_a_figure_and_a_sheet)
{
  BOOST_TEST(page::escaped_xml("a\uFFFEb\uFFFFc\uFDD0d") == "abcd");
  BOOST_TEST(page::escaped_xml("a\u0001b\u007Fc\u0080d") == "abcd");
  BOOST_TEST(page::escaped_xml("a\u2028b\u2029c\u0085d\r\ne") == "a b c d  e");
  BOOST_TEST(page::escaped_xml("a\u202Eb\u2066c\u2069d\u200Fe\u061Cf") == "abcdef");
  BOOST_TEST(page::escaped_xml("\u00e4\u20ac\U0001F6AA<>&\"'") ==
             "\u00e4\u20ac\U0001F6AA&lt;&gt;&amp;&quot;&#39;");
  // No UTF-8 (RFC 3629): a lone byte, a form that is too long, a surrogate, a cut end, beyond all.
  BOOST_TEST(page::escaped_xml("a\x80z") == "a\uFFFDz");
  BOOST_TEST(page::escaped_xml("a\xC0\xBCz") == "a\uFFFD\uFFFDz");
  BOOST_TEST(page::escaped_xml("a\xED\xA0\x80z") == "a\uFFFD\uFFFD\uFFFDz");
  BOOST_TEST(page::escaped_xml("a\xE2\x82") == "a\uFFFD\uFFFD");
  BOOST_TEST(page::escaped_xml("a\xF4\x90\x80\x80z") == "a\uFFFD\uFFFD\uFFFD\uFFFDz");
  sheet::Sheet sheet = nasty_sheet();
  sheet.title.title = "A\u2029B\uFFFE\u202E";
  sheet.figures.front().page.labels.front().text = sheet.title.title;
  const page::TemporaryFolder scratch;
  const std::string html = scratch.write("a.html", sheet::sheet_html(sheet, sheet::Paper::a4));
  const std::string trouble =
      page::make_pdfs({{html, scratch.path("a.pdf")}}); // a paragraph's end broke it
  BOOST_TEST(trouble == "");
  BOOST_TEST(scratch.read("a.pdf").substr(0, 5) == "%PDF-");
}

// A Python looks for its library beside the first of its name on the search path unless it is named
// by its whole path; settings for another one are not for this one.
BOOST_AUTO_TEST_CASE(another_python_on_the_path_does_no_harm)
{
  namespace fs = std::filesystem;
  const page::TemporaryFolder scratch;
  const fs::path other = scratch.path("other");
  for (const char* version :
       {"python3.9", "python3.10", "python3.11", "python3.12", "python3.13"}) {
    fs::create_directories(other / "lib" / version);
    std::ofstream(other / "lib" / version / "os.py") << "";
  }
  fs::create_directories(other / "bin");
  std::ofstream(other / "bin" / "python3") << "#!/bin/sh\nexit 1\n";
  fs::permissions(other / "bin" / "python3", fs::perms::owner_all);
  const std::string before = std::getenv("PATH");
  setenv("PATH", ((other / "bin").string() + ":" + before).c_str(), 1);
  setenv("PYTHONHOME", "/nowhere", 1);
  setenv("LD_LIBRARY_PATH", "/nowhere", 1);
  const std::string html = scratch.write("a.html", "<html><body><p>text</p></body></html>");
  const std::string trouble = page::make_pdfs({{html, scratch.path("a.pdf")}});
  setenv("PATH", before.c_str(), 1);
  unsetenv("PYTHONHOME");
  unsetenv("LD_LIBRARY_PATH");
  BOOST_TEST(trouble == "");
  BOOST_TEST(scratch.read("a.pdf").substr(0, 5) == "%PDF-");
}

// A request to end is handled while pages are set, and no process is left.
BOOST_AUTO_TEST_CASE(pages_can_be_given_up)
{
  struct Enough {
  };
  const page::TemporaryFolder scratch;
  const std::string html = scratch.write("a.html", "<html><body><p>text</p></body></html>");
  BOOST_CHECK_THROW(page::make_pdfs({{html, scratch.path("a.pdf")}}, [] { throw Enough{}; }),
                    Enough);
  BOOST_TEST(waitpid(-1, nullptr, WNOHANG) == -1); // no child is left
}
