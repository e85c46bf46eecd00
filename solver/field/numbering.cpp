// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/numbering.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>

#include "solver/field/corners.hpp"

namespace wallfoot {

namespace {

/// Where the factors' growth pays for the iterations saved: three thin layers in a wall foot then cost what their
/// triangles do, and sections without slender triangles lose nothing (measured from 4 to 40).
constexpr double slender_from = 6;

/// Numbers nodes by their rank in the vertex order; equal ranks by number. A rank < 0 means no unknown.
std::vector<int> by_rank(const std::vector<int>& node_rank, int ranks, int& count) {
    std::vector<int> start(ranks + 1, 0);
    for (int r : node_rank)
        if (r >= 0) ++start[r + 1];
    for (int k = 0; k < ranks; ++k) start[k + 1] += start[k];
    count = start[ranks];
    std::vector<int> number(node_rank.size(), -1);
    for (std::size_t v = 0; v < node_rank.size(); ++v)
        if (node_rank[v] >= 0) number[v] = start[node_rank[v]]++;
    return number;
}

/// Numbers the edges that carry a bubble, in the order of the triangles: neighbours stay close in memory.
std::vector<int> present_only(const std::vector<char>& absent, int& count) {
    std::vector<int> number(absent.size(), -1);
    count = 0;
    for (std::size_t e = 0; e < absent.size(); ++e)
        if (!absent[e]) number[e] = count++;
    return number;
}

bool fixes(const Mesh& mesh, int t, int i) {
    return mesh.boundary(t, i) && mesh.marks[t][i] >= 0 && mesh.kinds[mesh.marks[t][i]].resistance == 0;
}

/// Calls f(first triangle, all triangles) for every part of the body that hangs together by edges.
template <class F>
void each_part(const Mesh& mesh, F&& f) {
    std::vector<char> seen(mesh.triangles.size(), 0);
    std::vector<int> part;
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t) {
        if (seen[t]) continue;
        part = {t};
        seen[t] = 1;
        for (std::size_t k = 0; k < part.size(); ++k)
            for (int n : mesh.neighbours[part[k]])
                if (n >= 0 && !seen[n]) {
                    seen[n] = 1;
                    part.push_back(n);
                }
        f(part);
    }
}

bool has_contact(const Mesh& mesh, const std::vector<int>& part) {
    for (int t : part)
        for (int i = 0; i < 3; ++i)
            if (mesh.boundary(t, i) && mesh.marks[t][i] >= 0) return true;
    return false;
}

}  // namespace

std::vector<int> vertex_order(const Mesh& mesh) {
    const int n = static_cast<int>(mesh.points.size());
    // The library takes a node without its diagonal entry for a dense one, so the diagonal goes in.
    std::vector<int> start(n + 1, 1);
    start[0] = 0;
    const auto each_edge = [&](auto&& f) {
        for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
            for (int i = 0; i < 3; ++i)
                if (mesh.neighbours[t][i] < t) f(mesh.triangles[t][(i + 1) % 3], mesh.triangles[t][(i + 2) % 3]);
    };
    each_edge([&](int a, int b) { ++start[a + 1], ++start[b + 1]; });
    for (int v = 0; v < n; ++v) start[v + 1] += start[v];
    std::vector<int> inner(start[n]), fill(start.begin(), start.end() - 1);
    for (int v = 0; v < n; ++v) inner[fill[v]++] = v;
    each_edge([&](int a, int b) { inner[fill[a]++] = b, inner[fill[b]++] = a; });
    for (int v = 0; v < n; ++v) std::sort(inner.begin() + start[v], inner.begin() + start[v + 1]);
    const std::vector<double> ones(inner.size(), 1.0);
    const Eigen::Map<const Eigen::SparseMatrix<double>> graph(n, n, static_cast<int>(inner.size()), start.data(),
                                                              inner.data(), ones.data());
    Eigen::AMDOrdering<int>::PermutationType inverse;
    Eigen::AMDOrdering<int>()(Eigen::SparseMatrix<double>(graph), inverse);
    std::vector<int> rank(n);
    for (int k = 0; k < n; ++k) rank[inverse.indices()[k]] = k;
    return rank;
}

