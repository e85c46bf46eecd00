// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <Eigen/Eigenvalues>
#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "solver/bracket/solution.hpp"

// Second opinions on a solution that share no code with the solver: they read its mesh and its nodal values only.
namespace wallfoot::test {

using Form = Eigen::MatrixXd;  ///< a quadratic form of the temperatures of the spaces, W/(m·K)

inline Form form_of(const std::vector<double>& row_major, int n) {
    return Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>>(row_major.data(), n, n);
}

/// a ≤ b as quadratic forms, up to round-off of their size.
inline bool at_most(const Form& a, const Form& b, double round_off = 1e-10) {
    const double size = std::max(a.cwiseAbs().maxCoeff(), b.cwiseAbs().maxCoeff());
    return Eigen::SelfAdjointEigenSolver<Form>(b - a).eigenvalues().minCoeff() >= -round_off * size;
}

/// Of the Crouzeix–Raviart energy: unlike the two bounds it feels the round-off of its solve, and thin triangles with
/// contrasts of 10⁴ magnify that.
constexpr double linear_round_off = 1e-8;

/// Barycentric gradients per µm and area in µm².
struct Geometry {
    std::array<double, 3> lx, ly;
    double area;
};

inline Geometry geometry(const Solution& s, int t) {
    const auto &a = s.points[s.triangles[t][0]], &b = s.points[s.triangles[t][1]], &c = s.points[s.triangles[t][2]];
    const double twice = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    return {{(b[1] - c[1]) / twice, (c[1] - a[1]) / twice, (a[1] - b[1]) / twice},
            {(c[0] - b[0]) / twice, (a[0] - c[0]) / twice, (b[0] - a[0]) / twice}, twice / 2};
}

inline double length_m(const Solution& s, const ContactEdge& e) {
    const auto &a = s.points[s.triangles[e.triangle][(e.corner + 1) % 3]], &b = s.points[s.triangles[e.triangle][(e.corner + 2) % 3]];
    return std::hypot(b[0] - a[0], b[1] - a[1]) * 1e-6;
}

/// Energy of the Crouzeix–Raviart solution (one unknown per edge, linear in every triangle, surfaces by the middle of
/// the edge). Its flux −λ grad u is free of divergence and has one normal component on every edge, and it is the best of
/// that kind: the energy is the optimum of the stream functions that are linear in every triangle. Hence, as forms,
/// energy ≤ K^L (quadratic stream functions on the same mesh) ≤ exact ≤ K^U.
/// L. D. Marini, An inexpensive method for the evaluation of the solution of the lowest order Raviart–Thomas mixed
/// method, SIAM J. Numer. Anal. 22 (1985), from memory; with surface resistances derived.
inline Form crouzeix_raviart(const Solution& s) {
    const int triangles = static_cast<int>(s.triangles.size()), n = s.contacts;
    std::vector<std::array<int, 3>> edge(triangles, {-1, -1, -1});
    // Parts of the body that meet a space at all; the others carry no heat.
    std::vector<char> alive(triangles, 0);
    std::vector<int> queue;
    for (const auto& e : s.contact_edges)
        if (!alive[e.triangle]) alive[e.triangle] = 1, queue.push_back(e.triangle);
    for (std::size_t k = 0; k < queue.size(); ++k)
        for (int t : s.neighbours[queue[k]])
            if (t >= 0 && !alive[t]) alive[t] = 1, queue.push_back(t);
    int edges = 0;
    for (int t = 0; t < triangles; ++t)
        for (int i = 0; i < 3; ++i) {
            if (!alive[t] || edge[t][i] >= 0) continue;
            edge[t][i] = edges;
            if (const int o = s.neighbours[t][i]; o >= 0)
                for (int j = 0; j < 3; ++j)
                    if (s.neighbours[o][j] == t) edge[o][j] = edges;
            ++edges;
        }
    std::vector<int> unknown(edges, 0), fixed_by(edges, -1);
    for (const auto& e : s.contact_edges)
        if (e.resistance == 0) fixed_by[edge[e.triangle][e.corner]] = e.contact;
    int unknowns = 0;
    for (int e = 0; e < edges; ++e) unknown[e] = fixed_by[e] >= 0 ? -1 : unknowns++;
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::MatrixXd right = Eigen::MatrixXd::Zero(unknowns, n);
    const auto stiffness = [&](int t) {
        const auto g = geometry(s, t);
        const auto& k = s.regions[s.region[t]];
        Eigen::Matrix3d m;
        for (int i = 0; i < 3; ++i)
            for (int j = 0; j < 3; ++j) m(i, j) = 4 * g.area * (k.kx * g.lx[i] * g.lx[j] + k.ky * g.ly[i] * g.ly[j]);
        return m;
    };
    for (int t = 0; t < triangles; ++t) {
        if (!alive[t]) continue;
        const auto m = stiffness(t);
        for (int i = 0; i < 3; ++i) {
            const int row = unknown[edge[t][i]];
            if (row < 0) continue;
            for (int j = 0; j < 3; ++j) {
                const int e = edge[t][j];
                if (unknown[e] >= 0) entries.emplace_back(row, unknown[e], m(i, j));
                else right(row, fixed_by[e]) -= m(i, j);
            }
        }
    }
    for (const auto& e : s.contact_edges)
        if (e.resistance > 0) {
            const int row = unknown[edge[e.triangle][e.corner]];
            entries.emplace_back(row, row, length_m(s, e) / e.resistance);
            right(row, e.contact) += length_m(s, e) / e.resistance;
        }
    Eigen::SparseMatrix<double> matrix(unknowns, unknowns);
    matrix.setFromTriplets(entries.begin(), entries.end());
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(matrix);
    const Eigen::MatrixXd x = unknowns > 0 ? Eigen::MatrixXd(factor.solve(right)) : right;
    Eigen::MatrixXd u(edges, n);
    for (int e = 0; e < edges; ++e)
        for (int k = 0; k < n; ++k) u(e, k) = unknown[e] >= 0 ? x(unknown[e], k) : fixed_by[e] == k ? 1.0 : 0.0;
    Form energy = Form::Zero(n, n);
    for (int t = 0; t < triangles; ++t) {
        if (!alive[t]) continue;
        Eigen::MatrixXd local(3, n);
        for (int i = 0; i < 3; ++i) local.row(i) = u.row(edge[t][i]);
        energy += local.transpose() * stiffness(t) * local;
    }
    for (const auto& e : s.contact_edges)
        if (e.resistance > 0) {
            Eigen::RowVectorXd excess = u.row(edge[e.triangle][e.corner]);
            excess(e.contact) -= 1;
            energy += length_m(s, e) / e.resistance * excess.transpose() * excess;
        }
    return energy;
}

/// The right side of the Prager–Synge identity from nodal values: Σ ∫ |√λ grad T + q/√λ|² + Σ ∫ (T − g − R q·n)²/R, which
/// must equal K^U − K^L whatever the two fields are. Quadrature: middles of the edges, and Gauss with three points.
inline Form local_gaps(const Solution& s) {
    const int n = s.contacts;
    Form sum = Form::Zero(n, n);
    for (int t = 0; t < static_cast<int>(s.triangles.size()); ++t) {
        const auto g = geometry(s, t);
        const double rx = std::sqrt(s.regions[s.region[t]].kx), ry = std::sqrt(s.regions[s.region[t]].ky);
        for (int m = 0; m < 3; ++m) {
            Eigen::RowVectorXd x = Eigen::RowVectorXd::Zero(n), y = x;
            for (int k = 0; k < n; ++k) {
                const auto gradient = [&](const std::array<double, 6>& u) {
                    std::array<double, 2> sum{0, 0};
                    for (int i = 0; i < 3; ++i) {
                        const int j = (i + 1) % 3, l = (i + 2) % 3;
                        const double li = i == m ? 0 : 0.5, lj = j == m ? 0 : 0.5, ll = l == m ? 0 : 0.5;
                        sum[0] += (4 * li - 1) * u[i] * g.lx[i] + 4 * u[3 + i] * (lj * g.lx[l] + ll * g.lx[j]);
                        sum[1] += (4 * li - 1) * u[i] * g.ly[i] + 4 * u[3 + i] * (lj * g.ly[l] + ll * g.ly[j]);
                    }
                    return sum;
                };
                const auto dt = gradient(s.temperature[k][t]), ds = gradient(s.stream[k][t]);
                x(k) = rx * dt[0] + ds[1] / rx;
                y(k) = ry * dt[1] - ds[0] / ry;
            }
            sum += g.area / 3 * (x.transpose() * x + y.transpose() * y);
        }
    }
    for (const auto& e : s.contact_edges) {
        if (e.resistance == 0) continue;
        const double h = length_m(s, e);
        for (const auto& [at, weight] : {std::pair{0.5 - std::sqrt(0.15), 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + std::sqrt(0.15), 5.0 / 18}}) {
            Eigen::RowVectorXd misfit = Eigen::RowVectorXd::Zero(n);
            for (int k = 0; k < n; ++k) {
                const int a = (e.corner + 1) % 3, b = (e.corner + 2) % 3, m = 3 + e.corner;
                const auto &u = s.temperature[k][e.triangle], &v = s.stream[k][e.triangle];
                const double value = (1 - at) * (1 - 2 * at) * u[a] + 4 * at * (1 - at) * u[m] + at * (2 * at - 1) * u[b];
                const double out = ((4 * at - 3) * v[a] + (4 - 8 * at) * v[m] + (4 * at - 1) * v[b]) / h;
                misfit(k) = value - (k == e.contact ? 1 : 0) - e.resistance * out;
            }
            sum += h * weight / e.resistance * misfit.transpose() * misfit;
        }
    }
    return sum;
}

/// Heat flows read off one field, [space][load]. At the optimum of either energy they equal it: the fields are the best of
/// their kind on this mesh, not just admissible. Solver errors enter flows at first order, energies at second.
inline Form flows(const Solution& s, bool from_stream) {
    Form f(s.contacts, s.contacts);
    for (int load = 0; load < s.contacts; ++load) {
        std::vector<double> unit(s.contacts, 0.0);
        unit[load] = 1;
        for (int k = 0; k < s.contacts; ++k) f(k, load) = from_stream ? s.flow_from_stream(k, unit) : s.flow_from_temperature(k, unit);
    }
    return f;
}

/// Every relation that must hold for the forms of one solution, as the name of the first that does not ("" = none).
/// `best`: the fields were solved as well as round-off allows (SolveOptions::linear_share 0).
inline const char* broken_relation(const Solution& s, bool best = true) {
    const Form upper = form_of(s.upper_energy, s.contacts), lower = form_of(s.lower_energy, s.contacts), gap = form_of(s.gap, s.contacts);
    const double size = upper.cwiseAbs().maxCoeff();
    if (!at_most(crouzeix_raviart(s), lower, linear_round_off)) return "linear stream functions above quadratic ones";
    if (!at_most(lower, upper)) return "lower above upper";
    if ((upper - lower - gap).cwiseAbs().maxCoeff() > 1e-9 * size) return "upper - lower is not the sum of the local terms";
    if ((gap - local_gaps(s)).cwiseAbs().maxCoeff() > 1e-9 * size) return "local terms computed twice differ";
    if ((upper.rowwise().sum()).cwiseAbs().maxCoeff() > 1e-9 * size) return "equal temperatures drive heat";
    if (!best) return "";
    if ((flows(s, true) - lower).cwiseAbs().maxCoeff() > 1e-7 * size) return "the stream function is not the best on this mesh";
    const bool fixed = std::any_of(s.contact_edges.begin(), s.contact_edges.end(), [](const ContactEdge& e) { return e.resistance == 0; });
    if (!fixed && (flows(s, false) - upper).cwiseAbs().maxCoeff() > 1e-7 * size) return "the temperature is not the best on this mesh";
    return "";
}

inline bool overlap(const Bracketed& a, const Bracketed& b) { return a.lower <= b.upper && b.lower <= a.upper; }

}  // namespace wallfoot::test
