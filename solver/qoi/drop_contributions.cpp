// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/qoi/drop_contributions.hpp"

#include "solver/qoi/contribution_split.hpp"

namespace hangtrue::qoi
{

namespace
{

ContributingPart with_panel(ContributingPart part)
{
  switch (part) {
  case ContributingPart::inner_skin:
  case ContributingPart::outer_skin:
  case ContributingPart::rim:
  case ContributingPart::stiffeners:
  case ContributingPart::strip:
    return ContributingPart::panel;
  default:
    return part;
  }
}

} // namespace

std::vector<Contribution> drop_contributions(const ContributionSplit& drop)
{
  std::vector<Contribution> all;
  for (auto one : drop.by_part) {
    one.part = with_panel(one.part);
    add_contribution(all, one);
  }
  return all;
}

} // namespace hangtrue::qoi
