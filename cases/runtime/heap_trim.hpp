// SPDX-License-Identifier: GPL-3.0-or-later
// The heap of the process: what is freed goes back to the system.
#pragma once

namespace hangtrue::runtime
{

/// Lets large blocks be allocated from the system one by one and returned when they are freed, as
/// is the default of the C library. A library that is loaded with deal.II (SuperLU_DIST) disables
/// both for the whole process when it is loaded, which cost a tenth more memory than was in use.
void free_large_blocks();

/// Returns free pages between small blocks to the system.
void release_free_pages();

} // namespace hangtrue::runtime
