# SPDX-License-Identifier: GPL-3.0-or-later
# What a fault in memory could be used for is made harder in release builds; what it costs: docs/performance.md.
# tests/program/hardening.py reads the programs for it.
include(CheckCXXCompilerFlag)

set(hardening -fPIE -fstack-protector-strong)
check_cxx_compiler_flag(-fcf-protection=full HANGTRUE_HAS_CF_PROTECTION) # processors of x86 only
if(HANGTRUE_HAS_CF_PROTECTION)
  list(APPEND hardening -fcf-protection=full)
endif()
# Some compilers define it by themselves. Level 3 checks sizes known at run time as well (GCC 12, glibc 2.34).
list(APPEND hardening -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=3)

if(HANGTRUE_HARDENED)
  add_compile_options("$<$<CONFIG:Release>:${hardening}>")
  add_link_options("$<$<AND:$<CONFIG:Release>,$<STREQUAL:$<TARGET_PROPERTY:TYPE>,EXECUTABLE>>:-pie>"
                   "$<$<CONFIG:Release>:-Wl,-z,relro,-z,now,-z,noexecstack>")
endif()
