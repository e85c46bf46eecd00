// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <random>

#include "core/geometry/outline_check.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"

using namespace wallfoot;

namespace {

constexpr Micrometres mm = um_per_mm;

Piece box(const std::string& id, Micrometres left, Micrometres bottom, Micrometres right, Micrometres top) {
    Piece piece;
    piece.id = id;
    piece.name = "Piece " + id;
    piece.filled_with = "m";
    piece.outline = rectangle_outline({left * mm, bottom * mm}, {right * mm, top * mm});
    return piece;
}

/// Leaf 100 wide, cavity fill beside it, a slab that ends at the leaf, a damp course across the leaf.
Section wall_foot() {
    Section section;
    section.cut = {-1500 * mm, -1000 * mm, 900 * mm, 1500 * mm};
    section.pieces = {box("leaf", 0, -300, 100, 1500), box("fill", 100, -100, 200, 1500), box("slab", -1500, -150, 0, 0)};
    Membrane dpc;
    dpc.id = "dpc";
    dpc.path = {{0, 0}, {100 * mm, 0}};
    section.membranes = {dpc};
    return section;
}

std::string refusal(const std::function<void()>& edit) {
    try {
        edit();
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
    return "";
}

bool all_outlines_hold(const Section& section) {
    return std::all_of(section.pieces.begin(), section.pieces.end(), [](const Piece& piece) {
        return !check_outline(piece.outline) && std::all_of(piece.holes.begin(), piece.holes.end(), [&](const Outline& hole) {
            return !check_outline(hole) && !check_hole(piece.outline, hole);
        });
    });
}

TEST(Edits, moving_a_corner_takes_everything_on_that_point_along) {
    const Section before = wall_foot();
    const Section after = move_corner(before, {100 * mm, 1500 * mm}, {110 * mm, 1490 * mm});
    EXPECT_EQ(after.pieces[0].outline[2], (Point{110 * mm, 1490 * mm}));
    EXPECT_EQ(after.pieces[1].outline[3], (Point{110 * mm, 1490 * mm}));
    EXPECT_EQ(after.pieces[2], before.pieces[2]);
    const Section with_membrane = move_corner(before, {0, 0}, {5 * mm, 5 * mm});
    EXPECT_EQ(with_membrane.membranes[0].path[0], (Point{5 * mm, 5 * mm}));
    EXPECT_EQ(before, wall_foot());
    EXPECT_EQ(refusal([&] { move_corner(before, {1, 1}, {2, 2}); }), "edit-no-corner");
}

TEST(Edits, moving_an_edge_takes_overlapping_edges_on_its_line_along) {
    const Section before = wall_foot();
    const Section after = move_edge(before, {100 * mm, -300 * mm}, {100 * mm, 1500 * mm}, 15 * mm, 0);
    EXPECT_EQ(after.pieces[0].outline, rectangle_outline({0, -300 * mm}, {115 * mm, 1500 * mm}));
    EXPECT_EQ(after.pieces[1].outline, rectangle_outline({115 * mm, -100 * mm}, {200 * mm, 1500 * mm}));
    EXPECT_EQ(after.membranes[0].path[1], (Point{115 * mm, 0}));
    // The slab's end lies along the other face of the leaf and stays there.
    EXPECT_EQ(after.pieces[2], before.pieces[2]);
    const Section inner = move_edge(before, {0, 1500 * mm}, {0, -300 * mm}, -10 * mm, 0);
    EXPECT_EQ(inner.pieces[2].outline, rectangle_outline({-1500 * mm, -150 * mm}, {-10 * mm, 0}));
}

TEST(Edits, a_broken_outline_is_refused_with_its_place) {
    const Section before = wall_foot();
    EXPECT_EQ(refusal([&] { move_corner(before, {0, 1500 * mm}, {100 * mm, 1500 * mm}); }), "outline-repeated-point");
    EXPECT_NE(refusal([&] { move_corner(before, {0, 1500 * mm}, {300 * mm, 600 * mm}); }), "");
    EXPECT_EQ(refusal([&] { move_corner(before, {0, 1500 * mm}, {0, 600'000 * mm}); }), "coordinate-too-large");
    EXPECT_NE(refusal([&] { add_piece(before, box("leaf", 0, 0, 10, 10)); }), "");
    Piece line = box("", 0, 0, 10, 10);
    line.outline = {{0, 0}, {10 * mm, 0}, {5 * mm, 0}};
    EXPECT_NE(refusal([&] { add_piece(before, line); }), "");
    Section triangle = before;
    triangle.pieces[0].outline.pop_back();
    EXPECT_EQ(refusal([&] { remove_corner(triangle, {100 * mm, -300 * mm}); }), "outline-too-few");
}

TEST(Edits, a_corner_is_inserted_in_every_piece_whose_edge_passes_there) {
    const Section after = insert_corner(wall_foot(), {100 * mm, 700 * mm});
    EXPECT_EQ(after.pieces[0].outline.size(), 5u);
    EXPECT_EQ(after.pieces[1].outline.size(), 5u);
    EXPECT_EQ(after.pieces[2].outline.size(), 4u);
    EXPECT_EQ(area2(after.pieces[0].outline), area2(wall_foot().pieces[0].outline));
    EXPECT_EQ(remove_corner(after, {100 * mm, 700 * mm}), wall_foot());
    EXPECT_EQ(refusal([&] { insert_corner(wall_foot(), {50 * mm, 700 * mm}); }), "edit-no-edge");
}

TEST(Edits, a_new_piece_gets_a_free_id_and_shares_its_corners) {
    const Section after = add_piece(wall_foot(), box("", -200, 0, 0, 60));
    ASSERT_EQ(after.pieces.size(), 4u);
    EXPECT_EQ(after.pieces.back().id, "p1");
    const auto& leaf = after.pieces[0].outline;
    EXPECT_NE(std::find(leaf.begin(), leaf.end(), Point{0, 60 * mm}), leaf.end());
    const Section moved = move_corner(after, {0, 60 * mm}, {0, 80 * mm});
    EXPECT_NE(std::find(moved.pieces[0].outline.begin(), moved.pieces[0].outline.end(), Point{0, 80 * mm}),
              moved.pieces[0].outline.end());
    EXPECT_EQ(add_piece(after, box("", 0, 0, 5, 5)).pieces.back().id, "p2");
}

TEST(Edits, what_a_piece_is_can_be_changed) {
    const Section before = wall_foot();
    EXPECT_EQ(set_material(before, "leaf", "brick").pieces[0].filled_with, "brick");
    EXPECT_EQ(set_moisture(before, "leaf", Condition::below_dpc).pieces[0].moisture, Condition::below_dpc);
    EXPECT_EQ(set_moisture(before, "leaf", {}).pieces[0].moisture, std::nullopt);
    EXPECT_EQ(rename_piece(before, "leaf", "Inner leaf").pieces[0].name, "Inner leaf");
    EXPECT_EQ(delete_piece(before, "fill").pieces.size(), 2u);
    EXPECT_EQ(delete_membrane(before, "dpc").membranes.size(), 0u);
    EXPECT_EQ(reorder_piece(before, "leaf", 99).pieces.back().id, "leaf");
    EXPECT_EQ(reorder_piece(before, "slab", 0).pieces.front().id, "slab");
    EXPECT_EQ(move_piece(before, "slab", 10 * mm, 0).pieces[2].outline[0], (Point{-1490 * mm, -150 * mm}));
    for (const auto& edit : std::vector<std::function<void()>>{[&] { set_material(before, "x", "brick"); }, [&] { delete_piece(before, "x"); },
                                                               [&] { delete_membrane(before, "x"); }, [&] { set_temperature(before, "x", 1.0); }})
        EXPECT_EQ(refusal(edit), "edit-unknown-id");
}

TEST(Edits, variants_share_what_is_equal) {
    Study study;
    study.variants.resize(1);
    study.variants[0].id = "v1";
    study.variants[0].name = "Base";
    study.variants[0].section = std::make_shared<const Section>(wall_foot());
    const Study two = duplicate_variant(study, 0);
    ASSERT_EQ(two.variants.size(), 2u);
    EXPECT_EQ(two.variants[1].section, study.variants[0].section);
    EXPECT_EQ(two.variants[1].name, "Base 2");
    EXPECT_NE(two.variants[1].id, "v1");
    const Study edited = with_section(two, 1, delete_piece(*two.variants[1].section, "fill"));
    EXPECT_EQ(edited.variants[0].section, study.variants[0].section);
    EXPECT_EQ(edited.variants[1].section->pieces.size(), 2u);
    EXPECT_EQ(rename_variant(edited, 1, "Foot").variants[1].name, "Foot");
    EXPECT_EQ(remove_variant(edited, 0).variants.size(), 1u);
    EXPECT_EQ(refusal([&] { remove_variant(study, 0); }), "edit-last-variant");
}

TEST(Edits, every_refusal_has_a_sentence) {
    for (const char* code : {"edit-failed", "edit-last-variant", "edit-no-corner", "edit-no-edge", "edit-unknown-id", "duplicate-id",
                             "path-too-short", "path-repeated-point", "solve-failed", "file-unreadable", "entry-empty",
                             "entry-not-a-number", "entry-two-separators", "entry-units", "entry-divides-by-zero", "entry-too-large"})
        EXPECT_FALSE(english(Message{Severity::fault, code, {}, {}, {}}).starts_with(code)) << code;
}

/// One random edit; refusals are allowed, a broken outline is not.
Section random_edit(const Section& section, std::mt19937& random) {
    const auto pick = [&](std::size_t n) { return random() % n; };
    const auto step = [&] { return (static_cast<Micrometres>(pick(41)) - 20) * 7'013; };
    const Piece& piece = section.pieces[pick(section.pieces.size())];
    const std::size_t i = pick(piece.outline.size());
    const Point a = piece.outline[i], b = piece.outline[(i + 1) % piece.outline.size()];
    switch (pick(7)) {
        case 0: return move_corner(section, a, {a.x + step(), a.y + step()});
        case 1: return move_edge(section, a, b, step(), step());
        case 2: return insert_corner(section, {(a.x + b.x) / 2, (a.y + b.y) / 2});
        case 3: return remove_corner(section, a);
        case 4: {
            Piece added = piece;
            added.id.clear();
            added.holes.clear();
            added.outline = {a, {a.x + 90'000 + step(), a.y + step()}, {a.x + step(), a.y + 90'000 + step()}};
            return add_piece(section, added);
        }
        case 5: return section.pieces.size() > 2 ? delete_piece(section, piece.id) : section;
        default: return reorder_piece(section, piece.id, pick(section.pieces.size()));
    }
}

TEST(Edits, random_sequences_keep_every_outline_whole) {
    int done = 0;
    for (unsigned seed = 0; seed < 40; ++seed) {
        std::mt19937 random(seed);
        Section section = wall_foot();
        section.pieces[0].holes = {rectangle_outline({20 * mm, 200 * mm}, {60 * mm, 300 * mm})};
        for (int step = 0; step < 60; ++step) {
            try {
                const Section before = section;
                section = random_edit(before, random);
                ++done;
            } catch (const InputFault& fault) {
                ASSERT_FALSE(fault.faults().empty());
            }
            ASSERT_TRUE(all_outlines_hold(section)) << "seed " << seed << " step " << step;
        }
    }
    EXPECT_GT(done, 600);
}

}  // namespace
