// SPDX-License-Identifier: GPL-3.0-or-later
// Figures and sheet as their user makes them, without a display.
#define BOOST_TEST_MODULE figures_program
#include <boost/test/unit_test.hpp>

#include "tests/support/program_folder.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

namespace fs = std::filesystem;
using hangtrue::test::Ran;
using hangtrue::test::read;

namespace
{

constexpr const char* small_door = R"([door]
name = "Door <b>one</b> & \"two\""
shop = "Shop of tests"
width = "16 in"
height = "16 in"
[rim]
width = "1-1/2 in"
[[hinge]]
at = "4 in"
pin_diameter = "3/4 in"
[[hinge]]
at = "12 in"
pin_diameter = "3/4 in"
[accuracy]
finest_level = 1
)";

struct Folder : hangtrue::test::Folder {
  Folder() : hangtrue::test::Folder("hangtrue figures") { write("door.toml", small_door); }
  [[nodiscard]] Ran run(const std::string& words, const std::string& before = "") const
  {
    return hangtrue::test::Folder::run(words, "env -u DISPLAY " + before);
  }
};

} // namespace

BOOST_AUTO_TEST_CASE(chosen_figures_in_chosen_formats)
{
  const Folder folder;
  const Ran ran = folder.run(
      "figures door.toml --out f --only drop,limits --format png,svg --size '6 in x 4 in'");
  BOOST_TEST_CONTEXT(ran.out << ran.err)
  {
    BOOST_TEST(ran.status == 0);
    for (const char* name : {"drop.png", "drop.svg", "limits.png", "limits.svg", "captions.txt"})
      BOOST_TEST(fs::exists(folder.path / "f" / name), name);
    BOOST_TEST(!fs::exists(folder.path / "f" / "door.png"));
  }
  const std::string svg = read(folder.path / "f" / "limits.svg");
  BOOST_TEST(svg.find("width=\"152.4mm\" height=\"101.6mm\"") != std::string::npos);
  BOOST_TEST(svg.find("<b>") == std::string::npos); // the name is text, whatever is in it
  BOOST_TEST(read(folder.path / "f" / "captions.txt").find("latch corner drops") !=
             std::string::npos);
}

BOOST_AUTO_TEST_CASE(unknown_names_are_refused_before_the_work)
{
  const Folder folder;
  for (const std::string wrong :
       {"--only drop,cow", "--format gif", "--size 7", "--size '1 in x 1 in'"}) {
    const Ran ran = folder.run("figures door.toml --out f " + wrong);
    BOOST_TEST(ran.status == 2, wrong);
    BOOST_TEST(ran.err.find("allowed") != std::string::npos, ran.err);
    BOOST_TEST(!fs::exists(folder.path / "f"));
  }
}

// Neither Xvfb nor a display: charts are written, and the message names the package.
BOOST_AUTO_TEST_CASE(without_a_display_the_charts_still_come)
{
  const Folder folder;
  const Ran ran = folder.run("figures door.toml --out f --format svg", "PATH=/nowhere");
  BOOST_TEST(ran.status == 0);
  BOOST_TEST(fs::exists(folder.path / "f" / "limits.svg"));
  BOOST_TEST(fs::exists(folder.path / "f" / "drop-parts.svg"));
  BOOST_TEST(!fs::exists(folder.path / "f" / "door.svg"));
  BOOST_TEST(ran.err.find("package xvfb") != std::string::npos, ran.err);
}

namespace
{

// What a command of the shell says, with its status.
Ran shell(const fs::path& folder, const std::string& words)
{
  const std::string command = "cd '" + folder.string() + "' && " + words + " > said.txt 2>&1";
  const int status = std::system(command.c_str());
  return {WEXITSTATUS(status), read(folder / "said.txt"), ""};
}

std::vector<std::string> lines_of(const std::string& text)
{
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);)
    lines.push_back(line);
  return lines;
}

// Two checkers: the parser of the HTML standard finds nothing to correct, and tidy nothing to warn
// of. Tidy takes the attributes of SVG in HTML for HTML's: sizes in mm and font-family (SVG 1.1,
// 7.10 and 10.10) are outside its scope.
void check_html(const fs::path& folder, const std::string& file)
{
  const Ran parsed = shell(
      folder, "/usr/bin/python3 '" HANGTRUE_SOURCE_DIR "/tests/program/html_faults.py' " + file);
  BOOST_TEST(parsed.status == 0, parsed.out);
  const Ran tidied = shell(folder, "tidy -quiet -errors --drop-empty-elements no "
                                   "--show-info no " +
                                       file);
  BOOST_TEST(tidied.status < 2, tidied.out);
  for (const auto& line : lines_of(tidied.out))
    BOOST_TEST(line.find("<svg>") != std::string::npos, line);
}

} // namespace

// The checkers themselves see what is wrong: a test that cannot fail is none.
BOOST_AUTO_TEST_CASE(the_checkers_of_html_find_faults)
{
  const Folder folder;
  folder.write("bad.html", "<!DOCTYPE html><html lang=\"en\"><head><title>x</title></head><body>"
                           "<table><tr><td>a</table><p>b<div>c</p></div>k &foo;</body></html>");
  const Ran parsed = shell(folder.path, "/usr/bin/python3 '" HANGTRUE_SOURCE_DIR
                                        "/tests/program/html_faults.py' bad.html");
  BOOST_TEST(parsed.status == 1);
  BOOST_TEST(parsed.out.find("unexpected-end-tag") != std::string::npos, parsed.out);
  BOOST_TEST(shell(folder.path, "tidy -quiet -errors bad.html").status != 0);
}

