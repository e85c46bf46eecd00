// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "solver/bracket/solution.hpp"
#include "solver/mesh/mesh.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

bool overlap(const Bracketed& a, const Bracketed& b) { return a.lower <= b.upper && b.lower <= a.upper; }

/// Flat over basement, both against outside: three spaces.
Model three_spaces() {
    return model_of({{0, 0, 300, 2600, 0.4}, {300, 1200, 2000, 1400, 1.2}, {0, -600, 300, 0, 1.5}}, 3, [](double x, double y, int nx, int ny) {
        if (nx < 0 && x == 0) return std::pair{2, 0.04};
        if (nx > 0 && x == 300) return y > 1400 ? std::pair{0, 0.13} : y < 1200 ? std::pair{1, 0.13} : std::pair{-1, 0.0};
        if (ny > 0 && y == 1400) return std::pair{0, 0.17};
        if (ny < 0 && y == 1200) return std::pair{1, 0.10};
        return std::pair{-1, 0.0};
    });
}

TEST(Bracket, UpperFallsAndLowerRisesWithRefinement) {
    double upper = 1e9, lower = -1e9;
    SolveOptions options;
    options.tolerance = 1e-6;
    options.on_step = [&](const Solution& s) {
        EXPECT_LE(s.upper_energy[0], upper * (1 + 1e-12));
        EXPECT_GE(s.lower_energy[0], lower * (1 - 1e-12) - 1e-12);
        upper = s.upper_energy[0];
        lower = s.lower_energy[0];
        EXPECT_NEAR(s.gap[0], upper - lower, 1e-12 * upper) << "difference is the sum of the local terms";
    };
    solve(wall_foot(1.3), options);
}

TEST(Bracket, ThreeSpacesAgreeWithMergedOnes) {
    SolveOptions options;
    options.tolerance = 1e-5;
    const auto s = solve(three_spaces(), options);
    ASSERT_TRUE(s.converged);
    // Spaces 0 and 1 at one temperature against 2: a problem of two spaces of its own.
    auto merged = three_spaces();
    for (auto& l : merged.lines)
        if (l.contact == 1) l.contact = 0;
    const auto two = solve(merged, options).coupling(0, 2);
    const auto a = s.coupling(0, 2), b = s.coupling(1, 2);
    EXPECT_TRUE(overlap({0, a.lower + b.lower, a.upper + b.upper}, two));
    for (const auto& [i, j] : {std::pair{0, 1}, {0, 2}, {1, 2}}) {
        EXPECT_LE(s.coupling(i, j).width(), 1e-5);
        EXPECT_GT(s.coupling(i, j).lower, 0);
    }
    // Flows of all spaces balance, and follow the temperatures from both fields.
    const std::vector<double> theta{20, 12, -3};
    double sum = 0;
    for (int k = 0; k < 3; ++k) {
        const auto flow = s.heat_flow(k, theta);
        sum += flow.value;
        EXPECT_NEAR(s.flow_from_temperature(k, theta), flow.value, 0.5 * flow.width() + 1e-12);
        EXPECT_NEAR(s.flow_from_stream(k, theta), flow.value, 0.5 * flow.width() + 1e-12);
    }
    EXPECT_NEAR(sum, 0, 1e-9);
    // Weighting factors: with all spaces at 1 every temperature is 1.
    for (const auto& t : s.temperatures_for({1, 1, 1}))
        for (double v : t) EXPECT_NEAR(v, 1, 1e-9);
}

// A space inside the construction: the stream function jumps across a cut. Four times a quarter without hole is the same.
TEST(Bracket, SpaceInsideTheConstruction) {
    const auto ring = model_of({{0, 0, 1000, 1000, 1.0}, {400, 400, 600, 600, -1}}, 2, [](double x, double y, int, int) {
        return x > 300 && x < 700 && y > 300 && y < 700 ? std::pair{0, 0.1} : std::pair{1, 0.04};
    });
    const auto quarter = model_of({{0, 0, 1000, 1000, 1.0}, {400, 400, 600, 600, -1}, {500, 0, 1000, 1000, -1}, {0, 500, 500, 1000, -1}}, 2,
                                  [](double x, double y, int, int) {
                                      if ((x == 400 && y > 400) || (y == 400 && x > 400)) return std::pair{0, 0.1};
                                      return x == 0 || y == 0 ? std::pair{1, 0.04} : std::pair{-1, 0.0};
                                  });
    EXPECT_EQ(start_mesh(ring).jumps, 1);
    EXPECT_EQ(start_mesh(quarter).jumps, 0);
    SolveOptions options;
    options.tolerance = 1e-5;
    const auto whole = solve(ring, options);
    EXPECT_TRUE(whole.converged);
    auto part = solve(quarter, options).coupling(0, 1);
    EXPECT_TRUE(overlap(whole.coupling(0, 1), {0, 4 * part.lower, 4 * part.upper}));
}

