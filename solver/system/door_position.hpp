// The position of the door in a state: open on its hinges or closed in its frame.
#pragma once

namespace hangtrue
{

/// Whether the door swings free or is closed in its frame.
enum class Standing { open, shut };

} // namespace hangtrue
