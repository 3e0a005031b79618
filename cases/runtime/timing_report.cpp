// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/runtime/timing_report.hpp"

#include "cases/runtime/blas_setup.hpp"

#include <nlohmann/json.hpp>
#include <sys/resource.h>

#include <algorithm>

namespace hangtrue::runtime
{

namespace
{

std::size_t place_of(const std::string& stage, std::vector<StageTime>& stages)
{
  const auto found = std::find_if(stages.begin(), stages.end(),
                                  [&](const StageTime& s) { return s.stage == stage; });
  if (found != stages.end())
    return static_cast<std::size_t>(found - stages.begin());
  stages.push_back({stage, 0.0});
  return stages.size() - 1;
}

double peak_memory()
{
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  return 1024.0 * static_cast<double>(used.ru_maxrss); // Linux counts in KiB
}

} // namespace

Progress timed(const Progress& shown, StageTimes& times)
{
  return [shown, &times](const std::string& stage, double done) {
    const auto now = StageTimes::Clock::now();
    times.stages[place_of(times.running, times.stages)].seconds +=
        std::chrono::duration<double>(now - times.last).count();
    times.last = now;
    times.running = stage;
    if (shown)
      shown(stage, done);
  };
}

std::string timing_json(const StageTimes& times)
{
  nlohmann::ordered_json stages = nlohmann::ordered_json::array();
  double whole = 0.0;
  for (const auto& s : times.stages) {
    stages.push_back({{"stage", s.stage}, {"wall_s", s.seconds}});
    whole += s.seconds;
  }
  const nlohmann::ordered_json timing{{"wall_s", whole},
                                      {"most_memory_byte", peak_memory()},
                                      {"dense_kernels", dense_kernels()},
                                      {"stages", stages}};
  return timing.dump(1) + "\n";
}

} // namespace hangtrue::runtime
