// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/bracket/energies.hpp"
#include "solver/bracket/solution.hpp"
#include "solver/field/scalar_problem.hpp"
#include "solver/mesh/mesh.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

/// A plane wall as an oblique strip: layers across, turned by a 3-4-5 angle, exact on the grid (RULES 19).
Model turned_slab(const std::vector<std::pair<double, double>>& layers_mm_lambda, double width_mm, double r0, double r1, bool turned) {
    Model m;
    m.contacts = 2;
    std::vector<Micrometres> across{0};
    for (const auto& [d, k] : layers_mm_lambda) across.push_back(across.back() + from_mm(d));
    const auto at = [&](Micrometres u, Micrometres v) { return turned ? Point{(4 * u - 3 * v) / 5, (3 * u + 4 * v) / 5} : Point{u, v}; };
    const Micrometres width = from_mm(width_mm);
    for (const auto v : across) {
        m.vertices.push_back(at(0, v));
        m.vertices.push_back(at(width, v));
    }
    const int n = static_cast<int>(layers_mm_lambda.size());
    for (int i = 0; i <= n; ++i) {  // along the layers, left = the layer above
        ModelLine l{2 * i, 2 * i + 1, i < n ? i : -1, i - 1, -1, 0};
        if (i == 0) l.contact = 0, l.resistance = r0;
        if (i == n) l.contact = 1, l.resistance = r1;
        m.lines.push_back(l);
    }
    for (int i = 0; i < n; ++i) {
        m.lines.push_back({2 * i, 2 * i + 2, -1, i, -1, 0});
        m.lines.push_back({2 * i + 1, 2 * i + 3, i, -1, -1, 0});
        m.regions.push_back({layers_mm_lambda[i].second, layers_mm_lambda[i].second});
        m.region_area2.push_back(2 * static_cast<Area2>(width) * (across[i + 1] - across[i]));
    }
    return m;
}

// One-dimensional heat flow through plane layers, U = 1/ΣR (ISO 6946:2017, 6.7.1.1): exact for both fields on any mesh.
TEST(Exact, SlabsInSeriesAlsoTurned) {
    const std::vector<std::pair<double, double>> layers{{15, 0.57}, {140, 0.035}, {2, 230}, {100, 0.02}, {200, 1.7}};
    for (const bool turned : {false, true})
        for (const auto& [r0, r1] : {std::pair{0.13, 0.04}, {0.0, 0.04}, {0.0, 0.0}, {1e-6, 0.25}}) {
            double resistance = r0 + r1;
            for (const auto& [d, k] : layers) resistance += d / 1000 / k;
            const double exact = 1.25 / resistance;
            const auto s = solve(turned_slab(layers, 1250, r0, r1, turned));
            EXPECT_NEAR(s.upper_energy[0] / exact, 1, 1e-12) << turned << " " << r0 << " " << r1;
            EXPECT_NEAR(s.lower_energy[0] / exact, 1, 1e-12) << turned << " " << r0 << " " << r1;
            EXPECT_LE(s.coupling(0, 1).lower, exact);
            EXPECT_GE(s.coupling(0, 1).upper, exact);
        }
}

TEST(Exact, SlabsInParallel) {
    const auto m = model_of({{0, 0, 300, 200, 0.5}, {300, 0, 1000, 200, 2.0}}, 2, [](double, double y, int, int ny) {
        return ny < 0 && y == 0 ? std::pair{0, 0.0} : ny > 0 ? std::pair{1, 0.0} : std::pair{-1, 0.0};
    });
    const auto s = solve(m);
    const double exact = (0.3 * 0.5 + 0.7 * 2.0) / 0.2;
    EXPECT_NEAR(s.upper_energy[0] / exact, 1, 1e-12);
    EXPECT_NEAR(s.lower_energy[0] / exact, 1, 1e-12);
}

// Two axes: heat along y meets ky only.
TEST(Exact, SlabWithTwoAxes) {
    const auto m = model_of({{0, 0, 1000, 200, 0.9, 0.3}}, 2, [](double, double, int, int ny) {
        return ny < 0 ? std::pair{0, 0.13} : ny > 0 ? std::pair{1, 0.04} : std::pair{-1, 0.0};
    });
    const auto s = solve(m);
    EXPECT_NEAR(s.upper_energy[0] * (0.17 + 0.2 / 0.3), 1, 1e-12);
    EXPECT_NEAR(s.lower_energy[0] * (0.17 + 0.2 / 0.3), 1, 1e-12);
}

