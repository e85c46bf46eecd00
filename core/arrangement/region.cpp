// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/region.hpp"

#include <algorithm>
#include <map>

#include "core/geometry/outline_check.hpp"

namespace wallfoot {
namespace {

/// Whether c comes before d when one turns at b, anticlockwise from looking back at a.
bool turns_first(Point a, Point b, Point c, Point d) {
    const auto half = [&](Point p) { return cross(b, a, p) > 0 ? 0 : cross(b, a, p) == 0 && (p.x - b.x) * (a.x - b.x) + (p.y - b.y) * (a.y - b.y) < 0 ? 1 : 2; };
    if (half(c) != half(d)) return half(c) < half(d);
    return cross(b, c, d) > 0;
}

}  // namespace

FaceBorder border_of(const Arrangement& arrangement, int face) {
    // Border edges with the face on their left, by their first vertex.
    std::multimap<int, int> onward;
    for (const ArrangedEdge& edge : arrangement.edges) {
        if (edge.left == edge.right) continue;
        if (edge.left == face) onward.emplace(edge.from, edge.to);
        if (edge.right == face) onward.emplace(edge.to, edge.from);
    }
    const auto& v = arrangement.vertices;
    FaceBorder border;
    while (!onward.empty()) {
        // Always the turn that keeps closest to what is not the face: so rings part where they touch.
        auto step = onward.begin();
        const int first = step->first;
        int before = first, here = step->second;
        Outline ring{v[first]};
        onward.erase(step);
        while (here != first) {
            ring.push_back(v[here]);
            const auto [begin, end] = onward.equal_range(here);
            if (begin == end) break;
            step = begin;
            for (auto other = std::next(begin); other != end; ++other)
                if (turns_first(v[before], v[here], v[other->second], v[step->second])) step = other;
            before = here;
            here = step->second;
            onward.erase(step);
        }
        if (area2(ring) > 0 && area2(ring) > area2(border.outline)) {
            border.outline = std::move(ring);
        } else if (area2(ring) < 0) {
            std::reverse(ring.begin(), ring.end());
            border.holes.push_back(std::move(ring));
        }
    }
    return border;
}

Piece open_region(const Study& study, const Section& section, Point at) {
    const auto refuse = [&](const char* code, std::map<std::string, std::string> args = {}) {
        throw InputFault(Message{Severity::fault, code, std::move(args), at, {}});
    };
    if (!section.cut.contains(at)) refuse("region-outside-cut");
    Section drawn = section;
    drawn.beyond.clear();
    const Arrangement arrangement = arrange(study, drawn);
    const int face = face_at(arrangement, at);
    if (face < 0 || arrangement.faces[face].kind != FaceKind::air || arrangement.faces[face].piece >= 0) refuse("region-not-open");
    if (const int space = arrangement.faces[face].space; space >= 0) refuse("region-has-mark", {{"space", section.spaces[space].id}});
    FaceBorder border = border_of(arrangement, face);
    Piece piece;
    piece.outline = std::move(border.outline);
    piece.holes = std::move(border.holes);
    return piece;
}

}  // namespace wallfoot
