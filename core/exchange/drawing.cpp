// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/drawing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <unordered_map>

namespace wallfoot {

namespace {

double distance(Place a, Place b) { return std::hypot(b.x - a.x, b.y - a.y); }

bool is_wanted(const Stroke& stroke, const std::vector<bool>& wanted) {
    const auto layer = static_cast<std::size_t>(stroke.layer);
    return layer < wanted.size() && wanted[layer];
}

/// Points in square cells, to find those near one.
class Cells {
  public:
    explicit Cells(double size) : size_(size) {}
    void add(Place p, int id) { cells_[key(cell(p.x), cell(p.y))].push_back({p, id}); }
    /// Calls see(id, distance) for every point in the cells around `p`: at least those within the size.
    template <class See>
    void around(Place p, See see) const {
        for (std::int64_t i = -1; i <= 1; ++i)
            for (std::int64_t j = -1; j <= 1; ++j)
                if (const auto found = cells_.find(key(cell(p.x) + i, cell(p.y) + j)); found != cells_.end())
                    for (const auto& [at, id] : found->second) see(id, distance(p, at));
    }

  private:
    std::int64_t cell(double v) const { return static_cast<std::int64_t>(std::floor(std::clamp(v / size_, -1e15, 1e15))); }
    static std::uint64_t key(std::int64_t i, std::int64_t j) { return static_cast<std::uint64_t>(i) * 0x9E3779B97F4A7C15u ^ static_cast<std::uint64_t>(j); }
    double size_;
    std::unordered_map<std::uint64_t, std::vector<std::pair<Place, int>>> cells_;
};

/// The points without repeats; a closed line does not end where it began.
std::vector<Place> tidy(const std::vector<Place>& points) {
    std::vector<Place> result;
    for (const Place p : points)
        if (result.empty() || distance(result.back(), p) > 0) result.push_back(p);
    while (result.size() > 1 && distance(result.front(), result.back()) == 0) result.pop_back();
    return result;
}

/// The same outline from whatever corner and in whatever sense it is written, to the micrometre.
std::vector<Point> likeness(const std::vector<Place>& outline) {
    std::vector<Point> points;
    for (const Place p : outline) points.push_back({std::llround(p.x * 1000), std::llround(p.y * 1000)});
    std::sort(points.begin(), points.end());
    return points;
}

/// Ends of open strokes, joined where they are near each other.
class Ends {
  public:
    Ends(const std::vector<const Stroke*>& strokes, double gap) : strokes_(strokes), node_of_(strokes.size() * 2) {
        Cells cells(std::max(gap, 1e-9));
        std::vector<int> parent(node_of_.size());
        for (std::size_t i = 0; i < parent.size(); ++i) parent[i] = static_cast<int>(i);
        const auto root = [&](int i) {
            while (parent[static_cast<std::size_t>(i)] != i) i = parent[static_cast<std::size_t>(i)] = parent[static_cast<std::size_t>(parent[static_cast<std::size_t>(i)])];
            return i;
        };
        for (std::size_t end = 0; end < node_of_.size(); ++end) {
            const Place p = place(end);
            cells.around(p, [&](int other, double d) {
                if (d <= gap) parent[static_cast<std::size_t>(root(static_cast<int>(end)))] = root(other);
            });
            cells.add(p, static_cast<int>(end));
        }
        for (std::size_t end = 0; end < node_of_.size(); ++end) {
            node_of_[end] = root(static_cast<int>(end));
            ends_at_[node_of_[end]].push_back(end);
        }
    }
    Place place(std::size_t end) const { return end % 2 == 0 ? strokes_[end / 2]->points.front() : strokes_[end / 2]->points.back(); }
    const std::vector<std::size_t>& meeting(std::size_t end) const { return ends_at_.at(node_of_[end]); }
    std::size_t count() const { return node_of_.size(); }
    const std::unordered_map<int, std::vector<std::size_t>>& nodes() const { return ends_at_; }

