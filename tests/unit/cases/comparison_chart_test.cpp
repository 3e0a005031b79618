// SPDX-License-Identifier: GPL-3.0-or-later
// The chart of a comparison: what is plotted, what is marked, what is left out.
#define BOOST_TEST_MODULE comparison_chart
#include <boost/test/unit_test.hpp>

#include "cases/compare/comparison_chart.hpp"
#include "cases/compare/comparison_table.hpp"
#include "solver/qoi/drop_contributions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace hangtrue;

namespace
{

compare::VariantResult row(compare::VariantState state, double drop, double cost, double weight)
{
  compare::VariantResult r;
  r.state = state;
  r.drop = drop;
  r.cost = cost;
  r.weight = weight;
  r.drop_limit = 0.002;
  r.shares = {{"play in hinge 1", 0.75 * drop}, {"jamb", 0.25 * drop}};
  return r;
}

compare::Comparison comparison(const std::vector<compare::VariantResult>& rows)
{
  compare::Comparison c{"Door <1> & more", input::UnitSystem::si, "dollars", {}, rows};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    compare::Variant v;
    v.number = static_cast<int>(i) + 1;
    v.settings = {{"hinge.pin_diameter", fmt::format("\"{} mm\"", 10 + i)}};
    c.variants.push_back(v);
  }
  return c;
}

bool says(const figures::Figure& f, const std::string& text)
{
  return std::any_of(f.page.labels.begin(), f.page.labels.end(), [&](const page::TextLabel& w) {
    return w.text.find(text) != std::string::npos;
  });
}

// Bars over 3 mm high, from left to right: those of the rows.
int bars(const figures::Figure& f)
{
  return static_cast<int>(
      std::count_if(f.page.shapes.begin(), f.page.shapes.end(), [](const page::PathShape& s) {
        return s.fill && s.closed && s.spots.size() == 4U && s.spots[2].y - s.spots[0].y > 3.0;
      }));
}

} // namespace

BOOST_AUTO_TEST_CASE(verdicts_and_marks_are_beside_the_bars)
{
  const figures::Figure f = compare::comparison_chart(
      comparison({row(compare::VariantState::holds, 0.0010, 90.0, 400.0),
                  row(compare::VariantState::holds, 0.0015, 80.0, 420.0),
                  row(compare::VariantState::close, 0.0019, 70.0, 380.0),
                  row(compare::VariantState::fails, 0.0030, 60.0, 370.0)}));
  BOOST_TEST(says(f, "holds, lightest")); // of those that hold, not of all
  BOOST_TEST(says(f, "holds, cheapest"));
  BOOST_TEST(says(f, "close"));
  BOOST_TEST(says(f, "fails"));
  BOOST_TEST(says(f, "2: hinge.pin_diameter 11 mm"));
  BOOST_TEST(says(f, "limit 2.0"));
  BOOST_TEST(bars(f) >= 8); // two contributions each; the rest of a bar is zero
  BOOST_TEST(page::page_svg(f.page).find("<1>") == std::string::npos);
}

// A variant without a result, or stored by an earlier program without its contributions, is left
// out and counted.
BOOST_AUTO_TEST_CASE(variants_without_a_result_are_left_out_and_counted)
{
  compare::VariantResult old = row(compare::VariantState::holds, 0.001, 10.0, 300.0);
  old.shares.clear();
  const figures::Figure f = compare::comparison_chart(comparison(
      {row(compare::VariantState::holds, 0.0010, 90.0, 400.0), old, compare::VariantResult{}}));
  BOOST_TEST(says(f, "1 of 3 variants"));
  BOOST_TEST(f.caption.find("1 of 3") != std::string::npos);
}

// Limits that differ from variant to variant are no one line.
BOOST_AUTO_TEST_CASE(one_limit_or_none)
{
  compare::VariantResult other = row(compare::VariantState::holds, 0.001, 10.0, 300.0);
  other.drop_limit = 0.003;
  const figures::Figure f = compare::comparison_chart(
      comparison({row(compare::VariantState::holds, 0.0010, 90.0, 400.0), other}));
  BOOST_TEST(!says(f, "limit"));
}

// Of many the least drops are plotted, and the cheapest that holds though it drops most.
BOOST_AUTO_TEST_CASE(of_many_the_best_are_plotted)
{
  std::vector<compare::VariantResult> rows;
  for (int i = 0; i < 60; ++i)
    rows.push_back(row(compare::VariantState::holds, 0.0001 * (i + 1), 100.0 - i, 400.0 + i));
  const figures::Figure f = compare::comparison_chart(comparison(rows));
  BOOST_TEST(says(f, "22 of 60 variants"));
  BOOST_TEST(says(f, "60: hinge.pin_diameter"));
  BOOST_TEST(says(f, "holds, cheapest"));
  BOOST_TEST(!says(f, "59: hinge.pin_diameter"));
  BOOST_TEST(f.page.height <= 260.0); // mm: a page of A4 or Letter between its margins
}

// Rows are stored in files: contributions and limit are read back unchanged.
BOOST_AUTO_TEST_CASE(rows_store_their_contributions)
{
  const auto back = compare::read_result(
      compare::result_json(row(compare::VariantState::holds, 0.001, 5.0, 300.0)));
  BOOST_REQUIRE(back);
  BOOST_REQUIRE(back->shares.size() == 2U);
  BOOST_TEST(back->shares[0].part == "play in hinge 1");
  BOOST_TEST(std::abs(back->shares[0].value - 0.00075) < 1e-15);
  BOOST_TEST(back->drop_limit == 0.002);
}

// A cell that a program for tables would run as a formula is marked as a text; a number is none,
// and another separator starts no cell.
BOOST_AUTO_TEST_CASE(no_cell_of_the_table_is_a_formula)
{
  const std::vector<std::pair<std::string, std::string>> cells{
      {"=cmd|/c calc!A1", "'=cmd|/c calc!A1"},
      {"+1+cmd", "'+1+cmd"},
      {"-cmd", "'-cmd"},
      {"-5 degC", "'-5 degC"},
      {"@SUM(1)", "'@SUM(1)"},
      {"\t=1", "\"'\t=1\""},
      {"\r=1", "\"'\r=1\""},
      {" =1", "' =1"},
      {"\uFF1D1", "'\uFF1D1"},
      {"-12.5", "-12.5"},
      {"+3", "+3"},
      {"a;=1", "\"a;=1\""},
      {"a-b", "a-b"},
      {"1/2 in, drilled", "\"1/2 in, drilled\""}};
  compare::Comparison c;
  for (const auto& [value, wanted] : cells) {
    compare::Variant v;
    v.number = static_cast<int>(c.variants.size()) + 1;
    v.settings = {{"door.name", value}};
    c.variants.push_back(v);
    c.rows.emplace_back();
  }
  const std::string csv = compare::comparison_csv(c);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const std::string line = fmt::format("\n{},{},missing,", i + 1, cells[i].second);
    BOOST_TEST(csv.find(line) != std::string::npos, line << " in " << csv);
  }
}
