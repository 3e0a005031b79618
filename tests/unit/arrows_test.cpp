// Folders know only the folders below them, and heavy libraries stay where they belong.
#define BOOST_TEST_MODULE arrows
#include <boost/test/unit_test.hpp>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <string>
#include <vector>

namespace
{

namespace fs = std::filesystem;

const std::map<std::string, std::vector<std::string>>& may_know()
{
  static const std::map<std::string, std::vector<std::string>> arrows{
      {"meshing", {"meshing"}},
      {"solver", {"meshing", "solver"}},
      {"viz", {"meshing", "solver", "viz"}},
      {"cases", {"meshing", "solver", "viz", "cases"}}};
  return arrows;
}

// What is wrong with the includes of one source text, or nothing.
std::vector<std::string> violations(const std::string& folder, const std::string& text)
{
  std::vector<std::string> wrong;
  const std::regex include(R"(#include\s+[<"]([^>"]+)[>"])");
  for (auto it = std::sregex_iterator(text.begin(), text.end(), include);
       it != std::sregex_iterator(); ++it) {
    const std::string file = (*it)[1];
    const std::string top = file.substr(0, file.find('/'));
    const auto& known = may_know().at(folder);
    const bool ours = may_know().count(top) > 0 || top == "tests";
    if (ours && std::find(known.begin(), known.end(), top) == known.end())
      wrong.push_back(folder + " includes " + file);
    if (file.rfind("gmsh", 0) == 0 && folder != "meshing")
      wrong.push_back("Gmsh outside meshing: " + file);
    if (file.rfind("vtk", 0) == 0 && folder != "viz")
      wrong.push_back("VTK outside viz: " + file);
  }
  return wrong;
}

std::string read(const fs::path& path)
{
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), {}};
}

} // namespace

BOOST_AUTO_TEST_CASE(includes_follow_the_arrows)
{
  int files = 0;
  for (const auto& [folder, known] : may_know())
    for (const auto& entry :
         fs::recursive_directory_iterator(fs::path(HANGTRUE_SOURCE_DIR) / folder)) {
      const auto ending = entry.path().extension();
      if (ending != ".cpp" && ending != ".hpp")
        continue;
      ++files;
      for (const auto& wrong : violations(folder, read(entry.path())))
        BOOST_ERROR(entry.path().string() << ": " << wrong);
    }
  BOOST_TEST(files > 40);
}

BOOST_AUTO_TEST_CASE(heavy_headers_stay_out_of_headers)
{
  for (const auto& [folder, known] : may_know())
    for (const auto& entry :
         fs::recursive_directory_iterator(fs::path(HANGTRUE_SOURCE_DIR) / folder)) {
      if (entry.path().extension() != ".hpp")
        continue;
      const std::string text = read(entry.path());
      for (const std::string heavy :
           {"<deal.II", "<gmsh", "<vtk", "<toml++", "<CLI", "<Eigen", "<nlohmann/json.hpp"})
        BOOST_TEST(text.find("#include " + heavy) == std::string::npos,
                   entry.path().string() << " includes " << heavy);
    }
}

BOOST_AUTO_TEST_CASE(a_planted_violation_is_found)
{
  BOOST_TEST(violations("meshing", "#include \"solver/material/steel_properties.hpp\"\n").size() ==
             1U);
  BOOST_TEST(violations("solver", "#include <gmsh.h>\n").size() == 1U);
  BOOST_TEST(violations("cases", "#include <vtkCellArray.h>\n").size() == 1U);
  BOOST_TEST(violations("cases", "#include \"viz/vtu_writer.hpp\"\n").empty());
}
