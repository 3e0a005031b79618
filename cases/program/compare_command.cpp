// SPDX-License-Identifier: GPL-3.0-or-later
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

namespace hangtrue::program
{

namespace
{

compare::SweepPlan plan_of(const CompareOptions& requested)
{
  compare::SweepPlan plan;
  if (!requested.plan.empty())
    compare::read_plan_file(requested.plan, plan);
  for (const auto& text : requested.tries)
    plan.lists.push_back(compare::read_sweep(text));
  plan.singly = plan.singly || requested.singly;
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

bool to_do(const compare::VariantResult& row)
{
  return row.state == compare::VariantState::missing ||
         row.state == compare::VariantState::no_number;
}

std::vector<compare::VariantResult> stored_rows(const std::string& folder,
                                                const std::vector<compare::Variant>& variants)
{
  std::vector<compare::VariantResult> rows;
  rows.reserve(variants.size());
  for (const auto& v : variants)
    rows.push_back(compare::stored_result(folder, v));
  return rows;
}

// Numbers of the variants that this process has to see to.
std::vector<int> own_work(const CompareOptions& requested, const compare::JobPartition& share,
                          const std::vector<compare::Variant>& variants, const std::string& folder)
{
  const std::vector<int> order = compare::cache_friendly_order(variants);
  const compare::IndexRange range = compare::index_range(share, order.size());
  std::vector<int> work;
  std::set<std::string> seen; // two spellings of one door are one job
  for (std::size_t i = range.from; i < range.to && !requested.gather; ++i) {
    const compare::Variant& v = variants[order[i]];
    if (seen.insert(v.name).second && (requested.fresh || to_do(compare::stored_result(folder, v))))
      work.push_back(v.number);
  }
  return work;
}

ExitStatus status_of(const std::vector<compare::VariantResult>& rows)
{
  auto any = [&](compare::VariantState s) {
    return std::any_of(rows.begin(), rows.end(),
                       [s](const compare::VariantResult& r) { return r.state == s; });
  };
  if (any(compare::VariantState::missing))
    return ExitStatus::not_computed;
  if (any(compare::VariantState::holds) || any(compare::VariantState::close))
    return ExitStatus::holds;
  return any(compare::VariantState::fails) ? ExitStatus::close_or_fails : ExitStatus::not_computed;
}

// What is in the folder, and what not.
std::string contents_text(const compare::Comparison& c, const std::string& path, bool chart_made)
{
  const auto there =
      std::count_if(c.rows.begin(), c.rows.end(), [](const compare::VariantResult& r) {
        return r.state != compare::VariantState::missing &&
               r.state != compare::VariantState::impossible;
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
void note_missing(compare::Comparison& c, const std::vector<compare::FailedJob>& lost)
{
  for (std::size_t r = 0; r < c.rows.size(); ++r) {
    if (c.rows[r].state != compare::VariantState::missing)
      continue;
    const auto& name = c.variants[r].name; // two spellings of one door are one job
    const auto found = std::find_if(lost.begin(), lost.end(), [&](const compare::FailedJob& l) {
      return c.variants.at(static_cast<std::size_t>(l.number) - 1).name == name;
    });
    c.rows[r].note = found != lost.end() ? found->why
                     : lost.empty()      ? "nobody has worked on it"
                                         : "no worker was left to do it";
  }
}

ExitStatus announce(const CompareOptions& requested, const input::DoorCase& base,
                    std::vector<compare::Variant> variants, const std::string& path, bool whole_job,
                    const std::vector<compare::FailedJob>& lost)
{
  compare::Comparison c{base.door.name, base.units, base.prices.currency, std::move(variants), {}};
  c.rows = stored_rows(path, c.variants);
  note_missing(c, lost);
  const auto missing =
      std::count_if(c.rows.begin(), c.rows.end(), [](const compare::VariantResult& r) {
        return r.state == compare::VariantState::missing;
      });
  const Progress progress = runtime::terminal_progress();
  if (missing > 0 && !whole_job && !requested.gather) {
    for (const auto& l : lost)
      fmt::print(stderr, "variant {}: not done: {}\n", l.number, l.why);
    if (!lost.empty())
      return ExitStatus::not_computed;
    fmt::print("This share is done; {} of {} variants are with others. The table comes with the "
               "last share, or with --gather.\n",
               missing, c.variants.size());
    return ExitStatus::holds;
  }
  output::OutputFolder folder(path, {"table.csv", "table.json", "table.txt", "drop-shares.svg",
                                     "drop-shares.pdf", "captions.txt"});
  const std::string text = compare::comparison_text(c);
  folder.write("table.csv", compare::comparison_csv(c));
  folder.write("table.json", compare::comparison_json(c));
  folder.write("table.txt", text);
  const figures::Figure chart = compare::comparison_chart(c);
  std::string trouble;
  case_figures::write_figures(folder, {chart}, {"svg", "pdf"}, trouble, progress);
  folder.write("captions.txt", fmt::format("{}\n  {}\n", chart.name, chart.caption));
  folder.keep();
  runtime::end_progress();
  fmt::print("{}\n{}\n", text, contents_text(c, input::clean_text(path), trouble.empty()));
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
std::vector<std::string> worker_command(const CompareOptions& requested, const std::string& folder,
                                        double room)
{
  std::vector<std::string> words{"hangtrue", "compare", requested.file, "--out", folder, "--crew"};
  words.emplace_back("--room");
  words.push_back(fmt::format("{:.0f} MB", std::max(10.0, std::floor(1e-6 * room))));
  for (const auto& text : requested.tries) {
    words.emplace_back("--try");
    words.push_back(text);
  }
  if (!requested.plan.empty()) {
    words.emplace_back("--plan");
    words.push_back(requested.plan);
  }
  if (requested.singly)
    words.emplace_back("--singly");
  return words;
}

WorkerCount worker_count(const CompareOptions& requested, const input::DoorCase& base, int target)
{
  const double room = runtime::available_memory(requested.room).bytes;
  const int workers = runtime::workers_with_room(base.door, base.accuracy.finest, target, room);
  if (workers < target)
    fmt::print(stderr, "{} of memory are there: {} at a time instead of {}\n",
               runtime::memory_text(room), workers, target);
  return {workers, room / workers};
}

CompareJob read_job(const CompareOptions& requested)
{
  input::DoorCase base = input::read_door_file(requested.file);
  const compare::SweepPlan plan = plan_of(requested);
  return {std::move(base), compare::make_variants(read_text(requested.file), requested.file, plan),
          requested.out.empty() ? compare_folder(requested.file) : requested.out};
}

ExitStatus command_compare(const CompareOptions& requested)
{
  CompareJob job = read_job(requested);
  std::vector<compare::Variant>& variants = job.variants;
  const std::string& path = job.folder;
  if (requested.crew) {
    const runtime::CleanupDue due; // its owner ends it, and speaks
    analysis::AnalysisCache cache;
    try {
      compare::run_worker([&](int number, bool alone) {
        cache.set_threads(alone ? 2 : 1);
        if (number >= 1 && number <= static_cast<int>(variants.size()))
          compare::check_variant(variants[number - 1], path, cache, {requested.room, nullptr},
                                 runtime::silent_progress());
      });
    } catch (const runtime::Interrupted&) {
      return ExitStatus::not_computed; // reported by its parent
    }
    return ExitStatus::holds;
  }
  const auto launched = compare::launcher_partition();
  const compare::JobPartition share = !requested.share.empty()
                                          ? compare::read_partition(requested.share)
                                          : launched.value_or(compare::JobPartition{});
  // Under a launcher every process is a worker by itself.
  const bool alone = requested.share.empty() && launched;
  const int target = requested.workers > 0 ? requested.workers
                     : alone               ? 1
                                           : compare::usable_processors();
  const output::OutputFolder place(path, {}); // says at once when it cannot be written
  const std::vector<int> work = own_work(requested, share, variants, path);
  const Progress progress = runtime::terminal_progress();
  const WorkerCount pool = work.empty() ? WorkerCount{} : worker_count(requested, job.base, target);
  const std::vector<compare::FailedJob> lost = compare::run_worker_pool(
      worker_command(requested, path, pool.room), work, pool.workers, [&](std::size_t done) {
        progress(fmt::format("{} of {} variants", done, work.size()),
                 static_cast<double>(done) / static_cast<double>(work.size()));
      });
  runtime::end_progress();
  return announce(requested, job.base, std::move(variants), path, share.count == 1, lost);
}

} // namespace hangtrue::program
