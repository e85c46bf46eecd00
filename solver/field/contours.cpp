// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/contours.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace wallfoot {
namespace {

using Triangles = std::vector<std::array<int, 3>>;

// Part k < 3 of a triangle sits at corner k: corner k, midpoint of the edge k–k+1, midpoint of the edge k–k+2. Part 3
// is the middle one. Inner edge k parts part k from the middle; an outer half edge is named by its side (the corner
// opposite) and the corner at its end.
constexpr int part_node[4][3] = {{0, 5, 4}, {1, 3, 5}, {2, 4, 3}, {3, 4, 5}};

/// Nodes of neighbouring triangles that carry one value, joined. Deciding above or below once for each class keeps
/// chains whole where two copies of a value differ by rounding.
class SharedNodes {
  public:
    SharedNodes(const Triangles& triangles, const Triangles& neighbours, const QuadraticField& field)
        : triangles_(triangles), neighbours_(neighbours), parent_(6 * triangles.size()) {
        for (std::size_t i = 0; i < parent_.size(); ++i) parent_[i] = static_cast<int>(i);
        const auto [low, high] = field_span(field);
        const double rounding = 1e-9 * (high - low);
        for (int t = 0; t < static_cast<int>(triangles.size()); ++t)
            for (int side = 0; side < 3; ++side) join_side(t, side, field, rounding);
        for (std::size_t i = 0; i < parent_.size(); ++i) parent_[i] = root(static_cast<int>(i));
    }

    int of(int triangle, int node) const { return parent_[6 * triangle + node]; }

    /// Corner of `neighbour` at the vertex of corner `corner` of `triangle`; -1 when it has none.
    int same_corner(int triangle, int corner, int neighbour) const {
        const int vertex = triangles_[triangle][corner];
        for (int k = 0; k < 3; ++k)
            if (triangles_[neighbour][k] == vertex) return k;
        return -1;
    }

  private:
    int root(int i) {
        while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
        return i;
    }
    void join(int a, int b) {
        a = root(a), b = root(b);
        if (a > b) std::swap(a, b);
        parent_[b] = a;
    }
    void join_side(int t, int side, const QuadraticField& field, double rounding) {
        const int n = neighbours_[t][side];
        if (n < 0 || n > t) return;
        const int a = (side + 1) % 3, b = (side + 2) % 3;
        const int na = same_corner(t, a, n), nb = same_corner(t, b, n);
        if (na < 0 || nb < 0 || na == nb) return;
        const int here[3] = {a, b, 3 + side}, there[3] = {na, nb, 3 + (3 - na - nb)};
        for (int k = 0; k < 3; ++k)
            if (!(std::abs(field[t][here[k]] - field[n][there[k]]) <= rounding)) return;
        for (int k = 0; k < 3; ++k) join(6 * t + here[k], 6 * n + there[k]);
    }

    const Triangles& triangles_;
    const Triangles& neighbours_;
    std::vector<int> parent_;
};

/// Where a walk stands: a part of a triangle and one of its edges (the one opposite `edge` among its three nodes).
struct Gate {
    int triangle = -1, part = 0, edge = 0;
};

class Tracer {
  public:
    Tracer(const std::vector<std::array<double, 2>>& points, const Triangles& triangles, const Triangles& neighbours,
           const QuadraticField& field)
        : points_(points),
          triangles_(triangles),
          neighbours_(neighbours),
          field_(field),
          nodes_(triangles, neighbours, field),
          seen_(triangles.size()) {
        const auto [low, high] = field_span(field);
        slack_ = 1e-7 * (high - low);
    }

    void trace(double level, std::vector<ContourLine>& lines) {
        level_ = level;
        std::fill(seen_.begin(), seen_.end(), std::uint8_t{0});
        for (int t = 0; t < static_cast<int>(triangles_.size()); ++t) {
            const auto [low, high] = std::minmax_element(field_[t].begin(), field_[t].end());
            if (*high + slack_ < level || *low - slack_ >= level) continue;
            for (int part = 0; part < 4; ++part) {
                if (seen_[t] >> part & 1) continue;
                Gate out;
                if (!crossing(t, part, true, out)) continue;
                lines.push_back(chain(out));
                if (lines.back().points.size() < 2) lines.pop_back();
            }
        }
    }

  private:
    double value(int t, int node) const {
        const int slot = nodes_.of(t, node);
        return field_[slot / 6][slot % 6];
    }
    bool above(int t, int node) const { return value(t, node) >= level_; }

    std::array<double, 2> position(int t, int node) const {
        const auto& v = triangles_[t];
        if (node < 3) return points_[v[node]];
        const auto& a = points_[v[(node - 2) % 3]];
        const auto& b = points_[v[(node - 1) % 3]];
        return {(a[0] + b[0]) / 2, (a[1] + b[1]) / 2};
    }