std::vector<char> touching_fixed_vertices(const Mesh& mesh) {
    std::vector<int> contact(mesh.points.size(), -1);
    std::vector<char> touching(mesh.points.size(), 0);
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i)
            if (fixes(mesh, t, i))
                for (int d : {1, 2}) {
                    const int v = mesh.triangles[t][(i + d) % 3], c = mesh.kinds[mesh.marks[t][i]].contact;
                    if (contact[v] >= 0 && contact[v] != c) touching[v] = 1;
                    contact[v] = c;
                }
    return touching;
}

Numbering number_temperature(const Mesh& mesh, const EdgeNumbers& edges, const std::vector<int>& order) {
    const int triangles = static_cast<int>(mesh.triangles.size()), vertices = static_cast<int>(mesh.points.size());
    Numbering n;
    std::vector<std::vector<int>> fixed_by(vertices);
    std::vector<char> bubble_absent(edges.count, 0);
    for (int t = 0; t < triangles; ++t)
        for (int i = 0; i < 3; ++i) {
            if (!fixes(mesh, t, i)) continue;
            bubble_absent[edges.of[t][i]] = 1;
            const int c = mesh.kinds[mesh.marks[t][i]].contact;
            for (int d : {1, 2})
                if (auto& by = fixed_by[mesh.triangles[t][(i + d) % 3]]; std::find(by.begin(), by.end(), c) == by.end())
                    by.push_back(c);
        }
    // Rows: the unit load of each contact; where two of them touch, a mean of their own.
    for (int c = 0; c < mesh.contacts; ++c) {
        n.fixed_values.emplace_back(mesh.contacts, 0.0);
        n.fixed_values.back()[c] = 1;
    }
    std::vector<int> fixed_row(vertices, -1), node_rank(order);
    for (int v = 0; v < vertices; ++v) {
        if (fixed_by[v].empty()) continue;
        node_rank[v] = -1;
        fixed_row[v] = fixed_by[v][0];
        if (fixed_by[v].size() == 1) continue;
        fixed_row[v] = static_cast<int>(n.fixed_values.size());
        n.fixed_values.emplace_back(mesh.contacts, 0.0);
        for (int c : fixed_by[v]) n.fixed_values.back()[c] = 1.0 / static_cast<double>(fixed_by[v].size());
    }
    each_part(mesh, [&](const std::vector<int>& part) {
        if (!has_contact(mesh, part)) node_rank[mesh.triangles[part[0]][0]] = -1;
    });
    const auto corner = by_rank(node_rank, vertices, n.corners), bubble = present_only(bubble_absent, n.bubbles);
    n.local.resize(triangles);
    for (int t = 0; t < triangles; ++t)
        for (int i = 0; i < 3; ++i) {
            const int v = mesh.triangles[t][i];
            n.local[t][i] = fixed_row[v] >= 0 ? Numbering::fixed(fixed_row[v]) : corner[v];
            n.local[t][3 + i] = bubble[edges.of[t][i]];
        }
    return n;
}

