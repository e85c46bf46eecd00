// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/sensitivities.hpp"

#include <algorithm>
#include <cmath>

namespace wallfoot {

namespace {

using Nodal = std::array<double, 6>;

/// Gradient of a quadratic at the middles of the three edges, where it is taken for exact integrals of squares.
struct Gradients {
    std::array<double, 3> x, y;
};

/// `lx`, `ly`: gradients of the barycentric coordinates.
Gradients at_edge_middles(const Nodal& u, const std::array<double, 3>& lx, const std::array<double, 3>& ly) {
    Gradients g;
    for (int e = 0; e < 3; ++e) {
        std::array<double, 3> l{0.5, 0.5, 0.5};
        l[e] = 0;
        double x = 0, y = 0;
        for (int i = 0; i < 3; ++i) {
            const int j = (i + 1) % 3, k = (i + 2) % 3;
            const double corner = (4 * l[i] - 1) * u[i];
            x += corner * lx[i] + 4 * u[3 + i] * (l[j] * lx[k] + l[k] * lx[j]);
            y += corner * ly[i] + 4 * u[3 + i] * (l[j] * ly[k] + l[k] * ly[j]);
        }
        g.x[e] = x;
        g.y[e] = y;
    }
    return g;
}

double sum_of_products(const std::array<double, 3>& a, const std::array<double, 3>& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

}  // namespace

Sensitivities::Sensitivities(const Solution& solution) : contacts_(solution.contacts), gap_(solution.gap) {
    const Matrices none{std::vector<double>(contacts_ * contacts_, 0.0), std::vector<double>(contacts_ * contacts_, 0.0)};
    axes_.assign(solution.regions.size(), {none, none});
    for (const auto& e : solution.contact_edges)
        if (e.resistance > 0) surfaces_.push_back({e.contact, e.resistance});
    std::sort(surfaces_.begin(), surfaces_.end());
    surfaces_.erase(std::unique(surfaces_.begin(), surfaces_.end()), surfaces_.end());
    by_surface_.assign(surfaces_.size(), none);
    for (int t = 0; t < static_cast<int>(solution.triangles.size()); ++t) add_triangle(solution, t);
    for (const auto& e : solution.contact_edges)
        if (e.resistance > 0) add_surface(solution, e);
}

void Sensitivities::add_triangle(const Solution& solution, int triangle) {
    const auto& [ia, ib, ic] = solution.triangles[triangle];
    const auto &a = solution.points[ia], &b = solution.points[ib], &c = solution.points[ic];
    const double twice = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    const std::array<double, 3> lx{(b[1] - c[1]) / twice, (c[1] - a[1]) / twice, (a[1] - b[1]) / twice};
    const std::array<double, 3> ly{(c[0] - b[0]) / twice, (a[0] - c[0]) / twice, (b[0] - a[0]) / twice};
    const int region = solution.region[triangle];
    const auto [kx, ky] = solution.regions[region];
    std::vector<Gradients> temperature, stream;
    for (int k = 0; k < contacts_; ++k) {
        temperature.push_back(at_edge_middles(solution.temperature[k][triangle], lx, ly));
        stream.push_back(at_edge_middles(solution.stream[k][triangle], lx, ly));
    }
    const double weight = twice / 6;  // area / 3
    auto& [along_x, along_y] = axes_[region];
    for (int k = 0; k < contacts_; ++k)
        for (int l = 0; l < contacts_; ++l) {
            const int at = k * contacts_ + l;
            along_x.upper[at] += weight * sum_of_products(temperature[k].x, temperature[l].x);
            along_y.upper[at] += weight * sum_of_products(temperature[k].y, temperature[l].y);
            // q = (∂s/∂y, −∂s/∂x)
            along_x.lower[at] += weight * sum_of_products(stream[k].y, stream[l].y) / (kx * kx);
            along_y.lower[at] += weight * sum_of_products(stream[k].x, stream[l].x) / (ky * ky);
        }
}

void Sensitivities::add_surface(const Solution& solution, const ContactEdge& edge) {
    const int t = edge.triangle, a = (edge.corner + 1) % 3, b = (edge.corner + 2) % 3, m = 3 + edge.corner;
    const auto &p = solution.points[solution.triangles[t][a]], &q = solution.points[solution.triangles[t][b]];
    const double h = std::hypot(q[0] - p[0], q[1] - p[1]) * 1e-6, r = edge.resistance;
    std::vector<std::array<double, 3>> excess;
    std::vector<std::array<double, 2>> out;  // q·n = ds/dτ at both ends, W/m² per K
    for (int k = 0; k < contacts_; ++k) {
        const double g = k == edge.contact ? 1 : 0;
        const auto &u = solution.temperature[k][t], &s = solution.stream[k][t];
        excess.push_back({u[a] - g, u[m] - g, u[b] - g});
        out.push_back({(-3 * s[a] + 4 * s[m] - s[b]) / h, (s[a] - 4 * s[m] + 3 * s[b]) / h});
    }
    const auto index = std::lower_bound(surfaces_.begin(), surfaces_.end(), ContactKind{edge.contact, r}) - surfaces_.begin();
    auto& by = by_surface_[index];
    for (int k = 0; k < contacts_; ++k)
        for (int l = 0; l < contacts_; ++l) {
            const auto &e = excess[k], &f = excess[l];
            // ∫ of the product of two parabolas by their values at start, middle and end, per length
            const double squares = (4 * e[0] * f[0] + 16 * e[1] * f[1] + 4 * e[2] * f[2] + 2 * (e[0] * f[1] + e[1] * f[0] + e[1] * f[2] + e[2] * f[1]) -
                                    (e[0] * f[2] + e[2] * f[0])) / 30;
            const auto &o = out[k], &w = out[l];
            by.upper[k * contacts_ + l] -= h * squares / (r * r);
            by.lower[k * contacts_ + l] -= h * (2 * (o[0] * w[0] + o[1] * w[1]) + o[0] * w[1] + o[1] * w[0]) / 6;
        }
}

Slope Sensitivities::slope(int a, int b, const Matrices& by) const {
    const auto at = [&](const std::vector<double>& m, int i, int j) { return m[i * contacts_ + j]; };
    // As Solution::coupling: L_ab = −(K^U + K^L)/2 ± ½ √(G_aa G_bb); the width by the chain rule.
    const double value = -0.5 * (at(by.upper, a, b) + at(by.lower, a, b));
    const double g_a = at(gap_, a, a), g_b = at(gap_, b, b);
    double half = 0;
    if (g_a > 0 && g_b > 0) {
        const double d_a = at(by.upper, a, a) - at(by.lower, a, a), d_b = at(by.upper, b, b) - at(by.lower, b, b);
        half = 0.25 * (std::sqrt(g_b / g_a) * d_a + std::sqrt(g_a / g_b) * d_b);
    }
    return {value, value - half, value + half};
}

Slope Sensitivities::flow(int a, const std::vector<double>& temperatures, const Matrices& by) const {
    // As Couplings::heat_flow: the middle is linear in K^U + K^L, the half width ½ √(G_aa · θᵀGθ).
    double value = 0, gap_theta = 0, d_theta = 0;
    for (int k = 0; k < contacts_; ++k) {
        const double theta_k = temperatures[k] - temperatures[a];
        value += 0.5 * (by.upper[a * contacts_ + k] + by.lower[a * contacts_ + k]) * theta_k;
        for (int l = 0; l < contacts_; ++l) {
            const double product = theta_k * (temperatures[l] - temperatures[a]);
            gap_theta += product * gap_[k * contacts_ + l];
            d_theta += product * (by.upper[k * contacts_ + l] - by.lower[k * contacts_ + l]);
        }
    }
    const int aa = a * contacts_ + a;
    double half = 0;
    if (gap_[aa] > 0 && gap_theta > 0)
        half = 0.25 * (std::sqrt(gap_theta / gap_[aa]) * (by.upper[aa] - by.lower[aa]) + std::sqrt(gap_[aa] / gap_theta) * d_theta);
    return {value, value - half, value + half};
}

Slope Sensitivities::diagonal(int a, const Matrices& by) const {
    const double upper = by.upper[a * contacts_ + a], lower = by.lower[a * contacts_ + a];
    return {0.5 * (upper + lower), lower, upper};
}

}  // namespace wallfoot
