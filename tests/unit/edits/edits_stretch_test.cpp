// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <functional>

#include "core/study/edits.hpp"
#include "core/text/message.hpp"
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

constexpr Micrometres mm = um_per_mm;

std::string refusal(const std::function<void()>& edit) {
    try {
        edit();
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
    return "";
}

Point at(double x, double y) { return {from_mm(x), from_mm(y)}; }

Piece box(const std::string& id, double left, double bottom, double right, double top) {
    Piece piece;
    piece.id = id;
    piece.name = "Piece " + id;
    piece.filled_with = "m";
    piece.outline = rectangle_outline(at(left, bottom), at(right, top));
    return piece;
}

/// Leaf, insulation and render side by side, with a level above the middle.
Section wall() {
    Section section;
    section.cut = {-500 * mm, 0, 500 * mm, 1000 * mm};
    section.pieces = {box("leaf", -100, 0, 0, 1000), box("board", 0, 0, 120, 1000), box("render", 120, 0, 140, 1000)};
    section.floor.both = 700 * mm;
    section.dpc.both = 200 * mm;
    return section;
}

Section with_board_measure(std::optional<Micrometres> least = {}, std::optional<Micrometres> most = {}) {
    const Section section = wall();
    Stretch stretch = stretch_through(section, {at(60, 200), at(60, 800)}, "right", find_piece(section, "board"));
    stretch.min = least;
    stretch.max = most;
    return add_stretch(section, stretch);
}

double coupling(const Study& study) { return find(study, study.variants.front())->couplings.front().value->value; }

}  // namespace

TEST(EditsStretch, WhatLiesBeyondABentLineIsStrict) {
    const Path line{at(0, 0), at(0, 100), at(50, 100), at(50, 200), at(150, 300)};
    EXPECT_TRUE(lies_beyond(line, "right", at(1, 50)));
    EXPECT_FALSE(lies_beyond(line, "right", at(0, 50))) << "on the line";
    EXPECT_TRUE(lies_beyond(line, "right", at(1, -1000))) << "the line runs on from its ends";
    EXPECT_FALSE(lies_beyond(line, "right", at(0, -1000)));
    EXPECT_FALSE(lies_beyond(line, "right", at(25, 100))) << "on the level part";
    EXPECT_FALSE(lies_beyond(line, "right", at(50, 100)));
    EXPECT_TRUE(lies_beyond(line, "right", at(51, 100)));
    EXPECT_FALSE(lies_beyond(line, "right", at(100, 250))) << "on the slope";
    EXPECT_TRUE(lies_beyond(line, "right", {100'001, 250'000}));
    EXPECT_FALSE(lies_beyond(line, "right", at(150, 5000)));
    EXPECT_TRUE(lies_beyond(line, "left", at(-1, 50)));
    EXPECT_TRUE(lies_beyond(line, "left", at(-1, 100)));
    EXPECT_FALSE(lies_beyond(line, "left", at(1, 50)));
    const Path level{at(0, 10), at(100, 10)};
    EXPECT_TRUE(lies_beyond(level, "up", at(-500, 11)));
    EXPECT_FALSE(lies_beyond(level, "up", at(50, 10)));
    EXPECT_TRUE(lies_beyond(level, "down", at(50, 9)));
}

TEST(EditsStretch, AMeasureIsReadAndSet) {
    const Section before = with_board_measure();
    ASSERT_EQ(before.stretch.size(), 1u);
    const Stretch& stretch = before.stretch[0];
    EXPECT_EQ(stretch.id, "s1");
    EXPECT_EQ(stretch.name, "Piece board");
    EXPECT_EQ(stretch_length(stretch), 120 * mm);
    const Section after = set_stretch(before, "s1", 180 * mm);
    EXPECT_EQ(stretch_length(after.stretch[0]), 180 * mm);
    EXPECT_EQ(after.pieces[0], before.pieces[0]);
    EXPECT_EQ(after.pieces[2].outline, rectangle_outline(at(180, 0), at(200, 1000)));
    EXPECT_EQ(after.cut.right, 560 * mm);
    EXPECT_EQ(after.stretch[0].line, stretch.line) << "the line itself stays";
    EXPECT_EQ(set_stretch(after, "s1", 120 * mm), before);
    EXPECT_EQ(set_stretch(before, "s1", 120 * mm), before);
}

