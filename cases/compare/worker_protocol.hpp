// SPDX-License-Identifier: GPL-3.0-or-later
// The protocol between the process that runs a pool and its first worker.
#pragma once

namespace hangtrue::compare
{

/// Environment variable with the number of copies that the first worker is to fork.
constexpr const char* forked_workers_variable = "HANGTRUE_FOLLOWERS";

/// More are not copied but started.
constexpr int max_forked_workers = 63;

/// File descriptors of the first worker that are the two ends of forked worker `k`, from 0: input
/// and output.
constexpr int forked_worker_reads(int k)
{
  return 3 + 2 * k;
}
/// The other end of the two.
constexpr int forked_worker_writes(int k)
{
  return 4 + 2 * k;
}

/// Prefix of a number that was not done, with the reason behind it in the same line.
constexpr char failed_mark = '!';

/// First output of a forked worker, with its process number.
constexpr char forked_worker_mark = '+';

} // namespace hangtrue::compare
