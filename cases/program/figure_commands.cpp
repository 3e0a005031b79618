// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/program/figure_commands.hpp"

#include "cases/check/check_door.hpp"
#include "cases/check/check_run.hpp"
#include "cases/check/input_uncertainty.hpp"
#include "cases/figures/figure_files.hpp"
#include "cases/figures/figure_set.hpp"
#include "cases/figures/sheet_text.hpp"
#include "cases/input/clean_text.hpp"
#include "cases/input/door_file.hpp"
#include "cases/input/door_schema.hpp"
#include "cases/input/units.hpp"
#include "cases/output/output_folder.hpp"
#include "cases/runtime/terminal_progress.hpp"
#include "cases/verdict/check_result.hpp"
#include "meshing/common/progress.hpp"
#include "viz/page/pdf_writer.hpp"
#include "viz/page/temporary_folder.hpp"
#include "viz/sheet/interactive_view.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <vector>

namespace hangtrue::program
{

namespace
{

std::vector<std::string> listed(const std::string& text)
{
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (c == ',')
      words.emplace_back();
    else if (c != ' ')
      words.back() += c;
  }
  words.erase(std::remove(words.begin(), words.end(), ""), words.end());
  return words;
}

// The requested words, each one of the allowed ones; all allowed when there is none.
std::vector<std::string> chosen(const std::string& option, const std::string& text,
                                const std::vector<std::string>& allowed)
{
  const auto words = listed(text);
  for (const auto& w : words)
    if (std::find(allowed.begin(), allowed.end(), w) == allowed.end())
      throw InputError(
          fmt::format("{}: found \"{}\"; allowed are {}; write them with commas between", option,
                      input::message_text(w), fmt::join(allowed, ", ")));
  return words.empty() ? allowed : words;
}

plots::FigureSize size_from(const std::string& text)
{
  if (text.empty())
    return {};
  constexpr double minimum = 0.1; // m
  constexpr double maximum = 0.6;
  const auto cross = text.find(" x ");
  if (cross == std::string::npos)
    throw InputError(fmt::format("--size: found \"{}\"; allowed is a width and a height with units "
                                 "and \" x \" between; write --size \"7 in x 5 in\"",
                                 input::message_text(text)));
  const double width = input::parse_quantity(text.substr(0, cross), input::Dimension::length);
  const double height = input::parse_quantity(text.substr(cross + 3), input::Dimension::length);
  if (width < minimum || height < 0.8 * minimum || width > maximum || height > maximum)
    throw InputError(fmt::format("--size: found \"{}\"; allowed are 100 mm to 600 mm (4 in to 23 "
                                 "in) in width and 80 mm to 600 "
                                 "mm in height; choose a size between",
                                 input::message_text(text)));
  return {1e3 * width, 1e3 * height};
}

std::string captions_text(const input::DoorCase& c, const case_figures::FigureSet& set)
{
  std::string text = fmt::format("Captions of the figures of {}\n", c.door.name);
  for (const auto& f : set.figures)
    text += fmt::format("\n{}\n  {}\n", f.name, f.caption);
  return text;
}

// All bodies and all states, for the interactive view; every state with a factor of its own.
std::string turning_of(const check::CheckRun& run)
{
  std::vector<const mesh::BodyMesh*> bodies{&run.mesh.door, &run.mesh.frame};
  for (const auto& pin : run.mesh.pins)
    bodies.push_back(&pin);
  std::vector<const analysis::OpenDoorResult*> solved{&run.open_cold};
  for (const auto& d : run.open_thermal)
    solved.push_back(&d);
  std::vector<sheet::InteractiveState> states;
  for (const auto* d : solved) {
    sheet::InteractiveState state{
        system::state_label(d->state), {&d->door_displacement, &d->frame_displacement}, 1.0};
    for (const auto& displacements : d->pin_displacements)
      state.moves.push_back(&displacements);
    double maximum = 1e-9;
    double size = 0.0;
    for (const auto& m : d->door_displacement)
      maximum = std::max(maximum, norm(m));
    for (const auto& p : run.mesh.door.nodes)
      size = std::max(size, norm(p));
    state.factor = figures::round_factor(size / 14.0 / maximum);
    states.push_back(state);
  }
  return sheet::interactive_data(bodies, states);
}

// The day, by the clock of the place: 2026-05-31 (ISO 8601).
std::string today()
{
  const std::time_t now = std::time(nullptr);
  std::tm day{};
  localtime_r(&now, &day);
  return fmt::format("{:04d}-{:02d}-{:02d}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

// A text for the title block as every output may contain it; `otherwise` where none is given.
std::string title_text(const std::string& option, const std::string& given,
                       const std::string& otherwise)
{
  const std::string text = input::clean_text(given);
  if (input::character_count(text) > input::max_text_length)
    throw InputError(fmt::format(
        "{}: found \"{}\", {} characters; allowed are up to {}; shorten it", option,
        input::message_text(text), input::character_count(text), input::max_text_length));
  return text.empty() ? input::message_text(otherwise, input::max_text_length) : text;
}

} // namespace

ExitStatus command_figures(const FiguresOptions& requested)
{
  const input::DoorCase door_case = input::read_door_file(requested.file);
  const auto names = chosen("--only", requested.only, case_figures::figure_names(door_case));
  const auto formats = chosen("--format", requested.formats, {"png", "svg", "pdf"});
  figures::FigureOptions form;
  form.size = size_from(requested.size);
  form.as_requested = !requested.size.empty();
  std::vector<std::string> files{"captions.txt"};
  for (const auto& n : names)
    for (const auto& f : formats)
      files.push_back(fmt::format("{}.{}", n, f));
  output::OutputFolder folder(
      requested.out.empty() ? output::folder_beside(requested.file) : requested.out, files);
  const Progress progress = runtime::terminal_progress();
  const check::CheckRun run =
      check::check_door(door_case, progress, nullptr, {requested.room, nullptr});
  case_figures::FigureSet set = case_figures::make_figures(door_case, run, names, form, progress);
  progress("writing figures", 1.0);
  case_figures::write_figures(folder, set.figures, formats, set.trouble, progress);
  folder.write("captions.txt", captions_text(door_case, set));
  progress("end", 1.0);
  folder.keep();
  runtime::end_progress();
  fmt::print("{} figures and captions.txt in {}\n", set.figures.size(),
             input::clean_text(folder.path()));
  if (!set.trouble.empty())
    fmt::print(stderr, "not made: {}\n", set.trouble);
  return ExitStatus::holds;
}

ExitStatus command_report(const ReportOptions& requested)
{
  const input::DoorCase door_case = input::read_door_file(requested.file);
  const auto papers = chosen("--paper", requested.paper, {"letter", "a4"});
  const std::string number = title_text("--number", requested.number,
                                        std::filesystem::path(requested.file).stem().string());
  const std::string revision = title_text("--revision", requested.revision, "-");
  const std::string date = title_text("--date", requested.date, today());
  const bool letter =
      requested.paper.empty() ? door_case.units == input::UnitSystem::us : papers[0] == "letter";
  output::OutputFolder folder(requested.out.empty() ? output::folder_beside(requested.file)
                                                    : requested.out,
                              {"sheet.html", "sheet.pdf"});
  const Progress progress = runtime::terminal_progress();
  check::CheckRun run = check::check_door(door_case, progress, nullptr, {requested.room, nullptr});
  if (requested.spread)
    check::add_input_uncertainty(door_case, progress, run);
  case_figures::FigureSet set =
      case_figures::make_figures(door_case, run, case_figures::figure_names(door_case),
                                 figures::FigureOptions{{180.0, 106.0}, 6.0}, progress);
  progress("sheet", 1.0);
  sheet::Sheet sheet = case_figures::sheet_text(door_case, run);
  sheet.figures = std::move(set.figures);
  sheet.trouble = set.trouble;
  sheet.title.number = number;
  sheet.title.revision = revision;
  sheet.title.date = date;
  const sheet::Paper paper = letter ? sheet::Paper::letter : sheet::Paper::a4;
  const std::string library = sheet::interactive_library();
  folder.write("sheet.html",
               sheet::sheet_html(sheet, paper, sheet::interactive_html(turning_of(run), library)));
  const std::string html = sheet::sheet_html(sheet, paper); // paper does not turn
  const page::TemporaryFolder scratch;
  const std::string in_the_way =
      page::make_pdfs({{scratch.write("sheet.html", html), scratch.path("sheet.pdf")}},
                      [&] { progress("sheet", 1.0); });
  if (in_the_way.empty())
    folder.write("sheet.pdf", scratch.read("sheet.pdf"));
  progress("end", 1.0);
  folder.keep();
  runtime::end_progress();
  fmt::print("The door {}. sheet.html{} in {}\n",
             sheet.verdict == "close" ? "is close to a limit" : sheet.verdict,
             in_the_way.empty() ? " and sheet.pdf" : "", input::clean_text(folder.path()));
  const std::string no_turning =
      library.empty() ? "the door to turn in the HTML needs three.js; install the Debian package "
                        "libjs-three (everything else is in the sheet)"
                      : "";
  for (const auto& trouble : {set.trouble, in_the_way, no_turning})
    if (!trouble.empty())
      fmt::print(stderr, "not made: {}\n", trouble);
  return verdict::worst(run.checks) == verdict::Verdict::fails ? ExitStatus::close_or_fails
                                                               : ExitStatus::holds;
}

} // namespace hangtrue::program
