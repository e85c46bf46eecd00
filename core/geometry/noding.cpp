// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geometry/noding.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "core/geometry/rounding.hpp"
#include "core/text/message.hpp"

namespace wallfoot {
namespace {

/// A line between two grid points, a < b, with every label that runs along it.
struct Line {
    Point a, b;
    std::vector<int> labels;
    Micrometres low() const { return std::min(a.y, b.y); }
    Micrometres high() const { return std::max(a.y, b.y); }
};

int sign(std::int64_t v) { return (v > 0) - (v < 0); }

/// Pixel of the crossing of two lines that cross inside both. Meeting at an end is left to the pixel of that end.
std::optional<Point> crossing(const Line& s, const Line& t) {
    if (sign(cross(s.a, s.b, t.a)) * sign(cross(s.a, s.b, t.b)) >= 0) return std::nullopt;
    const std::int64_t from = cross(t.a, t.b, s.a);
    const std::int64_t to = cross(t.a, t.b, s.b);
    if (sign(from) * sign(to) >= 0) return std::nullopt;
    const Wide whole = static_cast<Wide>(from) - to;
    return Point{s.a.x + nearest(static_cast<Wide>(s.b.x - s.a.x) * from, whole),
                 s.a.y + nearest(static_cast<Wide>(s.b.y - s.a.y) * from, whole)};
}

/// Whether the line passes through the half-open pixel [x − ½, x + ½) × [y − ½, y + ½) of p. Exact, in half micrometres.
bool passes_pixel(const Line& line, Point p) {
    if (p.x < line.a.x || p.x > line.b.x || p.y < line.low() || p.y > line.high()) return false;
    const Micrometres dx = line.b.x - line.a.x;
    const Micrometres dy = line.b.y - line.a.y;
    if (dx == 0 || dy == 0) return true;  // axis-parallel: only points on it come this far
    const auto side = [&](Micrometres right, Micrometres up) {
        return static_cast<Wide>(dx) * (2 * (p.y - line.a.y) + up) - static_cast<Wide>(dy) * (2 * (p.x - line.a.x) + right);
    };
    if (dy > 0) return side(-1, 1) > 0 && side(1, -1) < 0;
    return side(1, 1) > 0 && side(-1, -1) <= 0;  // only the lower left corner belongs to the pixel
}

/// Sorted, one line for each pair of ends, labels joined.
void unite(std::vector<Line>& lines) {
    std::stable_sort(lines.begin(), lines.end(), [](const Line& s, const Line& t) {
        return std::pair(s.a, s.b) < std::pair(t.a, t.b);
    });
    std::size_t kept = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (kept > 0 && lines[kept - 1].a == lines[i].a && lines[kept - 1].b == lines[i].b) {
            auto& labels = lines[kept - 1].labels;
            labels.insert(labels.end(), lines[i].labels.begin(), lines[i].labels.end());
        } else {
            if (kept != i) lines[kept] = std::move(lines[i]);
            ++kept;
        }
    }
    lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(kept), lines.end());
}

void sort_unique(std::vector<Point>& points) {
    std::sort(points.begin(), points.end());
    points.erase(std::unique(points.begin(), points.end()), points.end());
}

[[noreturn]] void too_many(Point at, std::size_t max_vertices) {
    throw InputFault(Message{Severity::fault, "drawing-too-complex", {{"limit", std::to_string(max_vertices)}}, at, ""});
}

void check_count(std::vector<Point>& vertices, std::size_t max_vertices) {
    if (vertices.size() <= max_vertices) return;
    sort_unique(vertices);
    if (vertices.size() > max_vertices) too_many(vertices[max_vertices], max_vertices);
}

/// Adds the crossings of all pairs; lines are sorted by their left end, so only those that overlap in x are met.
void add_crossings(const std::vector<Line>& lines, std::vector<Point>& vertices, std::size_t max_vertices) {
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const Micrometres right = lines[i].b.x, low = lines[i].low(), high = lines[i].high();
        for (std::size_t j = i + 1; j < lines.size() && lines[j].a.x <= right; ++j) {
            if (lines[j].low() > high || lines[j].high() < low) continue;
            if (const auto p = crossing(lines[i], lines[j])) vertices.push_back(*p);
        }
        check_count(vertices, 4 * max_vertices);  // repeated crossings count once: allow some before sorting
    }
    check_count(vertices, max_vertices);
    sort_unique(vertices);
}

