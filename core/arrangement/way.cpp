// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/way.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

namespace wallfoot {
namespace {

constexpr double same_length = 2;  // µm: ways that differ by less count as equally short


/// On the line between a and b, ends included, within 1 µm.
bool lies_on(Point p, Point a, Point b) {
    if (p == a || p == b) return true;
    const auto length = distance(a, b);
    const double along = static_cast<double>(p.x - a.x) * static_cast<double>(b.x - a.x) + static_cast<double>(p.y - a.y) * static_cast<double>(b.y - a.y);
    return std::abs(static_cast<double>(cross(a, b, p))) <= length && along > 0 && along < length * length;
}

/// Noded edges inside the cut, with the two ends of the way as vertices of their own where they lie within an edge.
class Net {
  public:
    Net(const Arrangement& arrangement, Point from, Point to) : points_(arrangement.vertices), next_(arrangement.vertices.size()) {
        from_ = vertex(from);
        to_ = vertex(to);
        for (const ArrangedEdge& edge : arrangement.edges) {
            if (edge.left < 0 || edge.right < 0 || divides_by_level(arrangement, edge)) continue;
            std::vector<int> along{edge.from};
            for (const int end : {from_, to_})
                if (end != edge.from && end != edge.to && lies_on(points_[end], points_[edge.from], points_[edge.to])) along.push_back(end);
            std::sort(along.begin() + 1, along.end(), [&](int i, int j) { return distance(points_[edge.from], points_[i]) < distance(points_[edge.from], points_[j]); });
            along.push_back(edge.to);
            for (std::size_t i = 1; i < along.size(); ++i) {
                next_[along[i - 1]].push_back(along[i]);
                next_[along[i]].push_back(along[i - 1]);
            }
        }
    }

    Path way() const {
        std::vector<double> reached(points_.size(), std::numeric_limits<double>::infinity());
        std::vector<int> before(points_.size(), -1);
        std::vector<char> several(points_.size(), 0);
        using Entry = std::pair<double, int>;
        std::priority_queue<Entry, std::vector<Entry>, std::greater<>> waiting;
        reached[from_] = 0;
        waiting.push({0, from_});
        while (!waiting.empty()) {
            const auto [length, here] = waiting.top();
            waiting.pop();
            if (length > reached[here] || here == to_) continue;
            for (const int next : next_[here]) {
                if (!leads_on(points_[here], points_[next])) continue;
                const double there = length + distance(points_[here], points_[next]);
                if (there < reached[next] - same_length) {
                    reached[next] = there;
                    before[next] = here;
                    several[next] = several[here];
                    waiting.push({there, next});
                } else if (there < reached[next] + same_length && before[next] != here && next != from_) {
                    several[next] = 1;
                }
            }
        }
        if (before[to_] < 0 || several[to_]) return {};
        Path between;
        for (int v = before[to_]; v != from_; v = before[v]) between.push_back(points_[v]);
        std::reverse(between.begin(), between.end());
        return bends(between);
    }

  private:
    static bool divides_by_level(const Arrangement& arrangement, const ArrangedEdge& edge) {
        const int piece = arrangement.faces[edge.left].piece;
        return edge.membranes.empty() && piece >= 0 && piece == arrangement.faces[edge.right].piece;
    }

    int vertex(Point p) {
        const auto found = std::find(points_.begin(), points_.end(), p);
        if (found != points_.end()) return static_cast<int>(found - points_.begin());
        points_.push_back(p);
        next_.emplace_back();
        return static_cast<int>(points_.size()) - 1;
    }

    /// Whether a step does not turn back; 1 µm is left to rounding.
    bool leads_on(Point a, Point b) const {
        const auto on = [](Micrometres step, Micrometres whole) { return whole > 0 ? step >= -1 : whole < 0 ? step <= 1 : std::abs(step) <= 1; };
        return on(b.x - a.x, points_[to_].x - points_[from_].x) && on(b.y - a.y, points_[to_].y - points_[from_].y);
    }

    /// Only where the way turns.
    Path bends(const Path& between) const {
        Path kept;
        for (std::size_t i = 0; i < between.size(); ++i) {
            const Point last = kept.empty() ? points_[from_] : kept.back();
            const Point next = i + 1 < between.size() ? between[i + 1] : points_[to_];
            if (!lies_on(between[i], last, next)) kept.push_back(between[i]);
        }
        return kept;
    }

    std::vector<Point> points_;
    std::vector<std::vector<int>> next_;
    int from_ = 0, to_ = 0;
};

}  // namespace

Path way_along_edges(const Arrangement& arrangement, Point from, Point to) {
    if (from == to) return {};
    return Net(arrangement, from, to).way();
}

}  // namespace wallfoot
