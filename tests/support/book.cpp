// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/book.hpp"

#include <boost/test/unit_test.hpp>
#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>

namespace hangtrue::test
{

namespace
{

constexpr double infinite = std::numeric_limits<double>::infinity();

// Seven digits show a difference of any band; a rounding error of exact answers shows as such.
std::string number(double value)
{
  return fmt::format("{:.7g}", value);
}

std::string as_file(const Source& source, const Entry& entry, const Band& band, double ours,
                    bool held, const std::string& test)
{
  const bool bound = std::isinf(band.least) || std::isinf(band.most);
  const bool range = band.words == "between";
  const std::string theirs =
      range ? number(band.least) + " to " + number(band.most) : number(band.theirs);
  return fmt::format("{}\n{}\n{}\n{}\n{}\n{}{}\n{}\n{}\n{}\n{}\n{}\n", source.key, source.full,
                     entry.id, entry.quantity, entry.unit, bound ? band.words + " " : "", theirs,
                     number(ours), bound || range ? "" : band.words, band.why,
                     held ? "held" : "NOT HELD", test);
}

} // namespace

Band near(double theirs, double share, const std::string& why)
{
  const double off = std::abs(theirs) * share;
  return {theirs, theirs - off, theirs + off, fmt::format("{:.3g} %", 100.0 * share), why};
}

Band within(double theirs, double distance, const std::string& why)
{
  return {theirs, theirs - distance, theirs + distance, fmt::format("{:.3g}", distance), why};
}

Band at_most(double bound, const std::string& why)
{
  return {bound, -infinite, bound, "at most", why};
}

Band at_least(double bound, const std::string& why)
{
  return {bound, bound, infinite, "at least", why};
}

Band between(double minimum, double maximum, const std::string& why)
{
  return {0.5 * (minimum + maximum), minimum, maximum, "between", why};
}

void check_row(const Source& source, const Entry& entry, const Band& band, double ours,
               const char* file, int line)
{
  namespace fs = std::filesystem;
  const bool held = ours >= band.least && ours <= band.most;
  const std::string test = boost::unit_test::framework::current_test_case().full_name();
  const fs::path folder(HANGTRUE_BOOK);
  fs::create_directories(folder);
  const fs::path path = folder / (entry.id + ".row");
  std::ofstream row(path, std::ios::binary);
  row << as_file(source, entry, band, ours, held,
                 std::string(boost::unit_test::framework::master_test_suite().p_name.get()) + "/" +
                     test);
  row.close();
  BOOST_TEST(bool(row), "the row " << path << " cannot be written");
  BOOST_TEST_MESSAGE(entry.id << ": " << entry.quantity << ": theirs " << number(band.theirs)
                              << ", ours " << number(ours) << ' ' << entry.unit);
  BOOST_TEST(held, file << ':' << line << ": " << entry.id << ": " << entry.quantity << ": ours "
                        << number(ours) << ' ' << entry.unit << " is not within "
                        << number(band.least) << " to " << number(band.most) << " (" << source.full
                        << ")");
}

Source trade()
{
  return {"trade", "common practice, no source"};
}

} // namespace hangtrue::test
