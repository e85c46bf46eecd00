// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/row.hpp"

#include <algorithm>

namespace wallfoot {

namespace {

struct Crossing {
    double at;
    int before, behind;  ///< faces on either side, in the sense of growing `at`
};

std::vector<Met> between(std::vector<Crossing> crossings) {
    std::sort(crossings.begin(), crossings.end(), [](const Crossing& s, const Crossing& t) { return s.at < t.at; });
    std::vector<Met> met;
    for (std::size_t i = 1; i < crossings.size(); ++i) met.push_back({crossings[i - 1].at, crossings[i].at, crossings[i].before});
    return met;
}

/// Where an edge crosses the line at half of `twice`; `along` and `across` are the coordinates of its ends.
double crossed_at(Micrometres twice, Micrometres across_a, Micrometres across_b, Micrometres along_a, Micrometres along_b) {
    const double share = (0.5 * static_cast<double>(twice) - static_cast<double>(across_a)) / static_cast<double>(across_b - across_a);
    return static_cast<double>(along_a) + share * static_cast<double>(along_b - along_a);
}

bool misses(Micrometres twice, Micrometres a, Micrometres b) { return a == b || 2 * std::min(a, b) > twice || 2 * std::max(a, b) < twice; }

}  // namespace

std::vector<Met> row_at(const Arrangement& arrangement, Micrometres y2) {
    std::vector<Crossing> crossings;
    for (const ArrangedEdge& edge : arrangement.edges) {
        const Point a = arrangement.vertices[edge.from], b = arrangement.vertices[edge.to];
        if (edge.left == edge.right || misses(y2, a.y, b.y)) continue;
        const double x = crossed_at(y2, a.y, b.y, a.x, b.x);
        crossings.push_back(b.y > a.y ? Crossing{x, edge.left, edge.right} : Crossing{x, edge.right, edge.left});
    }
    return between(std::move(crossings));
}

std::vector<Met> column_at(const Arrangement& arrangement, Micrometres x2) {
    std::vector<Crossing> crossings;
    for (const ArrangedEdge& edge : arrangement.edges) {
        const Point a = arrangement.vertices[edge.from], b = arrangement.vertices[edge.to];
        if (edge.left == edge.right || misses(x2, a.x, b.x)) continue;
        const double y = crossed_at(x2, a.x, b.x, a.y, b.y);
        crossings.push_back(b.x > a.x ? Crossing{y, edge.right, edge.left} : Crossing{y, edge.left, edge.right});
    }
    return between(std::move(crossings));
}

}  // namespace wallfoot