// A name that would be a script, an attribute's end and an entity is nothing but letters, in HTML
// and in SVG, on paper and in the turning of the door.
BOOST_AUTO_TEST_CASE(a_name_is_only_letters)
{
  const Folder folder;
  std::string door = small_door;
  const std::string name = "name = \"Door <b>one</b> & \\\"two\\\"\"";
  BOOST_REQUIRE(door.find(name) != std::string::npos);
  door.replace(door.find(name), name.size(), R"(name = "</title><script>alert(1)</script>&\"'")");
  const std::string shop = "shop = \"Shop of tests\"";
  door.replace(door.find(shop), shop.size(), R"(shop = "<img src=x onerror='alert(2)'>&amp;")");
  folder.write("door.toml", door);
  const Ran ran = folder.run("report door.toml --out s --revision '<i>' --number '\"><u>'");
  BOOST_TEST_CONTEXT(ran.out << ran.err)
  {
    BOOST_TEST(ran.status < 2);
  }
  const std::string html = read(folder.path / "s" / "sheet.html");
  BOOST_TEST(html.find("<script>alert") == std::string::npos);
  BOOST_TEST(html.find("<img") == std::string::npos);
  BOOST_TEST(html.find("<i>") == std::string::npos);
  BOOST_TEST(html.find("<u>") == std::string::npos);
  BOOST_TEST(html.find("&lt;script&gt;alert(1)&lt;/script&gt;&amp;&quot;") != std::string::npos);
  BOOST_TEST(html.find("&amp;amp;") != std::string::npos); // "&amp;" is written as it stands
  check_html(folder.path / "s", "sheet.html");
  const Ran figures = folder.run("figures door.toml --out f --only limits,drop --format svg");
  BOOST_TEST(figures.status == 0, figures.err);
  for (const char* file : {"limits.svg", "drop.svg"}) {
    const std::string svg = read(folder.path / "f" / file);
    BOOST_TEST(svg.find("<script") == std::string::npos);
    BOOST_TEST(svg.find("&lt;script&gt;") != std::string::npos, file);
  }
}

BOOST_AUTO_TEST_CASE(the_sheet_is_one_file_and_its_pdf)
{
  const Folder folder;
  const Ran ran = folder.run("report door.toml --out s --revision B --number 17 --date 2026-05-31");
  BOOST_TEST_CONTEXT(ran.out << ran.err)
  {
    BOOST_TEST((ran.status == 0 || ran.status == 1));
  }
  std::string html = read(folder.path / "s" / "sheet.html");
  for (const std::string part : {"Shop of tests", "2026-05-31", "<small>Revision</small>B",
                                 "Door &lt;b&gt;one&lt;/b&gt; &amp; &quot;two&quot;", "Figure 5."})
    BOOST_TEST(html.find(part) != std::string::npos, part);
  // Outside of the library and the names of XML spaces there is no address, and nothing is fetched
  // anywhere.
  BOOST_TEST(!std::regex_search(html, std::regex("<(script|img|link|iframe)[^>]*(src|href)=")));
  const std::size_t library = html.find("<script>");
  BOOST_REQUIRE(library != std::string::npos); // the door to turn
  html.erase(library, html.find("</script>", library) - library);
  std::size_t index = 0;
  while ((index = html.find("http", index)) != std::string::npos) {
    BOOST_TEST(html.compare(index, 18, "http://www.w3.org/") == 0, html.substr(index, 60));
    index += 4;
  }
  check_html(folder.path / "s", "sheet.html");
  // Inches: Letter. Five figures, two to a page at most, with verdicts before and the input echo
  // behind.
  const Ran info = shell(folder.path / "s", "pdfinfo sheet.pdf");
  BOOST_TEST(info.status == 0, info.out);
  std::smatch found;
  BOOST_REQUIRE_MESSAGE(std::regex_search(info.out, found, std::regex("Pages: +([0-9]+)")),
                        info.out);
  BOOST_TEST(std::stoi(found[1]) >= 5);
  BOOST_TEST(info.out.find("612 x 792 pts") != std::string::npos, info.out);
  // Every font is embedded (column "emb"), so that it looks the same everywhere.
  const auto faces = lines_of(shell(folder.path / "s", "pdffonts sheet.pdf").out);
  BOOST_REQUIRE(faces.size() >= 3U); // two lines of heading
  for (std::size_t i = 2; i < faces.size(); ++i) {
    BOOST_TEST(faces[i].find("Liberation-Sans") != std::string::npos, faces[i]);
    BOOST_TEST(std::regex_search(faces[i], std::regex(" yes (yes|no) (yes|no) +[0-9]")), faces[i]);
  }
  // All pages have text: none is empty, the last names the program that made it.
  const int pages = std::stoi(found[1]);
  for (int p = 1; p <= pages; ++p) {
    const std::string n = std::to_string(p);
    const Ran text = shell(folder.path / "s", "pdftotext -f " + n + " -l " + n + " sheet.pdf -");
    BOOST_TEST(text.out.find(n + " of " + std::to_string(pages)) != std::string::npos, text.out);
    BOOST_TEST(text.out.size() > 100U, text.out);
    BOOST_TEST((p < pages || text.out.find("Made with") != std::string::npos));
  }
}
