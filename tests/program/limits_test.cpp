// SPDX-License-Identifier: GPL-3.0-or-later
// The program where memory, disk and threads are not what it would like.
#define BOOST_TEST_MODULE limits
#include <boost/test/unit_test.hpp>

#include "tests/support/program_folder.hpp"

#include <filesystem>
#include <iterator>
#include <string>

namespace fs = std::filesystem;
using hangtrue::test::Ran;
using hangtrue::test::read;

namespace
{

// As cheap as a check can be: one hinge of two knuckles.
const std::string small_door = R"([door]
name = "Little door"
width = "12 in"
height = "14 in"
[[hinge]]
at = "7 in"
knuckles = 2
pin = "fixed"
[accuracy]
finest_level = 1
[limits]
drop = "1/4 in"
)";

struct Folder : hangtrue::test::Folder {
  Folder() : hangtrue::test::Folder("hangtrue limits") { write("door.toml", small_door); }
  [[nodiscard]] bool nothing_written() const { return !fs::exists(path / "out"); }
};

void check_said(const Ran& ran, int status, const std::string& said)
{
  BOOST_TEST_CONTEXT(ran.status << ": " << ran.err)
  {
    BOOST_TEST(ran.status == status);
    BOOST_TEST(ran.err.find(said) != std::string::npos);
  }
}

} // namespace

BOOST_AUTO_TEST_CASE(a_need_beyond_memory_is_refused_before_the_work)
{
  const Folder folder;
  check_said(folder.run("check door.toml --out out --room '250 MB'"), 3, "--room");
  check_said(folder.run("check door.toml --out out", "ulimit -v 850000;"), 3, "ulimit -v");
  check_said(folder.run("check door.toml --out out --room 4"), 2, "allowed is");
  BOOST_TEST(folder.nothing_written());
  // Reported before the work, and obeyed: most_memory_byte below the bound.
  const Ran ran = folder.run("check door.toml --out out --room '700 MB'");
  BOOST_TEST(ran.status == 1);
  BOOST_TEST(ran.out.find("needs about") != std::string::npos);
  const std::string timing = read(folder.path / "out" / "timing.json");
  const auto at = timing.find("most_memory_byte");
  BOOST_TEST(std::stod(timing.substr(timing.find(':', at) + 1)) < 7e8);
}

// The estimate may be wrong, or another process may take what was free: allocations that fail
// during the work end in a message too. The limit is set when the program is already working.
BOOST_AUTO_TEST_CASE(memory_that_runs_out_during_the_work)
{
  const Folder folder;
  for (const char* bytes : {"350000000", "450000000", "500000000"}) {
    const Ran ran =
        folder.run(std::string("check door.toml --out out > said.txt 2> trouble.txt & process=$!; "
                               "while kill -0 $process && ! grep -q 'needs about' said.txt; do "
                               "sleep 0.01; done; prlimit --pid $process --data=") +
                   bytes + "; wait $process");
    const std::string trouble = read(folder.path / "trouble.txt");
    BOOST_TEST_CONTEXT(bytes << ", status " << ran.status << ": " << trouble)
    {
      BOOST_TEST((ran.status == 3 || ran.status == 1));
      if (ran.status == 3) {
        BOOST_TEST(trouble.find("memory") != std::string::npos);
        BOOST_TEST(folder.nothing_written());
      }
    }
    fs::remove_all(folder.path / "out");
  }
}

