// SPDX-License-Identifier: GPL-3.0-or-later
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
using namespace hangtrue::program;

struct Options {
  CompareOptions compare;
  bool by_price = false;
  std::string file;
  std::string out;
  std::string room;
  int level = 2;
  CheckOptions check;
  FiguresOptions figures;
  ReportOptions report;
  std::function<ExitStatus()> run;
};

// Options that several commands have.

void add_file(CLI::App& command, std::string& file)
{
  command.add_option("FILE", file, "Door file")->required();
}

void add_room(CLI::App& command, Options& options)
{
  command.add_option("--room", options.room, "Memory that may be taken, as \"4 GB\"");
}

void add_spread(CLI::App& command, bool& spread)
{
  command.add_flag("--spread", spread,
                   "Ranges of the results from inputs that are known only roughly");
}

void add_tries(CLI::App& command, CompareOptions& compare)
{
  command.add_option("--try", compare.tries, "A key and its values, \"KEY: VALUE | VALUE\"")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  command.add_option("--plan", compare.plan, "File with [[try]] tables");
}

void add_workers(CLI::App& command, CompareOptions& compare)
{
  command.add_option("--workers", compare.workers, "Processes at a time")
      ->check(CLI::Range(1, 512));
}

// What a command does once the command line has been read.
void on_command(CLI::App& command, Options& options, std::function<ExitStatus()> run)
{
  command.callback([&options, run = std::move(run)] { options.run = run; });
}

// The bound holds for all that follows; what it leaves is passed to the command.
void take_room(Options& options)
{
  const std::optional<double> room = runtime::read_room(options.room);
  if (!room)
    return;
  runtime::set_process_limit(*room);
  options.check.room = room;
  options.compare.room = room;
  options.figures.room = room;
  options.report.room = room;
}

void add_new(CLI::App& app, Options& options)
{
  auto* fresh = app.add_subcommand("new", "Write a commented door file to start from");
  fresh->add_option("FILE", options.file, "New door file; without it the text is printed");
  on_command(*fresh, options, [&] { return command_new(options.file); });
}

void add_mesh(CLI::App& app, Options& options)
{
  auto* mesh = app.add_subcommand("mesh", "Mesh a door and write it for other programs");
  add_file(*mesh, options.file);
  mesh->add_option("--out", options.out, "Folder for the files");
  mesh->add_option("--level", options.level, "Mesh level, 1 is the coarsest")
      ->check(CLI::Range(1, 5));
  on_command(*mesh, options,
             [&] { return command_mesh(options.file, options.out, options.level); });
}

void add_check(CLI::App& app, Options& options)
{
  auto* check = app.add_subcommand("check", "Check a door: how it hangs and whether that holds");
  add_file(*check, options.check.file);
  check->add_option("--out", options.check.out,
                    "Folder for the results; without it one beside the file");
  check->add_flag("--strict", options.check.strict,
                  "Let a check that is only close count as not holding");
  add_spread(*check, options.check.spread);
  add_room(*check, options);
  on_command(*check, options, [&] { return command_check(options.check); });
}

void add_skins(CLI::App& app, Options& options)
{
  auto* skins = app.add_subcommand("skins", "What each way of holding the inner skin buys");
  add_file(*skins, options.file);
  on_command(*skins, options, [&] { return command_skins(options.file); });
}

void add_compare(CLI::App& app, Options& options)
{
  CompareOptions& c = options.compare;
  auto* compare = app.add_subcommand("compare", "Compare many variants of one door");
  add_file(*compare, c.file);
  add_tries(*compare, c);
  compare->add_flag("--singly", c.singly, "One list at a time instead of the full table");
  compare->add_option("--out", c.out, "Folder for the variants and the table");
  add_workers(*compare, c);
  compare->add_option("--share", c.share, "Part I of N of the variants, I/N");
  compare->add_flag("--gather", c.gather, "Only bring together what the shares have left");
  compare->add_flag("--fresh", c.fresh, "Do again what is there already");
  add_room(*compare, options);
  compare->add_flag("--crew", c.crew)->group(""); // how the program starts its own workers
  on_command(*compare, options, [&] { return command_compare(options.compare); });
}

