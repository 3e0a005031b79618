#include "solver/qoi/drop_contributions.hpp"

#include <algorithm>
#include <array>

namespace hangtrue
{

namespace
{

std::string with_panel(std::string part)
{
  static constexpr std::array<const char*, 5> of_panel{"inner skin", "outer skin", "rim",
                                                       "stiffeners", "break strip"};
  for (const auto* name : of_panel) {
    if (part == name)
      return "panel";
    if (part == std::string("heat of the ") + name)
      return "heat of the panel";
  }
  return part;
}

SagCause cause_of(ShareCause cause)
{
  return cause == ShareCause::bending ? SagCause::bending
         : cause == ShareCause::heat  ? SagCause::heat
                                      : SagCause::play;
}

} // namespace

std::vector<SagShare> sag_budget(const AnswerSplit& drop)
{
  std::vector<SagShare> shares;
  for (const auto& share : drop.by_part) {
    const std::string part = with_panel(share.part);
    const SagCause cause = cause_of(share.cause);
    const auto known = std::find_if(shares.begin(), shares.end(),
                                    [&](const SagShare& s) { return s.part == part; });
    if (known != shares.end())
      known->drop += share.value;
    else
      shares.push_back({part, cause, share.value});
  }
  return shares;
}

} // namespace hangtrue
