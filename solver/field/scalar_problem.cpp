// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/scalar_problem.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "core/text/message.hpp"

namespace wallfoot {

namespace {

/// No pivot is zero in exact arithmetic, so this is round-off: a triangle many million times as long as it is high.
[[noreturn]] void too_slender(const Mesh& mesh) {
    int worst = 0;
    double least = 1e300;
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t) {
        const double longest = std::max({mesh.edge_length(t, 0), mesh.edge_length(t, 1), mesh.edge_length(t, 2)});
        if (const double ratio = mesh.area(t) / (longest * longest); ratio < least) least = ratio, worst = t;
    }
    const auto& at = mesh.points[mesh.triangles[worst][0]];
    throw InputFault(Message{Severity::fault, "part-too-slender", {}, Point{std::llround(at[0]), std::llround(at[1])}, ""});
}

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

/// A corner as a combination of unknowns: one, or also jumps.
struct Share {
    int local, unknown;
    double factor;
};

}  // namespace

ScalarProblem::ScalarProblem(const Mesh& mesh, const Numbering& numbering,
                             std::vector<std::array<double, 2>> coefficient, std::vector<EdgeTerm> edges)
    : mesh_(mesh), numbering_(numbering), coefficient_(std::move(coefficient)), edges_(std::move(edges)) {}

namespace {

/// Adds a triangle's share to the rows of its bubbles. The two triangles of an edge agree on its ends.
void add_to_bubbles(std::vector<BubbleRow>& rows, const std::array<int, 6>& local, const Matrix6& k) {
    for (int m = 0; m < 3; ++m) {
        if (local[3 + m] < 0) continue;
        auto& row = rows[local[3 + m]];
        row.diagonal += k[3 + m][3 + m];
        const int second = 2 * row.triangles;
        for (int d : {1, 2}) {
            const int end = (m + d) % 3, place = 2 - d;
            if (const int other = local[3 + end]; other >= 0) {
                row.bubble[second + d - 1] = other;
                row.to_bubble[second + d - 1] = k[3 + m][3 + end];
            }
            if (local[end] < 0) continue;
            // Seen from the other triangle the ends change places; ends that share an unknown share its place.
            const int slot = row.triangles == 0 || row.corner[place] == local[end] ? place : 1 - place;
            row.corner[slot] = local[end];
            row.to_corner[slot] += k[3 + m][end];
        }
        if (local[m] >= 0) {
            row.corner[2 + row.triangles] = local[m];
            row.to_corner[2 + row.triangles] = k[3 + m][m];
        }
        ++row.triangles;
    }
}

}  // namespace

