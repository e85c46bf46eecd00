// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/scalar_problem.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <stdexcept>

namespace wallfoot {

namespace {

using Matrix6 = std::array<std::array<double, 6>, 6>;

/// g_ij = area · grad L_i · c grad L_j; free of units of length.
std::array<std::array<double, 3>, 3> corner_stiffness(const Mesh& mesh, int t, const std::array<double, 2>& c) {
    std::array<double, 3> bx, by;
    for (int i = 0; i < 3; ++i) {
        const auto &p = mesh.points[mesh.triangles[t][(i + 1) % 3]], &q = mesh.points[mesh.triangles[t][(i + 2) % 3]];
        bx[i] = p[1] - q[1];
        by[i] = q[0] - p[0];
    }
    const double f = 1.0 / (4.0 * mesh.area(t));
    std::array<std::array<double, 3>, 3> g;
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) g[i][j] = f * (c[0] * bx[i] * bx[j] + c[1] * by[i] * by[j]);
    return g;
}

Matrix6 element_matrix(const Mesh& mesh, int t, const std::array<double, 2>& c) {
    const auto g = corner_stiffness(mesh, t, c);
    Matrix6 k{};
    for (int m = 0; m < 3; ++m) {
        const int j = (m + 1) % 3, l = (m + 2) % 3;
        for (int i = 0; i < 3; ++i) {
            k[m][i] = g[m][i];
            k[i][3 + m] = k[3 + m][i] = 4.0 / 3.0 * (g[i][j] + g[i][l]);
        }
        k[3 + m][3 + m] = 8.0 / 3.0 * (g[j][j] + g[l][l] + g[j][l]);
        k[3 + m][3 + j] = k[3 + j][3 + m] = 8.0 / 3.0 * g[m][j];
    }
    return k;
}

void add_edge(Matrix6& k, const EdgeTerm& e) {
    const int a = (e.corner + 1) % 3, b = (e.corner + 2) % 3, m = 3 + e.corner;
    const double mass = e.mass, stiff = e.stiffness;
    k[a][a] += mass / 3 + stiff;
    k[b][b] += mass / 3 + stiff;
    k[a][b] += mass / 6 - stiff;
    k[b][a] += mass / 6 - stiff;
    for (int v : {a, b}) {
        k[v][m] += mass / 3;
        k[m][v] += mass / 3;
    }
    k[m][m] += mass * 8 / 15 + stiff * 16 / 3;
}

/// A local function as a combination of unknowns: one, or also jumps.
struct Share {
    int local, unknown;
    double factor;
};

}  // namespace

ScalarProblem::ScalarProblem(const Mesh& mesh, const Numbering& numbering,
                             const std::vector<std::array<double, 2>>& coefficient, std::vector<EdgeTerm> edges)
    : mesh_(mesh), numbering_(numbering), coefficient_(coefficient), edges_(std::move(edges)) {}

