// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "solver/mesh/mesh.hpp"

namespace wallfoot {

double Mesh::area(int t) const {
    const auto &a = points[triangles[t][0]], &b = points[triangles[t][1]], &c = points[triangles[t][2]];
    return 0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}

namespace {

/// Squared length taken from the lower to the higher vertex, so that both neighbours see the same number.
double length2(const Mesh& mesh, int t, int i) {
    int a = mesh.triangles[t][(i + 1) % 3], b = mesh.triangles[t][(i + 2) % 3];
    if (a > b) std::swap(a, b);
    const double dx = mesh.points[b][0] - mesh.points[a][0], dy = mesh.points[b][1] - mesh.points[a][1];
    return dx * dx + dy * dy;
}

/// The edge every bisection of a triangle starts with: longest; ties go to the lower edge number.
int longest_edge(const Mesh& mesh, const EdgeNumbers& edges, int t) {
    int best = 0;
    for (int i = 1; i < 3; ++i) {
        const double d = length2(mesh, t, i) - length2(mesh, t, best);
        if (d > 0 || (d == 0 && edges.of[t][i] < edges.of[t][best])) best = i;
    }
    return best;
}

/// Marks edges of the wanted triangles, then closes: a triangle with a marked edge has its longest edge marked.
std::vector<char> mark_edges(const Mesh& mesh, const EdgeNumbers& edges, const std::vector<int>& longest,
                             const std::vector<char>& marked) {
    std::vector<char> split(edges.count, 0);
    std::vector<int> queue;
    const auto mark = [&](int t, int i) {
        if (split[edges.of[t][i]]) return;
        split[edges.of[t][i]] = 1;
        queue.push_back(t);
        if (mesh.neighbours[t][i] >= 0) queue.push_back(mesh.neighbours[t][i]);
    };
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t) {
        if (!marked[t]) continue;
        const double limit = 0.81 * length2(mesh, t, longest[t]);
        for (int i = 0; i < 3; ++i)
            if (i == longest[t] || length2(mesh, t, i) > limit) mark(t, i);
    }
    while (!queue.empty()) {
        const int t = queue.back();
        queue.pop_back();
        mark(t, longest[t]);
    }
    return split;
}

/// A new triangle while it is being cut out of its parent. lies_on[i]: 2·(edge of the parent) + (0 whole or first
/// half, 1 second half) for the edge opposite corner i, or -1 inside the parent.
struct Child {
    std::array<int, 3> corners;
    std::array<int, 3> lies_on;
};

/// Children of triangle t, whose longest edge is split; the other edges may be.
int cut_triangle(const Mesh& mesh, int t, int longest, const std::array<int, 3>& middle, std::array<Child, 4>& out) {
    const int e0 = longest, e1 = (longest + 1) % 3, e2 = (longest + 2) % 3;
    const int c0 = mesh.triangles[t][e0], c1 = mesh.triangles[t][e1], c2 = mesh.triangles[t][e2];
    const int m0 = middle[e0], m1 = middle[e1], m2 = middle[e2];
    int n = 0;
    if (m2 < 0) {
        out[n++] = {{c0, c1, m0}, {2 * e0, -1, 2 * e2}};
    } else {
        out[n++] = {{c0, m2, m0}, {-1, -1, 2 * e2}};
        out[n++] = {{m2, c1, m0}, {2 * e0, -1, 2 * e2 + 1}};
    }
    if (m1 < 0) {
        out[n++] = {{c0, m0, c2}, {2 * e0 + 1, 2 * e1, -1}};
    } else {
        out[n++] = {{m0, c2, m1}, {2 * e1, -1, 2 * e0 + 1}};
        out[n++] = {{c0, m0, m1}, {-1, 2 * e1 + 1, -1}};
    }
    return n;
}

struct Half {
    int triangle = -1, corner = -1;
};

}  // namespace

double Mesh::edge_length(int t, int i) const { return std::sqrt(length2(*this, t, i)); }

