// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/program/find_command.hpp"

#include "cases/compare/cost.hpp"
#include "cases/compare/variant_result.hpp"
#include "cases/compare/worker_pool.hpp"
#include "cases/input/door_file.hpp"
#include "cases/input/units.hpp"
#include "cases/output/output_folder.hpp"
#include "cases/runtime/terminal_progress.hpp"
#include "meshing/common/progress.hpp"
#include "meshing/door/mass_properties.hpp"
#include "solver/elasticity/nodal_loads.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue::program
{

namespace
{

// One variant with what it is ranked by: N, or money.
struct Ranked {
  const compare::Variant* variant = nullptr;
  double measure = 0.0;
};

std::vector<Ranked> ranked(const CompareJob& job, bool by_price)
{
  std::vector<Ranked> result;
  for (const auto& v : job.variants) {
    if (!v.fault.empty())
      continue;
    const input::DoorCase c = input::read_door_text(v.text, v.name);
    const double weight =
        elasticity::standard_gravity *
        (door::total_mass(door::part_masses(c.door)).mass + compare::pin_mass(c.door));
    result.push_back({&v, by_price ? compare::door_cost(c) : weight});
  }
  std::stable_sort(result.begin(), result.end(),
                   [](const Ranked& a, const Ranked& b) { return a.measure < b.measure; });
  return result;
}

// How far the front of the order is decided: the first that holds, or the first that is not done.
struct Front {
  std::size_t at = 0;
  bool found = false;
  std::vector<std::size_t> no_number; // indices before `at` without a result
};

Front front_of(const std::vector<Ranked>& order, const std::string& folder)
{
  Front front;
  for (; front.at < order.size(); ++front.at) {
    const compare::VariantResult row = compare::stored_result(folder, *order[front.at].variant);
    front.found = row.state == compare::VariantState::holds;
    if (front.found || row.state == compare::VariantState::missing)
      break;
    if (row.state == compare::VariantState::no_number)
      front.no_number.push_back(front.at);
  }
  return front;
}

// Thrown to end the pool when the result is known.
struct Enough {
};

std::vector<compare::FailedJob> work_until_found(const CompareOptions& requested,
                                                 const CompareJob& job,
                                                 const std::vector<Ranked>& order)
{
  std::vector<compare::FailedJob> lost;
  std::vector<int> work;
  for (const auto& r : order)
    if (compare::stored_result(job.folder, *r.variant).state == compare::VariantState::missing)
      work.push_back(r.variant->number);
  const Progress progress = runtime::terminal_progress();
  std::size_t known = 0;
  const int target = requested.workers > 0 ? requested.workers : compare::usable_processors();
  const WorkerCount pool = work.empty() ? WorkerCount{} : worker_count(requested, job.base, target);
  try {
    lost = compare::run_worker_pool(
        worker_command(requested, job.folder, pool.room), work, pool.workers,
        [&](std::size_t done) {
          progress(fmt::format("{} checked of at most {}", done, work.size()),
                   static_cast<double>(done) / static_cast<double>(work.size()));
          if (done == known)
            return;
          known = done;
          if (front_of(order, job.folder).found)
            throw Enough{};
        },
        true);
  } catch (const Enough&) {
    runtime::end_progress();
    return {};
  }
  runtime::end_progress();
  return lost;
}

// Says what prevents a result, and returns its status.
ExitStatus not_known(const CompareJob& job, const std::vector<Ranked>& order, const Front& front,
                     const std::vector<compare::FailedJob>& lost, const std::string& kind)
{
  for (const std::size_t place : front.no_number) {
    const compare::Variant& v = *order[place].variant;
    fmt::print(stderr, "variant {} ({}): no number: {}\n", v.number, compare::key_values_text(v),
               compare::stored_result(job.folder, v).note);
  }
  for (const auto& l : lost)
    fmt::print(stderr, "variant {}: not done: {}\n", l.number, l.why);
  fmt::print("The {} that holds every check is not known: {}.\n", kind,
             front.found ? "a variant before the first that holds gave no number"
             : front.at < order.size()
                 ? "a variant is missing; run the same command again"
                 : "none of those with numbers holds, and a variant gave none");
  return ExitStatus::not_computed;
}

std::string shown(const CompareJob& job, double measure, bool by_price)
{
  return by_price ? fmt::format("{:.2f} {}", measure, job.base.prices.currency)
                  : input::format_short(measure, input::Dimension::force, job.base.units);
}

} // namespace

ExitStatus command_find(const CompareOptions& requested, bool by_price)
{
  const CompareJob job = read_job(requested);
  if (by_price && !job.base.prices.given)
    throw InputError(fmt::format("{}: [prices]: there are none; allowed is at least one price to "
                                 "find the cheapest door by; add for example steel = \"1 /lb\"",
                                 requested.file));
  const std::vector<Ranked> order = ranked(job, by_price);
  std::vector<compare::FailedJob> lost;
  {
    const output::OutputFolder place(job.folder, {}); // says at once when it cannot be written
    if (!front_of(order, job.folder).found)
      lost = work_until_found(requested, job, order);
  }
  std::size_t checked = 0;
  for (const auto& r : order)
    if (compare::stored_result(job.folder, *r.variant).state != compare::VariantState::missing)
      ++checked;
  const Front front = front_of(order, job.folder);
  const std::string kind = by_price ? "cheapest" : "lightest";
  for (std::size_t i = 0; i < order.size(); ++i) {
    const compare::VariantResult row = compare::stored_result(job.folder, *order[i].variant);
    if (i > front.at || row.state == compare::VariantState::missing)
      break;
    fmt::print("  {:<10}{:>14}  {:>4.0f} %  {:<34}{}\n", compare::state_text(row.state),
               shown(job, order[i].measure, by_price), 100.0 * row.utilisation, row.tightest,
               compare::key_values_text(*order[i].variant));
  }
  fmt::print("\n{} of {} variants checked.\n", checked, job.variants.size());
  if (!front.no_number.empty() || (!front.found && front.at < order.size()))
    return not_known(job, order, front, lost, kind);
  if (!front.found) {
    fmt::print("None of them holds every check; widen the ranges.\n");
    return ExitStatus::close_or_fails;
  }
  const compare::Variant& best = *order[front.at].variant;
  fmt::print("Verified: the {} that holds every check is {}, {}.\nIts door file and results are in "
             "{}/{}\n",
             kind, compare::key_values_text(best), shown(job, order[front.at].measure, by_price),
             job.folder, best.name);
  return ExitStatus::holds;
}

} // namespace hangtrue::program
