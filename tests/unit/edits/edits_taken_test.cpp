// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

#include "core/arrangement/parts.hpp"
#include "core/geometry/outline_check.hpp"
#include "core/study/edits.hpp"
#include "tests/unit/arrangement/sections.hpp"

namespace wallfoot::testing {
namespace {

std::string refusal(const std::function<void()>& edit) {
    try {
        edit();
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
    return "";
}

/// Two blocks of a row with a membrane below, a slab beside.
Section row() {
    Section s = section(-1000, -500, 1000, 1000);
    s.pieces = {solid("one", box(0, 0, 100, 200)), solid("two", box(0, 200, 100, 400)), solid("slab", box(-1000, -150, 0, 0))};
    s.membranes = {{"m", MembraneKind::dpc, {mm(0, 0), mm(100, 0)}, {}, {}}};
    return s;
}

double size_mm2(const Piece& piece) {
    Area2 size = area2(piece.outline);
    for (const Outline& hole : piece.holes) size -= area2(hole);
    return static_cast<double>(size) / 2e6;
}

const Taken both{.pieces = {"one", "two"}, .membranes = {"m"}};

TEST(EditsTaken, moves_copies_and_deletes_together) {
    const Section before = row();
    const Section moved = move_taken(before, both, 5000, -7000);
    EXPECT_EQ(moved.pieces[0].outline, box(5, -7, 105, 193));
    EXPECT_EQ(moved.membranes[0].path[1], mm(105, -7));
    EXPECT_EQ(moved.pieces[2], before.pieces[2]);
    EXPECT_EQ(move_taken(moved, both, -5000, 7000), before);

    const Section copied = copy_taken(before, both, 3, 200'000, 0);
    ASSERT_EQ(copied.pieces.size(), 9u);
    ASSERT_EQ(copied.membranes.size(), 4u);
    EXPECT_EQ(copied.pieces[7].outline, box(600, 0, 700, 200));
    EXPECT_EQ(copied.pieces[8].outline, box(600, 200, 700, 400));
    EXPECT_EQ(copied.membranes[3].path[0], mm(600, 0));
    std::set<std::string> ids;
    for (const Piece& piece : copied.pieces) EXPECT_TRUE(ids.insert(piece.id).second) << piece.id;
    EXPECT_EQ(refusal([&] { copy_taken(before, both, 0, 1, 0); }), "copies-number");
    EXPECT_EQ(refusal([&] { copy_taken(before, both, 201, 1, 0); }), "copies-number");
    EXPECT_EQ(refusal([&] { copy_taken(before, both, 200, 10'000'000, 0); }), "coordinate-too-large");
    EXPECT_EQ(refusal([&] { move_taken(before, {.pieces = {"nobody"}}, 1, 0); }), "edit-unknown-id");
    EXPECT_EQ(refusal([&] { copy_taken(before, {.pieces = {"nobody"}}, 1, 1, 0); }), "edit-unknown-id");

    const Section rest = delete_taken(before, both);
    ASSERT_EQ(rest.pieces.size(), 1u);
    EXPECT_EQ(rest.pieces[0].id, "slab");
    EXPECT_TRUE(rest.membranes.empty());
    const Section given = set_material_of(before, {"one", "slab"}, "soil");
    EXPECT_EQ(given.pieces[0].filled_with, "soil");
    EXPECT_EQ(given.pieces[1].filled_with, "block");
    EXPECT_EQ(given.pieces[2].filled_with, "soil");
}

TEST(EditsTaken, quarters_of_a_turn_are_exact) {
    Section before = row();
    Dimension dimension;
    dimension.from = mm(0, 0), dimension.to = mm(100, 200), dimension.along = "x", dimension.offset = 30'000;
    before = add_dimension(before, dimension);
    Taken taken = both;
    taken.dimensions = {"d1"};
    const Point about{12'345, -6'789};
    Section turned = before;
    for (int quarter = 0; quarter < 4; ++quarter) {
        turned = rotate_taken(turned, taken, about, 90);
        EXPECT_EQ(turned.pieces[2], before.pieces[2]);
        EXPECT_EQ(area2(turned.pieces[0].outline), area2(before.pieces[0].outline));
        EXPECT_DOUBLE_EQ(dimension_length(turned.dimensions[0]), 100) << "the same distance is measured";
    }
    EXPECT_EQ(turned, before);
    EXPECT_EQ(rotate_taken(rotate_taken(before, taken, about, 270), taken, about, -270), before);
    EXPECT_EQ(rotate_taken(before, {.pieces = {"one"}}, {0, 0}, 90).pieces[0].outline[1], mm(0, 100));
    // By 30 degrees about the origin: (100, 0) comes to 100·(cos 30°, sin 30°).
    EXPECT_EQ(rotate_taken(before, {.pieces = {"one"}}, {0, 0}, 30).pieces[0].outline[1], (Point{86'603, 50'000}));
}

TEST(EditsTaken, mirrored_twice_is_the_same) {
    const Section before = row();
    const Section once = mirror_taken(before, both, true, 50'000);
    EXPECT_GT(area2(once.pieces[0].outline), 0);
    EXPECT_EQ(mirror_taken(before, {.pieces = {"one"}}, false, 0).pieces[0].outline.front().y, -200'000);
    EXPECT_EQ(mirror_taken(once, both, true, 50'000), before);
}

TEST(EditsTaken, pasting_needs_the_space_and_keeps_the_order) {
    Section from = row();
    from.spaces = {space("duct", SpaceKind::outside, {})};
    from.pieces.push_back(filled("hollow", Fill::space, box(20, 20, 80, 180), "duct"));
    Taken added;
    const Section into = paste_taken(from, from, {.pieces = {"hollow", "one"}}, 300'000, 0, &added);
    ASSERT_EQ(added.pieces.size(), 2u);
    EXPECT_EQ(into.pieces[4].filled_with, "block") << "the block below, its hollow above";
    EXPECT_EQ(into.pieces[5].filled_with, "duct");
    EXPECT_EQ(refusal([&] { paste_taken(row(), from, {.pieces = {"hollow"}}, 0, 0); }), "edit-unknown-id");
}

TEST(EditsTaken, groups_hold_together_and_dissolve) {
    const Section before = row();
    const Section grouped = add_group(before, {"one", "two", "m"}, "Row");
    ASSERT_EQ(grouped.groups.size(), 1u);
    EXPECT_EQ(group_of(grouped, "m")->name, "Row");
    EXPECT_EQ(group_of(grouped, "slab"), nullptr);
    EXPECT_EQ(delete_group(grouped, "g1"), before);
    EXPECT_EQ(delete_piece(grouped, "one").groups[0].members, (std::vector<std::string>{"two", "m"}));
    EXPECT_TRUE(delete_membrane(delete_piece(grouped, "one"), "m").groups.empty()) << "one alone is no group";
    EXPECT_EQ(refusal([&] { add_group(before, {"one"}); }), "group-too-small");
    EXPECT_EQ(refusal([&] { add_group(before, {"one", "nobody"}); }), "edit-unknown-id");
    const Section again = add_group(grouped, {"two", "slab"});
    EXPECT_EQ(again.groups.size(), 2u) << "it leaves the group it was in";
    EXPECT_EQ(again.groups[0].members, (std::vector<std::string>{"one", "m"}));
    EXPECT_EQ(copy_taken(grouped, both, 1, 500'000, 0).groups.size(), 2u) << "copied whole, the copies are a group too";
    const auto parts = split_piece(grouped, "one", mm(0, 100), mm(1, 100));
    EXPECT_EQ(parts.groups[0].members.size(), 4u);
}

// ---- split, merge, holes, edges, courses -----------------------------------------------------------------------------------

TEST(EditsParts, a_piece_is_split_and_merged_again) {
    const Section before = row();
    const Section parts = split_piece(before, "one", mm(30, 0), mm(30, 10));
    ASSERT_EQ(parts.pieces.size(), 4u);
    EXPECT_EQ(parts.pieces[0].id, "one");
    EXPECT_DOUBLE_EQ(size_mm2(parts.pieces[0]), 70 * 200) << "the larger part keeps the id";
    EXPECT_DOUBLE_EQ(size_mm2(parts.pieces[1]), 30 * 200);
    EXPECT_EQ(parts.pieces[1].filled_with, "block");
    EXPECT_TRUE(std::find(parts.pieces[2].outline.begin(), parts.pieces[2].outline.end(), mm(30, 200)) != parts.pieces[2].outline.end())
        << "the neighbour has the new corner too";
    const Section one = merge_pieces(parts, {"one", parts.pieces[1].id});
    ASSERT_EQ(one.pieces.size(), 3u);
    EXPECT_DOUBLE_EQ(size_mm2(*find_piece(one, parts.pieces[1].id)), 100 * 200);
    EXPECT_EQ(refusal([&] { split_piece(before, "one", mm(200, 0), mm(200, 1)); }), "split-misses");
    EXPECT_EQ(refusal([&] { split_piece(before, "one", mm(100, 0), mm(100, 1)); }), "split-misses") << "along the edge";
    EXPECT_EQ(refusal([&] { split_piece(before, "one", mm(5, 5), mm(5, 5)); }), "split-misses");
    EXPECT_EQ(refusal([&] { split_piece(before, "nobody", mm(0, 0), mm(1, 0)); }), "edit-unknown-id");
}

TEST(EditsParts, a_slanted_line_through_a_piece_with_a_hole) {
    Section before = row();
    before.pieces[0].holes = {box(40, 50, 60, 150)};
    const double whole = size_mm2(before.pieces[0]);
    const Section parts = split_piece(before, "one", mm(0, 30), mm(100, 140));
    ASSERT_EQ(parts.pieces.size(), 4u);
    EXPECT_NEAR(size_mm2(parts.pieces[0]) + size_mm2(parts.pieces[1]), whole, 1e-3) << "a crossing is rounded to the grid";
    EXPECT_TRUE(parts.pieces[0].holes.empty()) << "the line opens the hole";
    // The hole stays one where the line passes beside it.
    const Section beside = split_piece(before, "one", mm(20, 0), mm(20, 1));
    EXPECT_EQ(beside.pieces[0].holes.size(), 1u);
    EXPECT_NEAR(size_mm2(beside.pieces[0]), whole - 20 * 200, 1e-9);
}

TEST(EditsParts, a_u_falls_into_three) {
    Section s = section(-1000, -1000, 1000, 1000);
    s.pieces = {solid("u", {mm(0, 0), mm(300, 0), mm(300, 200), mm(200, 200), mm(200, 100), mm(100, 100), mm(100, 200), mm(0, 200)})};
    const Section parts = split_piece(s, "u", mm(-50, 150), mm(400, 150));
    ASSERT_EQ(parts.pieces.size(), 3u);
    EXPECT_DOUBLE_EQ(size_mm2(parts.pieces[0]), 300 * 200 - 100 * 100 - 2 * 100 * 50);
    EXPECT_DOUBLE_EQ(size_mm2(parts.pieces[1]), 100 * 50);
    EXPECT_DOUBLE_EQ(size_mm2(parts.pieces[2]), 100 * 50);
    EXPECT_EQ(merge_pieces(parts, {parts.pieces[0].id, parts.pieces[1].id, parts.pieces[2].id}).pieces[0].outline.size(), 8u);
}

TEST(EditsParts, merging_needs_equal_filling_and_a_common_edge) {
    Section s = row();
    s.pieces[2].filled_with = "soil";
    EXPECT_EQ(refusal([&] { merge_pieces(s, {"one", "slab"}); }), "merge-unequal");
    EXPECT_EQ(refusal([&] { merge_pieces(row(), {"two", "slab"}); }), "merge-apart");
    EXPECT_EQ(refusal([&] { merge_pieces(row(), {"one", "slab"}); }), "merge-apart") << "they share a point only";
    EXPECT_EQ(refusal([&] { merge_pieces(row(), {"one"}); }), "merge-apart");
    EXPECT_EQ(refusal([&] { merge_pieces(row(), {"one", "nobody"}); }), "edit-unknown-id");
    // A ring of four around an opening.
    Section ring = section(-1000, -1000, 1000, 1000);
    ring.pieces = {solid("a", box(0, 0, 300, 100)), solid("b", box(200, 100, 300, 300)), solid("c", box(0, 200, 200, 300)), solid("d", box(0, 100, 100, 200))};
    const Piece whole = merge_pieces(ring, {"a", "b", "c", "d"}).pieces.at(0);
    EXPECT_EQ(whole.outline.size(), 4u);
    ASSERT_EQ(whole.holes.size(), 1u);
    EXPECT_DOUBLE_EQ(size_mm2(whole), 300 * 300 - 100 * 100);
}

TEST(EditsParts, a_hole_shows_what_lies_below) {
    const Section with = add_hole(row(), "one", box(20, 20, 80, 80));
    EXPECT_DOUBLE_EQ(visible_mm2(arrange(study(), with), 0), 100 * 200 - 60 * 60);
    EXPECT_EQ(delete_hole(with, "one", 0), row());
    EXPECT_EQ(refusal([&] { add_hole(row(), "one", box(50, 50, 150, 80)); }), "hole-outside");
    EXPECT_EQ(refusal([&] { delete_hole(row(), "one", 0); }), "edit-no-hole");
    const Section two = add_hole(with, "one", box(20, 100, 80, 180));
    EXPECT_EQ(delete_hole(two, "one", 1), with) << "the other one stays";
    EXPECT_EQ(find_piece(delete_hole(two, "one", 0), "one")->holes, std::vector<Outline>{box(20, 100, 80, 180)});
    const Section moved = move_hole(two, "one", 0, 5'000, -10'000);
    EXPECT_EQ(find_piece(moved, "one")->holes[0], box(25, 10, 85, 70));
    EXPECT_EQ(find_piece(moved, "one")->outline, find_piece(two, "one")->outline);
    EXPECT_EQ(move_hole(moved, "one", 0, -5'000, 10'000), two);
    EXPECT_EQ(refusal([&] { move_hole(two, "one", 0, 50'000, 0); }), "hole-outside");
    EXPECT_EQ(refusal([&] { move_hole(two, "one", 2, 0, 0); }), "edit-no-hole");
    EXPECT_EQ(refusal([&] { add_hole(with, "one", box(30, 60, 70, 180)); }), "holes-meet") << "where two overlap the piece would be back";
    EXPECT_EQ(refusal([&] { move_hole(two, "one", 0, 0, 20'000); }), "holes-meet") << "edge to edge";
}

TEST(EditsParts, an_edge_is_set_off_with_its_neighbours) {
    const Section before = row();
    const Section wider = offset_edge(before, "one", mm(100, 0), mm(100, 200), 20'000);
    EXPECT_EQ(wider.pieces[0].outline[1], mm(120, 0));
    EXPECT_EQ(wider.pieces[1].outline[1], mm(120, 200)) << "the neighbour's corner on the edge's end follows";
    EXPECT_EQ(wider.membranes[0].path[1], mm(120, 0));
    EXPECT_EQ(offset_edge(before, "one", mm(0, 0), mm(100, 0), 10'000).pieces[0].outline[0], mm(0, -10)) << "downwards is outwards there";
    EXPECT_EQ(offset_edge(before, "one", mm(0, 0), mm(100, 0), -10'000).pieces[0].outline[0], mm(0, 10));
    EXPECT_NE(refusal([&] { offset_edge(before, "one", mm(100, 0), mm(100, 200), -120'000); }), "") << "it would turn over";
    EXPECT_EQ(refusal([&] { offset_edge(before, "one", mm(100, 0), mm(0, 200), 1); }), "edit-no-edge");
    Section holed = add_hole(before, "one", box(20, 20, 80, 80));
    EXPECT_DOUBLE_EQ(size_mm2(offset_edge(holed, "one", mm(80, 20), mm(80, 80), 10'000).pieces[0]), 100 * 200 - 50 * 60) << "out of the material is into the hole";
}

TEST(EditsParts, courses_are_set_and_taken_away) {
    const Section with = set_courses(row(), "one", Courses{0, 225'000, {}});
    EXPECT_EQ(with.pieces[0].courses->height, 225'000);
    EXPECT_EQ(set_courses(with, "one", {}), row());
    EXPECT_EQ(refusal([&] { set_courses(row(), "one", Courses{}); }), "courses-without-height");
}

// ---- what must not be lost on the way --------------------------------------------------------------------------------------

Piece block(const std::string& id, Micrometres left, Micrometres right, Micrometres top = 100'000) {
    Piece piece;
    piece.id = id;
    piece.filled_with = "m";
    piece.outline = rectangle_outline({left, 0}, {right, top});
    return piece;
}

TEST(EditsKeep, merging_hides_nothing_that_lay_between) {
    Section s;
    s.cut = {-500'000, -500'000, 500'000, 500'000};
    Piece between = block("between", 50'000, 80'000);
    between.filled_with = "other";
    s.pieces = {block("low", 0, 100'000), between, block("high", 100'000, 200'000)};
    EXPECT_EQ(refusal([&] { merge_pieces(s, {"low", "high"}); }), "merge-between");
    std::swap(s.pieces[0], s.pieces[1]);  // below both it is hidden already
    EXPECT_EQ(refusal([&] { merge_pieces(s, {"low", "high"}); }), "");
    s.pieces = {block("low", 0, 100'000), block("beside", 200'000, 300'000), block("high", 100'000, 200'000)};
    EXPECT_EQ(refusal([&] { merge_pieces(s, {"low", "high"}); }), "") << "what only touches is not covered";
}

TEST(EditsKeep, courses_go_along_with_their_leaf) {
    Section s;
    s.cut = {-500'000, -500'000, 500'000, 500'000};
    s.pieces = {block("leaf", 0, 100'000, 450'000)};
    s.pieces[0].courses = Courses{0, 225'000, {}};
    EXPECT_EQ(move_taken(s, {.pieces = {"leaf"}}, 0, 30'000).pieces[0].courses->from, 30'000);
    EXPECT_EQ(paste_taken(s, s, {.pieces = {"leaf"}}, 200'000, -10'000).pieces[1].courses->from, -10'000);
}

TEST(EditsKeep, a_hole_that_would_turn_over_stops_a_stretch) {
    Section s;
    s.cut = {-500'000, -500'000, 1'500'000, 1'500'000};
    s.pieces = {block("p", 0, 1'000'000, 1'000'000)};
    s.pieces[0].holes = {rectangle_outline({400'000, 400'000}, {500'000, 500'000})};
    EXPECT_EQ(refusal([&] { stretch_section(s, true, 450'000, true, -200'000); }), "stretch-too-far");
    EXPECT_EQ(refusal([&] { stretch_section(s, true, 450'000, true, -40'000); }), "");
}

}  // namespace
}  // namespace wallfoot::testing
