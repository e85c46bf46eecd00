// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/water/water_way.hpp"

#include <random>

#include "tests/unit/water/drafts.hpp"

// Sections worked out by hand; what blocks and what draws water: common practice, no source.

namespace wallfoot {
namespace {

using namespace water_drafts;
using enum WaterState;
using Ids = std::vector<std::string>;

TEST(WaterWay, climbs_from_the_soil_through_block_after_block) {
    const Draft d = wall("bare wall");
    EXPECT_EQ(state(d, "foot"), reached);
    EXPECT_EQ(state(d, "upper"), reached);
    EXPECT_EQ(way_to(d, "upper"), (Ids{"soil", "foot", "upper"}));
    const Solved s = solve(d);
    const auto path = *s.way.parts[of(d, s.way, "upper").part].path;
    EXPECT_GE(path.length, from_mm(100)) << "the foot is 100 mm high";
    EXPECT_EQ(path.line.front().y, from_mm(-100));
    EXPECT_EQ(path.line.back().y, 0);
}

TEST(WaterWay, a_damp_course_over_the_whole_width_stops_it) {
    const Draft d = wall("dpc").membrane("dpc", {{0, 0}, {100, 0}});
    EXPECT_EQ(state(d, "foot"), reached);
    EXPECT_EQ(state(d, "upper"), no_path);
    EXPECT_EQ(relied(d, "upper"), Ids{"dpc"});
    EXPECT_EQ(state(wall("too long").membrane("dpc", {{-20, 0}, {130, 0}}), "upper"), no_path);
}

TEST(WaterWay, a_damp_course_short_by_a_micrometre_at_either_end_opens_the_path) {
    EXPECT_EQ(state(wall("short right").membrane("dpc", {{0, 0}, {99.999, 0}}), "upper"), reached);
    EXPECT_EQ(state(wall("short left").membrane("dpc", {{0.001, 0}, {100, 0}}), "upper"), reached);
    // The same in the middle of a block, where no joint is drawn.
    EXPECT_NEAR(of(wall("across").membrane("dpc", {{0, 50}, {100, 50}}), "upper").reached_share, 0.05, 1e-12);
    EXPECT_EQ(of(wall("not across").membrane("dpc", {{0, 50}, {99.999, 50}}), "upper").reached_share, 1);
}

TEST(WaterWay, a_lap_counts_when_it_is_sealed) {
    const auto two = [](std::optional<bool> first, std::optional<bool> second) {
        return wall("lap").membrane("a", {{0, 0}, {60, 0}}, MembraneKind::dpc, first).membrane("b", {{40, 0}, {100, 0}}, MembraneKind::dpc, second);
    };
    const PieceWater upper = of(two({}, {}), "upper");
    EXPECT_EQ(upper.state, lap_not_proven);
    ASSERT_EQ(upper.laps.size(), 1u);
    EXPECT_DOUBLE_EQ(upper.laps[0].length, from_mm(20));
    EXPECT_EQ(state(two(true, {}), "upper"), no_path);
    EXPECT_EQ(state(two({}, true), "upper"), no_path);
    EXPECT_EQ(state(two(true, false), "upper"), lap_not_proven);
    EXPECT_EQ(state(two(false, {}), "upper"), lap_not_proven);
}

TEST(WaterWay, membranes_that_only_touch_are_no_proven_lap_and_a_gap_is_a_path) {
    const Draft touch = wall("butt").membrane("a", {{0, 0}, {50, 0}}).membrane("b", {{50, 0}, {100, 0}});
    EXPECT_EQ(state(touch, "upper"), lap_not_proven);
    EXPECT_EQ(of(touch, "upper").laps.at(0).length, 0);
    EXPECT_EQ(state(wall("gap").membrane("a", {{0, 0}, {50, 0}}).membrane("b", {{50.001, 0}, {100, 0}}), "upper"), reached);
}

TEST(WaterWay, a_second_membrane_that_carries_nothing_alone_is_no_lap_relied_on) {
    const Draft d = wall("doubled").membrane("whole", {{0, 0}, {100, 0}}).membrane("patch", {{20, 0}, {100, 0}});
    EXPECT_EQ(state(d, "upper"), no_path);
    EXPECT_TRUE(of(d, "upper").laps.empty());
}

TEST(WaterWay, a_lap_round_a_corner_is_found_along_edges_that_carry_both) {
    const Draft d = slab("floor and wall").membrane("dpm", {{-500, -100}, {0, -100}, {0, -40}}).membrane("dpc", {{0, -100}, {100, -100}});
    EXPECT_EQ(state(d, "foot"), lap_not_proven) << "they meet at (0, -100) only";
    const Draft lapped = slab("lapped").membrane("dpm", {{-500, -100}, {0, -100}, {60, -100}}).membrane("dpc", {{0, -100}, {100, -100}});
    EXPECT_DOUBLE_EQ(of(lapped, "foot").laps.at(0).length, from_mm(60));
}

TEST(WaterWay, what_draws_no_water_is_a_break) {
    Draft d = wall("foam foot");
    d.section.pieces[1].filled_with = "foam";
    EXPECT_EQ(state(d, "upper"), no_path);
    EXPECT_TRUE(relied(d, "upper").empty());
    d.material("foam").capillary = true;
    EXPECT_EQ(state(d, "upper"), reached);
    Draft stated = wall("loose fill");
    stated.section.pieces[1].filled_with = "hardcore";
    EXPECT_EQ(state(stated, "upper"), reached) << "fines lift water";
    stated.material("hardcore").capillary = false;
    EXPECT_EQ(state(stated, "upper"), no_path);
}

TEST(WaterWay, blocks_that_touch_in_a_point_pass_nothing) {
    Draft d("point");
    d.piece("soil", "soil", -500, -500, 500, -100).piece("a", "block", 0, -100, 100, 0).piece("b", "block", 100, 0, 200, 100)
        .space("out", SpaceKind::outside, 250, 500);
    EXPECT_EQ(state(d, "a"), reached);
    EXPECT_EQ(state(d, "b"), no_path);
}

TEST(WaterWay, no_source_no_path) {
    const Draft d = wall("dry site").water(false, false, false);
    for (const char* id : {"soil", "foot", "upper"}) EXPECT_EQ(state(d, id), no_path) << id;
    Draft silent = wall("nothing stated");
    silent.section.water.reset();
    EXPECT_EQ(state(silent, "foot"), reached) << "what is not stated counts as there";
}

TEST(WaterWay, rain_wets_what_faces_the_open_above_ground) {
    const Draft d = wall("rain").water(false, true, false);
    EXPECT_EQ(source(d, "upper"), WaterFrom::rain);
    EXPECT_EQ(source(d, "foot"), WaterFrom::rain);
    EXPECT_EQ(state(d, "soil"), reached) << "it runs down into it";
    Draft high = wall("ground at the top");
    high.water(false, true, false).section.ground.both = from_mm(1000);
    EXPECT_EQ(state(high, "upper"), no_path);
    Draft indoors = wall("indoors").water(false, true, false);
    indoors.section.spaces[1].kind = SpaceKind::unheated;
    EXPECT_EQ(state(indoors, "upper"), no_path);
    const Draft covered = wall("covered").water(false, true, false).membrane("cover", {{100, -100}, {100, 1000}}, MembraneKind::tanking);
    EXPECT_EQ(state(covered, "upper"), no_path);
    EXPECT_EQ(relied(covered, "upper"), Ids{"cover"});
}

TEST(WaterWay, rain_does_not_cross_a_cavity_nor_blow_into_one) {
    const Draft d = cavity_wall("rain on the outer leaf", -150).water(false, true, false).membrane("dpc", {{0, -100}, {100, -100}});
    EXPECT_EQ(source(d, "outer"), WaterFrom::rain);
    EXPECT_EQ(state(d, "upper"), no_path);
    Draft vented = cavity_wall("cavity open to the outside", -150).water(false, true, false).membrane("dpc", {{0, -100}, {100, -100}});
    vented.section.pieces[1] = testing::filled("cavity", Fill::space, box(100, -200, 200, 1000), "out");
    EXPECT_EQ(state(vented, "upper"), no_path) << "the outer leaf stands before it";
    EXPECT_EQ(source(vented, "outer"), WaterFrom::rain);
    Draft alone = wall("an inner leaf without its outer leaf").water(false, true, false);
    EXPECT_EQ(state(alone, "upper"), reached);
}

TEST(WaterWay, rain_does_not_fall_upward) {
    Draft d("soffit");
    d.water(false, true, false).piece("hung", "block", 0, 200, 100, 300).piece("left", "foam", -100, 200, 0, 400)
        .piece("right", "foam", 100, 200, 200, 400).piece("top", "foam", 0, 300, 100, 400).space("out", SpaceKind::outside, 0, 900);
    EXPECT_EQ(state(d, "hung"), no_path);
    d.section.pieces.pop_back();
    EXPECT_EQ(source(d, "hung"), WaterFrom::rain);
}

TEST(WaterWay, a_wide_gap_is_no_cavity) {
    const auto gap = [](double width, const std::string& between) {
        Draft d("gap of " + std::to_string(width));
        d.water(false, false, true).piece("floor", "concrete", 0, 0, width, 100).piece("between", between, 0, 100, width, 900)
            .piece("left", "block", -100, 0, 0, 900).piece("right", "block", width, 0, width + 100, 900).space("out", SpaceKind::outside, -250, 900);
        d.section.cut.right = from_mm(2000);
        return d;
    };
    EXPECT_EQ(source(gap(500, "foam"), "floor"), WaterFrom::cavity_foot);
    EXPECT_EQ(state(gap(501, "foam"), "floor"), no_path);
    EXPECT_EQ(state(gap(300, "block"), "floor"), no_path) << "masonry is no cavity";
}

TEST(WaterWay, water_stands_on_the_floor_of_a_cavity) {
    // A membrane under everything, so that the cavity is the only source.
    const auto dry_below = [](Draft d) { return d.water(false, false, true).membrane("under", {{-500, -200}, {500, -200}}, MembraneKind::dpm); };
    const Draft low = dry_below(cavity_wall("fill below the foot", -100));
    EXPECT_EQ(source(low, "fill"), WaterFrom::cavity_foot);
    EXPECT_EQ(way_to(low, "foot"), (Ids{"fill", "base", "foot"}));
    EXPECT_EQ(source(dry_below(cavity_wall("insulated", -100, "foam")), "fill"), WaterFrom::cavity_foot);
    EXPECT_EQ(state(dry_below(cavity_wall("no water", -100)).water(false, false, false), "fill"), no_path);
    Draft tray = dry_below(cavity_wall("tray on the fill", -100)).membrane("tray", {{100, -100}, {200, -100}}, MembraneKind::tray);
    EXPECT_EQ(state(tray, "fill"), no_path);
    EXPECT_EQ(relied(tray, "fill"), Ids{"tray"});
    Draft inner = dry_below(cavity_wall("between two rooms", -100));
    inner.section.spaces[1].kind = SpaceKind::inside;
    EXPECT_EQ(state(inner, "fill"), no_path) << "no leaf of it stands in the open";
}

TEST(WaterWay, fill_beside_the_block_opens_the_side_path) {
    const auto with_fill = [](double top) { return cavity_wall("fill to " + std::to_string(top), top).membrane("dpc", {{0, -100}, {100, -100}}); };
    EXPECT_EQ(state(with_fill(-100), "foot"), no_path);
    EXPECT_EQ(state(with_fill(-99.999), "foot"), reached);
    EXPECT_EQ(way_to(with_fill(-50), "foot"), (Ids{"soil", "fill", "foot"}));
}

TEST(WaterWay, below_the_water_level_everything_is_reached_and_no_membrane_counts) {
    const auto at = [](double y) { return wall("level").membrane("dpc", {{0, 0}, {100, 0}}).level(y); };
    EXPECT_EQ(source(at(10), "upper"), WaterFrom::water_level);
    EXPECT_EQ(state(at(0), "upper"), no_path) << "to the bed, not over it";
    EXPECT_EQ(state(at(0.001), "upper"), reached);
    EXPECT_EQ(source(at(-50), "foot"), WaterFrom::water_level);
    Draft standing = wall("standing").membrane("dpc", {{0, -100}, {100, -100}});
    EXPECT_EQ(state(standing, "foot"), no_path);
    standing.section.water->standing = true, standing.section.ground.both = from_mm(-50);
    EXPECT_EQ(source(standing, "foot"), WaterFrom::water_level) << "it stands to the ground";
    // Tanking that begins below the water lets it in there, whatever happens above.
    Draft side = wall("tanked side").piece("bank", "soil", 100, -100, 500, 200).membrane("dpc", {{0, 0}, {100, 0}}).membrane("tanking", {{100, 0}, {100, 200}});
    EXPECT_NE(state(side, "upper"), reached);
    EXPECT_EQ(state(side.level(100), "upper"), reached);
}

TEST(WaterWay, between_membranes_without_a_face_to_air_a_piece_is_enclosed) {
    Draft d = wall("enclosed").membrane("below", {{0, -100}, {100, -100}}).membrane("above", {{0, 0}, {100, 0}});
    EXPECT_FALSE(of(d, "foot").enclosed) << "air on both sides";
    d.piece("left", "foam", -100, -100, 0, 0).piece("right", "foam", 100, -100, 200, 0);
    EXPECT_TRUE(of(d, "foot").enclosed);
    EXPECT_EQ(state(d, "foot"), no_path);
    EXPECT_FALSE(of(d, "upper").enclosed);
    EXPECT_EQ(relied(d, "foot"), Ids{"below"}) << "above it there is no water";
    Draft one = wall("one membrane").membrane("below", {{0, -100}, {100, -100}}).piece("left", "foam", -100, -100, 0, 0);
    EXPECT_FALSE(of(one, "foot").enclosed);
    Draft packed = wall("one membrane, foam all round").membrane("below", {{0, -100}, {100, -100}});
    packed.section.pieces[2].filled_with = "foam";
    packed.piece("left", "foam", -100, -100, 0, 0).piece("right", "foam", 100, -100, 200, 0);
    EXPECT_FALSE(of(packed, "foot").enclosed) << "between membranes means on two sides";
    Draft airspace = d;
    airspace.section.pieces.back().filled_with = "still-air";
    EXPECT_FALSE(of(airspace, "foot").enclosed) << "it dries into an air space";
    Draft wet = d;
    wet.section.membranes.erase(wet.section.membranes.begin());
    EXPECT_FALSE(of(wet, "foot").enclosed) << "reached from below";
}

TEST(WaterWay, goes_on_beyond_the_cut) {
    Draft d = slab("slab carried on").membrane("dpm", {{-500, -100}, {0, -100}}, MembraneKind::dpm).membrane("dpc", {{0, -100}, {100, -100}}, MembraneKind::dpc, true);
    d.section.beyond[CutSide::left].distance = from_mm(3000);
    EXPECT_EQ(state(d, "slab"), no_path) << "the membrane is carried on with the slab";
    d.section.membranes[0].path[0] = mm(-499.999, -100);
    EXPECT_EQ(state(d, "slab"), reached);
}

std::vector<Draft> all() {
    std::vector<Draft> drafts{
        wall("bare"), wall("dpc").membrane("dpc", {{0, 0}, {100, 0}}), wall("short").membrane("dpc", {{0, 0}, {99.999, 0}}),
        wall("lap").membrane("a", {{0, 0}, {60, 0}}).membrane("b", {{40, 0}, {100, 0}}),
        wall("rain").water(true, true, false).membrane("dpc", {{0, 0}, {100, 0}}), slab("slab"),
        slab("slab with dpm").membrane("dpm", {{-500, -100}, {0, -100}, {0, 0}, {100, 0}}, MembraneKind::dpm),
        cavity_wall("cavity low", -150).water(true, true, true), cavity_wall("cavity high", -40).water(true, true, true).membrane("dpc", {{0, -100}, {100, -100}}),
        cavity_wall("full fill", -100, "foam").water(true, true, true).membrane("dpc", {{0, 0}, {100, 0}}),
        wall("level").membrane("dpc", {{0, 0}, {100, 0}}).level(-50),
        wall("enclosed").membrane("below", {{0, -100}, {100, -100}}).membrane("above", {{0, 0}, {100, 0}}).piece("l", "foam", -100, -100, 0, 0).piece("r", "foam", 100, -100, 200, 0)};
    return drafts;
}

TEST(WaterWay, mirroring_changes_nothing) {
    for (const Draft& d : all()) {
        const Draft turned = mirrored(d);
        for (const PieceWater& piece : solve(d).way.pieces) {
            const std::string id = d.section.pieces[piece.piece].id;
            const PieceWater other = of(turned, id);
            EXPECT_EQ(piece.state, other.state) << d.name << " " << id;
            EXPECT_EQ(piece.relies_on, other.relies_on) << d.name << " " << id;
            EXPECT_EQ(piece.enclosed, other.enclosed) << d.name << " " << id;
            EXPECT_NEAR(piece.reached_share, other.reached_share, 1e-12) << d.name << " " << id;
        }
    }
}

TEST(WaterWay, a_further_membrane_never_wets_a_piece) {
    std::mt19937 random(7);
    const auto pick = [&](int from, int to) { return from + static_cast<int>(random() % static_cast<unsigned>(to - from + 1)); };
    int dried = 0;
    for (const Draft& d : all())
        for (int round = 0; round < 20; ++round) {
            Draft more = d;
            // On the lines of the drawing half of the time, anywhere else.
            const bool on = round % 2;
            const double x = on ? 100 * pick(-1, 3) : pick(-300, 400), y = on ? 50 * pick(-4, 2) : pick(-300, 300);
            const double far = pick(20, 400);
            more.membrane("more", round % 3 ? std::vector<std::array<double, 2>>{{x, y}, {x + far, y}} : std::vector<std::array<double, 2>>{{x, y}, {x, y + far}}, MembraneKind::dpc, true);
            const Solved before = solve(d), after = solve(more);
            for (const PieceWater& piece : before.way.pieces) {
                const PieceWater now = of(more, after.way, d.section.pieces[piece.piece].id);
                EXPECT_LE(now.reached_share, piece.reached_share + 1e-12) << d.name << " " << d.section.pieces[piece.piece].id;
                dried += now.reached_share < piece.reached_share - 1e-12;
            }
        }
    EXPECT_GT(dried, 10) << "membranes of no effect prove nothing";
}

}  // namespace
}  // namespace wallfoot