bool by_height(Point p, Point q) { return std::pair(p.y, p.x) < std::pair(q.y, q.x); }

/// Vertices inside the line's pixel path other than its ends, in the order the line meets them.
class PixelPath {
  public:
    explicit PixelPath(const std::vector<Point>& vertices) : across_(vertices), up_(vertices) {
        std::sort(up_.begin(), up_.end(), by_height);
    }
    const std::vector<Point>& along(const Line& line) {
        met_.clear();
        constexpr Micrometres least = -4 * coordinate_limit, most = 4 * coordinate_limit;
        const auto left = std::lower_bound(across_.begin(), across_.end(), Point{line.a.x, least});
        const auto right = std::upper_bound(left, across_.end(), Point{line.b.x, most});
        const auto low = std::lower_bound(up_.begin(), up_.end(), Point{least, line.low()}, by_height);
        const auto high = std::upper_bound(low, up_.end(), Point{most, line.high()}, by_height);
        if (right - left <= high - low) collect(line, left, right);
        else collect(line, low, high);
        const bool rising = line.b.y >= line.a.y;  // a line meets pixels monotonically in x and in y
        std::sort(met_.begin(), met_.end(), [rising](Point p, Point q) {
            return p.x != q.x ? p.x < q.x : (rising ? p.y < q.y : p.y > q.y);
        });
        return met_;
    }

  private:
    template <class Iterator>
    void collect(const Line& line, Iterator first, Iterator last) {
        for (; first != last; ++first)
            if (*first != line.a && *first != line.b && passes_pixel(line, *first)) met_.push_back(*first);
    }
    const std::vector<Point>& across_;
    std::vector<Point> up_, met_;
};

/// Bends every line to the vertices whose pixel it passes; false when none had to be.
bool bend(std::vector<Line>& lines, const std::vector<Point>& vertices) {
    PixelPath path(vertices);
    std::vector<Line> bent;
    bent.reserve(lines.size() * 2);
    bool changed = false;
    for (Line& line : lines) {
        const auto& met = path.along(line);
        if (met.empty()) {
            bent.push_back(std::move(line));
            continue;
        }
        changed = true;
        Point from = line.a;
        const auto add = [&](Point to) {
            bent.push_back({std::min(from, to), std::max(from, to), line.labels});
            from = to;
        };
        for (const Point p : met) add(p);
        add(line.b);
    }
    lines = std::move(bent);
    return changed;
}

NodedEdge noded_edge(const Line& line, const std::vector<Point>& vertices) {
    const auto index = [&](Point p) {
        return static_cast<int>(std::lower_bound(vertices.begin(), vertices.end(), p) - vertices.begin());
    };
    NodedEdge edge{index(line.a), index(line.b), {}, line.labels};
    std::sort(edge.all.begin(), edge.all.end());
    for (auto first = edge.all.begin(); first != edge.all.end();) {
        const auto last = std::upper_bound(first, edge.all.end(), *first);
        if ((last - first) % 2 == 1) edge.labels.push_back(*first);
        first = last;
    }
    edge.all.erase(std::unique(edge.all.begin(), edge.all.end()), edge.all.end());
    return edge;
}

}  // namespace

Noded node(const std::vector<LabelledSegment>& segments, const std::vector<Point>& loose, std::size_t max_vertices) {
    std::vector<Line> lines;
    Noded noded;
    noded.vertices = loose;
    for (const LabelledSegment& s : segments) {
        if (s.a == s.b) continue;
        noded.vertices.push_back(s.a);
        noded.vertices.push_back(s.b);
        lines.push_back({std::min(s.a, s.b), std::max(s.a, s.b), {s.label}});
    }
    sort_unique(noded.vertices);
    unite(lines);
    do {
        add_crossings(lines, noded.vertices, max_vertices);
        if (!bend(lines, noded.vertices)) break;
        unite(lines);
    } while (true);  // ends: bending only divides, and no new crossing arises between bent lines
    noded.edges.reserve(lines.size());
    for (const Line& line : lines) noded.edges.push_back(noded_edge(line, noded.vertices));
    return noded;
}

}  // namespace wallfoot
