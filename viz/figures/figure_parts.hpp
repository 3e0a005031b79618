// Parts common to the figures of a door.
#pragma once

#include "viz/figures/figures.hpp"
#include "viz/scene/scene.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// Plain colours of parts, similar in lightness so that edges dominate the drawing.
Colour part_colour(Part part);

/// A layer of a body's steel in plain colours, displaced by `scale` times `moves` if there are any.
Layer plain_layer(const Surface& surface, const BodyMesh& body,
                  const std::vector<Vec3>* moves = nullptr, double scale = 1.0);

/// Only the edges, as a thin outline.
Layer outline_layer(const Surface& surface, const BodyMesh& body, double width);

/// The mark of a centre of gravity: a quartered disc.
void put_gravity_mark(Page& page, Spot at);

/// Lines of text below each other; returns the height, mm, after the last.
double put_lines(Page& page, Spot at, const std::vector<std::string>& lines, double height);

/// The outer face of the panel without what the leaves of the hinges cover.
Surface bare_face(const Door& door, const Surface& surface, const BodyMesh& body);

/// Corners of the bounding box of all points.
std::vector<Vec3> box_corners(const std::vector<Vec3>& places);

/// "drawn 20 times larger" or "to scale".
std::string larger(double factor);

} // namespace hangtrue
