// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/periodic.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>

namespace wallfoot {

namespace {

using Complex = std::complex<double>;
using Triplet = Eigen::Triplet<double>;
using Sparse = Eigen::SparseMatrix<double>;

constexpr double m_per_um = 1e-6;
constexpr double most_residual = 1e-7;

/// Numbers of the six nodes of every triangle: vertices first, then middles of edges.
struct WaveNodes {
    EdgeNumbers edges;
    int count = 0;
    explicit WaveNodes(const Mesh& mesh) : edges(number_edges(mesh)), points_(static_cast<int>(mesh.points.size())) { count = points_ + edges.count; }
    std::array<int, 6> of(const Mesh& mesh, std::size_t t) const {
        const auto& corners = mesh.triangles[t];
        const auto& e = edges.of[t];
        return {corners[0], corners[1], corners[2], points_ + e[0], points_ + e[1], points_ + e[2]};
    }

  private:
    int points_;
};

/// Quadratic shape functions by corner shares: corners, then middles of the edges opposite them.
std::array<double, 6> shapes(const std::array<double, 3>& l) {
    return {l[0] * (2 * l[0] - 1), l[1] * (2 * l[1] - 1), l[2] * (2 * l[2] - 1), 4 * l[1] * l[2], 4 * l[2] * l[0], 4 * l[0] * l[1]};
}

/// Their derivatives by x and y, given those of the corner shares.
void shape_gradients(const std::array<double, 3>& l, const std::array<double, 3>& d, std::array<double, 6>& g) {
    for (int i = 0; i < 3; ++i) {
        const int j = (i + 1) % 3, k = (i + 2) % 3;
        g[i] = (4 * l[i] - 1) * d[i];
        g[3 + i] = 4 * (l[j] * d[k] + l[k] * d[j]);
    }
}

struct WaveMatrices {
    std::vector<Triplet> stiffness, mass;  ///< W/(m·K) with the surfaces; J/(m·K)
    std::vector<std::vector<std::pair<int, double>>> surface;  ///< by contact: node and its share of 1/R, W/(m·K)
    std::vector<int> fixed;  ///< by node: contact that holds it, -1
};

void add_triangle(const Mesh& mesh, std::size_t t, const std::array<int, 6>& node, const std::array<double, capacity_places>& capacity, WaveMatrices& into) {
    const double area = mesh.area(static_cast<int>(t)) * m_per_um * m_per_um;
    std::array<double, 3> dx{}, dy{};
    for (int i = 0; i < 3; ++i) {
        const auto &p = mesh.points[mesh.triangles[t][(i + 1) % 3]], &q = mesh.points[mesh.triangles[t][(i + 2) % 3]];
        dx[i] = (p[1] - q[1]) * m_per_um / (2 * area);
        dy[i] = (q[0] - p[0]) * m_per_um / (2 * area);
    }
    const Region& region = mesh.regions[static_cast<std::size_t>(mesh.region[t])];
    double k[6][6] = {}, m[6][6] = {};
    for (int side = 0; side < 3; ++side) {  // middles of the edges: exact for the product of two linear gradients
        std::array<double, 3> l{0.5, 0.5, 0.5};
        l[side] = 0;
        std::array<double, 6> gx{}, gy{};
        shape_gradients(l, dx, gx);
        shape_gradients(l, dy, gy);
        for (int a = 0; a < 6; ++a)
            for (int b = 0; b < 6; ++b) k[a][b] += area / 3 * (region.kx * gx[a] * gx[b] + region.ky * gy[a] * gy[b]);
    }
    constexpr double inner = 0.223381589678011, outer = 0.109951743655322;  // weights of the two rings of places
    for (int place = 0; place < capacity_places; ++place) {
        const auto n = shapes(capacity_shares()[place]);
        const double weight = area * (place < 3 ? inner : outer) * capacity[place];
        for (int a = 0; a < 6; ++a)
            for (int b = 0; b < 6; ++b) m[a][b] += weight * n[a] * n[b];
    }
    for (int a = 0; a < 6; ++a)
        for (int b = 0; b < 6; ++b) {
            into.stiffness.emplace_back(node[a], node[b], k[a][b]);
            into.mass.emplace_back(node[a], node[b], m[a][b]);
        }
}

void add_surfaces(const Mesh& mesh, std::size_t t, const std::array<int, 6>& node, WaveMatrices& into) {
    for (int i = 0; i < 3; ++i) {
        if (!mesh.boundary(static_cast<int>(t), i) || mesh.marks[t][i] < 0) continue;
        const ContactKind& kind = mesh.kinds[static_cast<std::size_t>(mesh.marks[t][i])];
        const std::array<int, 3> on{node[(i + 1) % 3], node[(i + 2) % 3], node[3 + i]};
        if (kind.resistance == 0) {
            for (const int n : on) into.fixed[n] = kind.contact;
            continue;
        }
        const double h = mesh.edge_length(static_cast<int>(t), i) * m_per_um / kind.resistance;
        constexpr double exact[3][3] = {{4, -1, 2}, {-1, 4, 2}, {2, 2, 16}};  // × h/30
        for (int a = 0; a < 3; ++a) {
            double sum = 0;
            for (int b = 0; b < 3; ++b) {
                into.stiffness.emplace_back(on[a], on[b], h / 30 * exact[a][b]);
                sum += h / 30 * exact[a][b];
            }
            into.surface[kind.contact].emplace_back(on[a], sum);
        }
    }
}

WaveMatrices assemble_wave(const Mesh& mesh, const WaveNodes& nodes, const Capacities& capacity) {
    WaveMatrices all;
    all.surface.resize(static_cast<std::size_t>(mesh.contacts));
    all.fixed.assign(nodes.count, -1);
    all.stiffness.reserve(36 * mesh.triangles.size());
    all.mass.reserve(36 * mesh.triangles.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto node = nodes.of(mesh, t);
        add_triangle(mesh, t, node, capacity[t], all);
        add_surfaces(mesh, t, node, all);
    }
    return all;
}

Sparse matrix_of(int size, const std::vector<Triplet>& entries) {
    Sparse matrix(size, size);
    matrix.setFromTriplets(entries.begin(), entries.end());
    return matrix;
}

/// The system of the free nodes, lower triangle. With a wave unknown 2k is the real, 2k + 1 the imaginary part of free node k;
/// without one there is no imaginary part.
Sparse real_system(const Sparse& stiffness, const Sparse& mass, double omega, const std::vector<int>& free, int unknowns) {
    const int parts = omega > 0 ? 2 : 1;
    std::vector<Triplet> entries;
    entries.reserve(static_cast<std::size_t>(parts * (stiffness.nonZeros() + mass.nonZeros()) / 2));
    const auto each = [&](const Sparse& of, const auto& put) {
        for (int column = 0; column < of.outerSize(); ++column)
            for (Sparse::InnerIterator it(of, column); it; ++it)
                if (free[it.row()] >= 0 && free[column] >= 0) put(free[it.row()], free[column], it.value());
    };
    each(stiffness, [&](int a, int b, double value) {
        if (a < b) return;
        entries.emplace_back(parts * a, parts * b, value);
        if (parts == 2) entries.emplace_back(2 * a + 1, 2 * b + 1, -value);
    });
    if (parts == 2)
        each(mass, [&](int a, int b, double value) {
            if (2 * a + 1 > 2 * b) entries.emplace_back(2 * a + 1, 2 * b, -omega * value);
            if (2 * a > 2 * b + 1) entries.emplace_back(2 * a, 2 * b + 1, -omega * value);
        });
    return matrix_of(parts * unknowns, entries);
}

}  // namespace

const std::array<std::array<double, 3>, capacity_places>& capacity_shares() {
    constexpr double a = 0.445948490915965, b = 0.091576213509771;
    static constexpr std::array<std::array<double, 3>, capacity_places> shares{
        {{a, a, 1 - 2 * a}, {a, 1 - 2 * a, a}, {1 - 2 * a, a, a}, {b, b, 1 - 2 * b}, {b, 1 - 2 * b, b}, {1 - 2 * b, b, b}}};
    return shares;
}

std::optional<PeriodicFields> periodic_fields(const Mesh& mesh, const Capacities& capacity, double omega, const std::vector<std::vector<double>>& loads,
                                              const Context& context) {
    const WaveNodes nodes(mesh);
    const WaveMatrices all = assemble_wave(mesh, nodes, capacity);
    const Sparse stiffness = matrix_of(nodes.count, all.stiffness), mass = matrix_of(nodes.count, all.mass);
    std::vector<int> free(nodes.count, -1);
    int unknowns = 0;
    for (int n = 0; n < nodes.count; ++n)
        if (all.fixed[n] < 0) free[n] = unknowns++;
    const Sparse system = real_system(stiffness, mass, omega, free, unknowns);
    context.check();
    Eigen::SimplicialLDLT<Sparse, Eigen::Lower> factors;
    if (unknowns > 0) {
        factors.compute(system);
        if (factors.info() != Eigen::Success) return std::nullopt;
    }
    context.check();
    PeriodicFields result;
    for (const auto& load : loads) {
        Eigen::VectorXcd wave = Eigen::VectorXcd::Zero(nodes.count), given = Eigen::VectorXcd::Zero(nodes.count);
        for (int n = 0; n < nodes.count; ++n)
            if (all.fixed[n] >= 0) wave[n] = load[static_cast<std::size_t>(all.fixed[n])];
        for (std::size_t c = 0; c < all.surface.size(); ++c)
            for (const auto& [n, share] : all.surface[c]) given[n] += share * load[c];
        const auto act = [&](const Eigen::VectorXcd& v) -> Eigen::VectorXcd { return stiffness * v + Complex(0, omega) * (mass * v); };
        const double scale = given.norm() + act(wave).norm();
        constexpr int rounds = 2;  // the second takes off what round-off left in the first
        for (int round = 0; round < rounds && unknowns > 0; ++round) {
            const Eigen::VectorXcd left = given - act(wave);
            const int parts = omega > 0 ? 2 : 1;
            Eigen::VectorXd right(parts * unknowns);
            for (int n = 0; n < nodes.count; ++n) {
                if (free[n] < 0) continue;
                right[parts * free[n]] = left[n].real();
                if (parts == 2) right[2 * free[n] + 1] = -left[n].imag();
            }
            const Eigen::VectorXd step = factors.solve(right);
            for (int n = 0; n < nodes.count; ++n)
                if (free[n] >= 0) wave[n] += Complex(step[parts * free[n]], parts == 2 ? step[2 * free[n] + 1] : 0);
        }
        const Eigen::VectorXcd reaction = act(wave) - given;
        double residual = 0;
        for (int n = 0; n < nodes.count; ++n)
            if (free[n] >= 0) residual = std::max(residual, std::abs(reaction[n]));
        if (!(residual <= most_residual * scale)) return std::nullopt;
        std::vector<Complex> flow(static_cast<std::size_t>(mesh.contacts), 0);
        for (std::size_t c = 0; c < all.surface.size(); ++c)
            for (const auto& [n, share] : all.surface[c]) flow[c] += share * load[c];
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                if (!mesh.boundary(static_cast<int>(t), i) || mesh.marks[t][i] < 0) continue;
                const ContactKind& kind = mesh.kinds[static_cast<std::size_t>(mesh.marks[t][i])];
                if (kind.resistance == 0) continue;
                const auto node = nodes.of(mesh, t);
                const double h = mesh.edge_length(static_cast<int>(t), i) * m_per_um / kind.resistance;
                flow[kind.contact] -= h / 6 * (wave[node[(i + 1) % 3]] + wave[node[(i + 2) % 3]] + 4.0 * wave[node[3 + i]]);
            }
        for (int n = 0; n < nodes.count; ++n)
            if (all.fixed[n] >= 0) flow[static_cast<std::size_t>(all.fixed[n])] += reaction[n];
        std::vector<std::array<Complex, 6>> field(mesh.triangles.size());
        for (std::size_t t = 0; t < field.size(); ++t) {
            const auto node = nodes.of(mesh, t);
            for (int i = 0; i < 6; ++i) field[t][i] = wave[node[i]];
        }
        result.temperature.push_back(std::move(field));
        result.flow.push_back(std::move(flow));
    }
    return result;
}

Mesh refined_for_wave(Mesh mesh, const std::vector<double>& region_capacity, double omega, double share, const Context& context) {
    constexpr int most_rounds = 60;
    for (int round = 0; round < most_rounds; ++round) {
        context.check();
        std::vector<char> marked(mesh.triangles.size(), 0);
        bool any = false;
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
            const auto r = static_cast<std::size_t>(mesh.region[t]);
            const double least = std::min(mesh.regions[r].kx, mesh.regions[r].ky);
            const double depth_um = std::sqrt(2 * least / (omega * region_capacity[r])) / m_per_um;
            double longest = 0;
            for (int i = 0; i < 3; ++i) longest = std::max(longest, mesh.edge_length(static_cast<int>(t), i));
            if (longest > share * depth_um) marked[t] = any = true;
        }
        if (!any) break;
        mesh = bisect(mesh, marked);
    }
    return mesh;
}

}  // namespace wallfoot
