// SPDX-License-Identifier: GPL-3.0-or-later
// The two kinds of failure that a user sees, and the exit status that belongs to each.
#pragma once

#include <stdexcept>
#include <string>

namespace hangtrue
{

/// Exit status of the program (docs/results.md lists them for scripts).
enum class ExitStatus : int {
  holds = 0,          ///< every check holds
  close_or_fails = 1, ///< at least one check is close or fails
  bad_input = 2,      ///< the door file or the command line is wrong; nothing was written
  not_computed = 3    ///< the input is good but no number that can be trusted came out
};

/// Wrong input: the message says where, what was found, what is allowed and how to repair it.
class InputError : public std::runtime_error
{
public:
  explicit InputError(const std::string& message) : std::runtime_error(message) {}
};

/// A computation that did not reach a result: the message says which stage, how far it came and
/// what to try.
class ComputeError : public std::runtime_error
{
public:
  explicit ComputeError(const std::string& message) : std::runtime_error(message) {}
};

} // namespace hangtrue
