#include "cases/program/compare_command.hpp"

#include "cases/compare/comparison_chart.hpp"
#include "cases/compare/comparison_table.hpp"
#include "cases/compare/job_partition.hpp"
#include "cases/compare/parameter_ranges.hpp"
#include "cases/compare/try_plan.hpp"
#include "cases/compare/variant_worker.hpp"
#include "cases/compare/worker_pool.hpp"
#include "cases/figures/figure_files.hpp"
#include "cases/input/clean_text.hpp"
#include "cases/input/door_file.hpp"
#include "cases/output/output_folder.hpp"
#include "cases/runtime/memory_estimate.hpp"
#include "cases/runtime/terminal_progress.hpp"
#include "meshing/common/progress.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

namespace hangtrue
{

namespace
{

TryPlan plan_of(const CompareAsked& asked)
{
  TryPlan plan;
  if (!asked.plan.empty())
    read_plan_file(asked.plan, plan);
  for (const auto& text : asked.tries)
    plan.lists.push_back(read_try(text));
  plan.singly = plan.singly || asked.singly;
  if (plan.lists.empty())
    throw InputError(
        "compare: there is nothing to try; allowed is at least one list of values; add "
        "for example --try \"hinge.pin_diameter: 3/4 in | 1 in\", or a plan file with "
        "--plan");
  return plan;
}

std::string read_text(const std::string& path)
{
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

bool to_do(const VariantRow& row)
{
  return row.state == VariantState::missing || row.state == VariantState::no_number;
}

std::vector<VariantRow> stored_rows(const std::string& folder, const std::vector<Variant>& variants)
{
  std::vector<VariantRow> rows;
  rows.reserve(variants.size());
  for (const auto& v : variants)
    rows.push_back(stored_row(folder, v));
  return rows;
}

// Numbers of the variants that this process has to see to.
std::vector<int> own_work(const CompareAsked& asked, const Share& share,
                          const std::vector<Variant>& variants, const std::string& folder)
{
  const std::vector<int> order = working_order(variants);
  const ShareRange range = share_range(share, order.size());
  std::vector<int> work;
  std::set<std::string> seen; // two spellings of one door are one job
  for (std::size_t i = range.from; i < range.to && !asked.gather; ++i) {
    const Variant& v = variants[order[i]];
    if (seen.insert(v.name).second && (asked.fresh || to_do(stored_row(folder, v))))
      work.push_back(v.number);
  }
  return work;
}

ExitStatus status_of(const std::vector<VariantRow>& rows)
{
  auto any = [&](VariantState s) {
    return std::any_of(rows.begin(), rows.end(), [s](const VariantRow& r) { return r.state == s; });
  };
  if (any(VariantState::missing))
    return ExitStatus::not_computed;
  if (any(VariantState::holds) || any(VariantState::close))
    return ExitStatus::holds;
  return any(VariantState::fails) ? ExitStatus::close_or_fails : ExitStatus::not_computed;
}

// What is in the folder, and what not.
std::string contents_words(const Comparison& c, const std::string& path, bool chart_made)
{
  const auto there = std::count_if(c.rows.begin(), c.rows.end(), [](const VariantRow& r) {
    return r.state != VariantState::missing && r.state != VariantState::impossible;
  });
  const std::string which = there == static_cast<std::ptrdiff_t>(c.rows.size())
                                ? fmt::format("Every variant with its door file is in {}", path)
                                : fmt::format("{} of {} variants with their door files are in {}",
                                              there, c.rows.size(), path);
  return fmt::format(
      "{}; the table also as table.csv and table.json, as a chart in drop-shares.svg{}", which,
      chart_made ? " and .pdf" : "");
}

// Enters in the rows why a variant is missing.
void note_missing(Comparison& c, const std::vector<LostWork>& lost)
{
  for (std::size_t r = 0; r < c.rows.size(); ++r) {
    if (c.rows[r].state != VariantState::missing)
      continue;
    const auto& name = c.variants[r].name; // two spellings of one door are one job
    const auto found = std::find_if(lost.begin(), lost.end(), [&](const LostWork& l) {
      return c.variants.at(static_cast<std::size_t>(l.number) - 1).name == name;
    });
    c.rows[r].note = found != lost.end() ? found->why
                     : lost.empty()      ? "nobody has worked on it"
                                         : "no worker was left to do it";
  }
}

ExitStatus tell(const CompareAsked& asked, const DoorCase& base, std::vector<Variant> variants,
                const std::string& path, bool whole_job, const std::vector<LostWork>& lost)
{
  Comparison c{base.door.name, base.units, base.prices.currency, std::move(variants), {}};
  c.rows = stored_rows(path, c.variants);
  note_missing(c, lost);
  const auto missing = std::count_if(c.rows.begin(), c.rows.end(), [](const VariantRow& r) {
    return r.state == VariantState::missing;
  });
  const Progress progress = terminal_progress();
  if (missing > 0 && !whole_job && !asked.gather) {
    for (const auto& l : lost)
      fmt::print(stderr, "variant {}: not done: {}\n", l.number, l.why);
    if (!lost.empty())
      return ExitStatus::not_computed;
    fmt::print("This share is done; {} of {} variants are with others. The table comes with the "
               "last share, or with --gather.\n",
               missing, c.variants.size());
    return ExitStatus::holds;
  }
  OutputFolder folder(path, {"table.csv", "table.json", "table.txt", "drop-shares.svg",
                             "drop-shares.pdf", "captions.txt"});
  const std::string text = comparison_text(c);
  folder.write("table.csv", comparison_csv(c));
  folder.write("table.json", comparison_json(c));
  folder.write("table.txt", text);
  const Figure chart = comparison_chart(c);
  std::string trouble;
  write_figures(folder, {chart}, {"svg", "pdf"}, trouble, progress);
  folder.write("captions.txt", fmt::format("{}\n  {}\n", chart.name, chart.caption));
  folder.keep();
  end_progress();
  fmt::print("{}\n{}\n", text, contents_words(c, clean_text(path), trouble.empty()));
  if (!trouble.empty())
    fmt::print(stderr, "not made: {}\n", trouble);
  if (missing > 0)
    fmt::print(stderr,
               "{} of {} variants are missing; the reasons are below the table. Run the "
               "same command again to do them\n",
               missing, c.rows.size());
  return status_of(c.rows);
}

} // namespace

std::string compare_folder(const std::string& door_file)
{
  const std::filesystem::path path(door_file);
  return (path.parent_path() / (path.stem().string() + "-compare")).string();
}

// The command line of a worker; it must come to the same variants.
std::vector<std::string> worker_words(const CompareAsked& asked, const std::string& folder,
                                      double room)
{
  std::vector<std::string> words{"hangtrue", "compare", asked.file, "--out", folder, "--crew"};
  words.emplace_back("--room");
  words.push_back(fmt::format("{:.0f} MB", std::max(10.0, std::floor(1e-6 * room))));
  for (const auto& text : asked.tries) {
    words.emplace_back("--try");
    words.push_back(text);
  }
  if (!asked.plan.empty()) {
    words.emplace_back("--plan");
    words.push_back(asked.plan);
  }
  if (asked.singly)
    words.emplace_back("--singly");
  return words;
}

CrewSize crew_size(const CompareAsked& asked, const DoorCase& base, int wanted)
{
  const double room = memory_room(asked.room).bytes;
  const int workers = workers_with_room(base.door, base.accuracy.finest, wanted, room);
  if (workers < wanted)
    fmt::print(stderr, "{} of memory are there: {} at a time instead of {}\n", memory_words(room),
               workers, wanted);
  return {workers, room / workers};
}

CompareJob read_job(const CompareAsked& asked)
{
  DoorCase base = read_door_file(asked.file);
  const TryPlan plan = plan_of(asked);
  return {std::move(base), make_variants(read_text(asked.file), asked.file, plan),
          asked.out.empty() ? compare_folder(asked.file) : asked.out};
}

ExitStatus command_compare(const CompareAsked& asked)
{
  CompareJob job = read_job(asked);
  std::vector<Variant>& variants = job.variants;
  const std::string& path = job.folder;
  if (asked.crew) {
    const CleanupDue due; // its owner ends it, and speaks
    AnalysisCache kept;
    try {
      serve_crew([&](int number, bool alone) {
        kept.set_threads(alone ? 2 : 1);
        if (number >= 1 && number <= static_cast<int>(variants.size()))
          work_on(variants[number - 1], path, kept, {asked.room, nullptr}, silent_progress());
      });
    } catch (const Interrupted&) {
      return ExitStatus::not_computed; // reported by its parent
    }
    return ExitStatus::holds;
  }
  const auto launched = launcher_share();
  const Share share = !asked.share.empty() ? read_share(asked.share) : launched.value_or(Share{});
  // Under a launcher every process is a worker by itself.
  const bool alone = asked.share.empty() && launched;
  const int wanted = asked.workers > 0 ? asked.workers : alone ? 1 : usable_processors();
  const OutputFolder place(path, {}); // says at once when it cannot be written
  const std::vector<int> work = own_work(asked, share, variants, path);
  const Progress progress = terminal_progress();
  const CrewSize crew = work.empty() ? CrewSize{} : crew_size(asked, job.base, wanted);
  const std::vector<LostWork> lost =
      run_crew(worker_words(asked, path, crew.room), work, crew.workers, [&](std::size_t done) {
        progress(fmt::format("{} of {} variants", done, work.size()),
                 static_cast<double>(done) / static_cast<double>(work.size()));
      });
  end_progress();
  return tell(asked, job.base, std::move(variants), path, share.count == 1, lost);
}

} // namespace hangtrue
