// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geometry/triangulate.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <stdexcept>

namespace wallfoot {
namespace {

using Points = std::vector<Point>;

TEST(Triangulate, SquareWithItsDiagonal) {
    const auto t = triangulate(Points{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{1, 3}});
    ASSERT_EQ(t.triangles.size(), 2u);
    EXPECT_EQ(t.triangles[0], (std::array{0, 1, 3}));
    EXPECT_EQ(t.triangles[1], (std::array{1, 2, 3}));
    EXPECT_EQ(t.neighbours[0], (std::array{1, -1, -1}));
    EXPECT_EQ(t.constrained[0], (std::array{true, false, false}));
    EXPECT_EQ(t.neighbours[1], (std::array{-1, 0, -1}));
    EXPECT_EQ(t.constrained[1], (std::array{false, true, false}));
}

TEST(Triangulate, RefusesWhatTheCallerShouldHaveNoded) {
    const Points square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    EXPECT_THROW(triangulate(square, {{0, 2}, {1, 3}}), std::logic_error);
    Points with_middle = square;
    with_middle.push_back({5, 5});
    EXPECT_THROW(triangulate(with_middle, {{0, 2}}), std::logic_error);
    Points twice = square;
    twice.push_back({10, 10});
    EXPECT_THROW(triangulate(twice, {}), std::logic_error);
    EXPECT_THROW(triangulate(square, {{1, 1}}), std::logic_error);
}

TEST(Triangulate, NothingToTriangulate) {
    EXPECT_TRUE(triangulate(Points{}, {}).triangles.empty());
    EXPECT_TRUE(triangulate(Points{{0, 0}, {5, 0}, {9, 0}}, {{0, 1}}).triangles.empty());
}

TEST(Triangulate, FillsTheHullAndIsDelaunay) {
    // Euler: 2n − 2 − h triangles for n points, h of them on the hull. Many points of a lattice lie on one circle.
    Points points;
    for (int x = 0; x < 15; ++x)
        for (int y = 0; y < 15; ++y) points.push_back({x * 1000, y * 1000});
    std::mt19937 random(3);
    std::shuffle(points.begin(), points.end(), random);
    const auto t = triangulate(points, {});
    EXPECT_EQ(t.triangles.size(), 2u * 225 - 2 - 56);
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < t.triangles.size(); ++i) {
        const auto& c = t.triangles[i];
        const auto area = cross(points[c[0]], points[c[1]], points[c[2]]);
        EXPECT_EQ(area, 1'000'000);  // every empty circle of the lattice holds half a cell
        sum += area;
        for (int k = 0; k < 3; ++k) {
            const int n = t.neighbours[i][k];
            if (n < 0) continue;
            const auto& back = t.neighbours[n];
            EXPECT_NE(std::find(back.begin(), back.end(), static_cast<int>(i)), back.end());
        }
    }
    EXPECT_EQ(sum, 2 * 14'000LL * 14'000);
}

TEST(Triangulate, SameAnswerEveryTime) {
    std::mt19937 random(5);
    std::uniform_int_distribution<Micrometres> place(0, 40);
    Points points;
    for (int i = 0; i < 400; ++i) points.push_back({place(random), place(random)});
    std::sort(points.begin(), points.end());
    points.erase(std::unique(points.begin(), points.end()), points.end());
    const auto t = triangulate(points, {});
    for (int round = 0; round < 5; ++round) {
        const auto again = triangulate(points, {});
        EXPECT_EQ(t.triangles, again.triangles);
        EXPECT_EQ(t.neighbours, again.neighbours);
    }
}

}  // namespace
}  // namespace wallfoot
