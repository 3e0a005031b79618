// Keys and values of a plan, as written on the command line or in a plan file.
#pragma once

#include <string>
#include <vector>

namespace hangtrue
{

/// A key of the door file in the writing of a plan: section, index (-1 for all), name.
struct TriedKey {
  std::string written; ///< "hinge[0].at"
  std::string section;
  int index = -1;
  std::string name;
};

/// Takes a key apart. Throws InputError when the door file knows no such key.
TriedKey read_key(const std::string& written);

/// TOML values of one entry of a list: the value itself, or all values of a range "a .. b by c" or
/// "a .. b in n". Throws InputError.
std::vector<std::string> read_entry(const TriedKey& key, const std::string& text);

} // namespace hangtrue
