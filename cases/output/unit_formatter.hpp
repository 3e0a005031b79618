// How figures write quantities in the units of the file.
#pragma once

#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

namespace hangtrue
{

/// How figures write quantities in the units of the file.
FigureWords figure_words(Units units);

} // namespace hangtrue