EdgeNumbers number_edges(const Mesh& mesh) {
    EdgeNumbers numbers;
    numbers.of.resize(mesh.triangles.size());
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i) {
            const int n = mesh.neighbours[t][i];
            if (n < 0 || n > t) {
                numbers.of[t][i] = numbers.count++;
            } else {
                for (int j = 0; j < 3; ++j)
                    if (mesh.neighbours[n][j] == t) numbers.of[t][i] = numbers.of[n][j];
            }
        }
    return numbers;
}

Mesh bisect(const Mesh& mesh, const std::vector<char>& marked, std::vector<int>* parent) {
    const int count = static_cast<int>(mesh.triangles.size());
    const auto edges = number_edges(mesh);
    std::vector<int> longest(count);
    for (int t = 0; t < count; ++t) longest[t] = longest_edge(mesh, edges, t);
    const auto split = mark_edges(mesh, edges, longest, marked);

    Mesh fine;
    fine.regions = mesh.regions;
    fine.kinds = mesh.kinds;
    fine.contacts = mesh.contacts;
    fine.jumps = mesh.jumps;
    fine.points = mesh.points;
    std::vector<int> middle(edges.count, -1);
    for (int t = 0; t < count; ++t)
        for (int i = 0; i < 3; ++i)
            if (int& m = middle[edges.of[t][i]]; split[edges.of[t][i]] && m < 0) {
                const auto &a = mesh.points[mesh.triangles[t][(i + 1) % 3]], &b = mesh.points[mesh.triangles[t][(i + 2) % 3]];
                m = static_cast<int>(fine.points.size());
                fine.points.push_back({0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])});
            }

    // halves[t][2i], [2i+1]: who now owns the first (or whole) and second half of edge i, along t's own direction.
    std::vector<std::array<Half, 6>> halves(count);
    if (parent) parent->clear();
    std::array<Child, 4> children;
    for (int t = 0; t < count; ++t) {
        std::array<int, 3> m;
        bool any = false;
        for (int i = 0; i < 3; ++i) any |= (m[i] = middle[edges.of[t][i]]) >= 0;
        int n = 1;
        if (any)
            n = cut_triangle(mesh, t, longest[t], m, children);
        else
            children[0] = {mesh.triangles[t], {0, 2, 4}};
        const int first = static_cast<int>(fine.triangles.size());
        for (int c = 0; c < n; ++c) {
            fine.triangles.push_back(children[c].corners);
            fine.region.push_back(mesh.region[t]);
            fine.neighbours.push_back({-1, -1, -1});
            fine.marks.push_back({0, 0, 0});
            if (parent) parent->push_back(t);
            for (int i = 0; i < 3; ++i)
                if (const int on = children[c].lies_on[i]; on >= 0) {
                    halves[t][on] = {first + c, i};
                    fine.marks.back()[i] = mesh.marks[t][on / 2];
                }
        }
        for (int c = 0; c < n; ++c)
            for (int d = 0; d < c; ++d)
                for (int i = 0; i < 3; ++i)
                    for (int j = 0; j < 3; ++j)
                        if (children[c].lies_on[i] < 0 && children[d].lies_on[j] < 0 &&
                            children[c].corners[(i + 1) % 3] == children[d].corners[(j + 2) % 3] &&
                            children[c].corners[(i + 2) % 3] == children[d].corners[(j + 1) % 3]) {
                            fine.neighbours[first + c][i] = first + d;
                            fine.neighbours[first + d][j] = first + c;
                        }
    }
    for (int t = 0; t < count; ++t)
        for (int i = 0; i < 3; ++i) {
            const int n = mesh.neighbours[t][i];
            if (n < t) continue;
            int j = 0;
            while (edges.of[n][j] != edges.of[t][i]) ++j;
            const bool two = middle[edges.of[t][i]] >= 0;
            for (int h = 0; h < (two ? 2 : 1); ++h) {
                const Half mine = halves[t][2 * i + h], theirs = halves[n][2 * j + (two ? 1 - h : 0)];
                fine.neighbours[mine.triangle][mine.corner] = theirs.triangle;
                fine.neighbours[theirs.triangle][theirs.corner] = mine.triangle;
            }
        }
    return fine;
}

}  // namespace wallfoot
