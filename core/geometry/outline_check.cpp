// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geometry/outline_check.hpp"

#include <algorithm>
#include <numeric>

namespace wallfoot {

namespace {

int sign_of(std::int64_t v) { return v > 0 ? 1 : v < 0 ? -1 : 0; }

bool too_large(Point p) {
    return p.x < -coordinate_limit || p.x > coordinate_limit || p.y < -coordinate_limit || p.y > coordinate_limit;
}

struct Edge {
    Point a, b;
    Micrometres low_x() const { return std::min(a.x, b.x); }
    Micrometres high_x() const { return std::max(a.x, b.x); }
    Micrometres low_y() const { return std::min(a.y, b.y); }
    Micrometres high_y() const { return std::max(a.y, b.y); }
};

Edge edge_of(const Outline& outline, std::size_t i) { return {outline[i], outline[(i + 1) % outline.size()]}; }

bool on_edge(const Edge& e, Point p) {
    return cross(e.a, e.b, p) == 0 && e.low_x() <= p.x && p.x <= e.high_x() && e.low_y() <= p.y && p.y <= e.high_y();
}

bool boxes_meet(const Edge& e, const Edge& f) {
    return e.low_x() <= f.high_x() && f.low_x() <= e.high_x() && e.low_y() <= f.high_y() && f.low_y() <= e.high_y();
}

/// The edges cross in a point inside both.
bool cross_properly(const Edge& e, const Edge& f) {
    return sign_of(cross(e.a, e.b, f.a)) * sign_of(cross(e.a, e.b, f.b)) < 0 &&
           sign_of(cross(f.a, f.b, e.a)) * sign_of(cross(f.a, f.b, e.b)) < 0;
}

/// Grid point next to where two properly crossing edges meet.
Point near_crossing(const Edge& e, const Edge& f) {
    const double towards_a = static_cast<double>(cross(f.a, f.b, e.a));
    const double towards_b = static_cast<double>(cross(f.a, f.b, e.b));
    const double t = towards_a / (towards_a - towards_b);
    return {e.a.x + static_cast<Micrometres>(t * static_cast<double>(e.b.x - e.a.x)),
            e.a.y + static_cast<Micrometres>(t * static_cast<double>(e.b.y - e.a.y))};
}

/// Where two edges that share no corner meet, if they do.
std::optional<Point> meeting(const Edge& e, const Edge& f) {
    if (!boxes_meet(e, f)) return std::nullopt;
    for (const Point p : {f.a, f.b})
        if (on_edge(e, p)) return p;
    for (const Point p : {e.a, e.b})
        if (on_edge(f, p)) return p;
    if (cross_properly(e, f)) return near_crossing(e, f);
    return std::nullopt;
}

std::optional<Point> repeated_point(const Outline& outline) {
    Outline sorted = outline;
    std::sort(sorted.begin(), sorted.end());
    const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
    if (twice == sorted.end()) return std::nullopt;
    return *twice;
}

bool all_on_one_line(const Outline& outline) {
    return std::all_of(outline.begin(), outline.end(),
                       [&](Point p) { return cross(outline[0], outline[1], p) == 0; });
}

std::optional<Point> spike(const Outline& outline) {
    const std::size_t n = outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Point before = outline[(i + n - 1) % n], here = outline[i], after = outline[(i + 1) % n];
        if (cross(before, here, after) != 0) continue;
        const auto along = (here.x - before.x) * (after.x - here.x) + (here.y - before.y) * (after.y - here.y);
        if (along < 0) return here;
    }
    return std::nullopt;
}

/// First meeting of edges that are not neighbours; edges sorted by their left end, each compared with those that overlap it.
std::optional<Point> self_meeting(const Outline& outline) {
    const std::size_t n = outline.size();
    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
        const auto left_i = edge_of(outline, i).low_x(), left_j = edge_of(outline, j).low_x();
        return left_i != left_j ? left_i < left_j : i < j;
    });
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t i = order[k];
        const Edge e = edge_of(outline, i);
        for (std::size_t m = k + 1; m < n; ++m) {
            const std::size_t j = order[m];
            const Edge f = edge_of(outline, j);
            if (f.low_x() > e.high_x()) break;
            if ((i + 1) % n == j || (j + 1) % n == i) continue;
            if (const auto p = meeting(e, f)) return p;
        }
    }
    return std::nullopt;
}

/// A point given by doubled coordinates, so that midpoints of grid points are exact.
struct Doubled {
    std::int64_t x, y;
};

