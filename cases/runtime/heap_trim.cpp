// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/runtime/heap_trim.hpp"

#include <malloc.h>

namespace hangtrue::runtime
{

void free_large_blocks()
{
#if defined(__GLIBC__)
  constexpr int megabyte = 1 << 20;
  constexpr int usual_count = 65536; // of the C library
  mallopt(M_MMAP_MAX, usual_count);
  mallopt(M_MMAP_THRESHOLD, 8 * megabyte);
  mallopt(M_TRIM_THRESHOLD, 32 * megabyte);
#endif
}

void release_free_pages()
{
#if defined(__GLIBC__)
  malloc_trim(0);
#endif
}

} // namespace hangtrue::runtime
