// What was factored once and may be used again.
#pragma once

namespace hangtrue
{

/// Empty for now.
struct FactoredBodies {
};

} // namespace hangtrue
