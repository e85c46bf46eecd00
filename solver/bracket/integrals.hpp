// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>

#include "solver/field/scalar_problem.hpp"

namespace wallfoot {

/// A linear vector field on a triangle by its corner values.
struct LinearField {
    std::array<double, 3> x, y;
};

/// Gradients (per µm) of the three corner functions of a triangle: constant.
inline LinearField corner_gradients(const Mesh& mesh, int t) {
    const double f = 0.5 / mesh.area(t);
    LinearField g;
    for (int i = 0; i < 3; ++i) {
        const auto &p = mesh.points[mesh.triangles[t][(i + 1) % 3]], &q = mesh.points[mesh.triangles[t][(i + 2) % 3]];
        g.x[i] = (p[1] - q[1]) * f;
        g.y[i] = (q[0] - p[0]) * f;
    }
    return g;
}

/// Gradient (per µm) of a hierarchical quadratic: linear, so three corner values hold it exactly.
inline LinearField gradient(const Quadratic& u, const LinearField& corners) {
    const auto &lx = corners.x, &ly = corners.y;
    double cx = 0, cy = 0;
    for (int i = 0; i < 3; ++i) {
        cx += (u[i] - u[0]) * lx[i];
        cy += (u[i] - u[0]) * ly[i];
    }
    LinearField g;
    for (int i = 0; i < 3; ++i) {
        const int j = (i + 1) % 3, k = (i + 2) % 3;
        // bubble of edge j joins i and k, bubble of edge k joins i and j
        g.x[i] = cx + 4 * (u[3 + j] * lx[k] + u[3 + k] * lx[j]);
        g.y[i] = cy + 4 * (u[3 + j] * ly[k] + u[3 + k] * ly[j]);
    }
    return g;
}

/// Twelve times the integral, per area, of the product of two linear functions by their corner values.
inline double product(const std::array<double, 3>& a, const std::array<double, 3>& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + (a[0] + a[1] + a[2]) * (b[0] + b[1] + b[2]);
}

/// ∫ over the edge, per length, of two hierarchical quadratics {a, b, bubble}.
inline double edge_product(const std::array<double, 3>& f, const std::array<double, 3>& g) {
    return (f[0] * g[0] + f[1] * g[1]) / 3 + (f[0] * g[1] + f[1] * g[0]) / 6 +
           ((f[0] + f[1]) * g[2] + (g[0] + g[1]) * f[2]) / 3 + 8.0 / 15 * f[2] * g[2];
}

inline std::array<double, 3> on_edge(const Quadratic& u, int i) { return {u[(i + 1) % 3], u[(i + 2) % 3], u[3 + i]}; }

}  // namespace wallfoot
