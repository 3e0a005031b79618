// The heap of the process: what is freed goes back to the system.
#pragma once

namespace hangtrue
{

/// Lets large blocks be taken from the system one by one and go back when they are freed, as the C
/// library does of itself. A library that is loaded with deal.II (SuperLU_DIST) forbids both to the
/// whole process when it is loaded, which held a tenth more memory than was in use.
void free_large_blocks();

/// Gives pages between small blocks back that nothing uses at the moment.
void give_free_pages_back();

} // namespace hangtrue
