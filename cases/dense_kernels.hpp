// The dense library's kernels for the processor at hand.
#pragma once

namespace hangtrue
{

/// OpenBLAS takes a processor that is newer than itself for a very old one and runs at a fraction
/// of its speed. Where that has happened, starts the program again with the kernels that the
/// processor is known to run; returns when there is nothing to mend. Does nothing when the user has
/// set OPENBLAS_CORETYPE.
void use_fast_kernels(char** words);

} // namespace hangtrue
