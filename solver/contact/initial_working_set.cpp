#include "solver/contact/initial_working_set.hpp"

#include <algorithm>
#include <cstddef>

namespace hangtrue
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

std::vector<Round> rounds_of(const std::vector<ContactPoint>& points)
{
  std::vector<Round> all;
  for (std::size_t p = 0; p < points.size(); ++p) {
    const auto& point = points[p];
    if (all.empty() || all.back().kind != point.kind || all.back().hinge != point.hinge ||
        all.back().knuckle != point.knuckle)
      all.push_back({point.kind, point.hinge, point.knuckle, {}, 0});
    Round& last = all.back();
    last.members.push_back(static_cast<int>(p));
    if (point.round == points[last.members.front()].round)
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
void add_around(const std::vector<ContactPoint>& points, const Round& face, const Touch& touch,
                std::vector<int>& chosen)
{
  const auto away = [&](int p) { return norm(points[p].place - touch.place); };
  const auto nearest = std::min_element(face.members.begin(), face.members.end(),
                                        [&](int a, int b) { return away(a) < away(b); });
  const auto at = static_cast<std::size_t>(nearest - face.members.begin());
  const std::size_t first = at - at % face.length;
  chosen.push_back(*nearest);
  chosen.push_back(face.members[first + (at - first + 1) % face.length]);
  chosen.push_back(face.members[first + (at - first + face.length - 1) % face.length]);
  if (at >= face.length)
    chosen.push_back(face.members[at - face.length]);
  if (at + face.length < face.members.size())
    chosen.push_back(face.members[at + face.length]);
}

} // namespace

std::vector<int> first_contacts(const std::vector<ContactPoint>& points,
                                const std::vector<Touch>& foreseen)
{
  const std::size_t directions = foreseen.empty() ? 8 : 4;
  std::vector<int> chosen;
  for (const auto& face : rounds_of(points)) {
    if (!at_hinge(points[face.members.front()])) {
      chosen.insert(chosen.end(), face.members.begin(), face.members.end());
      continue;
    }
    add_ends(face, directions, chosen);
    for (const auto& touch : foreseen)
      if (touch.kind == face.kind && touch.hinge == face.hinge && touch.knuckle == face.knuckle)
        add_around(points, face, touch, chosen);
  }
  std::sort(chosen.begin(), chosen.end());
  chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
  return chosen;
}

} // namespace hangtrue