void add_find(CLI::App& app, Options& options)
{
  CompareOptions& c = options.compare;
  auto* find = app.add_subcommand("find", "Find the lightest or cheapest variant that holds");
  add_file(*find, c.file);
  add_tries(*find, c);
  find->add_flag("--by-price", options.by_price, "The cheapest instead of the lightest");
  find->add_option("--out", c.out, "Folder for the variants that are checked");
  add_workers(*find, c);
  add_room(*find, options);
  on_command(*find, options, [&] { return command_find(options.compare, options.by_price); });
}

void add_figures(CLI::App& app, Options& options)
{
  auto* figures = app.add_subcommand("figures", "Check a door and draw its figures");
  add_file(*figures, options.figures.file);
  figures->add_option("--out", options.figures.out, "Folder for the figures");
  figures->add_option("--only", options.figures.only, "Names of figures, with commas between");
  figures->add_option("--size", options.figures.size, "Width and height, as \"7 in x 5 in\"");
  figures->add_option("--format", options.figures.formats, "png, svg, pdf, with commas between");
  add_room(*figures, options);
  on_command(*figures, options, [&] { return command_figures(options.figures); });
}

void add_report(CLI::App& app, Options& options)
{
  auto* sheet = app.add_subcommand("report", "Check a door and write its sheet, HTML and PDF");
  add_file(*sheet, options.report.file);
  sheet->add_option("--out", options.report.out, "Folder for the sheet");
  sheet->add_option("--number", options.report.number, "Identification number in the title block");
  sheet->add_option("--revision", options.report.revision, "Revision in the title block");
  sheet->add_option("--date", options.report.date, "Date of issue; without it today's");
  sheet->add_option("--paper", options.report.paper, "letter or a4, for the PDF");
  add_spread(*sheet, options.report.spread);
  add_room(*sheet, options);
  on_command(*sheet, options, [&] { return command_report(options.report); });
}

void add_commands(CLI::App& app, Options& options)
{
  app.require_subcommand(1);
  app.set_version_flag("--version", fmt::format("hangtrue {} ({})", version, library_versions));
  add_new(app, options);
  add_mesh(app, options);
  add_check(app, options);
  add_skins(app, options);
  add_compare(app, options);
  add_find(app, options);
  add_figures(app, options);
  add_report(app, options);
  auto* keys = app.add_subcommand("keys", "Print the reference of the door file");
  on_command(*keys, options, [] { return command_keys(); });
}

int report(const std::string& message, ExitStatus status)
{
  runtime::end_progress();
  fmt::print(stderr, "{}\n", input::clean_lines(message));
  return static_cast<int>(status);
}

// Run before the libraries' own initializers (System V ABI, process initialisation), some of which
// start threads.
using Early = void (*)(int, char**, char**);
[[gnu::section(".preinit_array"), gnu::used]] const Early early = [](int, char**, char**) {
  runtime::block_signals();
};

} // namespace

int main(int count, char** words)
{
  runtime::select_blas_kernels(words);
  runtime::use_one_blas_thread();
  runtime::free_large_blocks();
  runtime::start_signal_thread();
  std::signal(SIGXFSZ, SIG_IGN); // a limit of file size is a full disk: reported, not fatal
  CLI::App app{"hangtrue: will this heavy, hot door hang true?", "hangtrue"};
  Options options;
  add_commands(app, options);
  try {
    app.parse(count, words);
  } catch (const CLI::ParseError& error) {
    std::ostringstream out;
    std::ostringstream faults; // with words of the command line, which a terminal is not to act on
    const bool answered = app.exit(error, out, faults) == 0;
    fmt::print("{}", input::clean_lines(out.str()));
    fmt::print(stderr, "{}", input::clean_lines(faults.str()));
    return answered ? 0 : static_cast<int>(ExitStatus::bad_input);
  }
  try {
    take_room(options);
    return static_cast<int>(options.run());
  } catch (const InputError& error) {
    return report(error.what(), ExitStatus::bad_input);
  } catch (const ComputeError& error) {
    return report(error.what(), ExitStatus::not_computed);
  } catch (const runtime::Interrupted&) {
    report("ended before it was done; nothing half-written was left", ExitStatus::not_computed);
    return runtime::by_interrupt;
  } catch (const std::bad_alloc&) {
    return report("memory: there was not enough on the way; nothing half-written was left. Set a "
                  "lower finest_level under [accuracy] in the door file, or make more memory "
                  "available",
                  ExitStatus::not_computed);
  } catch (const std::exception& error) {
    return report(fmt::format("not computed: {}", error.what()), ExitStatus::not_computed);
  }
}