ScalarProblem::Assembled ScalarProblem::assemble(const std::vector<int>& loads) const {
    const int triangles = static_cast<int>(mesh_.triangles.size());
    const std::size_t columns = loads.size();
    std::vector<MatrixEntry> corners;
    corners.reserve(6 * mesh_.triangles.size() + 8 * numbering_.jumps.size());
    Assembled a;
    a.blocks.bubbles.resize(numbering_.bubbles);
    a.right.assign(columns, {std::vector<double>(numbering_.corners, 0.0), std::vector<double>(numbering_.bubbles, 0.0)});
    auto edge = edges_.begin();  // sorted by triangle, as are the jumps
    auto jump = numbering_.jumps.begin();
    std::vector<std::array<double, 6>> load(columns);
    std::vector<Share> shares;
    for (int t = 0; t < triangles; ++t) {
        const auto& local = numbering_.local[t];
        auto k = element_matrix(mesh_, t, coefficient_[mesh_.region[t]]);
        bool loaded = false;
        const auto load_it = [&] {
            if (!loaded) std::fill(load.begin(), load.end(), std::array<double, 6>{});
            loaded = true;
        };
        for (; edge != edges_.end() && edge->triangle == t; ++edge) {
            add_edge(k, *edge);
            for (std::size_t c = 0; c < columns; ++c) {
                if (loads[c] != edge->load) continue;
                load_it();
                load[c][(edge->corner + 1) % 3] += edge->load_a_b_bubble[0];
                load[c][(edge->corner + 2) % 3] += edge->load_a_b_bubble[1];
                load[c][3 + edge->corner] += edge->load_a_b_bubble[2];
            }
        }
        for (int j = 0; j < 3; ++j) {
            if (!Numbering::is_fixed(local[j])) continue;
            load_it();
            for (std::size_t c = 0; c < columns; ++c)
                if (const double value = numbering_.fixed_values[Numbering::fixed_row(local[j])][loads[c]]; value != 0)
                    for (int i = 0; i < 6; ++i) load[c][i] -= k[i][j] * value;
        }
        add_to_bubbles(a.blocks.bubbles, local, k);
        shares.clear();
        for (int i = 0; i < 3; ++i)
            if (local[i] >= 0) shares.push_back({i, local[i], 1.0});
        const std::size_t own = shares.size();
        for (int i = 3; i < 6; ++i)
            if (Numbering::is_gathered(local[i])) shares.push_back({i, Numbering::corner_unknown(local[i]), 1.0});
        for (; jump != numbering_.jumps.end() && jump->triangle == t; ++jump) shares.push_back({jump->corner, jump->unknown, jump->factor});
        for (std::size_t i = 0; i < shares.size(); ++i)
            for (std::size_t j = 0; j < shares.size(); ++j)
                if (const auto &u = shares[i], &v = shares[j]; u.unknown < v.unknown || (u.unknown == v.unknown && i <= j))
                    // Two corners of one unknown: the value counts twice on the diagonal.
                    corners.push_back({u.unknown, v.unknown, (u.unknown == v.unknown && i != j ? 2 : 1) * u.factor * v.factor * k[u.local][v.local]});
        for (std::size_t i = own; i < shares.size(); ++i)
            for (int m = 3; m < 6; ++m)
                if (local[m] >= 0 && k[m][shares[i].local] != 0) a.blocks.jumps.push_back({local[m], shares[i].unknown, shares[i].factor * k[m][shares[i].local]});
        if (!loaded) continue;
        for (std::size_t c = 0; c < columns; ++c) {
            for (const auto& share : shares) a.right[c].corners[share.unknown] += share.factor * load[c][share.local];
            for (int m = 3; m < 6; ++m)
                if (local[m] >= 0) a.right[c].bubbles[local[m]] += load[c][m];
        }
    }
    a.blocks.corners = upper_triangle(numbering_.corners, corners);
    return a;
}

std::vector<Quadratic> ScalarProblem::on_triangles(const BlockVector& x, int load) const {
    std::vector<Quadratic> field(mesh_.triangles.size());
    for (std::size_t t = 0; t < field.size(); ++t) {
        const auto& local = numbering_.local[t];
        for (int i = 0; i < 3; ++i) {
            const int id = local[i];
            field[t][i] = id >= 0 ? x.corners[id] : Numbering::is_fixed(id) ? numbering_.fixed_values[Numbering::fixed_row(id)][load] : 0.0;
            const int bubble = local[3 + i];
            field[t][3 + i] = bubble >= 0 ? x.bubbles[bubble] : Numbering::is_gathered(bubble) ? x.corners[Numbering::corner_unknown(bubble)] : 0.0;
        }
    }
    for (const auto& j : numbering_.jumps) field[j.triangle][j.corner] += j.factor * x.corners[j.unknown];
    return field;
}

std::vector<BlockVector> ScalarProblem::solve(const Assembled& assembled, const std::vector<double>& errors, KeptSolution* kept) const {
    std::vector<BlockVector> solution;
    if (numbering_.bubbles == 0) {
        const Factor whole(assembled.blocks.corners);
        solution = assembled.right;
        for (auto& right : solution) whole.solve(right.corners.data());
        return solution;
    }
    if (errors.empty()) throw std::logic_error("an exact solution needs all bubbles gathered");
    auto corners = kept ? kept->corner_factor : nullptr;
    const std::size_t loads = assembled.right.size();
    const bool again = corners && kept->solution.size() == loads;
    if (!corners) corners = std::make_shared<const Factor>(assembled.blocks.corners);
    for (std::size_t c = 0; c < loads; ++c)
        solution.push_back(two_level_solve(assembled.blocks, *corners, assembled.right[c], errors[c], again ? &kept->solution[c] : nullptr));
    if (kept) kept->corner_factor = corners;
    return solution;
}

std::vector<std::vector<Quadratic>> ScalarProblem::solve(const std::vector<int>& loads, const std::vector<double>& errors,
                                                         KeptSolution* kept) const {
    const auto assembled = assemble(loads);
    std::vector<BlockVector> solution;
    try {
        solution = solve(assembled, errors, kept);
    } catch (const FactorisationFailed&) {
        too_slender(mesh_);
    }
    std::vector<std::vector<Quadratic>> fields;
    for (std::size_t c = 0; c < loads.size(); ++c) fields.push_back(on_triangles(solution[c], loads[c]));
    if (kept) kept->solution = std::move(solution);
    return fields;
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
