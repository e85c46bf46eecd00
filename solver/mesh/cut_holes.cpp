// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <queue>

#include "solver/mesh/mesh.hpp"

namespace wallfoot {

namespace {

/// The boundary as closed loops. Loop of (triangle, corner); at a point where two parts of the body touch, the loops
/// stay apart because the walk turns inside one fan of triangles.
struct Loops {
    std::vector<std::array<int, 3>> of;        // -1 on interior edges
    std::vector<std::vector<int>> vertices;    // of each loop, in order
    std::vector<double> area2;                 // signed: outer loops are anticlockwise
    std::vector<bool> has_contact;
    std::vector<int> component;                // of the body
};

std::vector<int> components(const Mesh& mesh) {
    std::vector<int> of(mesh.triangles.size(), -1), queue;
    int count = 0;
    for (int t = 0; t < static_cast<int>(of.size()); ++t) {
        if (of[t] >= 0) continue;
        of[t] = count;
        queue = {t};
        while (!queue.empty()) {
            const int s = queue.back();
            queue.pop_back();
            for (int n : mesh.neighbours[s])
                if (n >= 0 && of[n] < 0) {
                    of[n] = count;
                    queue.push_back(n);
                }
        }
        ++count;
    }
    return of;
}

/// Boundary edge that follows (t, i) anticlockwise along its loop.
std::pair<int, int> next_on_loop(const Mesh& mesh, int t, int i) {
    int c = (i + 2) % 3;  // corner at the end of the edge
    for (;;) {
        const int out = (c + 2) % 3;  // edge that starts at corner c goes from c to c+1, opposite c+2
        const int n = mesh.neighbours[t][out];
        if (n < 0) return {t, out};
        const int v = mesh.triangles[t][c];
        t = n;
        c = 0;
        while (mesh.triangles[t][c] != v) ++c;
    }
}

Loops find_loops(const Mesh& mesh) {
    Loops loops;
    loops.of.assign(mesh.triangles.size(), {-1, -1, -1});
    const auto component = components(mesh);
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i) {
            if (!mesh.boundary(t, i) || loops.of[t][i] >= 0) continue;
            const int loop = static_cast<int>(loops.vertices.size());
            loops.vertices.emplace_back();
            loops.area2.push_back(0);
            loops.has_contact.push_back(false);
            loops.component.push_back(component[t]);
            for (auto [s, j] = std::pair(t, i); loops.of[s][j] < 0; std::tie(s, j) = next_on_loop(mesh, s, j)) {
                loops.of[s][j] = loop;
                const int a = mesh.triangles[s][(j + 1) % 3], b = mesh.triangles[s][(j + 2) % 3];
                loops.vertices[loop].push_back(a);
                loops.area2[loop] += mesh.points[a][0] * mesh.points[b][1] - mesh.points[b][0] * mesh.points[a][1];
                if (mesh.marks[s][j] >= 0) loops.has_contact[loop] = true;
            }
        }
    return loops;
}

/// Shortest way along interior edges from a loop to any vertex that is already connected; passes no other boundary
/// vertex and no vertex of an older cut. Returned from the loop outwards; empty when there is none.
std::vector<int> cut_path(const std::vector<std::vector<int>>& edges_at, const std::vector<int>& from,
                          const std::vector<char>& connected, const std::vector<char>& blocked) {
    std::vector<int> before(edges_at.size(), -2);
    std::queue<int> queue;
    for (int v : from)
        if (before[v] == -2) {
            before[v] = -1;
            queue.push(v);
        }
    while (!queue.empty()) {
        const int v = queue.front();
        queue.pop();
        for (int w : edges_at[v]) {
            if (before[w] != -2) continue;
            if (blocked[w] && !connected[w]) continue;
            before[w] = v;
            if (connected[w]) {
                std::vector<int> path{w};
                while (before[path.back()] >= 0) path.push_back(before[path.back()]);
                return {path.rbegin(), path.rend()};
            }
            queue.push(w);
        }
    }
    return {};
}

}  // namespace

void cut_holes(Mesh& mesh) {
    const Loops loops = find_loops(mesh);
    const int count = static_cast<int>(loops.vertices.size());
    // Base loop of every component: the outer one (largest signed area).
    std::vector<int> base;
    for (int l = 0; l < count; ++l) {
        const int c = loops.component[l];
        if (static_cast<int>(base.size()) <= c) base.resize(c + 1, -1);
        if (base[c] < 0 || loops.area2[l] > loops.area2[base[c]]) base[c] = l;
    }
    std::vector<std::vector<int>> edges_at(mesh.points.size());
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i)
            if (!mesh.boundary(t, i)) edges_at[mesh.triangles[t][(i + 1) % 3]].push_back(mesh.triangles[t][(i + 2) % 3]);

    std::vector<char> connected(mesh.points.size(), 0), blocked(mesh.points.size(), 0);
    for (int l = 0; l < count; ++l)
        for (int v : loops.vertices[l]) {
            blocked[v] = 1;
            if (l == base[loops.component[l]]) connected[v] = 1;
        }
    mesh.jumps = 0;
    for (int l = 0; l < count; ++l) {
        if (l == base[loops.component[l]] || !loops.has_contact[l]) continue;
        const auto path = cut_path(edges_at, loops.vertices[l], connected, blocked);
        if (path.empty()) continue;
        const int mark = ++mesh.jumps;
        for (std::size_t k = 0; k + 1 < path.size(); ++k)
            for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
                for (int i = 0; i < 3; ++i) {
                    const int a = mesh.triangles[t][(i + 1) % 3], b = mesh.triangles[t][(i + 2) % 3];
                    if (mesh.boundary(t, i)) continue;
                    if (a == path[k] && b == path[k + 1]) mesh.marks[t][i] = mark;
                    if (b == path[k] && a == path[k + 1]) mesh.marks[t][i] = -mark;
                }
        for (int v : path) blocked[v] = 1;
        for (int v : loops.vertices[l]) connected[v] = 1;
    }
}

}  // namespace wallfoot
