// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "core/arrangement/resolve.hpp"

namespace wallfoot {

bool is_upright(CutSide side) { return side == CutSide::left || side == CutSide::right; }

Micrometres place(const Rect& rect, CutSide side) {
    switch (side) {
        case CutSide::left: return rect.left;
        case CutSide::bottom: return rect.bottom;
        case CutSide::right: return rect.right;
        case CutSide::top: break;
    }
    return rect.top;
}

bool on_side(const Rect& rect, CutSide side, Point p) { return (is_upright(side) ? p.x : p.y) == place(rect, side); }

std::vector<SidePart> along_side(const Arrangement& arrangement, CutSide side) {
    std::vector<SidePart> parts;
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        for (int i = 0; i < 3; ++i) {
            const auto& corners = arrangement.triangles[t];
            const Point a = arrangement.vertices[corners[(i + 1) % 3]], b = arrangement.vertices[corners[(i + 2) % 3]];
            const Point other = arrangement.vertices[corners[i]];
            const Rect& cut = arrangement.cut;
            if (!on_side(cut, side, a) || !on_side(cut, side, b) || !cut.contains(a) || !cut.contains(b) || !cut.contains(other)) continue;
            const auto [from, to] = is_upright(side) ? std::minmax({a.y, b.y}) : std::minmax({a.x, b.x});
            parts.push_back({from, to, arrangement.triangle_face[t]});
        }
    }
    std::sort(parts.begin(), parts.end(), [](const SidePart& p, const SidePart& q) { return p.from < q.from; });
    std::vector<SidePart> merged;
    for (const SidePart& part : parts) {
        if (!merged.empty() && merged.back().face == part.face) merged.back().to = part.to;
        else merged.push_back(part);
    }
    return merged;
}

int largest_triangle(const Arrangement& arrangement, int face) {
    int best = -1;
    std::pair<bool, std::int64_t> best_rank;
    for (int t = 0; t < static_cast<int>(arrangement.triangles.size()); ++t) {
        if (arrangement.triangle_face[t] != face) continue;
        const auto& [a, b, c] = arrangement.triangles[t];
        const auto& v = arrangement.vertices;
        const bool drawn = arrangement.cut.contains(v[a]) && arrangement.cut.contains(v[b]) && arrangement.cut.contains(v[c]);
        const std::pair rank(drawn, cross(v[a], v[b], v[c]));
        if (best < 0 || rank > best_rank) best = t, best_rank = rank;
    }
    return best;
}

Point middle(const Arrangement& arrangement, int triangle) {
    const auto& [i, j, k] = arrangement.triangles[triangle];
    const Point a = arrangement.vertices[i], b = arrangement.vertices[j], c = arrangement.vertices[k];
    const Point p{(a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3};
    return cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0 ? p : a;
}

}  // namespace wallfoot
