// SPDX-License-Identifier: GPL-3.0-or-later
// A page or a picture as dots.
#pragma once

#include "viz/page/page.hpp"

#include <string>

namespace hangtrue::page
{

/// The page as dots, `dots` per mm; needs no display. Letters are Liberation Sans where it is
/// installed, else the face that VTK brings along.
Raster rasterized(const Page& page, double dots);

/// Bytes of a PNG file.
std::string png_bytes(const Raster& raster);

/// Base64 of bytes (RFC 4648, section 4).
std::string base64(const std::string& bytes);

} // namespace hangtrue::page
