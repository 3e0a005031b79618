// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/scene/scene.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <utility>

namespace hangtrue::scene
{

namespace
{

using Edge = std::pair<int, int>;

// Crossings of one contour with the edges of the facets, joined to chains.
class Chains
{
public:
  void add(const Edge& a, const Edge& b)
  {
    if (a == b)
      return;
    links_.emplace(a, b);
    links_.emplace(b, a);
  }
  // Takes chains out one by one, open ones from their ends.
  std::vector<std::vector<Edge>> all()
  {
    std::vector<std::vector<Edge>> chains;
    for (const bool ends_only : {true, false})
      for (auto it = links_.begin(); it != links_.end();) {
        if (ends_only && links_.count(it->first) != 1) {
          ++it;
          continue;
        }
        chains.push_back(walk(it->first));
        it = links_.begin();
      }
    return chains;
  }

private:
  std::vector<Edge> walk(Edge at)
  {
    std::vector<Edge> chain{at};
    for (auto next = links_.find(at); next != links_.end(); next = links_.find(at)) {
      const Edge to = next->second;
      links_.erase(next);
      const auto [first, last] = links_.equal_range(to);
      for (auto back = first; back != last; ++back)
        if (back->second == at) {
          links_.erase(back);
          break;
        }
      chain.push_back(to);
      at = to;
    }
    return chain;
  }
  std::multimap<Edge, Edge> links_;
};

// Where the segment from a spot inside the window to one outside leaves it.
page::PagePoint clipped(const Window& window, page::PagePoint in, page::PagePoint out)
{
  double share = 1.0;
  auto limit = [&](double from, double to, double low, double high) {
    if (to < low)
      share = std::min(share, (low - from) / (to - from));
    if (to > high)
      share = std::min(share, (high - from) / (to - from));
  };
  limit(in.x, out.x, window.position.x, window.position.x + window.width);
  limit(in.y, out.y, window.position.y, window.position.y + window.height);
  return {in.x + share * (out.x - in.x), in.y + share * (out.y - in.y)};
}

} // namespace

std::vector<ContourLine> contour_lines(const Surface& surface, const std::vector<Vec3>& positions,
                                       const std::vector<double>& values,
                                       const std::vector<double>& levels)
{
  std::vector<ContourLine> result;
  for (const double level : levels) {
    Chains chains;
    auto above = [&](int p) { return values[p] > level; };
    for (const auto& piece : surface.pieces)
      for (std::size_t i = 2; i < piece.size(); ++i) {
        const std::array<int, 3> t{piece[0], piece[i - 1], piece[i]};
        std::vector<Edge> crossed;
        for (int k = 0; k < 3; ++k) {
          const int a = t[k];
          const int b = t[(k + 1) % 3];
          if (above(a) != above(b))
            crossed.emplace_back(std::min(a, b), std::max(a, b));
        }
        if (crossed.size() == 2)
          chains.add(crossed[0], crossed[1]);
      }
    for (const auto& chain : chains.all()) {
      ContourLine line{level, {}};
      for (const auto& [a, b] : chain) {
        const double share = (level - values[a]) / (values[b] - values[a]);
        line.points.push_back((1.0 - share) * positions[a] + share * positions[b]);
      }
      result.push_back(line);
    }
  }
  return result;
}

void draw_contours(page::Page& page, const Window& window, const std::vector<ContourLine>& chains,
                   const ColourScale& scale)
{
  const auto inside = [&](const page::PagePoint& s) {
    return s.x >= window.position.x && s.x <= window.position.x + window.width &&
           s.y >= window.position.y && s.y <= window.position.y + window.height;
  };
  for (const auto& chain : chains) {
    const bool limit = scale.limit && std::abs(chain.value - *scale.limit) < 1e-9 * scale.step;
    page::PathShape shape;
    shape.stroke =
        page::Stroke{limit ? page::tone(0.40, 0.13, 28.0) : page::ink(), limit ? 0.7 : 0.18,
                     chain.value < 0.0 && !limit ? page::Dash::dashed : page::Dash::solid};
    const auto finish = [&] {
      if (shape.spots.size() > 1)
        page.shapes.push_back(shape);
      shape.spots.clear();
    };
    std::optional<page::PagePoint> before;
    for (const auto& p : chain.points) {
      const page::PagePoint spot = on_page(window, p);
      const bool was_inside = before && inside(*before);
      if (inside(spot)) {
        if (before && !was_inside)
          shape.spots.push_back(clipped(window, spot, *before));
        // Points closer than a fraction of a line width add nothing to a print.
        if (shape.spots.empty() ||
            std::hypot(spot.x - shape.spots.back().x, spot.y - shape.spots.back().y) > 0.05)
          shape.spots.push_back(spot);
      } else if (was_inside) {
        shape.spots.push_back(clipped(window, *before, spot));
        finish();
      }
      before = spot;
    }
    finish();
  }
}

} // namespace hangtrue::scene
