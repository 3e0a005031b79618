// SPDX-License-Identifier: GPL-3.0-or-later
// `hangtrue compare` as its user runs it.
#define BOOST_TEST_MODULE compare
#include <boost/test/unit_test.hpp>

#include "tests/support/program_folder.hpp"
#include "tests/support/running_program.hpp"

#include <nlohmann/json.hpp>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

namespace fs = std::filesystem;
using hangtrue::test::Ran;
using hangtrue::test::read;
using Json = nlohmann::json;

namespace
{

struct Folder : hangtrue::test::Folder {
  Folder() : hangtrue::test::Folder("hangtrue compare") {}
};

const std::string small_door = R"([door]
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
drop = "1/4 in"
[prices]
currency = "dollars"
steel = "1.10 /lb"
close_bore = 6
)";

// When each variant's row was written.
std::map<std::string, fs::file_time_type> written(const fs::path& folder)
{
  std::map<std::string, fs::file_time_type> times;
  for (const auto& entry : fs::directory_iterator(folder))
    if (fs::exists(entry.path() / "row.json"))
      times[entry.path().filename().string()] = fs::last_write_time(entry.path() / "row.json");
  return times;
}

} // namespace

BOOST_AUTO_TEST_CASE(a_full_table_is_computed_once_and_grows)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const std::string two = "compare door.toml --try 'hinge.pin_diameter: 3/4 in | 1 in'";
  const Ran ran = folder.run(two);
  BOOST_TEST_CONTEXT(ran.out << ran.err)
  {
    BOOST_TEST(ran.status == 0);
    BOOST_TEST(ran.err.empty()); // quiet in a pipe
  }
  const Json table = Json::parse(read(folder.path / "door-compare" / "table.json"));
  BOOST_TEST(table["variants"].size() == 2U);
  BOOST_TEST(table["variants"][0]["settings"]["hinge.pin_diameter"] == "3/4 in");
  // The same as a chart, every variant with its verdict, with the line of the limit.
  BOOST_TEST(read(folder.path / "door-compare" / "drop-shares.pdf").substr(0, 5) == "%PDF-");
  const std::string svg = read(folder.path / "door-compare" / "drop-shares.svg");
  for (const std::string word : {"1: hinge.pin_diameter 3/4 in", "2: hinge.pin_diameter 1 in",
                                 "play in hinge 1", "limit 0.2500 in (1/4)", "close"})
    BOOST_TEST(svg.find(word) != std::string::npos, word);
  BOOST_TEST(read(folder.path / "door-compare" / "captions.txt").find("add up to the drop") !=
             std::string::npos);
  // Every variant is a whole door file whose own check gives the same drop to rounding.
  const std::string name = table["variants"][0]["folder"];
  BOOST_TEST(folder.run("check 'door-compare/" + name + "/door.toml' --out single").status == 0);
  const Json single = Json::parse(read(folder.path / "single" / "results.json"));
  const double drop = table["variants"][0]["drop_m"];
  BOOST_TEST(single["states"][0]["drop_m"].get<double>() == drop,
             boost::test_tools::tolerance(1e-6)); // another number of threads rounds otherwise
  // A longer plan leaves what is done alone.
  const auto before = written(folder.path / "door-compare");
  BOOST_TEST(folder.run(two + " --try 'handle.force: 0 lbf .. 20 lbf by 20 lbf'").status == 0);
  const Json longer = Json::parse(read(folder.path / "door-compare" / "table.json"));
  BOOST_TEST(longer["variants"].size() == 4U);
  BOOST_TEST(folder.run(two).status == 0);
  const auto after = written(folder.path / "door-compare");
  for (const auto& [variant, time] : before)
    BOOST_TEST((after.at(variant) == time), variant);
}

