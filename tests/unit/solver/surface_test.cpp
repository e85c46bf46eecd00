// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>

#include "solver/bracket/solution.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

SolveOptions for_surface(double tolerance, double surface_tolerance) {
    SolveOptions o;
    o.tolerance = tolerance;
    o.surface_contact = 0;
    o.temperatures = {20, 0};
    o.surface_tolerance = surface_tolerance;
    return o;
}

// A plane wall has one surface temperature, f = 1 − U·R_si exactly (ISO 10211:2017, two spaces; derived).
TEST(Surface, PlaneWallIsExact) {
    const auto m = model_of({{0, 0, 100, 1000, 0.5}, {100, 0, 200, 1000, 0.032}, {200, 0, 300, 1000, 0.77}}, 2, [](double, double, int nx, int) {
        return nx < 0 ? std::pair{0, 0.13} : nx > 0 ? std::pair{1, 0.04} : std::pair{-1, 0.0};
    });
    const auto s = solve(m, for_surface(1e-4, 5e-4));
    const double exact = 20 * (1 - 0.13 / (0.17 + 0.1 / 0.5 + 0.1 / 0.032 + 0.1 / 0.77));
    ASSERT_TRUE(s.surface_mean);
    EXPECT_LE(s.surface_mean->temperature.lower, exact);
    EXPECT_GE(s.surface_mean->temperature.upper, exact);
    EXPECT_NEAR(surface_minimum(s, 0, {20, 0})->temperature, exact, 1e-9);
}

// Intervals of the mean over the same piece, on ever finer meshes, overlap; the estimate of the point value covers the
// change to a much finer solution; the coupling is untouched by the extra piece.
TEST(Surface, MeanIsBracketedAndThePointEstimateHonest) {
    for (const double foot : {0.15, 0.5, 1.3}) {
        const auto fine = solve(wall_foot(foot), for_surface(1e-5, 2e-5));
        const auto finest = surface_minimum(fine, 0, {20, 0});
        for (const double tolerance : {1e-3, 1e-4}) {
            const auto s = solve(wall_foot(foot), for_surface(tolerance, 1e-3));
            ASSERT_TRUE(s.converged);
            ASSERT_TRUE(s.surface_mean);
            EXPECT_LE(s.surface_mean->temperature.width(), 2 * 1e-3 * 20);
            EXPECT_LE(s.surface_mean->length_mm, 2.0);
            const auto minimum = surface_minimum(s, 0, {20, 0});
            EXPECT_LE(std::abs(minimum->temperature - finest->temperature), minimum->estimate + finest->estimate);
            EXPECT_GE(s.surface_mean->temperature.upper, finest->temperature - finest->estimate);
            EXPECT_GE(s.coupling(0, 1).upper, fine.coupling(0, 1).lower);
            EXPECT_LE(s.coupling(0, 1).lower, fine.coupling(0, 1).upper);
            double sum = 0;  // constants stay in the space after the piece was merged back
            for (const auto& t : s.temperatures_for({1, 1}))
                for (double v : t) sum = std::max(sum, std::abs(v - 1));
            EXPECT_LT(sum, 1e-9);
        }
    }
}

// An independent finite-volume code reads 0.728 at 1.25 mm cells (limit about 0.727) beside the floor corner.
TEST(Surface, WallFootAgreesWithAnIndependentCode) {
    const auto s = solve(wall_foot(1.3), for_surface(1e-4, 5e-4));
    EXPECT_NEAR(surface_minimum(s, 0, {20, 0})->temperature / 20, 0.728, 0.006);
    const auto check = solve(wall_foot(1.3, 0.25, 0.25), for_surface(1e-4, 5e-4));
    EXPECT_NEAR(surface_minimum(check, 0, {20, 0})->temperature / 20, 0.654, 0.006);
}

}  // namespace
}  // namespace wallfoot::test
