// SPDX-License-Identifier: GPL-3.0-or-later
// The error of a quantity of interest because a bore touches its pin at nodes only.
#pragma once

#include "solver/qoi/contribution_split.hpp"

namespace hangtrue::error
{

/// True less computed value of the quantity of interest, m, since between two points where a pin
/// can touch its bore there is a flat side instead of an arc.
///
/// A pin in contact in two neighbouring directions, all along a bore or on one circle of it, rests
/// in the corner between them: with gap g, directions d apart and m the mean direction between them
/// it is displaced by g m / cos(d / 2). In a round bore it is displaced by g along its own force
/// there. The contact forces of the adjoint solution do work on the difference. Elastic contact in
/// more than two directions needs no correction.
double bore_facet_error(const qoi::ContactStateData& solved,
                        const contact::AdjointSolution& adjoint);

} // namespace hangtrue::error