std::vector<std::vector<Quadratic>> ScalarProblem::solve(const std::vector<int>& loads) const {
    const int triangles = static_cast<int>(mesh_.triangles.size()), n = numbering_.unknowns;
    const int columns = static_cast<int>(loads.size());
    std::vector<int> first_edge(triangles + 1, 0);  // edges_ comes sorted by triangle
    for (const auto& e : edges_) ++first_edge[e.triangle + 1];
    for (int t = 0; t < triangles; ++t) first_edge[t + 1] += first_edge[t];

    std::size_t next_jump = 0;
    const auto shares_of = [&](int t, std::vector<Share>& shares) {
        shares.clear();
        for (int i = 0; i < 6; ++i)
            if (numbering_.local[t][i] >= 0) shares.push_back({i, numbering_.local[t][i], 1.0});
        while (next_jump < numbering_.jumps.size() && numbering_.jumps[next_jump].triangle == t) {
            const auto& j = numbering_.jumps[next_jump++];
            shares.push_back({j.corner, j.unknown, j.factor});
        }
    };

    // Upper triangle by columns, duplicates side by side, then folded: one pass to count, one to fill.
    std::vector<Share> shares;
    std::vector<int> start(n + 1, 0);
    for (int t = 0; t < triangles; ++t) {
        shares_of(t, shares);
        for (const auto& a : shares)
            for (const auto& b : shares)
                if (a.unknown <= b.unknown) ++start[b.unknown + 1];
    }
    for (int c = 0; c < n; ++c) start[c + 1] += start[c];
    struct Entry {
        int row;
        double value;
    };
    std::vector<Entry> entries(start[n]);
    std::vector<int> fill(start.begin(), start.end() - 1);
    Eigen::MatrixXd right = Eigen::MatrixXd::Zero(n, columns);
    next_jump = 0;
    for (int t = 0; t < triangles; ++t) {
        auto k = element_matrix(mesh_, t, coefficient_[mesh_.region[t]]);
        std::array<std::array<double, 6>, 8> load{};  // right side per local function, per column (up to 8 at a time)
        if (columns > 8) throw std::logic_error("more than eight loads at once");
        for (int e = first_edge[t]; e < first_edge[t + 1]; ++e) {
            const auto& edge = edges_[e];
            add_edge(k, edge);
            const int a = (edge.corner + 1) % 3, b = (edge.corner + 2) % 3;
            for (int c = 0; c < columns; ++c)
                if (loads[c] == edge.load) {
                    load[c][a] += edge.load_a_b_bubble[0];
                    load[c][b] += edge.load_a_b_bubble[1];
                    load[c][3 + edge.corner] += edge.load_a_b_bubble[2];
                }
        }
        for (int j = 0; j < 6; ++j)
            if (const int id = numbering_.local[t][j]; Numbering::is_fixed(id))
                for (int c = 0; c < columns; ++c)
                    if (const double value = numbering_.fixed_values[Numbering::fixed_row(id)][loads[c]]; value != 0)
                        for (int i = 0; i < 6; ++i) load[c][i] -= k[i][j] * value;
        shares_of(t, shares);
        for (const auto& a : shares) {
            for (const auto& b : shares)
                if (a.unknown <= b.unknown) entries[fill[b.unknown]++] = {a.unknown, a.factor * b.factor * k[a.local][b.local]};
            for (int c = 0; c < columns; ++c) right(a.unknown, c) += a.factor * load[c][a.local];
        }
    }
    Eigen::SparseMatrix<double> matrix(n, n);
    std::vector<int> inner;
    std::vector<double> values;
    std::vector<int> outer(n + 1, 0);
    inner.reserve(entries.size());
    values.reserve(entries.size());
    for (int c = 0; c < n; ++c) {
        // Stable, so that equal rows are summed in the order of the triangles: the same sum every time.
        std::stable_sort(entries.begin() + start[c], entries.begin() + start[c + 1],
                         [](const Entry& a, const Entry& b) { return a.row < b.row; });
        for (int e = start[c]; e < start[c + 1]; ++e) {
            if (static_cast<int>(inner.size()) > outer[c] && inner.back() == entries[e].row) {
                values.back() += entries[e].value;
            } else {
                inner.push_back(entries[e].row);
                values.push_back(entries[e].value);
            }
        }
        outer[c + 1] = static_cast<int>(inner.size());
    }
    const Eigen::Map<const Eigen::SparseMatrix<double>> upper(n, n, outer[n], outer.data(), inner.data(), values.data());
    Eigen::MatrixXd x(n, columns);
    if (n > 0) {
        Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Upper, Eigen::NaturalOrdering<int>> factor;
        factor.compute(upper);
        if (factor.info() != Eigen::Success) throw std::logic_error("the factorisation failed");
        x = factor.solve(right);
    }

    std::vector<std::vector<Quadratic>> solution(columns, std::vector<Quadratic>(triangles));
    for (int c = 0; c < columns; ++c) {
        for (int t = 0; t < triangles; ++t)
            for (int i = 0; i < 6; ++i) {
                const int id = numbering_.local[t][i];
                solution[c][t][i] = id >= 0 ? x(id, c)
                                  : Numbering::is_fixed(id) ? numbering_.fixed_values[Numbering::fixed_row(id)][loads[c]] : 0.0;
            }
        for (const auto& j : numbering_.jumps) solution[c][j.triangle][j.corner] += j.factor * x(j.unknown, c);
    }
    return solution;
}

namespace {

template <class F>
std::vector<EdgeTerm> contact_terms(const Mesh& mesh, F&& term) {
    std::vector<EdgeTerm> terms;
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i)
            if (mesh.boundary(t, i) && mesh.marks[t][i] >= 0) {
                const auto& kind = mesh.kinds[mesh.marks[t][i]];
                EdgeTerm e = term(mesh.edge_length(t, i) * 1e-6, kind.resistance);
                e.triangle = t;
                e.corner = i;
                e.load = kind.contact;
                terms.push_back(e);
            }
    return terms;
}

}  // namespace

std::vector<EdgeTerm> temperature_edges(const Mesh& mesh) {
    return contact_terms(mesh, [](double h, double r) {
        if (r == 0) return EdgeTerm{};
        return EdgeTerm{0, 0, h / r, 0, -1, {h / r / 2, h / r / 2, h / r * 2 / 3}};
    });
}

std::vector<EdgeTerm> stream_edges(const Mesh& mesh) {
    return contact_terms(mesh, [](double h, double r) { return EdgeTerm{0, 0, 0, r / h, -1, {1, -1, 0}}; });
}

std::vector<std::array<double, 2>> temperature_coefficients(const Mesh& mesh) {
    std::vector<std::array<double, 2>> c;
    for (const auto& r : mesh.regions) c.push_back({r.kx, r.ky});
    return c;
}

std::vector<std::array<double, 2>> stream_coefficients(const Mesh& mesh) {
    // q = (ds/dy, -ds/dx): the resistance along y meets ds/dx and the other way round.
    std::vector<std::array<double, 2>> c;
    for (const auto& r : mesh.regions) c.push_back({1 / r.ky, 1 / r.kx});
    return c;
}

}  // namespace wallfoot
