// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "core/study/edits.hpp"
#include "core/text/message.hpp"

using namespace wallfoot;

namespace {

constexpr Micrometres mm = um_per_mm;

Piece piece(const std::string& id, Point a, Point b) {
    Piece made;
    made.id = made.name = id;
    made.filled_with = "m";
    made.outline = rectangle_outline(a, b);
    return made;
}

Section leaf_and_slab() {
    Section section;
    section.cut = {-1000 * mm, -500 * mm, 500 * mm, 1000 * mm};
    section.pieces = {piece("leaf", {0, -300 * mm}, {100 * mm, 1000 * mm}), piece("slab", {-1000 * mm, -150 * mm}, {0, 0})};
    return section;
}

Membrane membrane(Path path) {
    Membrane made;
    made.kind = MembraneKind::dpm;
    made.path = std::move(path);
    return made;
}

std::string refusal(const std::function<void()>& edit) {
    try {
        edit();
    } catch (const InputFault& fault) {
        EXPECT_FALSE(english(fault.faults().front()).starts_with(fault.faults().front().code));
        return fault.faults().front().code;
    }
    return "";
}

}  // namespace

TEST(EditsOfMembranes, corners_that_land_on_edges_are_cut_into_the_pieces) {
    const Section before = leaf_and_slab();
    const Section after = add_membrane(before, membrane({{-1000 * mm, -150 * mm}, {0, -150 * mm}, {0, -75 * mm}, {100 * mm, -75 * mm}}));
    ASSERT_EQ(after.membranes.size(), 1u);
    EXPECT_EQ(after.membranes[0].id, "m1");
    // The leaf gains -150 and -75 on its left face and -75 on its right; the slab gains -75 on the face it shares.
    EXPECT_EQ(after.pieces[0].outline, (Outline{{0, -300 * mm}, {100 * mm, -300 * mm}, {100 * mm, -75 * mm}, {100 * mm, 1000 * mm}, {0, 1000 * mm}, {0, -75 * mm}, {0, -150 * mm}}));
    EXPECT_EQ(after.pieces[1].outline, (Outline{{-1000 * mm, -150 * mm}, {0, -150 * mm}, {0, -75 * mm}, {0, 0}, {-1000 * mm, 0}}));
    EXPECT_EQ(add_membrane(after, membrane({{0, 0}, {100 * mm, 0}})).membranes[1].id, "m2");
    EXPECT_EQ(delete_membrane(add_membrane(before, membrane({{-1000 * mm, -150 * mm}, {-1000 * mm, 0}})), "m1"), before) << "on corners only: nothing else changes";
    EXPECT_EQ(refusal([&] { add_membrane(before, membrane({{0, 0}})); }), "path-too-short");
    EXPECT_EQ(refusal([&] { add_membrane(before, membrane({{0, 0}, {0, 0}})); }), "path-repeated-point");
}

TEST(EditsOfMembranes, path_kind_and_laps_change_the_membrane_alone) {
    const Section before = add_membrane(leaf_and_slab(), membrane({{0, 0}, {100 * mm, 0}}));
    const Section led = set_membrane_path(before, "m1", {{0, 0}, {50 * mm, 20 * mm}, {100 * mm, 75 * mm}});
    EXPECT_EQ(led.membranes[0].path.size(), 3u);
    EXPECT_EQ(led.pieces[1], before.pieces[1]) << "the slab keeps its corner at (0, 0)";
    EXPECT_EQ(led.pieces[0].outline.size(), before.pieces[0].outline.size() + 1) << "a corner at (100, 75)";
    EXPECT_EQ(refusal([&] { set_membrane_path(before, "m1", {{0, 0}}); }), "path-too-short");
    EXPECT_EQ(move_membrane(move_membrane(before, "m1", 3, 4), "m1", -3, -4), before);
    EXPECT_EQ(set_membrane_kind(before, "m1", MembraneKind::gas).membranes[0].kind, MembraneKind::gas);
    EXPECT_EQ(set_sealed_laps(before, "m1", true).membranes[0].sealed_laps, true);
    EXPECT_EQ(set_sealed_laps(set_sealed_laps(before, "m1", false), "m1", {}), before);
    EXPECT_EQ(refusal([&] { set_sealed_laps(before, "x", true); }), "edit-unknown-id");
}