    /// The edge by which the contour leaves (or enters) a part, walking with the higher values to the left.
    bool crossing(int t, int part, bool leaving, Gate& gate) const {
        for (int e = 0; e < 3; ++e) {
            const bool from = above(t, part_node[part][(e + 1) % 3]), to = above(t, part_node[part][(e + 2) % 3]);
            if (from == to) continue;
            // Anticlockwise round the part: stepping from below to above over the edge means the high side is left on
            // leaving.
            if ((!from && to) == leaving) {
                gate = {t, part, e};
                return true;
            }
        }
        return false;
    }

    std::array<double, 2> point_at(const Gate& g) const {
        int a = part_node[g.part][(g.edge + 1) % 3], b = part_node[g.part][(g.edge + 2) % 3];
        if (nodes_.of(g.triangle, a) > nodes_.of(g.triangle, b)) std::swap(a, b);
        const double va = value(g.triangle, a), vb = value(g.triangle, b);
        const double share = std::clamp((level_ - va) / (vb - va), 0.0, 1.0);
        const auto p = position(g.triangle, a), q = position(g.triangle, b);
        return {p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])};
    }

    /// The part across an edge, or triangle -1 where the chain ends.
    Gate across(const Gate& g) const {
        if (g.part == 3) return {g.triangle, g.edge, 0};
        if (g.edge == 0) return {g.triangle, 3, g.part};
        // Edge 1 of part k (corner k to the midpoint 3+(k+1)) lies on side k+1, edge 2 on side k+2.
        const int side = (g.part + g.edge) % 3, n = neighbours_[g.triangle][side];
        if (n < 0) return {};
        const int corner = nodes_.same_corner(g.triangle, g.part, n);
        const int other = nodes_.same_corner(g.triangle, 3 - g.part - side, n);
        if (corner < 0 || other < 0) return {};
        const int there = 3 - corner - other;
        if (nodes_.of(n, corner) != nodes_.of(g.triangle, g.part) ||
            nodes_.of(n, 3 + there) != nodes_.of(g.triangle, 3 + side))
            return {};
        return {n, corner, (there - corner + 3) % 3};
    }

    void walk(Gate gate, bool forward, ContourLine& line) {
        for (;;) {
            add(point_at(gate), line);
            const Gate next = across(gate);
            if (next.triangle < 0) return;
            if (seen_[next.triangle] >> next.part & 1) {
                line.closed = true;
                return;
            }
            seen_[next.triangle] |= static_cast<std::uint8_t>(1 << next.part);
            if (!crossing(next.triangle, next.part, forward, gate)) return;
        }
    }
    static void add(const std::array<double, 2>& p, ContourLine& line) {
        if (line.points.empty() || line.points.back() != p) line.points.push_back(p);
    }

    ContourLine chain(const Gate& out) {
        ContourLine line{level_, false, {}};
        seen_[out.triangle] |= static_cast<std::uint8_t>(1 << out.part);
        walk(out, true, line);
        if (line.closed) {
            if (line.points.size() > 1 && line.points.front() == line.points.back()) line.points.pop_back();
            return line;
        }
        ContourLine back{level_, false, {}};
        Gate in;
        crossing(out.triangle, out.part, false, in);
        walk(in, false, back);
        std::reverse(back.points.begin(), back.points.end());
        for (const auto& p : line.points) add(p, back);
        return back;
    }

    const std::vector<std::array<double, 2>>& points_;
    const Triangles& triangles_;
    const Triangles& neighbours_;
    const QuadraticField& field_;
    SharedNodes nodes_;
    std::vector<std::uint8_t> seen_;
    double level_ = 0;
    double slack_ = 0;  ///< joined values may differ by rounding from a triangle's own
};

}  // namespace

std::vector<ContourLine> contours(const std::vector<std::array<double, 2>>& points, const Triangles& triangles,
                                  const Triangles& neighbours, const QuadraticField& field,
                                  const std::vector<double>& levels) {
    if (triangles.size() != neighbours.size() || triangles.size() != field.size())
        throw std::logic_error("contours: sizes differ");
    std::vector<ContourLine> lines;
    Tracer tracer(points, triangles, neighbours, field);
    for (const double level : levels) tracer.trace(level, lines);
    return lines;
}

double nice_step(double span, int most) {
    const double raw = span / most;
    const double ten = std::pow(10.0, std::floor(std::log10(raw)));
    for (const double factor : {1.0, 2.0, 5.0})
        if (factor * ten >= raw * (1 - 1e-9)) return factor * ten;
    return 10 * ten;
}

std::vector<double> levels_between(double low, double high, double step) {
    std::vector<double> levels;
    // Rounding must not let an end of the span pass for a level inside it.
    const double margin = 1e-9 * (high - low);
    for (double k = std::ceil(low / step); k * step < high - margin; ++k)
        if (k * step > low + margin) levels.push_back(k * step);
    return levels;
}

std::array<double, 2> field_span(const QuadraticField& field) {
    if (field.empty()) return {0, 0};
    double low = field[0][0], high = low;
    for (const auto& values : field)
        for (const double v : values) low = std::min(low, v), high = std::max(high, v);
    return {low, high};
}

}  // namespace wallfoot
