// SPDX-License-Identifier: GPL-3.0-or-later
// Partition of a long job: the part of this process, by option or by its rank under an MPI
// launcher.
#pragma once

#include <optional>
#include <string>

namespace hangtrue::compare
{

/// Part `index` (from 1) of `count`.
struct JobPartition {
  int index = 1;
  int count = 1;
};

/// Reads "2/5". Throws InputError.
JobPartition read_partition(const std::string& text);

/// The part by rank and size of a launcher (OMPI_COMM_WORLD_*, PMI_*, MV2_COMM_WORLD_*); nothing
/// outside a launcher.
std::optional<JobPartition> launcher_partition();

/// First and one past the last of `size` entries that belong to a part.
struct IndexRange {
  std::size_t from = 0;
  std::size_t to = 0;
};
/// The entries of `size` that belong to a share.
IndexRange index_range(const JobPartition& share, std::size_t size);

} // namespace hangtrue::compare
