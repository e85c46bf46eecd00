// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/surface_chain.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

namespace wallfoot {

namespace {

constexpr double turning_limit = 30.0;   // RULES 5
constexpr double parallel_limit = 5.0;   // below it an intersection says nothing
constexpr double one_line_um = 1000.0;   // offsets below 1 mm are no offset

/// A surface edge as seen when walking with the air on the left.
struct Step {
    int surface, from, to;
};

double heading(Point a, Point b) { return std::atan2(double(b.y - a.y), double(b.x - a.x)); }

/// Turn from direction a→b to b→c, in (−π, π], positive to the left.
double turn(Point a, Point b, Point c) {
    double angle = heading(b, c) - heading(a, b);
    while (angle <= -std::numbers::pi) angle += 2 * std::numbers::pi;
    while (angle > std::numbers::pi) angle -= 2 * std::numbers::pi;
    return angle;
}

std::multimap<int, Step> steps_by_vertex(const Arrangement& arrangement, const std::vector<SurfaceEdge>& surfaces,
                                         int space, bool forward) {
    std::multimap<int, Step> steps;
    for (std::size_t i = 0; i < surfaces.size(); ++i) {
        if (surfaces[i].space != space) continue;
        const auto& edge = arrangement.edges[surfaces[i].edge];
        int from = edge.from, to = edge.to;
        const bool air_on_left = edge.right == surfaces[i].solid_face;
        if (air_on_left != forward) std::swap(from, to);
        steps.emplace(from, Step{int(i), from, to});
    }
    return steps;
}

SurfaceChain walk(const Arrangement& arrangement, const std::vector<SurfaceEdge>& surfaces, int space, int start,
                  bool forward) {
    const auto steps = steps_by_vertex(arrangement, surfaces, space, forward);
    SurfaceChain chain;
    std::set<int> used;
    int before = -1, here = start, run = -1;
    for (;;) {
        const Step* next = nullptr;
        double best = 0;
        const auto [first, last] = steps.equal_range(here);
        for (auto it = first; it != last; ++it) {
            if (used.contains(it->second.surface)) continue;
            double bend = 0;
            if (before >= 0)
                bend = turn(arrangement.vertices[before], arrangement.vertices[here], arrangement.vertices[it->second.to]);
            if (!forward) bend = -bend;
            if (!next || bend > best) {
                next = &it->second;
                best = bend;
            }
        }
        if (!next) return chain;
        used.insert(next->surface);
        const Point to = arrangement.vertices[next->to];
        if (surfaces[next->surface].run == run && !chain.empty())
            chain.lines.back().to = to;
        else
            chain.lines.push_back({arrangement.vertices[here], to});
        run = surfaces[next->surface].run;
        before = here;
        here = next->to;
    }
}

double distance_from_line(Point p, const StraightLine& line) {
    const double dx = double(line.to.x - line.from.x), dy = double(line.to.y - line.from.y);
    return std::abs(dx * double(p.y - line.from.y) - dy * double(p.x - line.from.x)) / std::hypot(dx, dy);
}

}  // namespace

SurfaceChain walk_surface(const Arrangement& arrangement, const std::vector<SurfaceEdge>& surfaces, int space, int start) {
    auto chain = walk(arrangement, surfaces, space, start, true);
    return chain.empty() ? walk(arrangement, surfaces, space, start, false) : chain;
}

SurfaceChain reversed(const SurfaceChain& chain) {
    SurfaceChain back;
    for (auto it = chain.lines.rbegin(); it != chain.lines.rend(); ++it) back.lines.push_back({it->to, it->from});
    return back;
}

double angle_between(const StraightLine& a, const StraightLine& b) {
    const double ax = double(a.to.x - a.from.x), ay = double(a.to.y - a.from.y);
    const double bx = double(b.to.x - b.from.x), by = double(b.to.y - b.from.y);
    return std::abs(std::atan2(ax * by - ay * bx, ax * bx + ay * by)) * 180 / std::numbers::pi;
}

StraightLine last_line(const SurfaceChain& chain) {
    StraightLine last = chain.lines.front();
    for (const auto& line : chain.lines) {
        if (angle_between(chain.lines.front(), line) > turning_limit) break;
        last = line;
    }
    return last;
}

Reference reference_of(const StraightLine& a, const StraightLine& b) {
    const double between = angle_between(a, b);
    if (between < parallel_limit || between > 180 - parallel_limit) {
        const double offset = std::max({distance_from_line(b.from, a), distance_from_line(b.to, a)});
        return {.at = std::nullopt, .one_line = offset <= one_line_um};
    }
    const double ax = double(a.to.x - a.from.x), ay = double(a.to.y - a.from.y);
    const double bx = double(b.to.x - b.from.x), by = double(b.to.y - b.from.y);
    const double along = (double(b.from.x - a.from.x) * by - double(b.from.y - a.from.y) * bx) / (ax * by - ay * bx);
    return {.at = Point{a.from.x + std::llround(along * ax), a.from.y + std::llround(along * ay)}};
}

}  // namespace wallfoot
