// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "solver/bracket/sensitivities.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

/// Three spaces, one of them a hole, regions with one axis and with two, four sorts of surface.
Model three_spaces() {
    return model_of({{0, 0, 1000, 800, 0.8, 0.5}, {150, 150, 650, 550, 0.04}, {650, 0, 700, 800, 3.0, 1.2}, {0, 600, 400, 650, 20},
                     {300, 300, 450, 420, -1}},
                    3, [](double x, double y, int nx, int ny) -> std::pair<int, double> {
                        if (x > 200 && x < 600 && y > 200 && y < 500) return {2, ny == 0 ? 0.13 : 0.17};
                        if (nx < 0) return {0, 0.13};
                        if (nx > 0) return {1, 0.04};
                        return {-1, 0};
                    });
}

/// On the start mesh, which depends on the lines of the model alone.
Solution on_start_mesh(const Model& model) {
    SolveOptions options;
    options.tolerance = 1e30;
    options.two_threads = false;
    return solve(model, options);
}

void scale_resistance(Model& model, const ContactKind& kind, double factor) {
    for (auto& l : model.lines)
        if (l.contact == kind.contact && l.resistance == kind.resistance) l.resistance *= factor;
}

// The bounds on one mesh by central differences: the derivatives are those of the discrete values, exactly.
TEST(Sensitivities, AgreeWithCentralDifferences) {
    const Model model = three_spaces();
    const Solution s = on_start_mesh(model);
    ASSERT_GT(s.coupling(0, 2).width(), 1e-4) << "a mesh so fine that its bounds cannot be told apart";
    const Sensitivities d(s);
    ASSERT_EQ(d.regions(), static_cast<int>(model.regions.size()));
    ASSERT_EQ(d.surfaces().size(), 4u);
    constexpr double step = 1e-4;
    const auto compare = [&](const std::function<void(Model&, double)>& scale, double quantity, const auto& slope) {
        Model more = model, less = model;
        scale(more, 1 + step);
        scale(less, 1 - step);
        const Solution plus = on_start_mesh(more), minus = on_start_mesh(less);
        ASSERT_EQ(plus.points, s.points);
        for (int a = 0; a < 3; ++a)
            for (int b = 0; b < 3; ++b) {
                if (a == b) continue;
                const Bracketed p = plus.coupling(a, b), m = minus.coupling(a, b);
                const Slope found = slope(a, b);
                const double size = s.coupling(a, b).value, two = 2 * step * quantity;
                EXPECT_NEAR(found.value * quantity, (p.value - m.value) / two * quantity, 1e-7 * size);
                EXPECT_NEAR(found.lower * quantity, (p.lower - m.lower) / two * quantity, 1e-7 * size);
                EXPECT_NEAR(found.upper * quantity, (p.upper - m.upper) / two * quantity, 1e-7 * size);
            }
    };
    for (int r = 0; r < d.regions(); ++r) {
        SCOPED_TRACE(r);
        compare([&](Model& m, double f) { m.regions[r].kx *= f; }, model.regions[r].kx, [&](int a, int b) { return d.along_x(a, b, r); });
        compare([&](Model& m, double f) { m.regions[r].ky *= f; }, model.regions[r].ky, [&](int a, int b) { return d.along_y(a, b, r); });
    }
    for (int i = 0; i < 4; ++i) {
        const ContactKind kind = d.surfaces()[i];
        SCOPED_TRACE(kind.resistance);
        compare([&](Model& m, double f) { scale_resistance(m, kind, f); }, kind.resistance, [&](int a, int b) { return d.surface(a, b, i); });
    }
}

// Euler's identity: coefficient and bounds grow as the conductivities, with the resistances falling alike.
TEST(Sensitivities, AddUpToTheCoefficient) {
    for (const auto& model : {three_spaces(), wall_foot(0.5), iso10211_case2()}) {
        const Solution s = on_start_mesh(model);
        const Sensitivities d(s);
        for (int a = 0; a < s.contacts; ++a)
            for (int b = 0; b < s.contacts; ++b) {
                if (a == b) continue;
                Slope sum;
                const auto add = [&](const Slope& by, double factor) {
                    sum.value += factor * by.value, sum.lower += factor * by.lower, sum.upper += factor * by.upper;
                };
                for (int r = 0; r < d.regions(); ++r) add(d.along_x(a, b, r), s.regions[r].kx), add(d.along_y(a, b, r), s.regions[r].ky);
                for (std::size_t i = 0; i < d.surfaces().size(); ++i) add(d.surface(a, b, static_cast<int>(i)), -d.surfaces()[i].resistance);
                const Bracketed l = s.coupling(a, b);
                EXPECT_NEAR(sum.value / l.value, 1, 1e-9);
                EXPECT_NEAR(sum.lower / l.lower, 1, 1e-9);
                EXPECT_NEAR(sum.upper / l.upper, 1, 1e-9);
            }
    }
}

