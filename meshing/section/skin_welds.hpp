// SPDX-License-Identifier: GPL-3.0-or-later
// Where the welds that attach the inner skin begin and end along a side of the rim.
#pragma once

#include "meshing/door/door.hpp"

#include <vector>

namespace hangtrue::section
{

/// Middles of the stitches of a side that is `length` m long, m: one in its middle, the others a
/// pitch apart, complete stitches only.
std::vector<double> stitch_middles(const door::InnerSkinAttachment& hold, double length);

/// Ends of stitches, of the anchor weld and the cut on a side of the rim that runs `run` and is
/// `length` m long, from its beginning, m; empty for a welded skin.
std::vector<double> weld_segments(const door::Door& door, double length, door::StiffenerRun run);

} // namespace hangtrue::section
