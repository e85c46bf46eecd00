// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "tests/unit/solver/oracles.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

/// Three spaces, a hole with a net flow, two axes.
Model flat_with_shaft() {
    return model_of({{0, 0, 1200, 900, 0.9}, {100, 0, 160, 900, 0.035}, {160, 300, 1200, 500, 2.3, 1.1}, {600, 550, 900, 800, -1}}, 3,
                    [](double x, double y, int nx, int ny) -> std::pair<int, double> {
                        if (x >= 600 && x <= 900 && y >= 550 && y <= 800) return {2, nx != 0 ? 0.13 : 0.17};
                        if (nx < 0) return {0, 0.04};
                        if (nx > 0) return {1, 0.13};
                        return ny > 0 && x > 400 ? std::pair{1, 0.10} : std::pair{-1, 0.0};
                    });
}

/// A square corner between two fixed temperatures.
Model isothermal_corner() {
    return model_of({{0, 0, 900, 900, 0.7}, {300, 300, 900, 900, -1}}, 2, [](double x, double y, int nx, int ny) {
        if ((nx > 0 && x == 300) || (ny > 0 && y == 300)) return std::pair{0, 0.0};
        return (nx < 0 && x == 0) || (ny < 0 && y == 0) ? std::pair{1, 0.0} : std::pair{-1, 0.0};
    });
}

class SecondOpinion : public testing::TestWithParam<Model (*)()> {};

Model foot() { return wall_foot(0.5); }

// On every mesh of a solve: the relations of one solution (see oracles.hpp), and bounds that only close in, as the spaces
// of every mesh contain those of the one before.
TEST_P(SecondOpinion, BoundsCloseInAndAreThoseOfOtherMethods) {
    Form upper, lower, linear;
    int meshes = 0;
    SolveOptions options;
    options.tolerance = 1e-5;
    options.two_threads = false;
    options.linear_share = 0;  // only the best fields are nested
    options.on_step = [&](const Solution& s) {
        EXPECT_STREQ(broken_relation(s), "") << meshes;
        const Form next_upper = form_of(s.upper_energy, s.contacts), next_lower = form_of(s.lower_energy, s.contacts);
        const Form next_linear = crouzeix_raviart(s);
        if (meshes++ > 0) {
            EXPECT_TRUE(at_most(next_upper, upper)) << meshes;
            EXPECT_TRUE(at_most(lower, next_lower)) << meshes;
            EXPECT_TRUE(at_most(linear, next_linear, linear_round_off)) << meshes;
        }
        upper = next_upper, lower = next_lower, linear = next_linear;
    };
    const auto s = solve(GetParam()(), options);
    EXPECT_TRUE(s.converged);
    EXPECT_GT(meshes, 2);
    // Linear elements come near too, so a bound that is merely low does not pass.
    EXPECT_LT((upper - linear).cwiseAbs().maxCoeff(), 0.02 * upper.cwiseAbs().maxCoeff());
}

const char* name_of(const testing::TestParamInfo<Model (*)()>& info) {
    constexpr const char* names[] = {"foot", "case2", "flat_with_shaft", "isothermal_corner"};
    return names[info.index];
}

INSTANTIATE_TEST_SUITE_P(On, SecondOpinion, testing::Values(foot, iso10211_case2, flat_with_shaft, isothermal_corner), name_of);

// No heat passes through a point: two plane pieces of wall that share a corner only are worth their sum, at once and exactly
// (U = 1/ΣR, ISO 6946:2017, 6.7.1.1); with one space on each piece they are worth nothing.
TEST(TouchingAtAPoint, ConductsNothing) {
    for (const bool in_series : {false, true}) {
        const auto m = model_of({{0, 0, 500, 500, 0.5}, {500, 500, 1000, 1000, 2.0}}, 2, [=](double x, double, int nx, int) -> std::pair<int, double> {
            if (nx == 0 || (in_series && x == 500)) return {-1, 0};
            return nx < 0 ? std::pair{0, 0.13} : std::pair{1, 0.04};
        });
        SolveOptions options;
        options.tolerance = 1e30;
        const auto l = solve(m, options).coupling(0, 1);
        EXPECT_NEAR(l.value, in_series ? 0 : 0.5 / (0.17 + 0.5 / 0.5) + 0.5 / (0.17 + 0.5 / 2.0), 1e-9);
        EXPECT_LT(l.width(), 1e-9);
    }
}

// A block of thin layers against one with two axes, along the layers (k1 + k2)/2, across 2/(1/k1 + 1/k2) (resistances in
// parallel and in series): the thinner the layers, the closer.
TEST(TwoAxes, ThinLayersTendToTheirMeanConductivities) {
    constexpr double k1 = 0.2, k2 = 3.0;
    const auto junction = [](std::vector<Rectangle> block) {
        std::vector<Rectangle> all{{0, 0, 900, 800, 0.6}, {0, 400, 300, 800, 0.04}};
        all.insert(all.end(), block.begin(), block.end());
        return model_of(all, 2, [](double x, double y, int nx, int ny) -> std::pair<int, double> {
            if (nx < 0 && x == 0) return {0, 0.04};
            return (ny > 0 && x > 500) || (nx > 0 && y > 600) ? std::pair{1, 0.13} : std::pair{-1, 0.0};
        });
    };
    SolveOptions options;
    options.tolerance = 1e-5;
    options.two_threads = false;
    const double mean = solve(junction({{200, 100, 600, 420, (k1 + k2) / 2, 2 / (1 / k1 + 1 / k2)}}), options).coupling(0, 1).value;
    const double swapped = solve(junction({{200, 100, 600, 420, 2 / (1 / k1 + 1 / k2), (k1 + k2) / 2}}), options).coupling(0, 1).value;
    std::vector<double> off;
    for (const int pairs : {2, 4, 8, 16, 32}) {
        std::vector<Rectangle> block;
        const double d = 320.0 / (2 * pairs);
        for (int i = 0; i < 2 * pairs; ++i) block.push_back({200, 100 + i * d, 600, 100 + (i + 1) * d, i % 2 ? k1 : k2});
        off.push_back(std::abs(solve(junction(block), options).coupling(0, 1).value - mean));
    }
    for (std::size_t i = 1; i < off.size(); ++i) EXPECT_LT(off[i], 0.7 * off[i - 1]) << i;
    EXPECT_LT(off.back(), 0.02 * std::abs(swapped - mean));
}

}  // namespace
}  // namespace wallfoot::test