/// Rectangle a × b (m), left side to a space at 1, top to a space at 0, the rest adiabatic; eigenfunction series.
/// Carslaw & Jaeger, Conduction of Heat in Solids, chapter on steady temperature in rectangles (from memory; the
/// series below is derived by separation of variables).
double series_rectangle(double a, double b, double lambda, double r_left, double r_top) {
    const double biot = b / (lambda * r_top);
    double sum = 0;
    for (int n = 0; n < 20000; ++n) {
        double low = n * std::numbers::pi, high = low + std::numbers::pi / 2;  // x tan x = Bi
        for (int i = 0; i < 200; ++i) {
            const double x = 0.5 * (low + high);
            (x * std::tan(x) < biot ? low : high) = x;
        }
        const double x = 0.5 * (low + high), mu = x / b;
        const double projected = std::sin(x) / mu, norm = b / 2 + std::sin(2 * x) / (4 * mu);
        const double t = std::tanh(mu * a);
        sum += lambda * mu * t * projected / norm / (1 + lambda * r_left * mu * t) * projected;
    }
    return sum;
}

Model rectangle_left_top(double lambda, double r_left, double r_top) {
    return model_of({{0, 0, 700, 400, lambda}}, 2, [=](double, double, int nx, int ny) {
        return nx < 0 ? std::pair{0, r_left} : ny > 0 ? std::pair{1, r_top} : std::pair{-1, 0.0};
    });
}

TEST(Exact, BoundsHoldOnEveryMeshOfAnAnalyticSolution) {
    const double exact = series_rectangle(0.7, 0.4, 0.8, 0.1, 0.05);
    int meshes = 0;
    SolveOptions options;
    options.tolerance = 1e-7;
    options.on_step = [&](const Solution& s) {
        EXPECT_LE(s.coupling(0, 1).lower, exact) << meshes;
        EXPECT_GE(s.coupling(0, 1).upper, exact) << meshes;
        ++meshes;
    };
    const auto s = solve(rectangle_left_top(0.8, 0.1, 0.05), options);
    EXPECT_TRUE(s.converged);
    EXPECT_GT(meshes, 2);
}

// Quadratic elements: the energy error falls like h⁴, sixteen-fold when every edge is halved (finite-element theory;
// with resistances this large the corner
// where the two spaces meet is smooth at the sizes used here).
TEST(Exact, BothBoundsConvergeWithOrderFour) {
    const double exact = series_rectangle(0.7, 0.4, 0.8, 3.0, 2.0);
    Mesh mesh = start_mesh(rectangle_left_top(0.8, 3.0, 2.0));
    double before_upper = 0, before_lower = 0, before_size = 0;
    for (int level = 0; level < 5; ++level) {
        const auto edges = number_edges(mesh);
        const auto order = vertex_order(mesh);
        auto t_numbers = number_temperature(mesh, edges, order), s_numbers = number_stream(mesh, edges, order);
        for (auto* numbers : {&t_numbers, &s_numbers}) gather_bubbles(*numbers, mesh, Gather::all);
        const auto t_c = temperature_coefficients(mesh), s_c = stream_coefficients(mesh);
        const auto t = ScalarProblem(mesh, t_numbers, t_c, temperature_edges(mesh)).solve({0, 1});
        const auto s = ScalarProblem(mesh, s_numbers, s_c, stream_edges(mesh)).solve({0, 1});
        const auto e = energies(mesh, t, s, std::vector<char>(mesh.triangles.size(), 0));
        const double upper = e.upper[0] - exact, lower = exact - e.lower[0];
        EXPECT_GT(upper, 0);
        EXPECT_GT(lower, 0);
        double size = 0;
        for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
            for (int i = 0; i < 3; ++i) size = std::max(size, mesh.edge_length(t, i));
        if (level > 1) {
            const double halvings = std::log2(before_size / size);
            EXPECT_GT(std::log2(before_upper / upper) / halvings, 3.5) << level;
            EXPECT_GT(std::log2(before_lower / lower) / halvings, 3.5) << level;
        }
        before_size = size;
        before_upper = upper;
        before_lower = lower;
        for (int halving = 0; halving < 2; ++halving) mesh = bisect(mesh, std::vector<char>(mesh.triangles.size(), 1));
    }
}

