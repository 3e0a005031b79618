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

void add_room(CLI::App& command, Asked& asked)
{
  command.add_option("--room", asked.room, "Memory that may be taken, as \"4 GB\"");
}

// The bound holds for all that follows; what it leaves goes to the command.
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

void add_compare(CLI::App& app, Asked& asked)
{
  CompareAsked& c = asked.compare;
  auto* compare = app.add_subcommand("compare", "Compare many variants of one door");
  compare->add_option("FILE", c.file, "Door file")->required();
  compare->add_option("--try", c.tries, "A key and its values, \"KEY: VALUE | VALUE\"")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  compare->add_option("--plan", c.plan, "File with [[try]] tables");
  compare->add_flag("--singly", c.singly, "One list at a time instead of the full table");
  compare->add_option("--out", c.out, "Folder for the variants and the table");
  compare->add_option("--workers", c.workers, "Processes at a time")->check(CLI::Range(1, 512));
  compare->add_option("--share", c.share, "Part I of N of the variants, I/N");
  compare->add_flag("--gather", c.gather, "Only bring together what the shares have left");
  compare->add_flag("--fresh", c.fresh, "Do again what is there already");
  add_room(*compare, asked);
  compare->add_flag("--crew", c.crew)->group(""); // how the program starts its own workers
  compare->callback([&] { asked.run = [&] { return command_compare(asked.compare); }; });
}

void add_find(CLI::App& app, Asked& asked)
{
  CompareAsked& c = asked.compare;
  auto* find = app.add_subcommand("find", "Find the lightest or cheapest variant that holds");
  find->add_option("FILE", c.file, "Door file")->required();
  find->add_option("--try", c.tries, "A key and its values, \"KEY: VALUE | VALUE\"")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  find->add_option("--plan", c.plan, "File with [[try]] tables");
  find->add_flag("--by-price", asked.by_price, "The cheapest instead of the lightest");
  find->add_option("--out", c.out, "Folder for the variants that are checked");
  find->add_option("--workers", c.workers, "Processes at a time")->check(CLI::Range(1, 512));
  add_room(*find, asked);
  find->callback([&] { asked.run = [&] { return command_find(asked.compare, asked.by_price); }; });
}

void add_commands(CLI::App& app, Asked& asked)
{
  app.require_subcommand(1);
  app.set_version_flag("--version", fmt::format("hangtrue {} ({})", version, library_versions));
  auto* fresh = app.add_subcommand("new", "Write a commented door file to start from");
  fresh->add_option("FILE", asked.file, "New door file; without it the text is printed");
  fresh->callback([&] { asked.run = [&] { return command_new(asked.file); }; });

  auto* mesh = app.add_subcommand("mesh", "Mesh a door and write it for other programs");
  mesh->add_option("FILE", asked.file, "Door file")->required();
  mesh->add_option("--out", asked.out, "Folder for the files");
  mesh->add_option("--level", asked.level, "Mesh level, 1 is the coarsest")
      ->check(CLI::Range(1, 5));
  mesh->callback(
      [&] { asked.run = [&] { return command_mesh(asked.file, asked.out, asked.level); }; });

  auto* check = app.add_subcommand("check", "Check a door: how it hangs and whether that holds");
  check->add_option("FILE", asked.check.file, "Door file")->required();
  check->add_option("--out", asked.check.out,
                    "Folder for the results; without it one beside the file");
  check->add_flag("--strict", asked.check.strict,
                  "Let a check that is only close count as not holding");
  constexpr const char* spread = "Ranges of the answers from what is known to a factor only";
  check->add_flag("--spread", asked.check.spread, spread);
  add_room(*check, asked);
  check->callback([&] { asked.run = [&] { return command_check(asked.check); }; });

  auto* skins = app.add_subcommand("skins", "What each way of holding the inner skin buys");
  skins->add_option("FILE", asked.file, "Door file")->required();
  skins->callback([&] { asked.run = [&] { return command_skins(asked.file); }; });

  add_compare(app, asked);
  add_find(app, asked);

  auto* figures = app.add_subcommand("figures", "Check a door and draw its figures");
  figures->add_option("FILE", asked.figures.file, "Door file")->required();
  figures->add_option("--out", asked.figures.out, "Folder for the figures");
  figures->add_option("--only", asked.figures.only, "Names of figures, with commas between");
  figures->add_option("--size", asked.figures.size, "Width and height, as \"7 in x 5 in\"");
  figures->add_option("--format", asked.figures.formats, "png, svg, pdf, with commas between");
  add_room(*figures, asked);
  figures->callback([&] { asked.run = [&] { return command_figures(asked.figures); }; });

  auto* sheet = app.add_subcommand("report", "Check a door and write its sheet, HTML and PDF");
  sheet->add_option("FILE", asked.report.file, "Door file")->required();
  sheet->add_option("--out", asked.report.out, "Folder for the sheet");
  sheet->add_option("--number", asked.report.number, "Identification number in the title block");
  sheet->add_option("--revision", asked.report.revision, "Revision in the title block");
  sheet->add_option("--date", asked.report.date, "Date of issue; without it today's");
  sheet->add_option("--paper", asked.report.paper, "letter or a4, for the PDF");
  sheet->add_flag("--spread", asked.report.spread, spread);
  add_room(*sheet, asked);
  sheet->callback([&] { asked.run = [&] { return command_report(asked.report); }; });

  auto* keys = app.add_subcommand("keys", "Print the reference of the door file");
  keys->callback([&] { asked.run = [] { return command_keys(); }; });
}

int report(const std::string& message, ExitStatus status)
{
  end_progress();
  fmt::print(stderr, "{}\n", clean_lines(message));
  return static_cast<int>(status);
}

// Run before the libraries' own beginnings (System V ABI, process initialisation), some of which
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
  std::signal(SIGXFSZ, SIG_IGN); // a limit of file size is a full disk: told, not died of
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
