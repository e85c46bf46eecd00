// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/clip.hpp"

#include <algorithm>
#include <array>

#include "core/geometry/rounding.hpp"

namespace wallfoot {
namespace {

/// x or y ≥ or ≤ a bound.
struct HalfPlane {
    bool upright;  ///< the border is a line of constant x
    int inward;    ///< +1: larger values are inside
    Micrometres at;

    bool holds(Point p) const { return inward * ((upright ? p.x : p.y) - at) >= 0; }
    /// Crossing of a line with the border, on the border exactly. The ends are put in order first (RULES 2: shared edges stay shared).
    Point crossing(Point p, Point q) const {
        const auto [a, b] = std::minmax(p, q);
        if (upright) return {at, a.y + nearest(static_cast<Wide>(b.y - a.y) * (at - a.x), b.x - a.x)};
        return {a.x + nearest(static_cast<Wide>(b.x - a.x) * (at - a.y), b.y - a.y), at};
    }
};

std::array<HalfPlane, 4> sides(const Rect& r) {
    return {HalfPlane{true, 1, r.left}, {true, -1, r.right}, {false, 1, r.bottom}, {false, -1, r.top}};
}

}  // namespace

Outline clip(const Outline& outline, const Rect& rect) {
    Outline kept = outline;
    for (const HalfPlane& side : sides(rect)) {
        if (std::all_of(kept.begin(), kept.end(), [&](Point p) { return side.holds(p); })) continue;
        Outline next;
        for (std::size_t i = 0; i < kept.size(); ++i) {
            const Point p = kept[i];
            const Point q = kept[(i + 1) % kept.size()];
            if (side.holds(p)) next.push_back(p);
            if (side.holds(p) != side.holds(q)) next.push_back(side.crossing(p, q));
        }
        kept = std::move(next);
    }
    return kept;
}

std::optional<std::pair<Point, Point>> clip(Point a, Point b, const Rect& rect) {
    for (const HalfPlane& side : sides(rect)) {
        const bool from = side.holds(a), to = side.holds(b);
        if (!from && !to) return std::nullopt;
        if (from && to) continue;
        (from ? b : a) = side.crossing(a, b);
    }
    if (a == b) return std::nullopt;
    return std::pair(a, b);
}

}  // namespace wallfoot
