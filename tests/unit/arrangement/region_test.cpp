// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "core/arrangement/region.hpp"
#include "core/geometry/outline_check.hpp"
#include "core/arrangement/way.hpp"
#include "tests/unit/arrangement/sections.hpp"

using namespace wallfoot;
using namespace wallfoot::testing;

namespace {

/// A frame of four bars around an open middle, 300 × 200, with an island in it.
Section frame_with_island() {
    Section s = section(-500, -500, 800, 700);
    s.pieces = {solid("below", box(-100, -100, 400, 0)), solid("above", box(-100, 200, 400, 300)), solid("left", box(-100, 0, 0, 200)),
                solid("right", box(300, 0, 400, 200)), solid("island", box(100, 50, 150, 100))};
    s.spaces = {space("out", SpaceKind::outside, {mm(600, 600)})};
    return s;
}

std::string refusal(const Section& s, Point at) {
    try {
        open_region(study(), s, at);
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
    return "";
}

/// Same ring, wherever it begins.
bool same_ring(Outline a, Outline b) {
    std::rotate(a.begin(), std::min_element(a.begin(), a.end()), a.end());
    std::rotate(b.begin(), std::min_element(b.begin(), b.end()), b.end());
    return a == b;
}

}  // namespace

TEST(OpenRegion, has_the_outline_of_the_air_and_a_hole_for_what_stands_in_it) {
    const Piece piece = open_region(study(), frame_with_island(), mm(20, 20));
    EXPECT_TRUE(same_ring(piece.outline, box(0, 0, 300, 200)));
    ASSERT_EQ(piece.holes.size(), 1u);
    EXPECT_TRUE(same_ring(piece.holes[0], box(100, 50, 150, 100)));
}

TEST(OpenRegion, an_island_that_touches_the_border_at_a_point_stays_a_hole) {
    Section s = frame_with_island();
    s.pieces[4].outline = {mm(0, 100), mm(100, 50), mm(100, 150)};
    const Piece piece = open_region(study(), s, mm(250, 20));
    ASSERT_EQ(piece.holes.size(), 1u);
    EXPECT_FALSE(check_outline(piece.outline));
    EXPECT_FALSE(check_hole(piece.outline, piece.holes[0]));
    EXPECT_EQ(area2(piece.outline) - area2(piece.holes[0]), 2 * (Area2{300'000} * 200'000 - Area2{100'000} * 100'000 / 2));
}

TEST(OpenRegion, ends_at_the_cut_though_the_section_carries_on) {
    Section s = section(-500, -500, 500, 500);
    s.beyond[CutSide::left] = s.beyond[CutSide::top] = {false, from_mm(4000)};
    s.pieces = {solid("below", box(-500, -500, 500, 0)), solid("leaf", box(0, 0, 100, 500)), solid("outer", box(200, 0, 300, 500))};
    s.membranes.push_back({"tray", MembraneKind::tray, {mm(100, 200), mm(200, 150)}, {}, {}});
    const Piece piece = open_region(study(), s, mm(150, 400));
    EXPECT_TRUE(same_ring(piece.outline, Outline{mm(100, 0), mm(200, 0), mm(200, 150), mm(200, 500), mm(100, 500), mm(100, 200)})) << "the tray divides no air";
    EXPECT_TRUE(piece.holes.empty());
}

TEST(OpenRegion, is_refused_where_there_is_none_to_fill) {
    const Section s = frame_with_island();
    EXPECT_EQ(refusal(s, mm(120, 70)), "region-not-open");
    EXPECT_EQ(refusal(s, mm(600, 0)), "region-has-mark");
    EXPECT_EQ(refusal(s, mm(900, 0)), "region-outside-cut");
    EXPECT_EQ(refusal(s, mm(20, 20)), "");
}

TEST(WayAlongEdges, follows_the_one_short_way_and_no_other) {
    // Slab under insulation against a leaf, an outer leaf across a cavity.
    Section s = section(-1500, -500, 500, 1000);
    s.pieces = {solid("insulation", box(-1500, -250, 0, -150)), solid("slab", box(-1500, -150, 0, 0)), solid("leaf", box(0, -500, 100, 1000)),
                solid("outer", box(200, -500, 300, 1000))};
    const Arrangement arrangement = arrange(study(), s);
    const auto way = [&](Point from, Point to) { return way_along_edges(arrangement, from, to); };
    EXPECT_EQ(way(mm(-1500, -250), mm(0, 0)), (Path{mm(0, -250)})) << "below the insulation, then up the leaf: the ends at the cut are no edges";
    EXPECT_EQ(way(mm(0, 0), mm(-1500, -250)), (Path{mm(0, -250)}));
    EXPECT_EQ(way(mm(-700, -150), mm(0, -60)), (Path{mm(0, -150)})) << "ends within edges";
    EXPECT_EQ(way(mm(-700, -250), mm(-200, -250)), Path{}) << "straight along one edge";
    EXPECT_EQ(way(mm(100, 150), mm(200, 75)), Path{}) << "across the cavity no edge leads";
    EXPECT_EQ(way(mm(-700, -200), mm(0, 0)), Path{}) << "within a piece";
    EXPECT_EQ(way(mm(0, 0), mm(0, 0)), Path{});
}

TEST(WayAlongEdges, of_two_equally_short_ways_none_is_chosen) {
    Section s = section(-500, -500, 500, 500);
    s.pieces = {solid("block", box(0, 0, 200, 100))};
    const Arrangement arrangement = arrange(study(), s);
    EXPECT_EQ(way_along_edges(arrangement, mm(0, 0), mm(200, 100)), Path{});
    EXPECT_EQ(way_along_edges(arrangement, mm(0, 0), mm(200, 60)), (Path{mm(200, 0)}));
    EXPECT_EQ(way_along_edges(arrangement, mm(0, 20), mm(200, 20)), Path{}) << "through the block, not down, along and up again";
}
