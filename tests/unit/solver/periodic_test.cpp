// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "solver/bracket/solution.hpp"
#include "solver/field/periodic.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot {
namespace {

using Complex = std::complex<double>;
constexpr double omega = 2 * std::numbers::pi / (365.2425 * 86400);

/// Fields of a model, its mesh refined for the wave; `capacity` of a region by its conductivity.
PeriodicFields wave_in(const Model& model, const std::function<double(double)>& capacity, double edges, const std::vector<std::vector<double>>& loads, Mesh* used = nullptr) {
    SolveOptions options;
    options.tolerance = 1e-5;
    Mesh mesh;
    solve(model, options, {}, &mesh);
    std::vector<double> by_region;
    for (const Region& region : mesh.regions) by_region.push_back(capacity(region.kx));
    mesh = refined_for_wave(std::move(mesh), by_region, omega, edges);
    Capacities held(mesh.triangles.size());
    for (std::size_t t = 0; t < held.size(); ++t) held[t].fill(by_region[mesh.region[t]]);
    auto fields = periodic_fields(mesh, held, omega, loads);
    EXPECT_TRUE(fields);
    if (used) *used = mesh;
    return fields ? *fields : PeriodicFields{};
}

/// A column of ground 0.5 m wide and `depth` m deep below space 0, on space 1 or on nothing.
Model column(double depth, double lambda, double above, double below, bool open_below) {
    return test::model_of({{0, -1000 * depth, 500, 0, lambda}}, 2, [=](double, double, int, int ny) -> std::pair<int, double> {
        if (ny > 0) return {0, above};
        if (ny < 0 && open_below) return {1, below};
        return {-1, 0};
    });
}

// Semi-infinite solid whose surface swings: T = e^(−(1+i)x/d), d = √(2λ/(ωρc)), flow λ√2/d and an eighth of a year before the surface
// (Carslaw and Jaeger, Conduction of Heat in Solids, 2.6). 40 m are 12 times d: e^−12 is left.
TEST(Periodic, semi_infinite_solid) {
    constexpr double lambda = 2, capacity = 2e6;
    const double d = std::sqrt(2 * lambda / (omega * capacity));
    Mesh mesh;
    const auto fields = wave_in(column(40, lambda, 0, 0, false), [](double) { return 2e6; }, 0.15, {{1, 0}}, &mesh);
    const Complex flow = fields.flow.at(0).at(0) / 0.5;
    EXPECT_NEAR(std::abs(flow), lambda * std::numbers::sqrt2 / d, 1e-4 * lambda / d);
    EXPECT_NEAR(std::arg(flow), std::numbers::pi / 4, 1e-4);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const double x = -1e-6 * mesh.points[mesh.triangles[t][i]][1];
            const Complex exact = std::exp(-Complex(1, 1) * x / d);
            EXPECT_LT(std::abs(fields.temperature[0][t][i] - exact), 5e-4) << x;
        }
}

/// Flows at both sides of a slab between films for a swing of one side: [T, q] goes through films and slab by matrices of
/// hyperbolic functions (ISO 13786; from memory).
std::array<Complex, 2> exact_slab(double thickness, double lambda, double capacity, double above, double below) {
    const Complex k = std::sqrt(Complex(0, omega * capacity / lambda)), s = std::sinh(k * thickness), c = std::cosh(k * thickness);
    const Complex a = c, b = s / (lambda * k), e = lambda * k * s, g = c;  // T0 = a·T1 + b·q1, q0 = e·T1 + g·q1
    // films: T0' = T0 + above·q0, T1 = T1' + below·q1
    const Complex b2 = b + a * below, g2 = g + e * below;  // for T1' = 0
    const Complex q1 = 1.0 / (b2 + above * g2);
    return {g2 * q1, -q1};  // into the slab from the side that swings, and from the other
}

TEST(Periodic, slab_of_finite_thickness_between_films) {
    for (const double thickness : {0.3, 3.0, 8.0})
        for (const auto& [above, below] : {std::pair(0.17, 0.04), std::pair(0.0, 0.0), std::pair(2.5, 0.0)}) {
            const auto fields = wave_in(column(thickness, 1.5, above, below, true), [](double) { return 3e6; }, 0.1, {{1, 0}, {0, 1}});
            const auto exact = exact_slab(thickness, 1.5, 3e6, above, below);
            EXPECT_LT(std::abs(fields.flow[0][0] / 0.5 - exact[0]), 2e-5 * std::abs(exact[0])) << thickness;
            EXPECT_LT(std::abs(fields.flow[0][1] / 0.5 - exact[1]), 2e-4 * std::abs(exact[1])) << thickness;
            // Betti: what a swing below does above is what a swing above does below.
            EXPECT_LT(std::abs(fields.flow[1][0] - fields.flow[0][1]), 1e-9);
        }
}

// A slab on ground with a board on it, computed a second time by FreeFEM 4.11 (Debian 12) with tests/reference/periodic.edp; 112 961
// unknowns, which changed its flows by 7e-7 from the mesh of 28 369.
TEST(Periodic, insulated_slab_on_ground_as_a_second_package_has_it) {
    // The air above the wall's foot is an area of its own, so that its edge is one too.
    const Model foot = test::model_of({{-4000, -12000, 12000, 0, 2.0}, {-4000, 0, 0, 100, 0.04}, {0, 0, 300, 100, 0}, {300, 0, 12000, 100, 0}}, 2, [](double x, double y, int, int ny) -> std::pair<int, double> {
        if (ny > 0 && y > 50 && x < 0) return {0, 0.17};
        if (ny > 0 && y < 50 && x > 300) return {1, 0.04};
        return {-1, 0};
    });
    const auto fields = wave_in(foot, [](double k) { return k < 1 ? 5e4 : 2e6; }, 1.0 / 3, {{1, 0}, {0, 1}});
    const Complex inside(1.12448965, 0.16461271), outside(-0.188898352, 0.200398492);
    EXPECT_LT(std::abs(fields.flow[0][0] - inside), 2e-5);
    EXPECT_LT(std::abs(fields.flow[1][0] - outside), 2e-5);
    EXPECT_LT(std::abs(fields.flow[0][1] - outside), 2e-5);
}

// A part that no space touches cannot be held by anything in the steady state.
TEST(Periodic, without_a_space_there_is_no_answer_or_a_finite_one) {
    Mesh mesh;
    solve(column(1, 1, 0.1, 0.1, true), {}, {}, &mesh);
    for (auto& marks : mesh.marks)
        for (int& mark : marks) mark = -1;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (!mesh.boundary(int(t), i)) mesh.marks[t][i] = 0;
    Capacities held(mesh.triangles.size());
    for (auto& of : held) of.fill(1e6);
    const auto fields = periodic_fields(mesh, held, 0, {{1, 0}});
    if (fields) {
        EXPECT_TRUE(std::isfinite(std::abs(fields->flow[0][0])));
    }
}

}  // namespace
}  // namespace wallfoot
