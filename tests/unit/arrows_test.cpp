// SPDX-License-Identifier: GPL-3.0-or-later
// Folders know only the folders before them in one list, modules use each other in one direction, a
// folder stays small enough to be read, and heavy libraries stay where they belong.
#define BOOST_TEST_MODULE arrows
#include "tests/support/source_texts.hpp"

#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <filesystem>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace
{

namespace fs = std::filesystem;

// A file may include those of its own folder and of all folders before it.
const std::vector<std::string>& folders()
{
  static const std::vector<std::string> order{
      "meshing/common",      "meshing/door",      "meshing/mesh",    "meshing/section",
      "meshing/sweep",       "meshing/quality",   "solver/material", "solver/linear_algebra",
      "solver/fe",           "solver/elasticity", "solver/heat",     "solver/substructuring",
      "solver/contact",      "solver/system",     "solver/strength", "solver/qoi",
      "solver/error",        "solver/firing",     "solver/analysis", "solver/sensitivity",
      "solver/field_output", "viz/page",          "viz/plots",       "viz/scene",
      "viz/figures",         "viz/sheet",         "cases/input",     "cases/runtime",
      "cases/verdict",       "cases/check",       "cases/output",    "cases/figures",
      "cases/compare",       "cases/program"};
  return order;
}

constexpr int max_modules = 15; // of a folder

using hangtrue::Sources;

std::string folder_of(const std::string& path)
{
  return fs::path(path).parent_path().string();
}

std::string without_ending(const std::string& path)
{
  return path.substr(0, path.rfind('.'));
}

// Place in the list, or -1 of a folder that is not there.
int place_of(const std::string& folder)
{
  const auto at = std::find(folders().begin(), folders().end(), folder);
  return at != folders().end() ? static_cast<int>(at - folders().begin()) : -1;
}

std::vector<std::string> includes_of(const std::string& text)
{
  std::vector<std::string> files;
  const std::regex include(R"(#include\s+[<"]([^>"]+)[>"])");
  for (auto it = std::sregex_iterator(text.begin(), text.end(), include);
       it != std::sregex_iterator(); ++it)
    files.push_back((*it)[1]);
  return files;
}

bool is_ours(const std::string& file)
{
  const std::string top = file.substr(0, file.find('/'));
  return top == "meshing" || top == "solver" || top == "viz" || top == "cases" || top == "tests";
}

// What is wrong with the includes of one source text, or nothing.
std::vector<std::string> violations(const std::string& folder, const std::string& text)
{
  std::vector<std::string> wrong;
  if (place_of(folder) < 0)
    wrong.push_back(folder + " is not in the list of folders");
  for (const auto& file : includes_of(text)) {
    const int place = place_of(folder_of(file));
    if (is_ours(file) && (place < 0 || place > place_of(folder)))
      wrong.push_back(folder + " includes " + file);
    if (file.rfind("gmsh", 0) == 0 && folder.rfind("meshing", 0) != 0)
      wrong.push_back("Gmsh outside meshing: " + file);
    if (file.rfind("vtk", 0) == 0 && folder.rfind("viz", 0) != 0)
      wrong.push_back("VTK outside viz: " + file);
  }
  return wrong;
}

// A module is a header with its sources: that of its own name, and those that extend it by a word.
// A source without a header is a module by itself.
std::string module_of(const std::string& path, const Sources& sources)
{
  const std::string whole = without_ending(path);
  const std::size_t name = folder_of(path).size();
  for (std::size_t end = whole.size(); end != std::string::npos && end > name;
       end = whole.rfind('_', end - 1))
    if (sources.count(whole.substr(0, end) + ".hpp") > 0)
      return whole.substr(0, end);
  return whole;
}

// Which modules each module uses.
using Uses = std::map<std::string, std::set<std::string>>;

Uses uses_of(const Sources& sources)
{
  Uses uses;
  for (const auto& [path, text] : sources) {
    const std::string user =
        path.ends_with(".hpp") ? without_ending(path) : module_of(path, sources);
    auto& used = uses[user];
    for (const auto& file : includes_of(text))
      if (sources.count(file) > 0 && without_ending(file) != user)
        used.insert(without_ending(file));
  }
  return uses;
}

// Takes away, again and again, what uses nothing that is left or is used by nothing that is left:
// what remains are the cycles and what lies between them.
std::vector<std::string> cycles(const Sources& sources)
{
  Uses uses = uses_of(sources);
  for (bool smaller = true; smaller;) {
    std::set<std::string> used;
    for (const auto& [user, all] : uses)
      used.insert(all.begin(), all.end());
    const auto open = [&](const auto& m) { return m.second.empty() || used.count(m.first) == 0; };
    std::vector<std::string> gone;
    for (const auto& m : uses)
      if (open(m))
        gone.push_back(m.first);
    for (const auto& name : gone)
      uses.erase(name);
    for (auto& m : uses)
      for (const auto& name : gone)
        m.second.erase(name);
    smaller = !gone.empty();
  }
  std::vector<std::string> left;
  for (const auto& m : uses)
    left.push_back(m.first);
  return left;
}

// Folders with more modules than a reader takes in at once.
std::vector<std::string> crowded(const Sources& sources)
{
  std::map<std::string, int> modules;
  for (const auto& m : uses_of(sources))
    ++modules[folder_of(m.first)];
  std::vector<std::string> full;
  for (const auto& [folder, count] : modules)
    if (count > max_modules)
      full.push_back(folder + " has " + std::to_string(count) + " modules");
  return full;
}

// Comparisons of texts where numbers are computed and evaluated: with a literal, unless it is a key
// of the door file ("gasket.curve"), or with the result of a label function.
std::vector<std::string> compared_labels(const std::string& text)
{
  std::vector<std::string> found;
  for (const std::regex& pattern :
       {std::regex(R"re((==|!=)\s*"[^".]*")re"), std::regex(R"re(find\("[^".]*")re"),
        std::regex(R"re(_label\([^;]*\)\s*(==|!=))re"), std::regex(R"re((==|!=)\s*\w+_label\()re")})
    for (auto it = std::sregex_iterator(text.begin(), text.end(), pattern);
         it != std::sregex_iterator(); ++it)
      found.push_back(it->str());
  return found;
}

Sources all_sources()
{
  return hangtrue::source_texts({"meshing", "solver", "viz", "cases"});
}

std::string include(const std::string& file)
{
  return "#include \"" + file + "\"\n";
}

} // namespace

BOOST_AUTO_TEST_CASE(includes_follow_the_arrows)
{
  const Sources sources = all_sources();
  for (const auto& [path, text] : sources)
    for (const auto& wrong : violations(folder_of(path), text))
      BOOST_ERROR(path << ": " << wrong);
  BOOST_TEST(sources.size() > 40U);
}

BOOST_AUTO_TEST_CASE(modules_use_each_other_in_one_direction)
{
  for (const auto& name : cycles(all_sources()))
    BOOST_ERROR(name << " lies on a cycle of includes, or between two");
}

BOOST_AUTO_TEST_CASE(folders_stay_small)
{
  for (const auto& folder : crowded(all_sources()))
    BOOST_ERROR(folder << ", allowed are " << max_modules);
}

// Tensors of deal.II by value, for sources only: its headers take four seconds of a source.
const std::set<std::string>& tensor_headers()
{
  static const std::set<std::string> result{"solver/fe/tensors.hpp", "solver/elasticity/stress.hpp",
                                            "solver/elasticity/gradient_product.hpp",
                                            "solver/strength/plate_stress_average.hpp"};
  return result;
}

BOOST_AUTO_TEST_CASE(heavy_headers_stay_out_of_headers)
{
  for (const auto& [path, text] : all_sources()) {
    if (!path.ends_with(".hpp") || tensor_headers().count(path) > 0)
      continue;
    for (const std::string heavy :
         {"<deal.II", "<gmsh", "<vtk", "<toml++", "<CLI", "<Eigen", "<nlohmann/json.hpp"})
      BOOST_TEST(text.find("#include " + heavy) == std::string::npos,
                 path << " includes " << heavy);
    for (const auto& file : includes_of(text))
      BOOST_TEST(tensor_headers().count(file) == 0U, path << " includes " << file);
  }
}

// States, quantities and parts are identified by type; labels for a reader decide nothing.
BOOST_AUTO_TEST_CASE(no_label_is_compared)
{
  for (const auto& [path, text] : all_sources()) {
    const std::string folder = folder_of(path);
    if (folder.rfind("solver/", 0) == 0 || folder == "viz/figures" || folder == "cases/verdict" ||
        folder == "cases/check" || folder == "cases/output" || folder == "cases/figures")
      for (const auto& found : compared_labels(text))
        BOOST_ERROR(path << " compares a text: " << found);
  }
  BOOST_TEST(compared_labels("if (check.name == \"drop of the latch corner\")").size() == 1U);
  BOOST_TEST(compared_labels("state.rfind(\"closed\", 0)").size() == 1U);
  BOOST_TEST(compared_labels("state_label(a.state) == state_label(b.state)").size() == 2U);
  BOOST_TEST(compared_labels("part.key == \"gasket.curve\"").empty());
}

BOOST_AUTO_TEST_CASE(a_planted_violation_is_found)
{
  const auto wrong = [](const std::string& folder, const std::string& text) {
    return violations(folder, text).size();
  };
  BOOST_TEST(wrong("meshing/door", include("solver/material/steel_properties.hpp")) == 1U);
  BOOST_TEST(wrong("solver/heat", include("solver/contact/latch_model.hpp")) == 1U);
  BOOST_TEST(wrong("cases/verdict", include("cases/check/check_run.hpp")) == 1U);
  BOOST_TEST(wrong("viz/scene", include("viz/sheet/interactive_view.hpp")) == 1U);
  BOOST_TEST(wrong("solver/heat", include("solver/no_such_folder/heat.hpp")) == 1U);
  BOOST_TEST(wrong("solver/no_such_folder", "") == 1U);
  BOOST_TEST(wrong("cases/program", include("tests/support/book.hpp")) == 1U);
  BOOST_TEST(wrong("solver/heat", "#include <gmsh.h>\n") == 1U);
  BOOST_TEST(wrong("cases/output", "#include <vtkCellArray.h>\n") == 1U);
  BOOST_TEST(wrong("cases/program", include("solver/field_output/state_file.hpp")) == 0U);
  BOOST_TEST(wrong("viz/sheet", include("viz/scene/scene.hpp")) == 0U);
  BOOST_TEST(wrong("solver/contact", include("solver/contact/latch_model.hpp")) == 0U);
}

BOOST_AUTO_TEST_CASE(a_planted_cycle_is_found)
{
  const std::vector<std::string> both{"solver/heat/a", "solver/heat/b"};
  // From header to header, from source to header, through a source whose name extends its header's,
  // and with modules before and behind that are in no cycle.
  const Sources headers{{"solver/heat/a.hpp", include("solver/heat/b.hpp")},
                        {"solver/heat/b.hpp", include("solver/heat/a.hpp")}};
  BOOST_TEST((cycles(headers) == both));
  Sources sources{{"solver/heat/a.hpp", include("solver/heat/b.hpp")},
                  {"solver/heat/b.hpp", include("solver/fe/c.hpp")},
                  {"solver/heat/b.cpp", include("solver/heat/b.hpp")},
                  {"solver/fe/c.hpp", ""},
                  {"solver/analysis/d.hpp", include("solver/heat/a.hpp")}};
  BOOST_TEST(cycles(sources).empty());
  sources["solver/heat/b.cpp"] += include("solver/heat/a.hpp");
  BOOST_TEST((cycles(sources) == both));
  sources["solver/heat/b.cpp"] = include("solver/heat/b.hpp");
  sources["solver/heat/b_more_words.cpp"] = include("solver/heat/a.hpp");
  BOOST_TEST((cycles(sources) == both));
}

BOOST_AUTO_TEST_CASE(a_crowded_folder_is_found)
{
  Sources sources;
  for (int i = 0; i < max_modules; ++i)
    for (const char* ending : {".hpp", ".cpp"})
      sources["solver/fe/m" + std::to_string(i) + ending] = "";
  BOOST_TEST(crowded(sources).empty());
  sources["solver/fe/one_more.hpp"] = "";
  BOOST_TEST(crowded(sources).size() == 1U);
}
