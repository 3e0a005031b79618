// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/initial_working_set.hpp"

#include <algorithm>
#include <cstddef>

namespace hangtrue::contact
{

namespace
{

// Points of one bore or thrust face: round after round (plane after plane, circle after circle),
// each of the same angles.
struct Round {
  ContactKind kind;
  int hinge;
  int knuckle;
  std::vector<int> members;
  std::size_t length = 0; // of a round
};

std::vector<Round> rounds_of(const std::vector<ContactPair>& pairs)
{
  std::vector<Round> all;
  for (std::size_t p = 0; p < pairs.size(); ++p) {
    const auto& pair = pairs[p];
    if (all.empty() || all.back().kind != pair.kind || all.back().hinge != pair.hinge ||
        all.back().knuckle != pair.knuckle)
      all.push_back({pair.kind, pair.hinge, pair.knuckle, {}, 0});
    Round& last = all.back();
    last.members.push_back(static_cast<int>(p));
    if (pair.round == pairs[last.members.front()].round)
      ++last.length;
  }
  return all;
}

// The first and the last circle contain the ends of a bore and the edges of a thrust face.
void add_ends(const Round& face, std::size_t directions, std::vector<int>& chosen)
{
  const std::size_t count = face.members.size();
  const std::size_t step = std::max<std::size_t>(1, face.length / directions);
  for (std::size_t i = 0; i < face.length; i += step) {
    chosen.push_back(face.members[i]);
    if (count > face.length)
      chosen.push_back(face.members[count - face.length + i]);
  }
}

// The pair nearest to an active contact, its neighbours on the same circle and on the circles
// beside.
void add_around(const std::vector<ContactPair>& pairs, const Round& face,
                const ActiveContact& active, std::vector<int>& chosen)
{
  const auto away = [&](int p) { return norm(pairs[p].place - active.place); };
  const auto nearest = std::min_element(face.members.begin(), face.members.end(),
                                        [&](int a, int b) { return away(a) < away(b); });
  const auto index = static_cast<std::size_t>(nearest - face.members.begin());
  const std::size_t first = index - index % face.length;
  chosen.push_back(*nearest);
  chosen.push_back(face.members[first + (index - first + 1) % face.length]);
  chosen.push_back(face.members[first + (index - first + face.length - 1) % face.length]);
  if (index >= face.length)
    chosen.push_back(face.members[index - face.length]);
  if (index + face.length < face.members.size())
    chosen.push_back(face.members[index + face.length]);
}

} // namespace

std::vector<int> initial_working_set(const std::vector<ContactPair>& pairs,
                                     const std::vector<ActiveContact>& warm_start)
{
  const std::size_t directions = warm_start.empty() ? 8 : 4;
  std::vector<int> chosen;
  for (const auto& face : rounds_of(pairs)) {
    if (!at_hinge(pairs[face.members.front()])) {
      chosen.insert(chosen.end(), face.members.begin(), face.members.end());
      continue;
    }
    add_ends(face, directions, chosen);
    for (const auto& active : warm_start)
      if (active.kind == face.kind && active.hinge == face.hinge && active.knuckle == face.knuckle)
        add_around(pairs, face, active, chosen);
  }
  std::sort(chosen.begin(), chosen.end());
  chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
  return chosen;
}

} // namespace hangtrue::contact
