// How drawings write lengths and forces in the user's units.
#pragma once

#include "cases/case.hpp"
#include "viz/elevation.hpp"

namespace hangtrue
{

DrawingWords words_in(Units units);

} // namespace hangtrue
