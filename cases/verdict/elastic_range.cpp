// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/elastic_range.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue::verdict
{

double hinge_stress_over_allowed(const std::vector<QuantityOfInterest>& state)
{
  double greatest = 0.0;
  for (const auto& q : state) {
    const bool of_section = q.id.quantity == qoi::Quantity::pin_bending ||
                            q.id.quantity == qoi::Quantity::pin_combined ||
                            q.id.quantity == qoi::Quantity::leaf_bending ||
                            q.id.quantity == qoi::Quantity::leaf_combined;
    if (of_section && q.limit && q.limit->value > 0.0)
      greatest = std::max(greatest, q.value / q.limit->value);
  }
  return greatest;
}

void withdraw_errors_beyond_elastic(std::vector<QuantityOfInterest>& state)
{
  const double over = hinge_stress_over_allowed(state);
  if (!(over > plastic_over_allowed))
    return;
  for (auto& q : state) {
    q.error.reset();
    q.inherited = false;
    if (!q.reason.empty())
      q.reason +=
          fmt::format("; THE HINGES WOULD GIVE WAY, stressed to {:.3g} times what is allowed: "
                      "an elastic answer without an error",
                      over);
  }
}

} // namespace hangtrue::verdict
