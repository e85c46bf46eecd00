// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/energies.hpp"

#include <cmath>

namespace wallfoot {

namespace {

/// A linear vector field on a triangle by its corner values.
struct LinearField {
    std::array<double, 3> x, y;
};

/// Gradient (per µm) of a hierarchical quadratic: linear, so three corner values hold it exactly.
LinearField gradient(const Quadratic& u, const std::array<double, 3>& lx, const std::array<double, 3>& ly) {
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

double product(const std::array<double, 3>& a, const std::array<double, 3>& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + (a[0] + a[1] + a[2]) * (b[0] + b[1] + b[2]);
}

/// ∫ over the edge, per length, of two hierarchical quadratics {a, b, bubble}.
double edge_product(const std::array<double, 3>& f, const std::array<double, 3>& g) {
    return (f[0] * g[0] + f[1] * g[1]) / 3 + (f[0] * g[1] + f[1] * g[0]) / 6 +
           ((f[0] + f[1]) * g[2] + (g[0] + g[1]) * f[2]) / 3 + 8.0 / 15 * f[2] * g[2];
}

std::array<double, 3> on_edge(const Quadratic& u, int i) { return {u[(i + 1) % 3], u[(i + 2) % 3], u[3 + i]}; }

}  // namespace

Energies energies(const Mesh& mesh, const std::vector<std::vector<Quadratic>>& temperature,
                  const std::vector<std::vector<Quadratic>>& stream, const std::vector<char>& left_out) {
    const int n = mesh.contacts, triangles = static_cast<int>(mesh.triangles.size());
    Energies e;
    e.upper.assign(n * n, 0);
    e.lower.assign(n * n, 0);
    e.gap.assign(n * n, 0);
    e.local.assign(n, std::vector<double>(triangles, 0));
    e.gap_counted.assign(n, 0);
    std::vector<LinearField> grad(n), flow(n), rest(n);
    std::vector<double> own(n);
    for (int t = 0; t < triangles; ++t) {
        const double area = mesh.area(t), f = 0.5 / area;
        std::array<double, 3> lx, ly;
        for (int i = 0; i < 3; ++i) {
            const auto &p = mesh.points[mesh.triangles[t][(i + 1) % 3]], &q = mesh.points[mesh.triangles[t][(i + 2) % 3]];
            lx[i] = (p[1] - q[1]) * f;
            ly[i] = (q[0] - p[0]) * f;
        }
        const auto& region = mesh.regions[mesh.region[t]];
        const double rx = std::sqrt(region.kx), ry = std::sqrt(region.ky);
        for (int k = 0; k < n; ++k) {
            const auto g = gradient(temperature[k][t], lx, ly), s = gradient(stream[k][t], lx, ly);
            for (int i = 0; i < 3; ++i) {
                grad[k].x[i] = rx * g.x[i];
                grad[k].y[i] = ry * g.y[i];
                flow[k].x[i] = s.y[i] / rx;
                flow[k].y[i] = -s.x[i] / ry;
                rest[k].x[i] = grad[k].x[i] + flow[k].x[i];
                rest[k].y[i] = grad[k].y[i] + flow[k].y[i];
            }
        }
        const double w = area / 12;
        for (int k = 0; k < n; ++k)
            for (int l = k; l < n; ++l) {
                e.upper[k * n + l] += w * (product(grad[k].x, grad[l].x) + product(grad[k].y, grad[l].y));
                e.lower[k * n + l] -= w * (product(flow[k].x, flow[l].x) + product(flow[k].y, flow[l].y));
                const double gap = w * (product(rest[k].x, rest[l].x) + product(rest[k].y, rest[l].y));
                e.gap[k * n + l] += gap;
                if (k == l) own[k] = gap;
            }
        for (int i = 0; i < 3; ++i) {
            if (!mesh.boundary(t, i) || mesh.marks[t][i] < 0) continue;
            const auto& kind = mesh.kinds[mesh.marks[t][i]];
            const double h = mesh.edge_length(t, i) * 1e-6, r = kind.resistance;
            std::vector<std::array<double, 3>> excess(n), out(n), misfit(n);
            std::vector<double> net(n);
            for (int k = 0; k < n; ++k) {
                const auto temp = on_edge(temperature[k][t], i), s = on_edge(stream[k][t], i);
                const double g = k == kind.contact ? 1 : 0;
                net[k] = s[1] - s[0];
                // q·n = ds/dτ is linear along the edge: end values per m
                out[k] = {(net[k] + 4 * s[2]) / h, (net[k] - 4 * s[2]) / h, 0};
                excess[k] = {temp[0] - g, temp[1] - g, temp[2]};
                misfit[k] = {excess[k][0] - r * out[k][0], excess[k][1] - r * out[k][1], excess[k][2]};
            }
            for (int k = 0; k < n; ++k)
                for (int l = k; l < n; ++l) {
                    if (k == kind.contact) e.lower[k * n + l] -= net[l];
                    if (l == kind.contact) e.lower[k * n + l] -= net[k];
                    if (r == 0) continue;
                    e.upper[k * n + l] += h / r * edge_product(excess[k], excess[l]);
                    e.lower[k * n + l] -= h * r * edge_product(out[k], out[l]);
                    const double gap = h / r * edge_product(misfit[k], misfit[l]);
                    e.gap[k * n + l] += gap;
                    if (k == l) own[k] += gap;
                }
        }
        for (int k = 0; k < n; ++k) e.local[k][t] = own[k];
        if (!left_out[t])
            for (int k = 0; k < n; ++k) e.gap_counted[k] += own[k];
    }
    for (int k = 0; k < n; ++k)
        for (int l = 0; l < k; ++l)
            for (auto* m : {&e.upper, &e.lower, &e.gap}) (*m)[k * n + l] = (*m)[l * n + k];
    return e;
}

}  // namespace wallfoot
