// SPDX-License-Identifier: GPL-3.0-or-later
// A library under the name of another: whoever loads it says so and ends.
#include <unistd.h>

#include <string_view>

[[gnu::constructor]] static void planted()
{
  constexpr std::string_view words = "planted\n";
  _exit(write(STDOUT_FILENO, words.data(), words.size()) < 0 ? 78 : 77);
}
