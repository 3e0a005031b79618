// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/file_faults.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue::input
{

void FirstFaults::add(const FilePlace& place, const std::string& key,
                      const std::function<std::string()>& said)
{
  const auto earlier = [](const FileFault& a, const FileFault& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  };
  if (first_.size() == max_reported_faults) {
    ++more_;
    const auto last = std::max_element(first_.begin(), first_.end(), earlier);
    if (!earlier({place, "", ""}, *last))
      return;
    first_.erase(last);
  }
  first_.push_back({place, key, said()});
}

} // namespace hangtrue::input
