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

namespace hangtrue
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
                      message_text(w), fmt::join(allowed, ", ")));
  return words.empty() ? allowed : words;
}

FigureSize size_from(const std::string& text)
{
  if (text.empty())
    return {};
  constexpr double least = 0.1; // m
  constexpr double most = 0.6;
  const auto cross = text.find(" x ");
  if (cross == std::string::npos)
    throw InputError(fmt::format("--size: found \"{}\"; allowed is a width and a height with units "
                                 "and \" x \" between; write --size \"7 in x 5 in\"",
                                 message_text(text)));
  const double width = parse_quantity(text.substr(0, cross), Kind::length);
  const double height = parse_quantity(text.substr(cross + 3), Kind::length);
  if (width < least || height < 0.8 * least || width > most || height > most)
    throw InputError(fmt::format("--size: found \"{}\"; allowed are 100 mm to 600 mm (4 in to 23 "
                                 "in) in width and 80 mm to 600 "
                                 "mm in height; choose a size between",
                                 message_text(text)));
  return {1e3 * width, 1e3 * height};
}

std::string captions_text(const DoorCase& c, const FigureSet& set)
{
  std::string text = fmt::format("Captions of the figures of {}\n", c.door.name);
  for (const auto& f : set.figures)
    text += fmt::format("\n{}\n  {}\n", f.name, f.caption);
  return text;
}

// All bodies and all states, for the interactive view; every state with a factor of its own.
std::string turning_of(const CheckRun& run)
{
  std::vector<const BodyMesh*> bodies{&run.mesh.door, &run.mesh.frame};
  for (const auto& pin : run.mesh.pins)
    bodies.push_back(&pin);
  std::vector<const Deflection*> solved{&run.deflection};
  for (const auto& d : run.warm)
    solved.push_back(&d);
  std::vector<TurningState> states;
  for (const auto* d : solved) {
    TurningState state{state_label(d->state), {&d->door_move, &d->frame_move}, 1.0};
    for (const auto& moves : d->pin_moves)
      state.moves.push_back(&moves);
    double most = 1e-9;
    double size = 0.0;
    for (const auto& m : d->door_move)
      most = std::max(most, norm(m));
    for (const auto& p : run.mesh.door.nodes)
      size = std::max(size, norm(p));
    state.factor = round_factor(size / 14.0 / most);
    states.push_back(state);
  }
  return turning_data(bodies, states);
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
  const std::string text = clean_text(given);
  if (characters_in(text) > longest_text)
    throw InputError(
        fmt::format("{}: found \"{}\", {} characters; allowed are up to {}; shorten it", option,
                    message_text(text), characters_in(text), longest_text));
  return text.empty() ? message_text(otherwise, longest_text) : text;
}

} // namespace

ExitStatus command_figures(const FiguresAsked& asked)
{
  const DoorCase door_case = read_door_file(asked.file);
  const auto names = chosen("--only", asked.only, figure_names(door_case));
  const auto formats = chosen("--format", asked.formats, {"png", "svg", "pdf"});
  FigureForm form;
  form.size = size_from(asked.size);
  form.as_asked = !asked.size.empty();
  std::vector<std::string> files{"captions.txt"};
  for (const auto& n : names)
    for (const auto& f : formats)
      files.push_back(fmt::format("{}.{}", n, f));
  OutputFolder folder(asked.out.empty() ? folder_beside(asked.file) : asked.out, files);
  const Progress progress = terminal_progress();
  const CheckRun run = check_door(door_case, progress, nullptr, {asked.room, nullptr});
  FigureSet set = make_figures(door_case, run, names, form, progress);
  progress("writing figures", 1.0);
  write_figures(folder, set.figures, formats, set.trouble, progress);
  folder.write("captions.txt", captions_text(door_case, set));
  progress("end", 1.0);
  folder.keep();
  end_progress();
  fmt::print("{} figures and captions.txt in {}\n", set.figures.size(), clean_text(folder.path()));
  if (!set.trouble.empty())
    fmt::print(stderr, "not made: {}\n", set.trouble);
  return ExitStatus::holds;
}

ExitStatus command_report(const ReportAsked& asked)
{
  const DoorCase door_case = read_door_file(asked.file);
  const auto papers = chosen("--paper", asked.paper, {"letter", "a4"});
  const std::string number =
      title_text("--number", asked.number, std::filesystem::path(asked.file).stem().string());
  const std::string revision = title_text("--revision", asked.revision, "-");
  const std::string date = title_text("--date", asked.date, today());
  const bool letter = asked.paper.empty() ? door_case.units == Units::us : papers[0] == "letter";
  OutputFolder folder(asked.out.empty() ? folder_beside(asked.file) : asked.out,
                      {"sheet.html", "sheet.pdf"});
  const Progress progress = terminal_progress();
  CheckRun run = check_door(door_case, progress, nullptr, {asked.room, nullptr});
  if (asked.spread)
    add_spread(door_case, progress, run);
  FigureSet set = make_figures(door_case, run, figure_names(door_case),
                               FigureForm{{180.0, 106.0}, 6.0}, progress);
  progress("sheet", 1.0);
  Sheet sheet = sheet_words(door_case, run);
  sheet.figures = std::move(set.figures);
  sheet.trouble = set.trouble;
  sheet.title.number = number;
  sheet.title.revision = revision;
  sheet.title.date = date;
  const Paper paper = letter ? Paper::letter : Paper::a4;
  const std::string library = turning_library();
  folder.write("sheet.html", sheet_html(sheet, paper, turning_html(turning_of(run), library)));
  const std::string html = sheet_html(sheet, paper); // paper does not turn
  const ScratchFolder scratch;
  const std::string in_the_way =
      make_pdfs({{scratch.write("sheet.html", html), scratch.path("sheet.pdf")}},
                [&] { progress("sheet", 1.0); });
  if (in_the_way.empty())
    folder.write("sheet.pdf", scratch.read("sheet.pdf"));
  progress("end", 1.0);
  folder.keep();
  end_progress();
  fmt::print("The door {}. sheet.html{} in {}\n",
             sheet.verdict == "close" ? "is close to a limit" : sheet.verdict,
             in_the_way.empty() ? " and sheet.pdf" : "", clean_text(folder.path()));
  const std::string no_turning =
      library.empty() ? "the door to turn in the HTML needs three.js; install the Debian package "
                        "libjs-three (everything else is in the sheet)"
                      : "";
  for (const auto& trouble : {set.trouble, in_the_way, no_turning})
    if (!trouble.empty())
      fmt::print(stderr, "not made: {}\n", trouble);
  return worst(run.checks) == Verdict::fails ? ExitStatus::close_or_fails : ExitStatus::holds;
}

} // namespace hangtrue
