// What an answer misses because a bore touches its pin at nodes only.
#pragma once

#include "solver/qoi/contribution_split.hpp"

namespace hangtrue
{

/// By how much the true answer is more than the computed one, m, since between two places where a
/// pin can touch its bore stands a flat side instead of an arc.
///
/// A pin that touches in two neighbouring directions, all along a bore or on one circle of it,
/// rests in the corner between them: with gap g, directions d apart and m between them it has moved
/// by g m / cos(d / 2). In a round bore it moves by g along its own force there. The unit answer's
/// pushes work on the difference. Elastic contact in more than two directions needs none of it.
double flat_bores(const SolvedContact& solved, const UnitAnswer& adjoint);

} // namespace hangtrue
