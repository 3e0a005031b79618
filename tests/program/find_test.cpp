// SPDX-License-Identifier: GPL-3.0-or-later
// `hangtrue find` as its user runs it: against the table of all variants, which is an independent
// route to the same result.
#define BOOST_TEST_MODULE find
#include <boost/test/unit_test.hpp>

#include "tests/support/program_folder.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <map>
#include <string>

namespace fs = std::filesystem;
using hangtrue::test::Ran;
using hangtrue::test::read;
using Json = nlohmann::json;

namespace
{

struct Folder : hangtrue::test::Folder {
  Folder() : hangtrue::test::Folder("hangtrue find")
  {
    write("door.toml", R"([door]
name = "Little door"
width = "12 in"
height = "14 in"
[[hinge]]
at = "3 in"
[[hinge]]
at = "11 in"
[accuracy]
finest_level = 1
[limits]
drop = "0.028 in"
elastic_sag = "1/16 in"
[prices]
currency = "dollars"
steel = "1.10 /lb"
close_bore = 6
)");
  }
};

// Skins change the weight by pounds, bores by almost nothing; only reamed bores keep the drop
// small.
const std::string tries = " --try 'skins.outer: 3/16 in | 1/4 in' "
                          "--try 'hinge.clearance: reamed | drilled' ";

// The least `measure` in the table among variants that hold, and how many are below it.
struct Best {
  std::string folder;
  std::size_t below = 0;
  double measure = 0.0;
};
Best best_of(const Json& table, const std::string& measure)
{
  Best best;
  for (const auto& v : table["variants"])
    if (v["verdict"] == "holds" && (best.folder.empty() || v[measure].get<double>() < best.measure))
      best = {v["folder"], 0, v[measure]};
  for (const auto& v : table["variants"])
    if (v[measure].get<double>() < best.measure)
      ++best.below;
  return best;
}

bool says(const Ran& ran, const std::string& words)
{
  return ran.out.find(words) != std::string::npos;
}

} // namespace

BOOST_AUTO_TEST_CASE(it_finds_what_the_whole_table_shows)
{
  const Folder folder;
  BOOST_TEST(folder.run("compare door.toml --out whole" + tries).status == 0);
  const Json table = Json::parse(read(folder.path / "whole" / "table.json"));
  for (const auto& [asked, measure] :
       {std::pair<std::string, std::string>{"", "weight_N"}, {"--by-price ", "cost"}}) {
    const Best best = best_of(table, measure);
    BOOST_TEST(best.below > 0U); // or the first that is tried is right by chance
    const Ran ran = folder.run("find door.toml --workers 1 --out own" + asked.substr(0, 2) + " " +
                               asked + tries);
    BOOST_TEST_CONTEXT(ran.out << ran.err)
    {
      BOOST_TEST(ran.status == 0);
      BOOST_TEST(says(ran, "Verified"));
      BOOST_TEST(says(ran, best.folder));
      // One worker takes them in order, so nothing after the result is computed.
      BOOST_TEST(says(ran, std::to_string(best.below + 1) + " of 4 variants checked"));
    }
  }
}

BOOST_AUTO_TEST_CASE(results_of_compare_count)
{
  const Folder folder;
  BOOST_TEST(folder.run("compare door.toml --out both" + tries).status == 0);
  std::map<std::string, fs::file_time_type> before;
  for (const auto& entry : fs::directory_iterator(folder.path / "both"))
    if (fs::exists(entry.path() / "row.json"))
      before[entry.path().string()] = fs::last_write_time(entry.path() / "row.json");
  const Ran ran = folder.run("find door.toml --out both" + tries);
  BOOST_TEST(ran.status == 0);
  BOOST_TEST(says(ran, "4 of 4 variants checked"));
  BOOST_TEST(before.size() == 4U);
  for (const auto& [path, time] : before)
    BOOST_TEST((fs::last_write_time(fs::path(path) / "row.json") == time), path);
}

BOOST_AUTO_TEST_CASE(nothing_that_fails_is_called_verified)
{
  const Folder folder;
  const Ran none =
      folder.run("find door.toml --out none --try 'hinge.clearance: drilled | 0.03 in'");
  BOOST_TEST_CONTEXT(none.out << none.err)
  {
    BOOST_TEST(none.status == 1);
    BOOST_TEST(says(none, "2 of 2 variants checked"));
    BOOST_TEST(says(none, "None of them holds every check"));
    BOOST_TEST(!says(none, "Verified"));
  }
  // The cheapest without prices is a wrong question, and nothing is written.
  std::string text = read(folder.path / "door.toml");
  folder.write("plain.toml", text.substr(0, text.find("[prices]")));
  const Ran plain = folder.run("find plain.toml --by-price --out never" + tries);
  BOOST_TEST_CONTEXT(plain.err)
  {
    BOOST_TEST(plain.status == 2);
    BOOST_TEST(plain.err.find("[prices]") != std::string::npos);
    BOOST_TEST(!fs::exists(folder.path / "never"));
  }
}