// The mean surface temperature on one mesh: by central differences, and by Euler's identity (a temperature does not change
// when all conductivities grow and all resistances fall alike).
TEST(Sensitivities, OfTheMeanSurfaceTemperature) {
    const Model model = wall_foot(0.5);
    const auto solved = [](const Model& m) {
        SolveOptions options;
        options.tolerance = 1e30;
        options.two_threads = false;
        options.linear_share = 0;
        options.surface_contact = 0;
        options.temperatures = {1, 0};
        options.surface_tolerance = 1e30;
        options.surface_slopes = true;
        return solve(m, options);
    };
    const Solution s = solved(model);
    ASSERT_TRUE(s.surface_mean);
    const auto& mean = *s.surface_mean;
    const Sensitivities by(s);
    ASSERT_EQ(mean.by_region.size(), model.regions.size());
    ASSERT_EQ(mean.by_surface.size(), by.surfaces().size());
    constexpr double step = 1e-4;
    Slope euler;
    const auto compare = [&](const std::function<void(Model&, double)>& scale, double quantity, const Slope& found, double sign) {
        Model more = model, less = model;
        scale(more, 1 + step);
        scale(less, 1 - step);
        const Solution plus = solved(more), minus = solved(less);
        ASSERT_EQ(plus.points, s.points);
        const auto &p = plus.surface_mean->temperature, &m = minus.surface_mean->temperature;
        EXPECT_NEAR(found.value * quantity, (p.value - m.value) / (2 * step), 1e-7);
        EXPECT_NEAR(found.lower * quantity, (p.lower - m.lower) / (2 * step), 1e-7);
        EXPECT_NEAR(found.upper * quantity, (p.upper - m.upper) / (2 * step), 1e-7);
        euler.value += sign * quantity * found.value, euler.lower += sign * quantity * found.lower, euler.upper += sign * quantity * found.upper;
    };
    for (std::size_t r = 0; r < model.regions.size(); ++r) {
        SCOPED_TRACE(r);
        compare([&](Model& m, double f) { m.regions[r].kx *= f; }, model.regions[r].kx, mean.by_region[r][0], 1);
        compare([&](Model& m, double f) { m.regions[r].ky *= f; }, model.regions[r].ky, mean.by_region[r][1], 1);
    }
    for (std::size_t i = 0; i < by.surfaces().size(); ++i) {
        SCOPED_TRACE(by.surfaces()[i].resistance);
        compare([&](Model& m, double f) { scale_resistance(m, by.surfaces()[i], f); }, by.surfaces()[i].resistance, mean.by_surface[i], -1);
    }
    EXPECT_NEAR(euler.value, 0, 1e-9);
    EXPECT_NEAR(euler.lower, 0, 1e-9);
    EXPECT_NEAR(euler.upper, 0, 1e-9);
}

// A plane wall: dL/dk = L²·d/k² per height, dL/dR = −L² (L = 1/ΣR, ISO 6946:2017, 6.7.1.1), and nothing along the wall.
TEST(Sensitivities, PlaneWall) {
    const auto m = model_of({{0, 0, 100, 1000, 0.5, 0.3}, {100, 0, 300, 1000, 0.04}}, 2, [](double, double, int nx, int) {
        return nx < 0 ? std::pair{0, 0.13} : nx > 0 ? std::pair{1, 0.04} : std::pair{-1, 0.0};
    });
    const Solution s = on_start_mesh(m);
    const Sensitivities d(s);
    const double l = 1 / (0.13 + 0.1 / 0.5 + 0.2 / 0.04 + 0.04);
    for (int r = 0; r < 2; ++r) {
        const double k = s.regions[r].kx, thickness = k == 0.5 ? 0.1 : 0.2;
        EXPECT_NEAR(d.along_x(0, 1, r).value / (l * l * thickness / (k * k)), 1, 1e-10);
        EXPECT_NEAR(d.along_y(0, 1, r).value, 0, 1e-12);
    }
    for (int i : {0, 1}) EXPECT_NEAR(d.surface(0, 1, i).value / (-l * l), 1, 1e-10);
}

// Two spaces: the heat flow never falls when a conductivity rises (Dirichlet's principle), so neither bound does; and as
// it is concave in all of them, the upper bound's tangent stays above the coefficient of any variant.
TEST(Sensitivities, TangentIsAnUpperBoundForVariants) {
    for (const auto& model : {wall_foot(0.5), iso10211_case2()}) {
        const Solution s = on_start_mesh(model);
        const Sensitivities d(s);
        for (int r = 0; r < d.regions(); ++r) {
            for (const Slope& by : {d.along_x(0, 1, r), d.along_y(0, 1, r)}) EXPECT_GE(std::min(by.lower, by.upper), 0) << r;
            for (const double factor : {0.05, 0.5, 2.0, 30.0}) {
                Model variant = model;
                variant.regions[r].kx *= factor;
                const double tangent = s.coupling(0, 1).upper + d.energy_along_x(0, r).upper * (factor - 1) * s.regions[r].kx;
                SolveOptions options;
                options.tolerance = 1e-3;
                options.two_threads = false;
                EXPECT_LE(solve(variant, options).coupling(0, 1).lower, tangent) << r << " × " << factor;
            }
        }
    }
}

}  // namespace
}  // namespace wallfoot::test
