// The dense library's kernels for the processor at hand.
#pragma once

#include <string>

namespace hangtrue
{

/// OpenBLAS takes a processor that is newer than itself for a very old one and runs at a fraction
/// of its speed. Where that has happened, starts the program again with the kernels that the
/// processor is known to run; returns when there is nothing to mend. Does nothing when the user has
/// set OPENBLAS_CORETYPE.
void use_fast_kernels(char** words);

/// Name of the kernels that the dense library has chosen, as "SkylakeX"; empty with a library that
/// does not say.
std::string dense_kernels();

/// Lets the dense library work in one thread whatever the environment says: its other ways to share
/// out a product round otherwise, and the same door would no longer give the same bytes. Does
/// nothing with a library that has no threads.
void use_one_dense_thread();

/// Lets the dense library take its work space (OpenBLAS: 128 MB of address space, once) now, while
/// there is room: one that is refused it later tries again for ever instead of failing.
void take_dense_space();

} // namespace hangtrue
