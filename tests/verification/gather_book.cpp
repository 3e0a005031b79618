// SPDX-License-Identifier: GPL-3.0-or-later
// Writes docs/verification.md from the rows of the verification tests.
//
//   gather_book <folder of rows> <skipped.txt> <verification.md>           writes the page
//   gather_book --check <folder of rows> <skipped.txt> <verification.md>   says where it is out of
//                                                                          date; only results may
//                                                                          differ
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>
#include <tuple>
#include <vector>

namespace
{

namespace fs = std::filesystem;

// As tests/support/book.cpp writes it, a line each.
struct Row {
  std::string key, source, id, quantity, unit, theirs, ours, band, why, held, test;
};

Row read_row(const fs::path& path)
{
  std::ifstream file(path);
  Row row;
  for (std::string* part : {&row.key, &row.source, &row.id, &row.quantity, &row.unit, &row.theirs,
                            &row.ours, &row.band, &row.why, &row.held, &row.test})
    if (!std::getline(file, *part))
      throw std::runtime_error(path.string() + " is not a whole row");
  return row;
}

// Numbers in an id as they count: 20 before 100.
bool counts_before(const std::string& a, const std::string& b)
{
  const auto digit = [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; };
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (digit(a[i]) && digit(b[j])) {
      const auto end_a = std::find_if_not(a.begin() + i, a.end(), digit) - a.begin();
      const auto end_b = std::find_if_not(b.begin() + j, b.end(), digit) - b.begin();
      const auto x = std::stoull(a.substr(i, end_a - i));
      const auto y = std::stoull(b.substr(j, end_b - j));
      if (x != y)
        return x < y;
      i = static_cast<std::size_t>(end_a);
      j = static_cast<std::size_t>(end_b);
    } else if (a[i] != b[j]) {
      return a[i] < b[j];
    } else {
      ++i;
      ++j;
    }
  }
  return a.size() - i < b.size() - j;
}

std::vector<Row> read_rows(const fs::path& folder)
{
  std::vector<Row> rows;
  if (fs::is_directory(folder))
    for (const auto& entry : fs::directory_iterator(folder))
      if (entry.path().extension() == ".row")
        rows.push_back(read_row(entry.path()));
  std::sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) {
    if (std::tie(a.key, a.source) != std::tie(b.key, b.source))
      return std::tie(a.key, a.source) < std::tie(b.key, b.source);
    return counts_before(a.id, b.id);
  });
  return rows;
}

std::string cell(const std::string& text)
{
  std::string result;
  for (const char c : text)
    result += c == '|' ? std::string("\\|") : std::string(1, c);
  return result;
}

std::string table_line(const Row& row, const std::string& ours)
{
  const std::string unit = row.unit.empty() ? "" : " " + row.unit;
  const std::string band = row.band.empty() ? row.why : row.band + ": " + row.why;
  return fmt::format("| {} | {} | {} | {} | {} | {} |", cell(row.id), cell(row.quantity),
                     cell(row.theirs + unit), cell(ours), cell(band), cell(row.test));
}

std::string read(const fs::path& path)
{
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string page(const std::vector<Row>& rows, const std::string& skipped)
{
  const auto held =
      std::count_if(rows.begin(), rows.end(), [](const Row& r) { return r.held == "held"; });
  std::string text = fmt::format(
      "# Published numbers beside ours\n\nMade by the tests; do not edit. To make it anew: `ctest "
      "--preset release -L verification`, then `cmake --build --preset release --target book`.\n"
      "{} rows, of which {} held, sorted by source. The last column names the test; run one with "
      "its numbers: `build/release/tests/<program> --log_level=message`. 'From memory' means that "
      "the published value was not read in its source for this project; most such values were "
      "recomputed. What is left out, and why, stands at the end.\n",
      rows.size(), held);
  std::string before;
  for (const Row& row : rows) {
    if (row.source != before)
      text += fmt::format("\n## {}\n\n{}\n\n| id | quantity | theirs | ours | band and why | test "
                          "|\n|---|---|---|---|---|---|\n",
                          row.key, row.source);
    before = row.source;
    text += table_line(row, row.ours + (row.held == "held" ? "" : " NOT HELD")) + "\n";
  }
  return text + "\n## Skipped\n\n" + skipped;
}

// The table lines of a page with the columns of numbers emptied: some references are computed too,
// and last digits differ from machine to machine.
std::set<std::string> lines_without_numbers(const std::string& text)
{
  std::set<std::string> lines;
  std::istringstream in(text.substr(0, text.find("\n## Skipped")));
  for (std::string line; std::getline(in, line);) {
    if (line.rfind("| ", 0) != 0 || line.rfind("| id |", 0) == 0)
      continue;
    std::vector<std::size_t> bars;
    for (std::size_t index = line.find(" | "); index != std::string::npos;
         index = line.find(" | ", index + 1))
      bars.push_back(index);
    if (bars.size() > 3)
      line.erase(bars[1], bars[3] - bars[1]);
    lines.insert(line);
  }
  return lines;
}

int check(const std::vector<Row>& rows, const std::string& skipped, const fs::path& target)
{
  const auto written = lines_without_numbers(read(target));
  const auto result = lines_without_numbers(page(rows, skipped));
  std::vector<std::string> odd;
  std::set_symmetric_difference(written.begin(), written.end(), result.begin(), result.end(),
                                std::back_inserter(odd));
  for (const auto& line : odd)
    std::cerr << (written.count(line) != 0 ? "only on the page: " : "only in this run: ") << line
              << '\n';
  const bool held =
      std::all_of(rows.begin(), rows.end(), [](const Row& r) { return r.held == "held"; });
  if (!held)
    std::cerr << "a row did not hold\n";
  if (!odd.empty())
    std::cerr << target.string()
              << " is out of date: run all tests of the label verification in a fresh build "
                 "folder, then the target book\n";
  std::cout << rows.size() << " rows\n";
  return odd.empty() && held && !rows.empty() ? 0 : 1;
}

} // namespace

int main(int argc, char** argv)
try {
  std::vector<std::string> words(argv + 1, argv + argc);
  const bool only_check = !words.empty() && words.front() == "--check";
  if (only_check)
    words.erase(words.begin());
  if (words.size() != 3)
    throw std::runtime_error("gather_book [--check] <folder of rows> <skipped.txt> <page>");
  const auto rows = read_rows(words[0]);
  const std::string skipped = read(words[1]);
  if (only_check)
    return check(rows, skipped, words[2]);
  std::ofstream file(words[2], std::ios::binary);
  file << page(rows, skipped);
  file.close();
  return file ? 0 : 1;
} catch (const std::exception& error) {
  std::cerr << error.what() << '\n';
  return 1;
}
