// SPDX-License-Identifier: GPL-3.0-or-later
// Colours of every figure, computed in a perceptual space: uniform in lightness, distinguishable
// for colour-blind readers and in grey print.
#pragma once

#include <string>

namespace hangtrue::page
{

/// A colour as screens and files take it: sRGB, 0 to 1 each (IEC 61966-2-1).
struct Colour {
  double red = 0.0;
  double green = 0.0;
  double blue = 0.0;
};

/// The same colour as it is seen, in OKLab: lightness 0 (black) to 1 (white), a from green to red,
/// b from blue to yellow.
struct OklabColour {
  double lightness = 0.0;
  double a = 0.0;
  double b = 0.0;
};

/// OKLab of a tristimulus value with white at (0.9505, 1, 1.0890) (B. Ottosson, "A perceptual color
/// space for image processing", 2020).
OklabColour oklab_from_xyz(double x, double y, double z);

/// OKLab of a colour, and the colour of an OKLab value; the latter may leave 0..1 where no screen
/// can show it.
OklabColour to_oklab(const Colour& colour);
/// The colour of an OKLab value, moved into what a screen can show.
Colour from_oklab(const OklabColour& seen);

/// A colour by lightness, strength (distance from grey in OKLab) and hue, deg; a strength that no
/// screen can show is reduced until one can.
Colour tone(double lightness, double strength, double hue);

/// Sequential scale for `t` from 0 (pale) to 1 (dark): lightness falls linearly from 0.96 to 0.30
/// while the hue goes from sand over rust to oxide.
Colour sequential(double t);

/// Diverging scale for `t` from -1 to 1 around 0, the limit or the zero, which is near white: blue
/// green below, rust above, lightness falling linearly and symmetrically to both ends.
Colour two_sided(double t);

/// Series of charts, distinguished by lightness as well as by hue; `index` from 0, four of them.
Colour series_colour(int index);

/// Colours of lines and letters.
Colour ink();       ///< near black
Colour faint();     ///< of thin helping lines
Colour loads();     ///< of forces
Colour displaced(); ///< of the displaced door

/// "#rrggbb".
std::string hex(const Colour& colour);

} // namespace hangtrue::page