TEST(EditsStretch, OutOfRangeOrCrossingIsRefused) {
    const Section section = with_board_measure(80 * mm, 200 * mm);
    EXPECT_EQ(refusal([&] { set_stretch(section, "s1", 79 * mm); }), "stretch-below-least");
    EXPECT_EQ(refusal([&] { set_stretch(section, "s1", 201 * mm); }), "stretch-above-most");
    EXPECT_EQ(refusal([&] { set_stretch(section, "s1", 80 * mm); }), "");
    const Section free = with_board_measure();
    EXPECT_EQ(refusal([&] { set_stretch(free, "s1", 0); }), "stretch-too-far") << "the board would be empty";
    EXPECT_EQ(refusal([&] { set_stretch(free, "s1", -10 * mm); }), "stretch-too-far");
    EXPECT_EQ(refusal([&] { set_stretch(free, "s2", 100 * mm); }), "edit-unknown-id");
    Section lapped = free;  // a membrane whose corners would meet
    Membrane membrane;
    membrane.id = "m";
    membrane.path = {at(50, 500), at(110, 500)};
    lapped.membranes = {membrane};
    EXPECT_EQ(refusal([&] { set_stretch(lapped, "s1", 60 * mm); }), "stretch-too-far");
}

TEST(EditsStretch, AMeasureNeedsItsLineBetweenItsEnds) {
    const Section section = wall();
    Stretch beside = stretch_through(section, {at(300, 0), at(300, 1000)}, "right", find_piece(section, "board"));
    EXPECT_EQ(refusal([&] { add_stretch(section, beside); }), "stretch-measures-nothing");
    Stretch whole = stretch_through(section, {at(300, 0), at(300, 1000)}, "left", nullptr);
    EXPECT_EQ(stretch_length(add_stretch(section, whole).stretch[0]), 1000 * mm) << "without a piece: the whole section";
    whole.line = {at(300, 0)};
    EXPECT_EQ(refusal([&] { add_stretch(section, whole); }), "path-too-short");
    Section with = with_board_measure();
    Stretch changed = with.stretch[0];
    changed.min = 300 * mm;
    changed.max = 200 * mm;
    EXPECT_EQ(refusal([&] { change_stretch(with, changed); }), "stretch-range");
    changed.max = 400 * mm;
    changed.name = "Board";
    EXPECT_EQ(change_stretch(with, changed).stretch[0].name, "Board");
    EXPECT_TRUE(delete_stretch(with, "s1").stretch.empty());
    EXPECT_EQ(refusal([&] { delete_stretch(with, "none"); }), "edit-unknown-id");
}

TEST(EditsStretch, LevelsAboveALevelLineGoAlong) {
    const Section section = wall();
    Stretch height = stretch_through(section, {at(-200, 400), at(200, 400)}, "up", find_piece(section, "leaf"));
    const Section after = set_stretch(add_stretch(section, height), "s1", 1100 * mm);
    EXPECT_EQ(after.floor.both, 800 * mm);
    EXPECT_EQ(after.dpc.both, 200 * mm);
    EXPECT_EQ(after.cut.top, 1100 * mm);
    EXPECT_EQ(after.cut.bottom, 0);
}

// U of the wall with the insulation drawn as a measure of 160 mm: 1/(Rsi + Σ d/λ + Rse), ISO 6946:2017, 6.7.1.1; 1 m of wall.
TEST(EditsStretch, AThickerMeasureLosesAsMuchHeatAsISO6946Says) {
    Study study = plane_wall().study();
    const Section before = *study.variants.front().section;
    const Section with = add_stretch(before, stretch_through(before, {{150 * mm, 0}, {150 * mm, mm}}, "right", nullptr));
    const Micrometres present = stretch_length(with.stretch[0]);
    study = with_section(study, 0, set_stretch(with, "s1", present + 60 * mm));
    EXPECT_NEAR(coupling(study), 1 / (0.13 + 0.1 / 0.50 + 0.16 / 0.032 + 0.1 / 0.77 + 0.04), 1e-9);
}

