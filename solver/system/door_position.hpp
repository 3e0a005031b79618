// SPDX-License-Identifier: GPL-3.0-or-later
// The position of the door in a state: open on its hinges or closed in its frame.
#pragma once

namespace hangtrue::system
{

/// Whether the door swings free or is closed in its frame.
enum class DoorPosition { open, closed };

} // namespace hangtrue::system
