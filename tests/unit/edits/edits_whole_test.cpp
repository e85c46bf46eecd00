// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <functional>

#include "core/geometry/outline_check.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

constexpr Micrometres mm = um_per_mm;

Study sample(const std::string& name) { return load_study(in_tree("samples/" + name + ".wallfoot")).study; }

std::string refusal(const std::function<void()>& edit) {
    try {
        edit();
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
    return "";
}

double coupling(const Study& study) { return find(study, study.variants.front())->couplings.front().value->value; }

}  // namespace

TEST(EditsWhole, MirroredTwiceIsTheSame) {
    for (const char* name : {"slab-insulation-below", "slab-insulation-above", "suspended-beam-floor", "plain-wall"}) {
        const Section section = *sample(name).variants.front().section;
        const Section once = mirror_section(section);
        EXPECT_NE(once, section) << name;
        EXPECT_EQ(once.cut, section.cut) << name;
        EXPECT_EQ(mirror_section(once), section) << name;
    }
}

// Nothing in the physics knows left from right.
TEST(EditsWhole, AMirroredSectionLosesTheSameHeat) {
    Study study = sample("slab-insulation-below");
    const auto before = find(study, study.variants.front());
    study = with_section(study, 0, mirror_section(*study.variants.front().section));
    const auto after = find(study, study.variants.front());
    ASSERT_FALSE(after->has_fault());
    const Bracketed &a = *before->headline_psi()->value, &b = *after->headline_psi()->value;
    EXPECT_LE(a.lower, b.upper);
    EXPECT_LE(b.lower, a.upper);
    EXPECT_EQ(before->elements.size(), after->elements.size());
}

TEST(EditsWhole, ADuplicateStandsBesideItsOriginal) {
    const Section section = *sample("slab-insulation-below").variants.front().section;
    const Piece& foot = *find_piece(section, "foot-below");
    const Section after = duplicate_piece(section, "foot-below");
    ASSERT_EQ(after.pieces.size(), section.pieces.size() + 1);
    const Piece& copy = after.pieces.back();
    EXPECT_NE(copy.id, foot.id);
    EXPECT_EQ(copy.filled_with, foot.filled_with);
    EXPECT_EQ(area2(copy.outline), area2(foot.outline));
    const auto left_of = [](const Piece& piece) { return std::min_element(piece.outline.begin(), piece.outline.end())->x; };
    EXPECT_EQ(left_of(copy) - left_of(foot), 100 * mm) << "the block is 100 mm thick";
    EXPECT_EQ(refusal([&] { duplicate_piece(section, "nobody"); }), "edit-unknown-id");
}

// U of the wall with the insulation 50 mm thicker: 1/(Rsi + Σ d/λ + Rse), ISO 6946:2017, 6.7.1.1; 1 m of wall.
TEST(EditsWhole, StretchingThickensWhatTheLineCrosses) {
    Study study = plane_wall().study();
    EXPECT_NEAR(coupling(study), 1 / (0.13 + 0.1 / 0.50 + 0.1 / 0.032 + 0.1 / 0.77 + 0.04), 1e-9);
    const Section before = *study.variants.front().section;
    study = with_section(study, 0, stretch_section(before, true, 150 * mm, true, 50 * mm));
    EXPECT_NEAR(coupling(study), 1 / (0.13 + 0.1 / 0.50 + 0.15 / 0.032 + 0.1 / 0.77 + 0.04), 1e-9);
    // To the left instead: the inner leaf moves, and the section is the same but for its place.
    study = with_section(study, 0, stretch_section(before, true, 150 * mm, false, 50 * mm));
    EXPECT_NEAR(coupling(study), 1 / (0.13 + 0.1 / 0.50 + 0.15 / 0.032 + 0.1 / 0.77 + 0.04), 1e-9);
    EXPECT_EQ(study.variants.front().section->cut.left, before.cut.left - 50 * mm);
}