// ---- dimensions ----------------------------------------------------------------------------------------------------------

namespace {

Section with_dimension(Point from, Point to, const std::string& along = "") {
    Dimension dimension;
    dimension.from = from;
    dimension.to = to;
    dimension.along = along;
    return add_dimension(wall(), dimension);
}

}  // namespace

TEST(EditsDimension, TheSideChosenMoves) {
    const Section before = with_dimension(at(0, 0), at(120, 0));
    EXPECT_EQ(dimension_length(before.dimensions[0]), 120);
    const Section right = set_dimension(before, "d1", 150 * mm, true);
    EXPECT_EQ(right.pieces[1].outline, rectangle_outline(at(0, 0), at(150, 1000)));
    EXPECT_EQ(right.pieces[2].outline, rectangle_outline(at(150, 0), at(170, 1000)));
    EXPECT_EQ(right.pieces[0], before.pieces[0]);
    EXPECT_EQ(right.cut.right, 530 * mm);
    EXPECT_EQ(right.dimensions[0].to, at(150, 0)) << "the dimension goes along";
    const Section left = set_dimension(before, "d1", 150 * mm, false);
    EXPECT_EQ(left.pieces[1].outline, rectangle_outline(at(-30, 0), at(120, 1000)));
    EXPECT_EQ(left.pieces[0].outline, rectangle_outline(at(-130, 0), at(-30, 1000)));
    EXPECT_EQ(left.cut.left, -530 * mm);
    EXPECT_EQ(set_dimension(right, "d1", 120 * mm, true), before);
    EXPECT_EQ(refusal([&] { set_dimension(before, "d1", 0, true); }), "dimension-empty");
}

TEST(EditsDimension, AlongYMeasuresTheHeightOnly) {
    const Section before = with_dimension(at(-100, 200), at(140, 1000), "y");
    EXPECT_EQ(dimension_length(before.dimensions[0]), 800);
    const Section after = set_dimension(before, "d1", 900 * mm, true);
    EXPECT_EQ(after.cut.top, 1100 * mm);
    EXPECT_EQ(after.floor.both, 700 * mm) << "it lies before the end";
    EXPECT_EQ(after.pieces[0].outline, rectangle_outline(at(-100, 0), at(0, 1100)));
}

TEST(EditsDimension, ASlantedOneMovesWhatLiesBeyondItsEnd) {
    Section section = wall();
    section.pieces = {box("near", 0, 0, 30, 40), box("far", 30, 40, 60, 80)};
    Dimension dimension;
    dimension.from = at(0, 0);
    dimension.to = at(30, 40);
    section = add_dimension(section, dimension);
    const Section after = set_dimension(section, "d1", 75 * mm, true);  // 3-4-5: 25 mm more are 15 and 20
    EXPECT_EQ(after.pieces[1].outline, rectangle_outline(at(45, 60), at(75, 100)));
    EXPECT_EQ(after.pieces[0].outline, (Outline{at(0, 0), at(30, 0), at(45, 60), at(0, 40)}));
    EXPECT_EQ(dimension_length(after.dimensions[0]), 75);
    EXPECT_EQ(after.cut, section.cut);
}

TEST(EditsDimension, EndsFollowTheCornersTheyLieOn) {
    const Section before = with_dimension(at(0, 0), at(120, 0));
    EXPECT_EQ(move_corner(before, at(120, 0), at(130, -5)).dimensions[0].to, at(130, -5));
    const Section edge = move_edge(before, at(120, 0), at(120, 1000), 7 * mm, 0);
    EXPECT_EQ(edge.dimensions[0].to, at(127, 0));
    EXPECT_EQ(edge.dimensions[0].from, at(0, 0));
    // A piece of several on the corner moves away: the end stays with the others; the last takes it along.
    const Section away = move_piece(before, "render", 10 * mm, 0);
    EXPECT_EQ(away.dimensions[0].to, at(120, 0));
    EXPECT_EQ(move_piece(away, "board", 1 * mm, 1 * mm).dimensions[0].to, at(121, 1));
    const Section measured = with_board_measure();
    const Section wider = move_edge(measured, at(120, 0), at(120, 1000), 5 * mm, 0);
    EXPECT_EQ(stretch_length(wider.stretch[0]), 125 * mm);
    EXPECT_EQ(mirror_section(mirror_section(before)), before);
}

