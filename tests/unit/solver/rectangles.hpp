// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <map>
#include <set>
#include <vector>

#include "solver/mesh/model.hpp"

namespace wallfoot::test {

/// A body of axis-parallel rectangles in mm, later ones on top: an independent short way to a Model, without the
/// arrangement of a section. k ≤ 0 takes the area out.
struct Rectangle {
    double x0, y0, x1, y1, kx, ky = 0;
};

/// Contact of a boundary edge by its middle in mm and its outward normal; {-1, 0} = adiabatic.
using ContactRule = std::function<std::pair<int, double>(double x, double y, int nx, int ny)>;

inline Model model_of(const std::vector<Rectangle>& rectangles, int spaces, const ContactRule& contact) {
    std::set<double> xs, ys;
    for (const auto& r : rectangles) xs.insert({r.x0, r.x1}), ys.insert({r.y0, r.y1});
    const std::vector<double> x(xs.begin(), xs.end()), y(ys.begin(), ys.end());
    const int nx = static_cast<int>(x.size()) - 1, ny = static_cast<int>(y.size()) - 1;
    Arrangement a;
    std::vector<FaceConductivity> k;
    for (int i = 0; i <= nx; ++i)
        for (int j = 0; j <= ny; ++j) a.vertices.push_back({from_mm(x[i]), from_mm(y[j])});
    const auto vertex = [&](int i, int j) { return i * (ny + 1) + j; };
    const auto face = [&](int i, int j) { return i < 0 || j < 0 || i >= nx || j >= ny ? -1 : i * ny + j; };
    for (int i = 0; i < nx; ++i)
        for (int j = 0; j < ny; ++j) {
            Face f;
            FaceConductivity c;
            f.area2 = 2 * static_cast<Area2>(from_mm(x[i + 1]) - from_mm(x[i])) * (from_mm(y[j + 1]) - from_mm(y[j]));
            for (const auto& r : rectangles)
                if (r.x0 <= x[i] && x[i + 1] <= r.x1 && r.y0 <= y[j] && y[j + 1] <= r.y1) {
                    f.kind = r.kx > 0 ? FaceKind::solid : FaceKind::air;
                    c.across = r.kx;
                    c.up = r.ky > 0 ? r.ky : r.kx;
                }
            a.faces.push_back(f);
            k.push_back(c);
        }
    std::vector<SurfaceEdge> surfaces;
    const auto add = [&](int from, int to, int left, int right, double mx, double my, int dx, int dy) {
        const auto solid = [&](int f) { return f >= 0 && a.faces[f].kind == FaceKind::solid; };
        a.edges.push_back({from, to, left, right, {}});
        if (solid(left) == solid(right)) return;
        const int sign = solid(left) ? 1 : -1;  // (dx, dy) points from left to right
        const auto [space, r] = contact(mx, my, sign * dx, sign * dy);
        if (space >= 0) surfaces.push_back({static_cast<int>(a.edges.size()) - 1, space, solid(left) ? left : right, 0, {}, r});
    };
    for (int i = 0; i <= nx; ++i)
        for (int j = 0; j < ny; ++j) add(vertex(i, j), vertex(i, j + 1), face(i - 1, j), face(i, j), x[i], 0.5 * (y[j] + y[j + 1]), 1, 0);
    for (int j = 0; j <= ny; ++j)
        for (int i = 0; i < nx; ++i) add(vertex(i, j), vertex(i + 1, j), face(i, j), face(i, j - 1), 0.5 * (x[i] + x[i + 1]), y[j], 0, -1);
    return reduce(a, k, surfaces, spaces);
}

/// ISO 10211:2017 validation case 2: rectangles as in its figure (geometry from memory, confirmed by the nine temperatures).
inline Model iso10211_case2() {
    return model_of({{0, 0, 500, 41.5, 0.029}, {0, 41.5, 500, 47.5, 1.15}, {0, 36.5, 15, 41.5, 0.12},
                     {0, 0, 500, 1.5, 230}, {0, 1.5, 1.5, 35, 230}, {0, 35, 15, 36.5, 230}},
                    2, [](double, double y, int, int ny) -> std::pair<int, double> {
                        if (ny > 0 && y > 40) return {1, 0.06};
                        if (ny < 0) return {0, 0.11};
                        return {-1, 0};
                    });
}

/// A cavity-wall foot on ground, fully specified (x from the inner face of the wall, y from external ground, mm).
inline Model wall_foot(double foot, double r_floor = 0.17, double r_wall = 0.13) {
    return model_of({{-4000, -20000, 20300, 0, 1.5}, {-150, -900, 450, -600, 2.0}, {-4000, 0, 0, 150, 2.0},
                     {-4000, 150, 0, 250, 0.025}, {-4000, 250, -25, 325, 1.15}, {-25, 150, 0, 325, 0.025},
                     {0, -600, 100, 375, foot}, {0, 375, 100, 1825, 0.50}, {100, -600, 200, -75, 1.4},
                     {100, -75, 200, 1825, 0.032}, {200, -600, 300, 150, 1.30}, {200, 150, 300, 1825, 0.77}},
                    2, [=](double x, double y, int nx, int ny) -> std::pair<int, double> {
                        if (ny > 0 && y == 325) return {0, r_floor};
                        if (nx < 0 && x == 0 && y > 325) return {0, r_wall};
                        if (nx > 0 && x == 300) return {1, 0.04};
                        if (ny > 0 && y == 0 && x > 300) return {1, 0.04};
                        return {-1, 0};
                    });
}

}  // namespace wallfoot::test
