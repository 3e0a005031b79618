// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/binding_error.hpp"

#include <algorithm>

namespace hangtrue::verdict
{

void widen_where_hinges_may_bind(std::vector<QuantityOfInterest>& state)
{
  const auto find = [&](qoi::Quantity quantity) {
    return std::find_if(state.begin(), state.end(), [quantity](const QuantityOfInterest& q) {
      return q.id.quantity == quantity && q.limit && q.error;
    });
  };
  const auto end_float = find(qoi::Quantity::end_float);
  const auto bound = find(qoi::Quantity::bound_hinges);
  if (end_float == state.end() || bound == state.end() ||
      end_float->value + *end_float->error < end_float->limit->value ||
      bound->value > bound->limit->value)
    return;
  const double widened = may_bind * bound->limit->value;
  bound->model_error = std::max(bound->model_error, widened);
  // What presses along a pin hangs from its head.
  if (const auto head = find(qoi::Quantity::pin_head); head != state.end())
    head->model_error = std::max(head->model_error, widened);
}

} // namespace hangtrue::verdict
