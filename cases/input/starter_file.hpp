// SPDX-License-Identifier: GPL-3.0-or-later
// Texts from the table of keys: a commented door file to start from, and the reference.
#pragma once

#include <string>

namespace hangtrue::input
{

/// A whole door file of a small fire door with every key, its default and a comment.
std::string starter_text();

/// docs/door-file.md.
std::string door_file_reference();

} // namespace hangtrue::input
