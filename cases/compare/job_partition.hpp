// Partition of a long job: the part of this process, by option or by its rank under an MPI
// launcher.
#pragma once

#include <optional>
#include <string>

namespace hangtrue
{

/// Part `index` (from 1) of `count`.
struct Share {
  int index = 1;
  int count = 1;
};

/// Reads "2/5". Throws InputError.
Share read_share(const std::string& text);

/// The part by rank and size of a launcher (OMPI_COMM_WORLD_*, PMI_*, MV2_COMM_WORLD_*); nothing
/// outside a launcher.
std::optional<Share> launcher_share();

/// First and one past the last of `size` entries that belong to a part.
struct ShareRange {
  std::size_t from = 0;
  std::size_t to = 0;
};
/// The entries of `size` that belong to a share.
ShareRange share_range(const Share& share, std::size_t size);

} // namespace hangtrue
