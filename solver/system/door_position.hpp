// How the door stands in a state: open on its hinges or shut in its frame.
#pragma once

namespace hangtrue
{

/// Whether the door swings free or stands in its frame.
enum class Standing { open, shut };

} // namespace hangtrue
