// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/bracket/solution.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

/// The flow of either field alone is an end of the interval when there are two spaces: up to round-off it lies inside.
void expect_inside(double flow, const Bracketed& interval) {
    EXPECT_GE(flow, interval.lower - 1e-9);
    EXPECT_LE(flow, interval.upper + 1e-9);
}

// ISO 10211:2017 annex C, case 1: half of a square column, top edge 20 °C, other edges 0 °C. Exact series
// (separation of variables); the standard's rounded values from memory are those of the series to one digit.
double case1(double x, double y) {
    double sum = 0;
    for (int n = 1; n < 400; n += 2) {
        const double k = n * std::numbers::pi;
        sum += 80 / k * std::sin(k * x) * std::exp(k * (y - 1)) * (1 - std::exp(-2 * k * y)) / (1 - std::exp(-2 * k));  // sinh ky / sinh k
    }
    return sum;
}

TEST(Iso10211, Case1TwentyEightTemperatures) {
    const auto m = model_of({{0, 0, 500, 1000, 1.0}}, 2, [](double, double, int nx, int ny) {
        if (ny > 0) return std::pair{0, 0.0};
        if (ny < 0 || nx < 0) return std::pair{1, 0.0};
        return std::pair{-1, 0.0};
    });
    SolveOptions options;
    options.tolerance = 1e-4;  // of what lies away from the two touching corners
    const auto s = solve(m, options);
    EXPECT_TRUE(s.touching_fixed);
    for (int row = 1; row <= 7; ++row)
        for (int col = 1; col <= 4; ++col) {
            const double x = col * 125.0, y = 1000 - row * 125.0;
            const auto t = s.temperature_at(x * 1000, y * 1000, {20, 0});
            ASSERT_TRUE(t);
            EXPECT_NEAR(*t, case1(x / 1000, y / 1000), 0.01) << row << " " << col;
        }
    EXPECT_NEAR(*s.temperature_at(500e3, 500e3, {20, 0}), 5.0, 0.001);  // centre of the square, by symmetry
}

// Case 2: nine temperatures (±0.1 K) and the flow 9.5 W/m (±0.1) as published in a general finite-element library's
// public test case for ISO 10211 case 2; geometry from memory.
TEST(Iso10211, Case2TemperaturesFlowAndBracket) {
    const auto s = solve(iso10211_case2());
    const std::vector<double> theta{20, 0};
    struct Row { const char* name; double x, y, published; };
    for (const auto& p : {Row{"A", 0, 47.5, 7.1}, {"B", 500, 47.5, 0.8}, {"C", 0, 41.5, 7.9}, {"D", 15, 41.5, 6.3}, {"E", 500, 41.5, 0.8},
                          {"F", 0, 36.5, 16.4}, {"G", 15, 36.5, 16.3}, {"H", 0, 0, 16.8}, {"I", 500, 0, 18.3}})
        EXPECT_NEAR(*s.temperature_at(p.x * 1000, p.y * 1000, theta), p.published, 0.1) << p.name;
    const auto flow = s.heat_flow(0, theta);
    EXPECT_GT(flow.lower, 9.4);
    EXPECT_LT(flow.upper, 9.6);
    EXPECT_LT(flow.width(), 0.01);
    expect_inside(s.flow_from_temperature(0, theta), flow);
    expect_inside(s.flow_from_stream(0, theta), flow);
}

// A wall foot on ground computed with an independent finite-volume code (rectilinear cells): L2D within 0.5 %.
TEST(WallFoot, AgreesWithAnIndependentCode) {
    for (const auto& [foot, published] : {std::pair{0.15, 1.0452}, {0.50, 1.1078}, {1.30, 1.1859}}) {
        const auto s = solve(wall_foot(foot));
        const auto l = s.coupling(0, 1);
        EXPECT_NEAR(l.value, published, 0.005 * published);
        EXPECT_LE(l.width(), 1e-4);
        expect_inside(s.flow_from_temperature(1, {20, 0}), s.heat_flow(1, {20, 0}));
        expect_inside(s.flow_from_stream(1, {20, 0}), s.heat_flow(1, {20, 0}));
    }
}

}  // namespace
}  // namespace wallfoot::test