  private:
    const std::vector<const Stroke*>& strokes_;
    std::vector<int> node_of_;
    std::unordered_map<int, std::vector<std::size_t>> ends_at_;
};

/// Follows strokes from one end on while exactly two ends meet; the outline when it comes back. Those it passes in vain
/// are part of no outline either.
std::vector<Place> followed(const std::vector<const Stroke*>& strokes, const Ends& ends, std::size_t first, std::vector<bool>& used) {
    std::vector<Place> points;
    std::size_t begin = first;
    for (;;) {
        const std::size_t stroke = begin / 2;
        if (used[stroke]) return begin == first ? points : std::vector<Place>{};
        used[stroke] = true;
        std::vector<Place> part = strokes[stroke]->points;
        if (begin % 2 == 1) std::reverse(part.begin(), part.end());
        part.pop_back();  // the next begins there, or near enough
        points.insert(points.end(), part.begin(), part.end());
        const std::size_t end = begin ^ 1u;
        const auto& meeting = ends.meeting(end);
        if (meeting.size() != 2) return {};
        begin = meeting[0] == end ? meeting[1] : meeting[0];
    }
}

double nearest_other_end(const Ends& ends, std::size_t end) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t other = 0; other < ends.count(); ++other)
        if (other / 2 != end / 2) best = std::min(best, distance(ends.place(end), ends.place(other)));
    return best;
}

}  // namespace

Extent extent_of(const Drawing& drawing, const std::vector<bool>& wanted) {
    constexpr double far = std::numeric_limits<double>::infinity();
    Extent extent{far, far, -far, -far};
    for (const Stroke& stroke : drawing.strokes) {
        if (!is_wanted(stroke, wanted)) continue;
        for (const Place p : stroke.points) {
            extent.left = std::min(extent.left, p.x);
            extent.right = std::max(extent.right, p.x);
            extent.bottom = std::min(extent.bottom, p.y);
            extent.top = std::max(extent.top, p.y);
        }
    }
    return extent;
}

Drawing in_mm(const Drawing& drawing, const std::vector<bool>& wanted, double mm_per_unit, Place origin) {
    Drawing result;
    result.layers = drawing.layers;
    result.mm_per_unit = 1;
    for (const Stroke& stroke : drawing.strokes) {
        if (!is_wanted(stroke, wanted)) continue;
        Stroke& moved = result.strokes.emplace_back(stroke);
        for (Place& p : moved.points) p = {(p.x - origin.x) * mm_per_unit, (p.y - origin.y) * mm_per_unit};
    }
    return result;
}

Joined joined(const Drawing& drawing, double gap) {
    constexpr std::size_t most_ends_measured = 200;  // each is compared with all others
    Joined result;
    std::set<std::vector<Point>> seen;
    const auto take = [&](const std::vector<Place>& points) {
        const auto outline = tidy(points);
        if (outline.size() >= 3 && seen.insert(likeness(outline)).second) result.closed.push_back(outline);
    };
    std::vector<const Stroke*> loose;
    for (const Stroke& stroke : drawing.strokes) {
        if (stroke.points.size() < 2) continue;
        if (stroke.closed || (stroke.points.size() > 3 && distance(stroke.points.front(), stroke.points.back()) <= gap)) take(stroke.points);
        else loose.push_back(&stroke);
    }
    const Ends ends(loose, gap);
    std::vector<bool> used(loose.size());
    for (std::size_t stroke = 0; stroke < loose.size(); ++stroke)
        if (!used[stroke]) take(followed(loose, ends, 2 * stroke, used));
    std::vector<std::size_t> open;
    for (const auto& [node, meeting] : ends.nodes()) {
        if (meeting.size() > 2) ++result.branches;
        if (meeting.size() == 1) open.push_back(meeting.front());
    }
    std::sort(open.begin(), open.end());
    for (const std::size_t end : open)
        result.open.push_back({ends.place(end), result.open.size() < most_ends_measured ? nearest_other_end(ends, end) : std::numeric_limits<double>::infinity()});
    return result;
}

}  // namespace wallfoot
