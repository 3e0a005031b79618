// SPDX-License-Identifier: GPL-3.0-or-later
// `hangtrue find`: the lightest or cheapest of many variants that holds, without checking them all.
#pragma once

#include "cases/program/compare_command.hpp"

namespace hangtrue::program
{

/// Checks variants in the order of their nominal weight (or price) until one holds every check and
/// all before it are known not to. Weight and price need no solution, so the order is certain, and
/// the first that holds is the best of all; it is the only one called verified. Results of an
/// earlier run or comparison in the folder count. Throws InputError, also for `by_price` without
/// prices.
ExitStatus command_find(const CompareOptions& requested, bool by_price);

} // namespace hangtrue::program
