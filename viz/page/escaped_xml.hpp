// SPDX-License-Identifier: GPL-3.0-or-later
// Texts of others in figures and sheets.
#pragma once

#include <string>

namespace hangtrue::page
{

/// A text for XML and HTML on one line: & < > and quotes are replaced, ends of lines are blanks;
/// controls, noncharacters and marks of writing direction are dropped, bytes that are no UTF-8
/// become U+FFFD.
std::string escaped_xml(const std::string& text);

} // namespace hangtrue::page
