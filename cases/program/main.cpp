#include "cases/input/clean_text.hpp"
#include "cases/program/commands.hpp"
#include "cases/program/compare_command.hpp"
#include "cases/program/figure_commands.hpp"
#include "cases/program/find_command.hpp"
#include "cases/runtime/blas_setup.hpp"
#include "cases/runtime/heap_trim.hpp"
#include "cases/runtime/memory_limit.hpp"
#include "cases/runtime/terminal_progress.hpp"
#include "cases/runtime/version.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <csignal>
#include <cstdio>
#include <exception>
#include <functional>
#include <optional>
#include <sstream>
#include <string>
#include <utility>

namespace
{

using namespace hangtrue;

struct Asked {
  CompareAsked compare;
  bool by_price = false;
  std::string file;
  std::string out;
  std::string room;
  int level = 2;
  CheckAsked check;
  FiguresAsked figures;
  ReportAsked report;
  std::function<ExitStatus()> run;
};

// Options that several commands have.

void add_file(CLI::App& command, std::string& file)
{
  command.add_option("FILE", file, "Door file")->required();
}

void add_room(CLI::App& command, Asked& asked)
{
  command.add_option("--room", asked.room, "Memory that may be taken, as \"4 GB\"");
}

void add_spread(CLI::App& command, bool& spread)
{
  command.add_flag("--spread", spread, "Ranges of the answers from what is known to a factor only");
}

void add_tries(CLI::App& command, CompareAsked& compare)
{
  command.add_option("--try", compare.tries, "A key and its values, \"KEY: VALUE | VALUE\"")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  command.add_option("--plan", compare.plan, "File with [[try]] tables");
}

void add_workers(CLI::App& command, CompareAsked& compare)
{
  command.add_option("--workers", compare.workers, "Processes at a time")
      ->check(CLI::Range(1, 512));
}

// What a command does once the command line has been read.
void when_asked(CLI::App& command, Asked& asked, std::function<ExitStatus()> run)
{
  command.callback([&asked, run = std::move(run)] { asked.run = run; });
}

// The bound holds for all that follows; what it leaves is passed to the command.
void take_room(Asked& asked)
{
  const std::optional<double> room = read_room(asked.room);
  if (!room)
    return;
  hold_to_room(*room);
  asked.check.room = room;
  asked.compare.room = room;
  asked.figures.room = room;
  asked.report.room = room;
}

void add_new(CLI::App& app, Asked& asked)
{
  auto* fresh = app.add_subcommand("new", "Write a commented door file to start from");
  fresh->add_option("FILE", asked.file, "New door file; without it the text is printed");
  when_asked(*fresh, asked, [&] { return command_new(asked.file); });
}

void add_mesh(CLI::App& app, Asked& asked)
{
  auto* mesh = app.add_subcommand("mesh", "Mesh a door and write it for other programs");
  add_file(*mesh, asked.file);
  mesh->add_option("--out", asked.out, "Folder for the files");
  mesh->add_option("--level", asked.level, "Mesh level, 1 is the coarsest")
      ->check(CLI::Range(1, 5));
  when_asked(*mesh, asked, [&] { return command_mesh(asked.file, asked.out, asked.level); });
}

void add_check(CLI::App& app, Asked& asked)
{
  auto* check = app.add_subcommand("check", "Check a door: how it hangs and whether that holds");
  add_file(*check, asked.check.file);
  check->add_option("--out", asked.check.out,
                    "Folder for the results; without it one beside the file");
  check->add_flag("--strict", asked.check.strict,
                  "Let a check that is only close count as not holding");
  add_spread(*check, asked.check.spread);
  add_room(*check, asked);
  when_asked(*check, asked, [&] { return command_check(asked.check); });
}

void add_skins(CLI::App& app, Asked& asked)
{
  auto* skins = app.add_subcommand("skins", "What each way of holding the inner skin buys");
  add_file(*skins, asked.file);
  when_asked(*skins, asked, [&] { return command_skins(asked.file); });
}

void add_compare(CLI::App& app, Asked& asked)
{
  CompareAsked& c = asked.compare;
  auto* compare = app.add_subcommand("compare", "Compare many variants of one door");
  add_file(*compare, c.file);
  add_tries(*compare, c);
  compare->add_flag("--singly", c.singly, "One list at a time instead of the full table");
  compare->add_option("--out", c.out, "Folder for the variants and the table");
  add_workers(*compare, c);
  compare->add_option("--share", c.share, "Part I of N of the variants, I/N");
  compare->add_flag("--gather", c.gather, "Only bring together what the shares have left");
  compare->add_flag("--fresh", c.fresh, "Do again what is there already");
  add_room(*compare, asked);
  compare->add_flag("--crew", c.crew)->group(""); // how the program starts its own workers
  when_asked(*compare, asked, [&] { return command_compare(asked.compare); });
}

void add_find(CLI::App& app, Asked& asked)
{
  CompareAsked& c = asked.compare;
  auto* find = app.add_subcommand("find", "Find the lightest or cheapest variant that holds");
  add_file(*find, c.file);
  add_tries(*find, c);
  find->add_flag("--by-price", asked.by_price, "The cheapest instead of the lightest");
  find->add_option("--out", c.out, "Folder for the variants that are checked");
  add_workers(*find, c);
  add_room(*find, asked);
  when_asked(*find, asked, [&] { return command_find(asked.compare, asked.by_price); });
}

void add_figures(CLI::App& app, Asked& asked)
{
  auto* figures = app.add_subcommand("figures", "Check a door and draw its figures");
  add_file(*figures, asked.figures.file);
  figures->add_option("--out", asked.figures.out, "Folder for the figures");
  figures->add_option("--only", asked.figures.only, "Names of figures, with commas between");
  figures->add_option("--size", asked.figures.size, "Width and height, as \"7 in x 5 in\"");
  figures->add_option("--format", asked.figures.formats, "png, svg, pdf, with commas between");
  add_room(*figures, asked);
  when_asked(*figures, asked, [&] { return command_figures(asked.figures); });
}

void add_report(CLI::App& app, Asked& asked)
{
  auto* sheet = app.add_subcommand("report", "Check a door and write its sheet, HTML and PDF");
  add_file(*sheet, asked.report.file);
  sheet->add_option("--out", asked.report.out, "Folder for the sheet");
  sheet->add_option("--number", asked.report.number, "Identification number in the title block");
  sheet->add_option("--revision", asked.report.revision, "Revision in the title block");
  sheet->add_option("--date", asked.report.date, "Date of issue; without it today's");
  sheet->add_option("--paper", asked.report.paper, "letter or a4, for the PDF");
  add_spread(*sheet, asked.report.spread);
  add_room(*sheet, asked);
  when_asked(*sheet, asked, [&] { return command_report(asked.report); });
}

void add_commands(CLI::App& app, Asked& asked)
{
  app.require_subcommand(1);
  app.set_version_flag("--version", fmt::format("hangtrue {} ({})", version, library_versions));
  add_new(app, asked);
  add_mesh(app, asked);
  add_check(app, asked);
  add_skins(app, asked);
  add_compare(app, asked);
  add_find(app, asked);
  add_figures(app, asked);
  add_report(app, asked);
  auto* keys = app.add_subcommand("keys", "Print the reference of the door file");
  when_asked(*keys, asked, [] { return command_keys(); });
}

int report(const std::string& message, ExitStatus status)
{
  end_progress();
  fmt::print(stderr, "{}\n", clean_lines(message));
  return static_cast<int>(status);
}

// Run before the libraries' own initializers (System V ABI, process initialisation), some of which
// start threads.
using Early = void (*)(int, char**, char**);
[[gnu::section(".preinit_array"), gnu::used]] const Early early = [](int, char**, char**) {
  hold_interrupts();
};

} // namespace

