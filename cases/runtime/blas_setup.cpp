// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/runtime/blas_setup.hpp"

#include <dlfcn.h>
#include <unistd.h>

#include <cstdlib>
#include <vector>

namespace hangtrue::runtime
{

std::string dense_kernels()
{
  using Name = char* (*)();
  const auto name = reinterpret_cast<Name>(dlsym(RTLD_DEFAULT, "openblas_get_corename"));
  return name == nullptr ? "" : name();
}

void select_blas_kernels(char** words)
{
  constexpr const char* setting = "OPENBLAS_CORETYPE"; // read when the library is loaded
  if (std::getenv(setting) != nullptr)
    return;
  if (dense_kernels() != "Prescott")
    return;
#if defined(__x86_64__)
  const bool wide =
      __builtin_cpu_supports("avx512f") != 0 && __builtin_cpu_supports("avx512vl") != 0 &&
      __builtin_cpu_supports("avx512bw") != 0 && __builtin_cpu_supports("avx512dq") != 0;
  const bool usual = __builtin_cpu_supports("avx2") != 0 && __builtin_cpu_supports("fma") != 0;
  if (!wide && !usual)
    return;
  setenv(setting, wide ? "SkylakeX" : "Haswell", 1);
  execv("/proc/self/exe", words); // comes back only if it could not
#else
  static_cast<void>(words);
#endif
}

void use_one_blas_thread()
{
  using Count = void (*)(int);
  auto set = [](const char* name, int value) {
    if (const auto call = reinterpret_cast<Count>(dlsym(RTLD_DEFAULT, name)); call != nullptr)
      call(value);
  };
  set("openblas_set_num_threads", 1);
  set("omp_set_num_threads", 1);
  // CHOLMOD asks for four by name; with no active level it gets one.
  set("omp_set_max_active_levels", 0);
}

void reserve_blas_buffer()
{
  using Factor = void (*)(const char*, const int*, double*, const int*, int*, std::size_t);
  const auto factor = reinterpret_cast<Factor>(dlsym(RTLD_DEFAULT, "dpotrf_"));
  if (factor == nullptr)
    return;
  constexpr int n = 256; // small ones do without
  std::vector<double> unit(static_cast<std::size_t>(n) * n, 0.0);
  for (std::size_t i = 0; i < n; ++i)
    unit[i * n + i] = 1.0;
  int info = 0;
  factor("L", &n, unit.data(), &n, &info, 1);
}

} // namespace hangtrue::runtime
