// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/quantity_of_interest.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::verdict
{

QuantityOfInterest reading(const qoi::QoiId& id, double value)
{
  QuantityOfInterest q;
  q.id = id;
  q.value = value;
  return q;
}

QuantityOfInterest limited(const qoi::QoiId& id, double value, const input::Limit& limit,
                           const std::string& reason)
{
  QuantityOfInterest q = reading(id, value);
  q.limit = limit;
  q.reason = reason;
  return q;
}

const QuantityOfInterest* find_quantity(const std::vector<QuantityOfInterest>& all,
                                        const qoi::QoiId& id)
{
  const auto at =
      std::find_if(all.begin(), all.end(), [&](const QuantityOfInterest& q) { return q.id == id; });
  return at != all.end() ? &*at : nullptr;
}

QuantityOfInterest* find_quantity(std::vector<QuantityOfInterest>& all, const qoi::QoiId& id)
{
  const auto at =
      std::find_if(all.begin(), all.end(), [&](const QuantityOfInterest& q) { return q.id == id; });
  return at != all.end() ? &*at : nullptr;
}

const QuantityOfInterest* find_number(const std::vector<QuantityOfInterest>& all,
                                      const qoi::QoiId& id)
{
  const auto at = std::find_if(all.begin(), all.end(), [&](const QuantityOfInterest& q) {
    return qoi::same_number(q.id, id);
  });
  return at != all.end() ? &*at : nullptr;
}

void add_load_offset_change(const std::vector<QuantityOfInterest>& offset,
                            std::vector<QuantityOfInterest>& all)
{
  const auto number = [](const QuantityOfInterest& q) { return q.with_sign.value_or(q.value); };
  for (auto& q : all)
    if (const QuantityOfInterest* other = find_number(offset, q.id))
      q.load_offset_change = std::max(q.load_offset_change, std::abs(number(*other) - number(q)));
}

double error_of(const std::vector<QuantityOfInterest>& all, const qoi::QoiId& id)
{
  const QuantityOfInterest* q = find_quantity(all, id);
  return q != nullptr ? q->error.value_or(0.0) : 0.0;
}

} // namespace hangtrue::verdict