// Square corner with isothermal faces: psi_i = λ (1 − 2 ln 2 / π), by conformal mapping (derived; legs of five
// thicknesses leave an error of about exp(−5π)).
TEST(Exact, IsothermalSquareCorner) {
    const auto m = model_of({{0, 0, 1800, 1800, 0.7}, {300, 300, 1800, 1800, -1}}, 2, [](double x, double y, int nx, int ny) {
        if ((nx > 0 && x == 300) || (ny > 0 && y == 300)) return std::pair{0, 0.0};
        if ((nx < 0 && x == 0) || (ny < 0 && y == 0)) return std::pair{1, 0.0};
        return std::pair{-1, 0.0};
    });
    const double exact = 0.7 * (2 * 1.5 / 0.3 + 1 - 2 * std::log(2.0) / std::numbers::pi);
    SolveOptions options;
    options.tolerance = 1e-5;
    const auto s = solve(m, options);
    EXPECT_LE(s.coupling(0, 1).lower, exact + 2e-6);
    EXPECT_GE(s.coupling(0, 1).upper, exact - 2e-6);
    EXPECT_LT(s.coupling(0, 1).width(), 1e-5);
}

// Strip floor on half space, temperature falling linearly across the wall (derived; grid value of the truncated block
// 2.027 from an independent finite-volume code). Stream function alone: no bracket for a contact that is not constant.
TEST(Exact, StripFloorWithLinearFall) {
    const auto flow_of = [](double block_mm) {
        const auto m = model_of({{-4000, -block_mm, 0, 0, 1.5}, {0, -block_mm, 300, 0, 1.5}, {300, -block_mm, 300 + block_mm, 0, 1.5}}, 3,
                                [](double x, double y, int, int ny) {
                                    if (ny < 0 || y != 0) return std::pair{-1, 0.0};
                                    return std::pair{x < 0 ? 0 : x < 300 ? 1 : 2, 0.0};
                                });
        Mesh mesh = start_mesh(m);
        for (int i = 0; i < 4; ++i) mesh = bisect(mesh, std::vector<char>(mesh.triangles.size(), 1));
        // The flow density grows like a logarithm towards both ends of the wall: grade the mesh there.
        for (int i = 0; i < 24; ++i) {
            std::vector<char> marked(mesh.triangles.size(), 0);
            for (std::size_t t = 0; t < marked.size(); ++t)
                for (int v : mesh.triangles[t])
                    if (mesh.points[v][1] == 0 && (mesh.points[v][0] == 0 || mesh.points[v][0] == 300e3)) marked[t] = 1;
            mesh = bisect(mesh, marked);
        }
        const auto g = [](double x_um) { return x_um <= 0 ? 1.0 : x_um >= 300e3 ? 0.0 : 1 - x_um / 300e3; };
        auto edges = stream_edges(mesh);
        for (auto& e : edges) {
            const double a = g(mesh.points[mesh.triangles[e.triangle][(e.corner + 1) % 3]][0]);
            const double b = g(mesh.points[mesh.triangles[e.triangle][(e.corner + 2) % 3]][0]);
            e.load = 0;
            e.load_a_b_bubble = {0.5 * (a + b), -0.5 * (a + b), 2.0 / 3 * (b - a)};
        }
        auto numbers = number_stream(mesh, number_edges(mesh), vertex_order(mesh));
        gather_bubbles(numbers, mesh, Gather::all);
        const auto c = stream_coefficients(mesh);
        const auto s = ScalarProblem(mesh, numbers, c, edges).solve({0});
        double flow = 0;
        for (const auto& e : edges)
            if (mesh.kinds[mesh.marks[e.triangle][e.corner]].contact == 0)
                flow -= s[0][e.triangle][(e.corner + 2) % 3] - s[0][e.triangle][(e.corner + 1) % 3];
        return flow;
    };
    const double w = 0.3, a2 = 8.0;
    const double exact = 0.5 * 2 * 1.5 / (std::numbers::pi * w) * ((a2 + w) * std::log(a2 + w) - w * std::log(w) - a2 * std::log(a2));
    EXPECT_NEAR(exact, 2.0540, 5e-5);
    const double small = flow_of(20000), large = flow_of(40000);
    EXPECT_NEAR(small, 2.027, 0.006);
    EXPECT_LT(std::abs(large - exact), std::abs(small - exact));
}

}  // namespace
}  // namespace wallfoot::test
