// SPDX-License-Identifier: GPL-3.0-or-later
// What memory there is, in the files of proc(5) and cgroups(7), and what a check will take.
#define BOOST_TEST_MODULE memory
#include <boost/test/unit_test.hpp>

#include "cases/runtime/heap_trim.hpp"
#include "cases/runtime/memory_estimate.hpp"
#include "cases/runtime/memory_limit.hpp"
#include "meshing/common/errors.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "tests/support/program_folder.hpp"
#include "tests/support/test_doors.hpp"

#include <malloc.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

using namespace hangtrue;
namespace fs = std::filesystem;

namespace
{

// A made-up / with nothing in it but what a case writes.
struct Root {
  test::Folder folder{"hangtrue root"};
  void write(const std::string& name, const std::string& text) const
  {
    fs::create_directories((folder.path / name).parent_path());
    folder.write(name, text);
  }
  [[nodiscard]] runtime::AvailableMemory room(std::optional<double> requested = {}) const
  {
    return runtime::available_memory(requested, folder.path);
  }
};

} // namespace

BOOST_AUTO_TEST_CASE(the_machine_bounds)
{
  const Root root;
  root.write("proc/meminfo", "MemTotal:  9000000 kB\nMemFree: 1000 kB\nMemAvailable: 2000000 kB\n");
  BOOST_TEST(root.room().bytes == 2000000.0 * 1024.0);
  BOOST_TEST(root.room().bound == "free on this machine");
}

// cgroups(7): of version 2 "0::/path" below /sys/fs/cgroup, a limit of "max" is none, and the
// groups above bound as well; file pages that can be dropped do not count.
BOOST_AUTO_TEST_CASE(groups_of_version_two_bound)
{
  const Root root;
  root.write("proc/meminfo", "MemAvailable: 8000000 kB\n");
  root.write("proc/self/cgroup", "0::/shop/door\n");
  root.write("sys/fs/cgroup/shop/door/memory.max", "max\n");
  root.write("sys/fs/cgroup/shop/door/memory.current", "100000000\n");
  BOOST_TEST(root.room().bytes == 8000000.0 * 1024.0);
  root.write("sys/fs/cgroup/shop/memory.max", "3000000000\n");
  root.write("sys/fs/cgroup/shop/memory.current", "1200000000\n");
  root.write("sys/fs/cgroup/shop/memory.stat", "anon 5\ninactive_file 200000000\n");
  BOOST_TEST(root.room().bytes == 2e9);
  BOOST_TEST(root.room().bound.find("control group") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(groups_of_version_one_bound)
{
  const Root root;
  root.write("proc/meminfo", "MemAvailable: 8000000 kB\n");
  root.write("proc/self/cgroup", "5:devices:/\n4:cpu,memory:/job\n");
  root.write("sys/fs/cgroup/memory/job/memory.limit_in_bytes", "1000000000\n");
  root.write("sys/fs/cgroup/memory/job/memory.usage_in_bytes", "400000000\n");
  BOOST_TEST(root.room().bytes == 6e8);
  // In a container the path of the host may be missing below the mount.
  root.write("proc/self/cgroup", "4:memory:/somewhere/else\n");
  root.write("sys/fs/cgroup/memory/memory.limit_in_bytes", "900000000\n");
  root.write("sys/fs/cgroup/memory/memory.usage_in_bytes", "400000000\n");
  BOOST_TEST(root.room().bytes == 5e8);
}

// What the process uses already is part of the user's limit.
BOOST_AUTO_TEST_CASE(the_user_bounds)
{
  const Root root;
  root.write("proc/meminfo", "MemAvailable: 8000000 kB\n");
  root.write("proc/self/statm", "2000 1000 100 10 0 500 0\n");
  const double held = 1000.0 * static_cast<double>(sysconf(_SC_PAGESIZE));
  BOOST_TEST(root.room(1e9).bytes == 1e9 - held);
  BOOST_TEST(root.room(1e9).bound == "left by --room");
  BOOST_TEST(root.room(1e6).bytes == 0.0);
}

BOOST_AUTO_TEST_CASE(a_size_is_read_and_a_wrong_one_refused)
{
  BOOST_TEST(runtime::read_room("4 GB").value() == 4e9);
  BOOST_TEST(runtime::read_room("800MB").value() == 8e8);
  BOOST_TEST(!runtime::read_room("").has_value());
  for (const char* wrong : {"4", "GB", "4 G", "-4 GB", "nan GB", "1 MB", "4 GB more", "1e30 GB"})
    BOOST_CHECK_EXCEPTION(runtime::read_room(wrong), InputError, [&](const InputError& error) {
      const std::string said = error.what();
      return said.find("--room") != std::string::npos && said.find(wrong) != std::string::npos &&
             said.find("allowed") != std::string::npos;
    });
}

BOOST_AUTO_TEST_CASE(a_need_beyond_the_limit_is_refused_with_need_limit_and_repair)
{
  const door::Door door = test::barrel_door();
  const runtime::MemoryEstimate coarse =
      runtime::estimate_memory(door, sweep::make_mesh(door, door::mesh_density(door, 1)), 1);
  const runtime::MemoryEstimate fine =
      runtime::estimate_memory(door, sweep::make_mesh(door, door::mesh_density(door, 2)), 2);
  BOOST_TEST(fine.bytes > coarse.bytes);
  const runtime::AvailableMemory room{fine.bytes - 1e6, "free on this machine"};
  runtime::throw_if_exceeds_limit({fine.bytes, ""}, fine, 0.0);
  runtime::throw_if_exceeds_limit(room, fine, 2e6); // what is in use already is part of the need
  BOOST_CHECK_EXCEPTION(runtime::throw_if_exceeds_limit(room, fine, 0.0), ComputeError,
                        [&](const auto& error) {
                          const std::string said = error.what();
                          return said.find(runtime::memory_text(fine.bytes)) != std::string::npos &&
                                 said.find(runtime::memory_text(room.bytes)) != std::string::npos &&
                                 said.find(room.bound) != std::string::npos &&
                                 said.find("finest_level = 1") != std::string::npos;
                        });
  BOOST_TEST(runtime::workers_with_room(door, 2, 8, 3.5 * fine.bytes) == 3);
  BOOST_TEST(runtime::workers_with_room(door, 1, 8, 3.5 * coarse.bytes) == 3);
  BOOST_TEST(runtime::workers_with_room(door, 2, 2, 99.0 * fine.bytes) == 2);
  BOOST_TEST(runtime::workers_with_room(door, 2, 8, 0.0) == 1);
}

#if !defined(__SANITIZE_ADDRESS__) &&                                                              \
    !defined(__SANITIZE_THREAD__) // their heaps do not return what is freed
// 256 MB in blocks of 16, with a small one after them that stays. Without free_large_blocks the
// heap keeps all of it (SuperLU_DIST sets the C library so when it is loaded).
BOOST_AUTO_TEST_CASE(freed_memory_returns_to_the_system)
{
  mallopt(M_MMAP_MAX, 0); // as that library does
  mallopt(M_TRIM_THRESHOLD, -1);
  runtime::free_large_blocks();
  const double before = runtime::memory_used();
  std::vector<std::vector<double>> blocks;
  for (int i = 0; i < 16; ++i)
    blocks.emplace_back(std::size_t{2} << 20, 1.0); // 16 MB each
  const double between = runtime::memory_used() - before;
  BOOST_TEST(between > 250e6);
  const std::vector<double> last(std::size_t{1} << 14, 1.0); // small, above them on the heap
  blocks.clear();
  BOOST_TEST(runtime::memory_used() - before < 0.1 * between);
}
#endif