TEST(EditsOfSpaces, marks_come_move_and_go_and_the_last_one_takes_the_space_along) {
    const Section before = leaf_and_slab();
    const Section one = add_space(before, SpaceKind::inside, {-500 * mm, 500 * mm});
    EXPECT_EQ(one.spaces[0].id, "inside");
    EXPECT_FALSE(one.spaces[0].temperature);
    const Section two = add_mark(one, "inside", {300 * mm, 500 * mm});
    EXPECT_EQ(two.spaces[0].at.size(), 2u);
    EXPECT_EQ(move_mark(two, "inside", {300 * mm, 500 * mm}, {310 * mm, 500 * mm}).spaces[0].at[1], (Point{310 * mm, 500 * mm}));
    EXPECT_EQ(delete_mark(two, "inside", {300 * mm, 500 * mm}), one);
    EXPECT_EQ(delete_mark(one, "inside", {-500 * mm, 500 * mm}), before);
    EXPECT_EQ(refusal([&] { move_mark(two, "inside", {1, 1}, {2, 2}); }), "edit-no-mark");
    EXPECT_EQ(add_space(two, SpaceKind::inside, {0, 0}).spaces[1].id, "inside-2");
}

TEST(EditsOfSpaces, unheated_needs_a_temperature) {
    const Section before = leaf_and_slab();
    EXPECT_EQ(refusal([&] { add_space(before, SpaceKind::unheated, {0, 0}); }), "space-without-temperature");
    const Section cold = add_space(before, SpaceKind::unheated, {300 * mm, 0}, 5);
    EXPECT_EQ(cold.spaces[0].temperature, 5);
    EXPECT_EQ(refusal([&] { set_temperature(cold, "unheated", {}); }), "space-without-temperature");
    const Section out = set_temperature(set_space_kind(cold, "unheated", SpaceKind::outside), "unheated", {});
    EXPECT_EQ(out.spaces[0].kind, SpaceKind::outside);
    EXPECT_EQ(refusal([&] { set_space_kind(out, "unheated", SpaceKind::unheated); }), "space-without-temperature");
}

TEST(EditsOfSpaces, bears_a_name_of_its_own_and_a_temperature_that_can_be) {
    const Section before = add_space(add_space(leaf_and_slab(), SpaceKind::outside, {300 * mm, 0}), SpaceKind::unheated, {0, 0}, 5);
    const Section named = rename_space(before, "unheated", "Garage");
    EXPECT_EQ(find_space(named, "unheated")->name, "Garage");
    EXPECT_EQ(refusal([&] { rename_space(named, "outside", "Garage"); }), "space-name-taken");
    EXPECT_EQ(rename_space(named, "unheated", "Garage"), named);
    EXPECT_EQ(rename_space(named, "unheated", ""), before);
    EXPECT_EQ(rename_space(before, "outside", ""), before) << "names may both be left to the kinds";
    EXPECT_EQ(refusal([&] { set_temperature(before, "unheated", -300); }), "temperature-absurd");
    EXPECT_EQ(refusal([&] { set_temperature(before, "outside", 2001); }), "temperature-absurd");
    EXPECT_EQ(refusal([&] { set_temperature(before, "outside", NAN); }), "temperature-absurd");
    EXPECT_EQ(find_space(set_temperature(before, "outside", -273.15), "outside")->temperature, -273.15);
}