int main(int count, char** words)
{
  use_fast_kernels(words);
  use_one_dense_thread();
  free_large_blocks();
  watch_for_interrupt();
  std::signal(SIGXFSZ, SIG_IGN); // a limit of file size is a full disk: reported, not fatal
  CLI::App app{"hangtrue: will this heavy, hot door hang true?", "hangtrue"};
  Asked asked;
  add_commands(app, asked);
  try {
    app.parse(count, words);
  } catch (const CLI::ParseError& error) {
    std::ostringstream out;
    std::ostringstream faults; // with words of the command line, which a terminal is not to act on
    const bool answered = app.exit(error, out, faults) == 0;
    fmt::print("{}", clean_lines(out.str()));
    fmt::print(stderr, "{}", clean_lines(faults.str()));
    return answered ? 0 : static_cast<int>(ExitStatus::bad_input);
  }
  try {
    take_room(asked);
    return static_cast<int>(asked.run());
  } catch (const InputError& error) {
    return report(error.what(), ExitStatus::bad_input);
  } catch (const ComputeError& error) {
    return report(error.what(), ExitStatus::not_computed);
  } catch (const Interrupted&) {
    report("ended before it was done; nothing half-written was left", ExitStatus::not_computed);
    return by_interrupt;
  } catch (const std::bad_alloc&) {
    return report("memory: there was not enough on the way; nothing half-written was left. Set a "
                  "lower finest_level under [accuracy] in the door file, or make more memory "
                  "available",
                  ExitStatus::not_computed);
  } catch (const std::exception& error) {
    return report(fmt::format("not computed: {}", error.what()), ExitStatus::not_computed);
  }
}
