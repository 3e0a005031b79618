// Figures and sheet as their user makes them, without a display.
#define BOOST_TEST_MODULE figures_program
#include <boost/test/unit_test.hpp>

#include "tests/program_folder.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

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

BOOST_AUTO_TEST_CASE(what_there_is_not_is_refused_before_the_work)
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

// Neither Xvfb nor a display: charts come, and the message names the package.
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
  std::size_t at = 0;
  while ((at = html.find("http", at)) != std::string::npos) {
    BOOST_TEST(html.compare(at, 18, "http://www.w3.org/") == 0, html.substr(at, 60));
    at += 4;
  }
  const std::string pdf = read(folder.path / "s" / "sheet.pdf");
  BOOST_TEST(pdf.substr(0, 5) == "%PDF-");
  BOOST_TEST(pdf.find("/MediaBox [ 0 0 612 792 ]") != std::string::npos); // inches: Letter
  BOOST_TEST(pdf.find("/FontFile2") != std::string::npos);
}
