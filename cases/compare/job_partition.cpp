// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/job_partition.hpp"

#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cstdlib>
#include <utility>

namespace hangtrue::compare
{

namespace
{

std::optional<int> whole(const std::string& text)
{
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size())
    return std::nullopt;
  return value;
}

std::optional<int> from_environment(const char* name)
{
  const char* text = std::getenv(name);
  return text == nullptr ? std::nullopt : whole(text);
}

} // namespace

JobPartition read_partition(const std::string& text)
{
  const auto stroke = text.find('/');
  const auto index = whole(text.substr(0, stroke));
  const auto count = stroke == std::string::npos ? std::nullopt : whole(text.substr(stroke + 1));
  if (!index || !count || *index < 1 || *index > *count)
    throw InputError(fmt::format("--share: found \"{}\"; allowed is I/N with I from 1 to N; write "
                                 "for example 2/5",
                                 input::message_text(text)));
  return {*index, *count};
}

std::optional<JobPartition> launcher_partition()
{
  const std::array<std::pair<const char*, const char*>, 3> names{
      {{"OMPI_COMM_WORLD_RANK", "OMPI_COMM_WORLD_SIZE"},
       {"PMI_RANK", "PMI_SIZE"},
       {"MV2_COMM_WORLD_RANK", "MV2_COMM_WORLD_SIZE"}}};
  for (const auto& [rank_name, size_name] : names) {
    const auto rank = from_environment(rank_name);
    const auto size = from_environment(size_name);
    if (rank && size && *rank >= 0 && *rank < *size)
      return JobPartition{*rank + 1, *size};
  }
  return std::nullopt;
}

IndexRange index_range(const JobPartition& share, std::size_t size)
{
  const auto count = static_cast<std::size_t>(share.count);
  const auto index = static_cast<std::size_t>(share.index);
  return {size * (index - 1) / count, size * index / count};
}

} // namespace hangtrue::compare