/// Inside the outline or on it. Exact.
bool covers(const Outline& outline, Doubled p) {
    bool inside = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge e = edge_of(outline, i);
        const Doubled a{2 * e.a.x, 2 * e.a.y}, b{2 * e.b.x, 2 * e.b.y};
        const __int128 turn = static_cast<__int128>(b.x - a.x) * (p.y - a.y) - static_cast<__int128>(b.y - a.y) * (p.x - a.x);
        if (turn == 0 && std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
            p.y <= std::max(a.y, b.y))
            return true;
        if ((a.y > p.y) != (b.y > p.y) && (b.y > a.y ? turn > 0 : turn < 0)) inside = !inside;
    }
    return inside;
}

/// A place where an edge crosses the outline, or runs outside it (`inside` false), or inside or along it (true): it is cut
/// at the outline's corners on it, and the middle of each part tested.
std::optional<Point> running(bool inside, const Outline& outline, const Edge& edge) {
    std::vector<Point> stops{edge.a, edge.b};
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge border = edge_of(outline, i);
        if (!boxes_meet(edge, border)) continue;
        if (cross_properly(edge, border)) return near_crossing(edge, border);
        if (on_edge(edge, border.a)) stops.push_back(border.a);
    }
    std::sort(stops.begin(), stops.end());
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        const Point a = stops[i], b = stops[i + 1];
        if (a != b && covers(outline, {a.x + b.x, a.y + b.y}) == inside) return Point{(a.x + b.x) / 2, (a.y + b.y) / 2};
    }
    return std::nullopt;
}

}  // namespace

std::optional<OutlineFault> check_outline(const Outline& outline) {
    if (outline.size() < 3) return OutlineFault{"outline-too-few", outline.empty() ? Point{} : outline.front()};
    for (const Point p : outline)
        if (too_large(p)) return OutlineFault{"coordinate-too-large", p};
    if (const auto p = repeated_point(outline)) return OutlineFault{"outline-repeated-point", *p};
    if (all_on_one_line(outline)) return OutlineFault{"outline-empty", outline.front()};
    if (const auto p = spike(outline)) return OutlineFault{"outline-spike", *p};
    if (const auto p = self_meeting(outline)) return OutlineFault{"outline-crossing", *p};
    if (area2(outline) == 0) return OutlineFault{"outline-empty", outline.front()};
    return std::nullopt;
}

std::optional<OutlineFault> check_hole(const Outline& outline, const Outline& hole) {
    if (const auto fault = check_outline(hole)) return fault;
    for (const Point p : hole)
        if (!covers(outline, {2 * p.x, 2 * p.y})) return OutlineFault{"hole-outside", p};
    for (std::size_t i = 0; i < hole.size(); ++i)
        if (const auto p = running(false, outline, edge_of(hole, i))) return OutlineFault{"hole-outside", *p};
    const Area2 whole = area2(outline), taken = area2(hole);
    if ((whole < 0 ? -whole : whole) == (taken < 0 ? -taken : taken)) return OutlineFault{"outline-empty", hole.front()};
    return std::nullopt;
}

std::optional<std::pair<std::size_t, OutlineFault>> check_holes_apart(const std::vector<Outline>& holes) {
    // Each is compared with those whose boxes overlap its own, from left to right.
    struct Box {
        std::size_t hole;
        Edge diagonal;
    };
    std::vector<Box> boxes;
    for (std::size_t h = 0; h < holes.size(); ++h) {
        const auto [left, right] = std::minmax_element(holes[h].begin(), holes[h].end(), [](Point p, Point q) { return p.x < q.x; });
        const auto [low, high] = std::minmax_element(holes[h].begin(), holes[h].end(), [](Point p, Point q) { return p.y < q.y; });
        boxes.push_back({h, {{left->x, low->y}, {right->x, high->y}}});
    }
    std::stable_sort(boxes.begin(), boxes.end(), [](const Box& a, const Box& b) { return a.diagonal.a.x < b.diagonal.a.x; });
    const auto meet = [](const Outline& of, const Outline& with) -> std::optional<Point> {
        for (std::size_t i = 0; i < of.size(); ++i)
            if (const auto p = running(true, with, edge_of(of, i))) return p;
        return std::nullopt;
    };
    for (std::size_t i = 0; i < boxes.size(); ++i)
        for (std::size_t j = i + 1; j < boxes.size() && boxes[j].diagonal.a.x <= boxes[i].diagonal.b.x; ++j) {
            if (!boxes_meet(boxes[i].diagonal, boxes[j].diagonal)) continue;
            const auto [first, second] = std::minmax(boxes[i].hole, boxes[j].hole);
            auto p = meet(holes[second], holes[first]);
            if (!p) p = meet(holes[first], holes[second]);
            if (p) return std::pair(second, OutlineFault{"holes-meet", *p});
        }
    return std::nullopt;
}

Area2 area2(const Outline& outline) {
    Area2 sum = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point a = outline[i], b = outline[(i + 1) % outline.size()];
        sum += static_cast<Area2>(a.x) * b.y - static_cast<Area2>(b.x) * a.y;
    }
    return sum;
}

}  // namespace wallfoot
