// SPDX-License-Identifier: GPL-3.0-or-later
// `hangtrue compare`: many variants of one door, computed on all processors, in one table.
#pragma once

#include "cases/compare/variants.hpp"
#include "cases/input/door_case.hpp"
#include "meshing/common/errors.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue::program
{

/// Options of the command line.
struct CompareOptions {
  std::string file;               ///< door file
  std::string out;                ///< folder, or empty for one beside the file
  std::vector<std::string> tries; ///< lists as in read_sweep
  std::string plan;               ///< plan file, or empty
  bool singly = false;
  bool fresh = false;         ///< do again what is there already
  bool gather = false;        ///< only bring together what is there
  bool crew = false;          ///< this process is a worker
  int workers = 0;            ///< 0: as many as there are processors
  std::string share;          ///< "I/N", or empty
  std::optional<double> room; ///< byte of memory that all workers together may take
};

/// The door, its variants and where they go.
struct CompareJob {
  input::DoorCase base;
  std::vector<compare::Variant> variants;
  std::string folder;
};

/// Reads door and plan. Throws InputError; writes nothing.
CompareJob read_job(const CompareOptions& requested);

/// The command line of a worker of this job that may take `room`, byte.
std::vector<std::string> worker_command(const CompareOptions& requested, const std::string& folder,
                                        double room);

/// Workers at a time, and the memory, byte, that each may take.
struct WorkerCount {
  int workers = 1;
  double room = 0.0;
};

/// At most `wanted` workers, as many as fit into memory. Says so on standard error when they are
/// fewer.
WorkerCount worker_count(const CompareOptions& requested, const input::DoorCase& base, int target);

/// Runs what is not there yet and writes table.csv, table.json and table.txt. Throws InputError.
ExitStatus command_compare(const CompareOptions& requested);

/// Default folder of a comparison of a door file.
std::string compare_folder(const std::string& door_file);

} // namespace hangtrue::program
