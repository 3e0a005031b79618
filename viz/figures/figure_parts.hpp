// SPDX-License-Identifier: GPL-3.0-or-later
// Parts common to the figures of a door.
#pragma once

#include "viz/figures/figures.hpp"
#include "viz/scene/scene.hpp"

#include <string>
#include <vector>

namespace hangtrue::figures
{

/// Plain colours of parts, similar in lightness so that edges dominate the drawing.
page::Colour part_colour(mesh::Part part);

/// A layer of a body's steel in plain colours, displaced by `scale` times `displacements` if there
/// are any.
scene::Layer plain_layer(const scene::Surface& surface, const mesh::BodyMesh& body,
                         const std::vector<Vec3>* displacements = nullptr, double scale = 1.0);

/// Only the edges, as a thin outline.
scene::Layer outline_layer(const scene::Surface& surface, const mesh::BodyMesh& body, double width);

/// The mark of a centre of gravity: a quartered disc.
void draw_gravity_mark(page::Page& page, page::PagePoint position);

/// Lines of text below each other; returns the height, mm, after the last.
double draw_text_lines(page::Page& page, page::PagePoint position,
                       const std::vector<std::string>& lines, double height);

/// The outer face of the panel without what the leaves of the hinges cover.
scene::Surface bare_face(const door::Door& door, const scene::Surface& surface,
                         const mesh::BodyMesh& body);

/// Corners of the bounding box of all points.
std::vector<Vec3> box_corners(const std::vector<Vec3>& places);

/// "drawn 20 times larger" or "to scale".
std::string magnification_text(double factor);

} // namespace hangtrue::figures
