// SPDX-License-Identifier: GPL-3.0-or-later
// Kernels and threads of BLAS (OpenBLAS) for this processor.
#pragma once

#include <string>

namespace hangtrue::runtime
{

/// OpenBLAS takes a processor that is newer than itself for a very old one and runs at a fraction
/// of its speed. Where that has happened, starts the program again with the kernels that the
/// processor is known to run; returns when there is nothing to correct. Does nothing when the user
/// has set OPENBLAS_CORETYPE.
void select_blas_kernels(char** words);

/// Name of the kernels that BLAS has chosen, as "SkylakeX"; empty with a library that does not
/// say.
std::string dense_kernels();

/// Restricts BLAS to one thread whatever the environment says: its other ways to divide a product
/// round otherwise, and the same door would no longer give the same bytes. Does nothing with a
/// library that has no threads.
void use_one_blas_thread();

/// Makes BLAS allocate its work space (OpenBLAS: 128 MB of address space, once) now, while there is
/// memory: when refused later it retries forever instead of failing.
void reserve_blas_buffer();

} // namespace hangtrue::runtime
