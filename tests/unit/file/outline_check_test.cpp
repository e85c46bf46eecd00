// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geometry/outline_check.hpp"

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <gtest/gtest.h>
#include <random>

namespace wallfoot {
namespace {

namespace bg = boost::geometry;
using OraclePolygon = bg::model::polygon<bg::model::d2::point_xy<double>>;

OraclePolygon oracle(const Outline& outline) {
    OraclePolygon polygon;
    for (const Point p : outline) bg::append(polygon, bg::model::d2::point_xy<double>(double(p.x), double(p.y)));
    bg::correct(polygon);
    return polygon;
}

std::string kind_of(const Outline& outline) {
    const auto fault = check_outline(outline);
    return fault ? fault->kind : "";
}

TEST(OutlineCheck, names_each_fault_with_its_place) {
    EXPECT_EQ(kind_of({{0, 0}, {10, 0}, {10, 10}, {0, 10}}), "");
    EXPECT_EQ(kind_of({{0, 0}, {5, 0}, {10, 0}, {10, 10}}), "") << "a corner that runs straight through is no fault";
    EXPECT_EQ(kind_of({}), "outline-too-few");
    EXPECT_EQ(kind_of({{0, 0}, {10, 0}}), "outline-too-few");
    EXPECT_EQ(kind_of({{0, 0}, {10, 0}, {10, 10}, {0, 0}}), "outline-repeated-point");
    EXPECT_EQ(kind_of({{0, 0}, {10, 0}, {5, 0}}), "outline-empty");
    EXPECT_EQ(kind_of({{0, 0}, {10, 0}, {10, 10}, {10, 5}, {0, 5}}), "outline-spike");
    EXPECT_EQ(kind_of({{0, 0}, {10, 10}, {10, 0}, {0, 10}}), "outline-crossing");
    EXPECT_EQ(kind_of({{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}}), "outline-crossing") << "a corner on an edge";
    EXPECT_EQ(kind_of({{0, 0}, {coordinate_limit + 1, 0}, {10, 10}}), "coordinate-too-large");
    EXPECT_EQ(kind_of({{-coordinate_limit, -coordinate_limit}, {coordinate_limit, -coordinate_limit}, {0, coordinate_limit}}), "");
    EXPECT_EQ(check_outline({{0, 0}, {10, 0}, {10, 10}, {10, 5}, {0, 5}})->at, (Point{10, 10}));
    EXPECT_EQ(check_outline({{0, 0}, {10, 10}, {10, 0}, {0, 10}})->at, (Point{5, 5}));
}

TEST(OutlineCheck, holes_may_touch_but_not_leave) {
    const Outline step{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 30}, {0, 30}};
    const auto kind = [&](const Outline& hole) {
        const auto fault = check_hole(step, hole);
        return fault ? fault->kind : std::string{};
    };
    EXPECT_EQ(kind({{1, 1}, {5, 1}, {5, 5}}), "");
    EXPECT_EQ(kind({{0, 0}, {5, 0}, {0, 5}}), "") << "along the outline";
    EXPECT_EQ(kind({{5, 5}, {10, 10}, {5, 20}}), "") << "touching the inner corner";
    EXPECT_EQ(kind({{30, 10}, {0, 30}, {0, 0}}), "hole-outside") << "corners on the outline, edge outside it";
    EXPECT_EQ(kind({{1, 1}, {40, 1}, {5, 5}}), "hole-outside");
    EXPECT_EQ(kind({{20, 20}, {25, 20}, {20, 25}}), "hole-outside");
    EXPECT_EQ(kind({{1, 1}, {5, 1}}), "outline-too-few");
    EXPECT_EQ(kind(step), "outline-empty");
}

TEST(OutlineCheck, holes_of_one_piece_lie_apart_or_touch_in_points) {
    const Outline square{{10, 10}, {20, 10}, {20, 20}, {10, 20}};
    const auto with = [&](const Outline& other) {
        std::string said;
        for (const auto& holes : {std::vector<Outline>{square, other}, std::vector<Outline>{other, square}}) {
            const auto fault = check_holes_apart(holes);
            EXPECT_EQ(fault ? fault->first : 1, 1u);
            const std::string kind = fault ? fault->second.kind : "apart";
            EXPECT_EQ(said.empty() ? kind : said, kind) << "whichever comes first";
            said = kind;
        }
        return said;
    };
    EXPECT_EQ(with({{30, 10}, {40, 10}, {40, 20}}), "apart");
    EXPECT_EQ(with({{20, 20}, {30, 20}, {30, 30}}), "apart") << "corner to corner";
    EXPECT_EQ(with({{20, 15}, {30, 10}, {30, 20}}), "apart") << "a corner on an edge";
    EXPECT_EQ(with({{5, 5}, {40, 5}, {40, 40}, {35, 40}, {35, 8}, {5, 8}}), "apart") << "around two of its sides";
    EXPECT_EQ(with({{20, 12}, {30, 12}, {30, 18}, {20, 18}}), "holes-meet") << "edge to edge";
    EXPECT_EQ(with({{15, 15}, {30, 15}, {30, 30}, {15, 30}}), "holes-meet") << "overlapping";
    EXPECT_EQ(with({{12, 12}, {18, 12}, {18, 18}}), "holes-meet") << "one within the other";
    EXPECT_EQ(with(square), "holes-meet") << "the same twice";
    EXPECT_EQ(with({{10, 10}, {20, 20}, {0, 20}, {0, 10}}), "holes-meet") << "through corners only";
    EXPECT_FALSE(check_holes_apart({}).has_value());
}

// Checked against Boost.Geometry, an independent library, on small grids where every degenerate case comes often.
TEST(OutlineCheck, agrees_with_an_independent_library) {
    std::mt19937 random(20);
    const auto draw = [&](int corners, int size) {
        Outline outline;
        std::uniform_int_distribution<int> coordinate(0, size);
        for (int i = 0; i < corners; ++i) outline.push_back({coordinate(random), coordinate(random)});
        return outline;
    };
    int good = 0, bad = 0, held = 0, left = 0;
    for (int i = 0; i < 120'000; ++i) {
        const Outline outline = draw(3 + i % 5, 3 + i % 4);
        const bool sound = !check_outline(outline);
        // The library lets a corner stand twice in a row.
        if (kind_of(outline) != "outline-repeated-point") {
            bg::validity_failure_type why;
            ASSERT_EQ(sound, bg::is_valid(oracle(outline), why)) << kind_of(outline) << " " << int(why) << bg::wkt(oracle(outline));
        }
        (sound ? good : bad)++;
        if (!sound) continue;
        EXPECT_EQ(std::abs(double(area2(outline))), 2 * bg::area(oracle(outline)));
        const Outline hole = draw(3 + i % 2, 3 + i % 4);
        if (check_outline(hole)) continue;
        const bool inside = bg::covered_by(oracle(hole), oracle(outline));
        const auto fault = check_hole(outline, hole);
        const bool whole = inside && bg::area(oracle(hole)) == bg::area(oracle(outline));
        ASSERT_EQ(!fault, inside && !whole) << bg::wkt(oracle(outline)) << bg::wkt(oracle(hole));
        (inside ? held : left)++;
    }
    EXPECT_GT(good, 1000);
    EXPECT_GT(bad, 1000);
    EXPECT_GT(held, 200);
    EXPECT_GT(left, 200);
}

}  // namespace
}  // namespace wallfoot