// All outer edges adiabatic and two holes: their jumps are tied to each other.
TEST(Bracket, TwoSpacesInsideAnAdiabaticFrame) {
    const auto m = model_of({{0, 0, 1600, 800, 0.9}, {300, 300, 500, 500, -1}, {1100, 300, 1300, 500, -1}}, 2, [](double x, double y, int, int) {
        if (y < 250 || y > 550 || x < 250 || x > 1350) return std::pair{-1, 0.0};
        return x < 800 ? std::pair{0, 0.1} : std::pair{1, 0.1};
    });
    SolveOptions options;
    options.tolerance = 1e-5;
    const auto s = solve(m, options);
    EXPECT_TRUE(s.converged);
    // By mirror symmetry the middle plane is an isotherm: half of the body against it has twice the coupling.
    const auto half = model_of({{0, 0, 800, 800, 0.9}, {300, 300, 500, 500, -1}}, 2, [](double x, double y, int, int) {
        if (x == 800) return std::pair{1, 0.0};
        return y > 250 && y < 550 && x > 250 && x < 550 ? std::pair{0, 0.1} : std::pair{-1, 0.0};
    });
    const auto h = solve(half, options).coupling(0, 1);
    EXPECT_TRUE(overlap(s.coupling(0, 1), {0, h.lower / 2, h.upper / 2}));
}

TEST(Bracket, PartsThatDoNotTouch) {
    const auto m = model_of({{0, 0, 100, 1000, 0.5}, {200, 0, 300, 1000, 1.0}, {400, 0, 500, 1000, 2.0}}, 3, [](double x, double, int nx, int) {
        if (nx == 0) return std::pair{-1, 0.0};
        return std::pair{(x == 0 || x == 500) ? 0 : (x == 100 || x == 200) ? 1 : 2, 0.1};
    });
    const auto s = solve(m);
    for (const auto& [i, j, k] : {std::tuple{0, 1, 0.5}, {1, 2, 1.0}, {0, 2, 2.0}}) {
        const double exact = 1 / (0.2 + 0.1 / k);
        EXPECT_NEAR(s.coupling(i, j).lower, exact, 1e-10);
        EXPECT_NEAR(s.coupling(i, j).upper, exact, 1e-10);
    }
}

// Stretching x turns two equal axes into two different ones (change of variables): L(4k, k; width 2w) = 2 L(k; width w),
// with the resistances of vertical surfaces halved.
TEST(Bracket, TwoAxesEqualAStretchedDrawing) {
    const auto shape = [](double fx, double kx, double ky, double r_vertical) {
        return model_of({{0, 0, 300 * fx, 900, kx, ky}, {300 * fx, 300, 900 * fx, 500, 1.7 * kx, 1.7 * ky}}, 2,
                        [=](double x, double y, int nx, int ny) {
                            if (nx < 0 && x == 0) return std::pair{1, r_vertical};
                            if (ny > 0 && y == 500) return std::pair{0, 0.17};
                            if (nx > 0 && x == 300 * fx && y > 500) return std::pair{0, r_vertical};
                            return std::pair{-1, 0.0};
                        });
    };
    SolveOptions options;
    options.tolerance = 1e-5;
    const auto two = solve(shape(2, 2.0, 0.5, 0.05), options).coupling(0, 1);
    const auto one = solve(shape(1, 0.5, 0.5, 0.10), options).coupling(0, 1);
    EXPECT_TRUE(overlap(two, {0, 2 * one.lower, 2 * one.upper}));
}

TEST(Bracket, SameToTheLastBitWithOneThreadAndTwo) {
    SolveOptions one, two;
    one.two_threads = false;
    const auto a = solve(wall_foot(0.5), one), b = solve(wall_foot(0.5), two);
    EXPECT_EQ(a.upper_energy, b.upper_energy);
    EXPECT_EQ(a.lower_energy, b.lower_energy);
    EXPECT_EQ(a.points, b.points);
}

// Random stacks of rectangles with strong contrasts: intervals of a coarse and of a fine mesh and of the mirrored
// section always overlap.
TEST(Bracket, RandomSectionsOverlap) {
    std::mt19937 random(7);
    const auto between = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
    for (int seed = 0; seed < 60; ++seed) {
        std::vector<Rectangle> r{{0, 0, 1000, 1000, 0.5}};
        for (int i = between(2, 9); i > 0; --i) {
            const double x = between(0, 90) * 10, y = between(0, 90) * 10;
            r.push_back({x, y, x + between(1, 40) * 10, y + between(1, 40) * 10, std::pow(10.0, between(-15, 20) / 10.0)});
            r.back().x1 = std::min(r.back().x1, 1000.0), r.back().y1 = std::min(r.back().y1, 1000.0);
        }
        const auto contact = [](double, double, int nx, int) { return nx < 0 ? std::pair{0, 0.13} : nx > 0 ? std::pair{1, 0.04} : std::pair{-1, 0.0}; };
        auto mirrored = r;
        for (auto& q : mirrored) q = {1000 - q.x1, q.y0, 1000 - q.x0, q.y1, q.kx};
        const auto back = [](double, double, int nx, int) { return nx > 0 ? std::pair{0, 0.13} : nx < 0 ? std::pair{1, 0.04} : std::pair{-1, 0.0}; };
        SolveOptions coarse, fine;
        coarse.tolerance = 1e-1;
        fine.tolerance = 1e-3;
        fine.most_triangles = 30000;
        const auto a = solve(model_of(r, 2, contact), coarse).coupling(0, 1), b = solve(model_of(r, 2, contact), fine).coupling(0, 1);
        const auto c = solve(model_of(mirrored, 2, back), fine).coupling(0, 1);
        EXPECT_TRUE(overlap(a, b)) << seed;
        EXPECT_TRUE(overlap(b, c)) << seed;
        EXPECT_LE(b.lower, b.upper);
    }
}

}  // namespace
}  // namespace wallfoot::test