Numbering number_stream(const Mesh& mesh, const EdgeNumbers& edges, const std::vector<int>& order) {
    const int triangles = static_cast<int>(mesh.triangles.size());
    Corners corners(3 * triangles, mesh.jumps);
    for (int t = 0; t < triangles; ++t)
        for (int i = 0; i < 3; ++i) {
            const int a = 3 * t + (i + 1) % 3, b = 3 * t + (i + 2) % 3, n = mesh.neighbours[t][i];
            if (n < 0) {
                if (mesh.marks[t][i] < 0) corners.join(a, b);
            } else if (n < t) {
                int j = 0;
                while (mesh.neighbours[n][j] != t) ++j;
                const int mark = mesh.marks[t][i], k = std::abs(mark) - 1, sign = mark > 0 ? 1 : -1;
                corners.join(a, 3 * n + (j + 2) % 3, k, sign);
                corners.join(b, 3 * n + (j + 1) % 3, k, sign);
            }
        }
    // One node per root, with the rank of the last of its vertices: a long arc is eliminated late.
    std::vector<int> node(3 * triangles), node_rank, members, node_of_root(3 * triangles, -1);
    for (int c = 0; c < 3 * triangles; ++c) {
        int& id = node_of_root[corners.root(c)];
        if (id < 0) {
            id = static_cast<int>(node_rank.size());
            node_rank.push_back(-1);
            members.push_back(0);
        }
        node[c] = id;
        ++members[id];
        node_rank[id] = std::max(node_rank[id], order[mesh.triangles[c / 3][c % 3]]);
    }
    std::vector<char> bubble_absent(edges.count, 0);
    for (int t = 0; t < triangles; ++t)
        for (int i = 0; i < 3; ++i)
            if (mesh.boundary(t, i) && mesh.marks[t][i] < 0) bubble_absent[edges.of[t][i]] = 1;
    // The function has a free constant in every part: pin the node with most members, usually an adiabatic arc.
    each_part(mesh, [&](const std::vector<int>& part) {
        int best = node[3 * part[0]];
        for (int t : part)
            for (int i = 0; i < 3; ++i)
                if (const int id = node[3 * t + i]; members[id] > members[best]) best = id;
        node_rank[best] = -1;
    });
    Numbering n;
    const auto corner = by_rank(node_rank, static_cast<int>(order.size()), n.corners), bubble = present_only(bubble_absent, n.bubbles);
    n.local.resize(triangles);
    for (int t = 0; t < triangles; ++t)
        for (int i = 0; i < 3; ++i) {
            n.local[t][i] = corner[node[3 * t + i]];
            n.local[t][3 + i] = bubble[edges.of[t][i]];
        }
    if (mesh.jumps == 0) return n;
    const auto basis = corners.free_jumps();
    const int free = static_cast<int>(basis[0].size());
    for (int c = 0; c < 3 * triangles; ++c)
        for (int z = 0; z < free; ++z) {
            double factor = 0;
            for (int k = 0; k < mesh.jumps; ++k) factor += corners.weight(c, k) * basis[k][z];
            if (factor != 0) n.jumps.push_back({c / 3, c % 3, n.corners + z, factor});
        }
    n.corners += free;
    return n;
}

namespace {

/// Sum of the cotangents of a triangle's angles: 1.7 when equilateral, 2 when half a square. The angle between corner
/// functions and bubbles closes as it grows.
double slenderness(const Mesh& mesh, int t) {
    const auto &a = mesh.points[mesh.triangles[t][0]], &b = mesh.points[mesh.triangles[t][1]], &c = mesh.points[mesh.triangles[t][2]];
    const auto square = [](const auto& p, const auto& q) { return (q[0] - p[0]) * (q[0] - p[0]) + (q[1] - p[1]) * (q[1] - p[1]); };
    return (square(a, b) + square(b, c) + square(c, a)) / (4 * mesh.area(t));
}

}  // namespace

void gather_bubbles(Numbering& n, const Mesh& mesh, Gather which) {
    std::vector<int> before(n.bubbles, -1);  // place in the order of corners; -1 = stays a bubble
    for (std::size_t t = 0; t < n.local.size(); ++t) {
        if (which == Gather::slender && slenderness(mesh, static_cast<int>(t)) < slender_from) continue;
        for (int m = 0; m < 3; ++m) {
            const int b = n.local[t][3 + m];
            if (b < 0) continue;
            if (before[b] < 0) before[b] = n.corners;
            for (int d : {1, 2})
                if (const int end = n.local[t][(m + d) % 3]; end >= 0) before[b] = std::min(before[b], end);
        }
    }
    std::vector<int> next(n.corners + 2, 0);  // of the bubbles before corner c, counted from place c on
    for (int place : before)
        if (place >= 0) ++next[place + 1];
    for (int c = 0; c <= n.corners; ++c) next[c + 1] += next[c] + (c < n.corners ? 1 : 0);
    std::vector<int> bubble(n.bubbles), corner(n.corners);
    int kept = 0;
    for (int b = 0; b < n.bubbles; ++b) bubble[b] = before[b] < 0 ? kept++ : Numbering::gathered(next[before[b]]++);
    for (int c = 0; c < n.corners; ++c) corner[c] = next[c];
    for (auto& local : n.local)
        for (int i = 0; i < 3; ++i) {
            if (local[i] >= 0) local[i] = corner[local[i]];
            if (local[3 + i] >= 0) local[3 + i] = bubble[local[3 + i]];
        }
    for (auto& jump : n.jumps) jump.unknown = corner[jump.unknown];
    n.corners += n.bubbles - kept;
    n.bubbles = kept;
}

}  // namespace wallfoot