TEST(EditsDimension, ItsEndsAreTakenElsewhereAndItsLineStays) {
    Section before = with_dimension(at(0, 0), at(120, 0));
    before.dimensions[0].along = "x";
    before.dimensions[0].offset = -50 * mm;
    const Section second = move_dimension_end(before, "d1", true, at(140, 1000));
    EXPECT_EQ(dimension_length(second.dimensions[0]), 140);
    EXPECT_EQ(second.dimensions[0].offset, -50 * mm);
    const Section first = move_dimension_end(before, "d1", false, at(-100, 30));
    EXPECT_EQ(dimension_length(first.dimensions[0]), 220);
    EXPECT_EQ(first.dimensions[0].from.y + first.dimensions[0].offset, -50 * mm) << "its line stays at its height";
    EXPECT_EQ(first.pieces, before.pieces) << "nothing else moves";
    before.dimensions[0].along = "y";
    before.dimensions[0].to = at(120, 40);
    EXPECT_EQ(move_dimension_end(before, "d1", false, at(-30, 10)).dimensions[0].offset, -20 * mm) << "and that of a height in its place";
    before.dimensions[0].along.clear();
    EXPECT_EQ(move_dimension_end(before, "d1", false, at(-30, 10)).dimensions[0].offset, -50 * mm);
    EXPECT_EQ(refusal([&] { move_dimension_end(before, "d1", true, at(0, 0)); }), "dimension-empty");
    Section far = with_dimension(at(0, -400'000), at(120, -400'000));
    far.dimensions[0].along = "x";
    EXPECT_EQ(refusal([&] { move_dimension_end(far, "d1", false, at(0, 400'000)); }), "coordinate-too-large") << "its line would stand 800 m off";
    Dimension away = before.dimensions[0];
    away.offset = coordinate_limit + 1;
    EXPECT_EQ(refusal([&] { change_dimension(before, away); }), "coordinate-too-large");
    away.offset = -coordinate_limit;
    EXPECT_EQ(change_dimension(before, away).dimensions[0].offset, -coordinate_limit);
    EXPECT_EQ(refusal([&] { move_dimension_end(before, "d7", true, at(1, 0)); }), "edit-unknown-id");
}

TEST(EditsDimension, ChangesAndRefusals) {
    const Section before = with_dimension(at(0, 0), at(120, 0));
    Dimension changed = before.dimensions[0];
    changed.offset = 40 * mm;
    changed.text = "clear";
    EXPECT_EQ(change_dimension(before, changed).dimensions[0], changed);
    changed.along = "y";
    EXPECT_EQ(refusal([&] { change_dimension(before, changed); }), "dimension-empty") << "nothing upwards";
    EXPECT_TRUE(delete_dimension(before, "d1").dimensions.empty());
    EXPECT_EQ(refusal([&] { with_dimension(at(3, 3), at(3, 3)); }), "dimension-empty");
}

TEST(EditsNote, IsPutChangedMovedAndTakenAway) {
    const Section before = wall();
    Section after = add_note(before, {"", at(10, 20), "seal the lap", {}});
    EXPECT_EQ(after.texts[0].id, "t1");
    after = change_note(after, {"t1", at(30, 40), "lap sealed", {}});
    EXPECT_EQ(after.texts[0].at, at(30, 40));
    after = move_taken(after, {.texts = {"t1"}}, mm, 0);
    EXPECT_EQ(after.texts[0].at, at(31, 40));
    EXPECT_EQ(delete_note(after, "t1"), before);
    EXPECT_EQ(refusal([&] { add_note(before, {"", {}, "", {}}); }), "note-empty");
}