// Observed before: door.msh and door-mesh.vtu were truncated, and the program reported success.
BOOST_AUTO_TEST_CASE(a_full_disk_leaves_nothing_half_written)
{
  const Folder folder;
  for (const char* blocks : {"1", "50", "200", "600"}) {
    // Blocks of 1024 bytes in bash, 512 in other shells; the files have 57 kB to 950 kB.
    const std::string limit = std::string("ulimit -f ") + blocks + ";";
    check_said(folder.run("mesh door.toml --level 1 --out out > /dev/null", limit), 2,
               "cannot be written");
    BOOST_TEST(folder.nothing_written());
  }
  check_said(folder.run("check door.toml --out out > /dev/null", "ulimit -f 100;"), 2,
             "cannot be written");
  BOOST_TEST(folder.nothing_written());
  // Earlier results stay as they were, and stay in the list.
  BOOST_TEST(folder.run("mesh door.toml --level 1 --out out").status == 0);
  const std::string before = read(folder.path / "out" / "door.msh");
  check_said(folder.run("mesh door.toml --level 1 --out out > /dev/null", "ulimit -f 50;"), 2,
             "cannot be written");
  BOOST_TEST(read(folder.path / "out" / "door.msh") == before);
  BOOST_TEST(folder.run("mesh door.toml --level 1 --out out").status == 0);
  // The list, the mesh, and two bodies: a fixed pin has none of its own.
  BOOST_TEST(std::distance(fs::directory_iterator(folder.path / "out"), fs::directory_iterator()) ==
             4);
}

BOOST_AUTO_TEST_CASE(the_same_door_gives_the_same_bytes)
{
  const Folder folder;
  for (const char* threads : {"1", "2"}) {
    const std::string number = threads;
    const Ran ran = folder.run("check door.toml --out out" + number,
                               "OPENBLAS_NUM_THREADS=" + number + " OMP_NUM_THREADS=" + number);
    BOOST_TEST(ran.status == 1);
  }
  for (const char* name : {"results.json", "drop.svg", "door-open.vtu", "frame-open.vtu"})
    BOOST_TEST((read(folder.path / "out1" / name) == read(folder.path / "out2" / name)), name);
  // A worker reuses substructures that it has; another number of workers distributes them
  // otherwise.
  const std::string words = "compare door.toml --try 'hinge.at: 7 in | 6 in' --try "
                            "'hinge.end_float: 0.02 in | 0.04 in' --try "
                            "'hinge.clearance: reamed | drilled'";
  BOOST_TEST(folder.run(words + " --out one --workers 1").status < 2);
  BOOST_TEST(folder.run(words + " --out two --workers 2").status < 2);
  int variants = 0;
  for (const auto& entry : fs::directory_iterator(folder.path / "one")) {
    const fs::path name = entry.path().filename();
    if (!entry.is_directory())
      continue;
    ++variants;
    BOOST_TEST(
        (read(entry.path() / "results.json") == read(folder.path / "two" / name / "results.json")),
        name);
    // And the same as the check of that one door.
    if (variants == 8)
      BOOST_TEST(folder.run("check one/" + name.string() + "/door.toml --out alone").status < 2);
    if (variants == 8)
      BOOST_TEST(
          (read(entry.path() / "results.json") == read(folder.path / "alone" / "results.json")));
  }
  BOOST_TEST(variants == 8);
  BOOST_TEST(
      (read(folder.path / "one" / "table.json") == read(folder.path / "two" / "table.json")));
}

// Other kernels of BLAS round otherwise: the guarantee of the same bytes holds for one set of them,
// which timing.json names. The numbers are the same: a factorization loses some 1e-16 times the
// condition of a door (1e6 to 1e8), and 1e-7 is the precision of the table of a comparison.
BOOST_AUTO_TEST_CASE(kernels_change_last_digits_only_and_are_named)
{
  const Folder folder;
  const auto drop = [&](const std::string& out) {
    const std::string results = read(folder.path / out / "results.json");
    const auto at = results.find("\"drop_m\"");
    BOOST_REQUIRE(at != std::string::npos);
    return std::stod(results.substr(results.find(':', at) + 1));
  };
  // The oldest that the library has for this family of processors: any of them runs it.
  BOOST_TEST(folder.run("check door.toml --out old", "OPENBLAS_CORETYPE=Prescott").status == 1);
  BOOST_TEST(folder.run("check door.toml --out own").status == 1);
  BOOST_TEST(read(folder.path / "old" / "timing.json").find("\"dense_kernels\": \"Prescott\"") !=
             std::string::npos);
  BOOST_TEST(read(folder.path / "own" / "timing.json").find("\"dense_kernels\": \"\"") ==
             std::string::npos);
  BOOST_TEST(drop("old") == drop("own"), boost::test_tools::tolerance(1e-7));
}
