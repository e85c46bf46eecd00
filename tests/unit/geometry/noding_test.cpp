// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geometry/noding.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "core/geometry/triangulate.hpp"
#include "core/text/message.hpp"

// Crossings are worked out by hand; the triangulation, which refuses lines that cross or pass through a point, is the
// independent judge of noded drawings.
namespace wallfoot {
namespace {

using Labels = std::vector<int>;

TEST(Noding, CrossingBecomesAVertex) {
    const Noded n = node({{{0, 0}, {10, 10}, 1}, {{0, 10}, {10, 0}, 2}});
    EXPECT_EQ(n.vertices, (std::vector<Point>{{0, 0}, {0, 10}, {5, 5}, {10, 0}, {10, 10}}));
    ASSERT_EQ(n.edges.size(), 4u);
    EXPECT_EQ(n.edges[0].labels, Labels{1});
}

TEST(Noding, CrossingOffTheGridGoesToTheNearestPoint) {
    // y = x/3 meets x = 100 at 33.33…; the vertical line stays where it is.
    const Noded n = node({{{0, 0}, {300, 100}, 1}, {{100, -50}, {100, 50}, 2}});
    EXPECT_EQ(n.vertices[2], (Point{100, 33}));
    EXPECT_EQ(n.edges.size(), 4u);
}

TEST(Noding, PixelsAreHalfOpen) {
    // y = x/2 passes (1, ½): the pixel of (1, 1) reaches down to it, that of (1, 0) ends below it.
    const Noded up = node({{{0, 0}, {2, 1}, 1}}, {{1, 1}});
    EXPECT_EQ(up.edges.size(), 2u);
    const Noded down = node({{{0, 1}, {2, 0}, 1}}, {{1, 0}});
    EXPECT_EQ(down.edges.size(), 2u);  // through the pixel's inside before x = 1.5
    EXPECT_EQ(node({{{0, 0}, {4, 4}, 1}}, {{1, 2}, {3, 2}}).edges.size(), 1u);  // only touches pixel corners
}

TEST(Noding, ParityOfOverlappingLines) {
    const Noded n = node({{{0, 0}, {10, 0}, 1}, {{8, 0}, {2, 0}, 1}, {{2, 0}, {10, 0}, 2}});
    ASSERT_EQ(n.edges.size(), 3u);
    EXPECT_EQ(n.edges[0].labels, Labels{1});
    EXPECT_EQ(n.edges[1].labels, Labels{2});
    EXPECT_EQ(n.edges[1].all, (Labels{1, 2}));
    EXPECT_EQ(n.edges[2].labels, (Labels{1, 2}));
}

TEST(Noding, TooManyVerticesIsAFaultWithItsPlace) {
    std::vector<LabelledSegment> grid;
    for (int i = 1; i <= 20; ++i) {
        grid.push_back({{0, i}, {21, i}, 0});
        grid.push_back({{i, 0}, {i, 21}, 0});
    }
    EXPECT_EQ(node(grid).vertices.size(), 480u);  // 400 crossings and 80 ends
    try {
        node(grid, {}, 479);
        FAIL();
    } catch (const InputFault& fault) {
        EXPECT_EQ(fault.faults()[0].code, "drawing-too-complex");
        EXPECT_TRUE(fault.faults()[0].at.has_value());
    }
}

std::vector<LabelledSegment> random_lines(std::mt19937& random, int count, Micrometres size) {
    std::uniform_int_distribution<Micrometres> place(-size, size);
    std::vector<LabelledSegment> lines;
    for (int i = 0; i < count; ++i) lines.push_back({{place(random), place(random)}, {place(random), place(random)}, i});
    return lines;
}

std::vector<std::array<int, 2>> constraints(const Noded& n) {
    std::vector<std::array<int, 2>> out;
    for (const NodedEdge& e : n.edges) out.push_back({e.from, e.to});
    return out;
}

TEST(Noding, RandomLinesMeetOnlyAtVerticesAndStayPut) {
    std::mt19937 random(7);
    for (int round = 0; round < 120; ++round) {
        const Micrometres size = round % 3 == 0 ? 12 : (round % 3 == 1 ? 200 : coordinate_limit);
        const auto lines = random_lines(random, 30, size);
        const Noded n = node(lines);
        ASSERT_NO_THROW(triangulate(n.vertices, constraints(n))) << round;
        std::vector<LabelledSegment> again;
        for (const NodedEdge& e : n.edges) again.push_back({n.vertices[e.from], n.vertices[e.to], 0});
        const Noded same = node(again);  // stable: noding what is noded changes nothing
        ASSERT_EQ(same.vertices, n.vertices) << round;
        ASSERT_EQ(same.edges.size(), n.edges.size()) << round;
    }
}

TEST(Noding, DoesNotDependOnTheOrderOrDirectionOfLines) {
    std::mt19937 random(11);
    for (int round = 0; round < 30; ++round) {
        auto lines = random_lines(random, 20, 300);
        const Noded n = node(lines);
        std::shuffle(lines.begin(), lines.end(), random);
        for (auto& line : lines)
            if (random() % 2) std::swap(line.a, line.b);
        const Noded m = node(lines);
        ASSERT_EQ(n.vertices, m.vertices);
        ASSERT_EQ(n.edges.size(), m.edges.size());
        for (std::size_t i = 0; i < n.edges.size(); ++i) {
            ASSERT_EQ(n.edges[i].labels, m.edges[i].labels);
            ASSERT_EQ(n.edges[i].all, m.edges[i].all);
        }
    }
}

}  // namespace
}  // namespace wallfoot