TEST(EditsOfWater, is_stated_and_taken_back) {
    const Section before = leaf_and_slab();
    ASSERT_FALSE(before.water);
    Water water;
    water.soil = false;
    water.water_level = -200 * mm;
    const Section stated = set_water(before, water);
    EXPECT_EQ(stated.water, water);
    EXPECT_EQ(set_water(stated, Water{}), before) << "nothing stated is nothing written";
    water.water_level = coordinate_limit + 1;
    EXPECT_EQ(refusal([&] { set_water(before, water); }), "coordinate-too-large");
    water = Water{};
    water.extra["pumped"] = "true";
    EXPECT_TRUE(set_water(before, water).water) << "what other programs wrote is kept";
}

TEST(EditsOfSpaces, a_space_that_fills_a_piece_stays) {
    const Section open = add_space(leaf_and_slab(), SpaceKind::outside, {300 * mm, 0});
    const Section before = set_fill(open, "slab", Fill::space, "outside");
    EXPECT_EQ(before.pieces[1].fill, Fill::space);
    EXPECT_EQ(before.pieces[1].filled_with, "outside");
    EXPECT_EQ(refusal([&] { delete_space(before, "outside"); }), "edit-space-in-use");
    const Section without_mark = delete_mark(before, "outside", {300 * mm, 0});
    ASSERT_EQ(without_mark.spaces.size(), 1u);
    EXPECT_TRUE(without_mark.spaces[0].at.empty());
    const Section cutout = set_fill(before, "slab", Fill::cutout, "");
    EXPECT_EQ(cutout.pieces[1].fill, Fill::cutout);
    EXPECT_EQ(cutout.pieces[1].filled_with, "");
    EXPECT_EQ(set_fill(cutout, "slab", Fill::material, "m"), open);
    EXPECT_EQ(refusal([&] { set_fill(open, "slab", Fill::space, "nowhere"); }), "edit-unknown-id");
}

TEST(EditsOfLevels, one_side_leaves_the_other_where_it_was) {
    const Section before = leaf_and_slab();
    const Section both = set_level(before, LevelKind::dpc, {}, 150 * mm);
    EXPECT_EQ(both.dpc.both, 150 * mm);
    EXPECT_TRUE(both.floor.empty());
    const Section stepped = set_level(both, LevelKind::dpc, Side::right, -75 * mm);
    EXPECT_FALSE(stepped.dpc.both);
    EXPECT_EQ(stepped.dpc.left, 150 * mm);
    EXPECT_EQ(stepped.dpc.right, -75 * mm);
    EXPECT_EQ(set_level(set_level(stepped, LevelKind::dpc, Side::left, {}), LevelKind::dpc, Side::right, {}), before);
    EXPECT_EQ(set_level(stepped, LevelKind::dpc, {}, {}), before);
    EXPECT_EQ(set_level(stepped, LevelKind::dpc, {}, 150 * mm), both);
    EXPECT_EQ(refusal([&] { set_level(before, LevelKind::floor, {}, coordinate_limit + 1); }), "coordinate-too-large");
}

TEST(EditsOfTheCut, an_empty_cut_and_a_reach_over_500_m_are_refused) {
    const Section before = leaf_and_slab();
    EXPECT_EQ(set_cut(before, {-1, -2, 3, 4}).cut, (Rect{-1, -2, 3, 4}));
    EXPECT_EQ(refusal([&] { set_cut(before, {5, 0, 5, 10}); }), "cut-empty");
    const Section beyond = set_beyond(before, CutSide::left, Beyond{false, 4000 * mm});
    EXPECT_EQ(beyond.beyond.at(CutSide::left).distance, 4000 * mm);
    EXPECT_TRUE(set_beyond(beyond, CutSide::left, Beyond{true, 0}).beyond.at(CutSide::left).automatic);
    EXPECT_EQ(set_beyond(beyond, CutSide::left, {}), before);
    EXPECT_EQ(refusal([&] { set_beyond(before, CutSide::left, Beyond{false, 499'500 * mm}); }), "beyond-too-far");
    EXPECT_EQ(refusal([&] { set_beyond(before, CutSide::top, Beyond{false, -1}); }), "edit-negative-distance");
}