TEST(EditsWhole, WhatLiesOnTheLineStaysAndBackIsTheSame) {
    const Section section = *sample("slab-insulation-below").variants.front().section;
    const Section wider = stretch_section(section, true, 0, true, 30 * mm);
    for (std::size_t i = 0; i < section.pieces.size(); ++i)
        for (std::size_t k = 0; k < section.pieces[i].outline.size(); ++k) {
            const Point was = section.pieces[i].outline[k], is = wider.pieces[i].outline[k];
            EXPECT_EQ(is.y, was.y);
            EXPECT_EQ(is.x, was.x > 0 ? was.x + 30 * mm : was.x);
        }
    EXPECT_EQ(stretch_section(wider, true, 0, true, -30 * mm), section);
    const Section higher = stretch_section(section, false, -100 * mm, true, 20 * mm);
    EXPECT_EQ(higher.cut.top, section.cut.top + 20 * mm);
    EXPECT_EQ(*higher.floor.both, *section.floor.both + 20 * mm) << "levels above the line go along";
    EXPECT_EQ(*higher.ground.both, *section.ground.both) << "levels below it stay";
}

TEST(EditsWhole, StretchingTooFarIsRefused) {
    const Section section = *plane_wall().study().variants.front().section;
    EXPECT_EQ(refusal([&] { stretch_section(section, true, 150 * mm, true, -50 * mm); }), "");
    EXPECT_EQ(refusal([&] { stretch_section(section, true, 150 * mm, true, -100 * mm); }), "stretch-too-far");
    EXPECT_EQ(refusal([&] { stretch_section(section, true, 150 * mm, true, -120 * mm); }), "stretch-too-far");
    EXPECT_EQ(refusal([&] { stretch_section(section, true, 150 * mm, true, 500'000 * mm); }), "coordinate-too-large");
}

TEST(EditsWhole, AnExtentGrowsOneSideOnlyAndComesBack) {
    const Section section = *sample("slab-insulation-below").variants.front().section;
    const Piece& foot = *find_piece(section, "foot-below");
    for (const CutSide side : {CutSide::left, CutSide::bottom, CutSide::right, CutSide::top}) {
        const Micrometres now = piece_extent(foot, side);
        const Section longer = set_extent(section, "foot-below", side, now + 30 * mm);
        EXPECT_EQ(piece_extent(*find_piece(longer, "foot-below"), side), now + 30 * mm);
        // By how much its area grows is the strip along the other two sides (it is a rectangle).
        const bool wide = side == CutSide::left || side == CutSide::right;
        EXPECT_EQ(area2(find_piece(longer, "foot-below")->outline) - area2(foot.outline), Area2(2) * 30 * mm * piece_extent(foot, wide ? CutSide::top : CutSide::right));
        EXPECT_EQ(find_piece(set_extent(longer, "foot-below", side, now), "foot-below")->outline, foot.outline);
    }
    EXPECT_EQ(refusal([&] { set_extent(section, "foot-below", CutSide::left, 0); }), "extent-not-above-zero");
    EXPECT_EQ(refusal([&] { set_extent(section, "nothing", CutSide::left, 10 * mm); }), "edit-unknown-id");
}

TEST(EditsWhole, AMembraneGoesOnAlongItsLastRunAndComesBack) {
    Section section = *sample("plain-wall").variants.front().section;
    // 3-4-5: exact on the grid.
    section.membranes = {{"m", MembraneKind::dpm, {{0, 0}, {100 * mm, 0}, {130 * mm, 40 * mm}}, {}, {}}};
    EXPECT_EQ(membrane_length(section.membranes.front()), 150 * mm);
    const Section longer = set_membrane_length(section, "m", CutSide::right, 175 * mm);
    EXPECT_EQ(longer.membranes.front().path, (Path{{0, 0}, {100 * mm, 0}, {145 * mm, 60 * mm}}));
    EXPECT_EQ(set_membrane_length(longer, "m", CutSide::right, 150 * mm).membranes.front().path, section.membranes.front().path);
    EXPECT_EQ(set_membrane_length(section, "m", CutSide::left, 190 * mm).membranes.front().path.front(), (Point{-40 * mm, 0}));
    EXPECT_EQ(set_membrane_length(section, "m", CutSide::bottom, 190 * mm).membranes.front().path.front(), (Point{-40 * mm, 0}));
    EXPECT_EQ(refusal([&] { set_membrane_length(section, "m", CutSide::right, 100 * mm); }), "membrane-run-used-up");
}