BOOST_AUTO_TEST_CASE(two_partitions_give_the_table_of_one)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  folder.write("plan.toml", "[[try]]\n\"hinge.clearance\" = [\"reamed\", \"drilled\"]\n"
                            "[[try]]\n\"hinge[0].at\" = [\"3 in\", \"2-3/4 in\"]\n"
                            "\"hinge[1].at\" = [\"11 in\", \"11-1/4 in\"]\n");
  const std::string words = "compare door.toml --plan plan.toml --workers 1";
  BOOST_TEST(folder.run(words + " --out whole").status == 0);
  const Ran first = folder.run(words + " --out parts --share 1/2");
  BOOST_TEST(first.status == 0);
  BOOST_TEST(first.out.find("with others") != std::string::npos);
  BOOST_TEST(!fs::exists(folder.path / "parts" / "table.csv"));
  // The second by its place under a launcher.
  BOOST_TEST(folder.run(words + " --out parts", "PMI_RANK=1 PMI_SIZE=2").status == 0);
  BOOST_TEST(read(folder.path / "whole" / "table.csv") ==
             read(folder.path / "parts" / "table.csv"));
  fs::remove(folder.path / "parts" / "table.csv");
  BOOST_TEST(folder.run(words + " --out parts --gather").status == 0);
  BOOST_TEST(read(folder.path / "whole" / "table.csv") ==
             read(folder.path / "parts" / "table.csv"));
  BOOST_TEST(read(folder.path / "whole" / "table.json") ==
             read(folder.path / "parts" / "table.json"));
}

BOOST_AUTO_TEST_CASE(two_ranks_of_a_launcher_give_the_table_of_one)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const std::string words = "compare door.toml --try 'hinge.clearance: reamed | drilled' "
                            "--try 'handle.force: 0 lbf | 20 lbf'";
  BOOST_TEST(folder.run(words + " --workers 1 --out whole").status == 0);
  // Open MPI requires permission to run as root (containers have no other user), counts processors,
  // and need not look for other machines.
  const Ran ran = folder.run(words + " --out parts",
                             "OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 "
                             "OMPI_MCA_plm=isolated mpirun --oversubscribe -n 2");
  BOOST_TEST_CONTEXT(ran.out << ran.err)
  {
    BOOST_TEST(ran.status == 0);
  }
  BOOST_TEST(written(folder.path / "parts").size() == 4U);
  // The rank that ended last wrote the table.
  for (const auto* name : {"table.csv", "table.json", "table.txt"}) {
    BOOST_TEST(!read(folder.path / "parts" / name).empty(), name);
    BOOST_TEST(read(folder.path / "whole" / name) == read(folder.path / "parts" / name), name);
  }
}

BOOST_AUTO_TEST_CASE(an_interrupted_run_is_resumed)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const std::string words = "compare door.toml --try 'hinge.end_float: 0 in .. 0.06 in in 7'";
  // Killed once a variant is done, independent of the machine's speed.
  BOOST_TEST(folder
                 .run(words,
                      "bash -c '\"$0\" \"$@\" & while kill -0 $! && ! find door-compare -name "
                      "row.json 2>/dev/null | grep -q .; do sleep 0.05; done; kill -KILL "
                      "$!; wait $!'")
                 .status != 0);
  const auto before = written(folder.path / "door-compare");
  BOOST_TEST(!before.empty());
  BOOST_TEST(folder.run(words).status == 0);
  const auto after = written(folder.path / "door-compare");
  BOOST_TEST(after.size() == 7U);
  for (const auto& [variant, time] : before)
    BOOST_TEST((after.at(variant) == time), variant);
}

BOOST_AUTO_TEST_CASE(what_cannot_be_built_is_a_row_and_what_is_wrong_is_refused)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  // 1-1/2 in barrels cannot take a 1-5/8 in pin.
  BOOST_TEST(folder.run("compare door.toml --try 'hinge.pin_diameter: 1 in | 1-5/8 in'").status ==
             0);
  const Json table = Json::parse(read(folder.path / "door-compare" / "table.json"));
  BOOST_TEST(table["variants"][1]["verdict"] == "impossible");
  BOOST_TEST(table["variants"][1]["note"].get<std::string>().find("pin_diameter") !=
             std::string::npos);
  const std::map<std::string, std::string> wrong{
      {"'hinge.pin_diamter: 1 in'", "hinge.pin_diameter"},
      {"'hinge.pin_diameter: 1'", "unit is missing"},
      {"'hinge.pin_diameter: 1 kg'", "allowed is"},
      {"'hinge.pin_diameter: 1 in |'", "empty value"},
      {"'hinge[2].at: 3 in'", "index from 0 to 1"},
      {"'hinge[0].at & hinge[1].at: 3 in'", "one for each key"},
      {"'hinge.pin_diameter 1 in'", "no colon"},
      {"':'", "no key before the colon"},
      {"': 1 in'", "no key before the colon"},
      {"'&: 1 in'", "does not have"},
      {"'hinge.pin_diameter: 1 in .. 2 in'", "how far apart"},
      {"'hinge.pin_diameter: 1 in .. 2 in by 0 in'", "1 to 1000"},
      {"'hinge.pin: floating .. fixed by 1'", "a list for this key"},
      {"'hinge.pin: loose'", "floating"},
      {"'hinge.pin_diameter: 1-5/8 in'", "no other variant"}};
  for (const auto& [words, said] : wrong) {
    const Ran ran = folder.run("compare door.toml --out none --try " + words);
    BOOST_TEST_CONTEXT(words << ": " << ran.err)
    {
      BOOST_TEST(ran.status == 2);
      BOOST_TEST(ran.err.find(said) != std::string::npos);
    }
  }
  BOOST_TEST(folder.run("compare door.toml --out none").status == 2);
  BOOST_TEST(
      folder.run("compare door.toml --out none --share 3/2 --try 'hinge.pin: fixed'").status == 2);
  BOOST_TEST(!fs::exists(folder.path / "none"));
}

// Missing variants are reported with their reason, and never count as done. Here two of four
// folders cannot be created, as on a full disk: files are in their places.
BOOST_AUTO_TEST_CASE(missing_variants_are_reported_and_are_no_result)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const std::string tries = " door.toml --try 'hinge.pin_diameter: 3/4 in | 1 in' "
                            "--try 'handle.force: 0 lbf | 20 lbf'";
  BOOST_TEST(folder.run("compare" + tries).status == 0);
  const fs::path out = folder.path / "door-compare";
  const Json table = Json::parse(read(out / "table.json"));
  for (const int v : {1, 3}) {
    const std::string name = table["variants"][v]["folder"];
    fs::remove_all(out / name);
    folder.write("door-compare/" + name, "in the way");
  }
  for (const std::string workers : {" --workers 1", " --workers 2"}) {
    const Ran ran = folder.run("compare" + tries + workers);
    BOOST_TEST_CONTEXT(ran.out << ran.err)
    {
      BOOST_TEST(ran.status == 3);
      BOOST_TEST(ran.out.find("Every variant") == std::string::npos);
      BOOST_TEST(ran.out.find("2 of 4 variants with their door files are in") != std::string::npos);
      for (const std::string words : {"2 missing: ", "4 missing: ", "it is a file"})
        BOOST_TEST(ran.out.find(words) != std::string::npos, words);
      BOOST_TEST(ran.err.find("2 of 4 variants are missing") != std::string::npos);
    }
    const Json after = Json::parse(read(out / "table.json"));
    BOOST_TEST(after["variants"][1]["verdict"] == "missing");
    BOOST_TEST(after["variants"][1]["note"].get<std::string>().find("it is a file") !=
               std::string::npos);
  }
  // Which of them is the lightest is not known then.
  const Ran found = folder.run("find" + tries + " --workers 1");
  BOOST_TEST_CONTEXT(found.out << found.err)
  {
    BOOST_TEST(found.status == 3);
    BOOST_TEST(found.out.find("is not known") != std::string::npos);
    BOOST_TEST(found.out.find("None of them") == std::string::npos);
    BOOST_TEST(found.out.find("Verified") == std::string::npos);
    BOOST_TEST(found.err.find("it is a file") != std::string::npos);
  }
}

// The only worker is killed once a first variant is there.
BOOST_AUTO_TEST_CASE(a_killed_worker_is_reported)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  hangtrue::test::Running run(folder.path, {HANGTRUE_PROGRAM, "compare", "door.toml", "--workers",
                                            "1", "--try", "hinge.end_float: 0 in .. 0.06 in in 7"});
  BOOST_REQUIRE(hangtrue::test::seen(run.process(), [&] {
    std::error_code none;
    return fs::exists(folder.path / "door-compare", none) &&
           !written(folder.path / "door-compare").empty();
  }));
  const std::string owner = std::to_string(run.process());
  pid_t worker = 0;
  std::ifstream("/proc/" + owner + "/task/" + owner + "/children") >> worker;
  BOOST_REQUIRE(worker > 0);
  kill(worker, SIGKILL);
  BOOST_TEST(run.end() == 3);
  const std::string said = read(folder.path / "out.txt");
  BOOST_TEST(said.find("missing: its worker was ended by signal 9") != std::string::npos, said);
  BOOST_TEST(said.find("no worker was left to do it") != std::string::npos, said);
  BOOST_TEST(said.find("Every variant") == std::string::npos, said);
}
