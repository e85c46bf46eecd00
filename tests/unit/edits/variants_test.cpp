// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/variants.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/file/study_file.hpp"
#include "core/study/differences.hpp"
#include "core/study/edits.hpp"
#include "core/study/variant_grid.hpp"
#include "core/text/message.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

struct Variants : ::testing::Test {
    Study study = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    const Section& base = *study.variants.front().section;
    std::string other_material = study.materials.front().id == base.pieces.back().filled_with ? study.materials[1].id : study.materials.front().id;

    static std::string order(const Study& of) {
        std::string all;
        for (const Variant& variant : of.variants) all += variant.id + " ";
        return all;
    }
};

TEST_F(Variants, MoveAndOthersKeepTheirOrder) {
    Study four = study;
    four.variants.resize(1);
    four.variants.front().id = "a";
    for (const char* id : {"b", "c", "d"}) {
        four.variants.push_back(four.variants.front());
        four.variants.back().id = id;
    }
    EXPECT_EQ(order(move_variant(four, 0, 2)), "b c a d ");
    EXPECT_EQ(order(move_variant(four, 3, 0)), "d a b c ");
    EXPECT_EQ(order(move_variant(four, 1, 1)), "a b c d ");
    EXPECT_THROW(move_variant(four, 0, 4), std::out_of_range);
}

TEST_F(Variants, NameAndNoteStandInTheFile) {
    const Study read = read_study(write_study(describe_variant(study, 0, "Other", "For the\nlower storey"))).study;
    EXPECT_EQ(read.variants.front().name, "Other");
    EXPECT_EQ(read.variants.front().note, "For the\nlower storey");
}

TEST_F(Variants, TwoChangesHoldTogether) {
    const Piece& first = base.pieces.front();
    const Section one = set_material(base, base.pieces.back().id, other_material);
    const Section two = set_level(set_moisture(base, first.id, Condition::saturated), LevelKind::ground, {}, -77'000);
    const Section both = combined(base, one, two);
    EXPECT_EQ(both, set_level(set_moisture(one, first.id, Condition::saturated), LevelKind::ground, {}, -77'000));
    EXPECT_EQ(combined(base, two, one), both);
    EXPECT_EQ(combined(base, base, one), one);
    EXPECT_EQ(combined(base, one, one), one);
}

TEST_F(Variants, WhatIsMoreOrGoneIsSoInBoth) {
    Piece more = base.pieces[1];
    more.id = "more";
    Section one = base;
    one.pieces.insert(one.pieces.begin() + 2, more);
    const Section two = delete_piece(base, base.pieces.back().id);
    const Section both = combined(base, one, two);
    EXPECT_EQ(both, delete_piece(one, base.pieces.back().id));
    EXPECT_EQ(combined(base, two, one), both) << "a new piece stands where it stood in the painter's order";
    // One turns the order, the other adds.
    const Section turned = reorder_piece(base, base.pieces.back().id, 0);
    const Section added = combined(base, one, turned);
    EXPECT_EQ(added.pieces.front().id, base.pieces.back().id);
    EXPECT_EQ(added.pieces.size(), base.pieces.size() + 1);
}

TEST_F(Variants, ChangesOfTheSameThingAreRefused) {
    const std::string id = base.pieces.back().id;
    const auto refusal = [&](const Section& one, const Section& two) -> std::string {
        try {
            combined(base, one, two);
            return "";
        } catch (const InputFault& fault) {
            return fault.faults().front().code;
        }
    };
    EXPECT_EQ(refusal(set_moisture(base, id, Condition::saturated), set_moisture(base, id, Condition::dry)), "combine-both-changed");
    EXPECT_EQ(refusal(set_moisture(base, id, Condition::saturated), delete_piece(base, id)), "combine-both-changed");
    EXPECT_EQ(refusal(set_level(base, LevelKind::ground, {}, -1000), set_level(base, LevelKind::ground, {}, -2000)), "combine-both-changed");
    EXPECT_EQ(refusal(reorder_piece(base, id, 0), reorder_piece(base, id, 1)), "combine-both-changed");
}

TEST_F(Variants, AGridBeginsFromPairs) {
    Study three = study;
    three.variants.resize(1);
    three = with_section(duplicate_variant(three, 0, "wet"), 1, set_moisture(base, base.pieces.front().id, Condition::saturated));
    three = with_section(duplicate_variant(three, 1, "other block"), 2, set_material(base, base.pieces.back().id, other_material));
    three = with_section(duplicate_variant(three, 2, "dry"), 3, set_moisture(base, base.pieces.front().id, Condition::dry));
    GridChoices choices;
    const std::string wet = three.variants[1].id, block = three.variants[2].id, dry = three.variants[3].id;
    choices.pairs = {{wet, block}, {wet, dry}};
    const Grid grid = make_grid(three, choices);
    ASSERT_EQ(grid.made.size(), 1U);
    EXPECT_EQ(grid.made.front(), "wet + other block");
    EXPECT_EQ(*grid.study.variants.back().section, set_moisture(*three.variants[2].section, base.pieces.front().id, Condition::saturated));
    ASSERT_EQ(grid.apart.size(), 1U);
    EXPECT_NE(english(grid.apart.front()).find("wet + dry"), std::string::npos);
    choices.pairs.front().second = "nowhere";
    EXPECT_THROW(make_grid(three, choices), InputFault);
    EXPECT_THROW(make_grid(three, GridChoices{}), InputFault);
}

TEST_F(Variants, MarksStandWhereTheDrawingsDiffer) {
    const Piece& piece = base.pieces.back();
    const auto of = [&](const Section& other) { return marked_differences(study, base, study, other); };
    EXPECT_TRUE(of(base).marks.empty());
    // Two sentences of one piece: one mark with both numbers.
    const auto twice = of(set_moisture(set_material(base, piece.id, other_material), piece.id, Condition::saturated));
    ASSERT_EQ(twice.marks.size(), 1U);
    EXPECT_EQ(twice.marks[0].said, (std::vector<std::size_t>{0, 1}));
    EXPECT_EQ(twice.marks[0].lines.front(), piece.outline);
    const auto moved = of(move_piece(base, piece.id, 12'500, 0));
    ASSERT_EQ(moved.marks.size(), 2U);
    EXPECT_FALSE(moved.marks[0].gone);
    EXPECT_TRUE(moved.marks[1].gone);
    EXPECT_EQ(moved.marks[1].lines.front(), piece.outline);
    const auto gone = of(delete_piece(base, piece.id));
    ASSERT_EQ(gone.marks.size(), 1U);
    EXPECT_TRUE(gone.marks[0].gone);
    const auto strip = of(delete_membrane(base, base.membranes.front().id));
    ASSERT_EQ(strip.marks.size(), 1U);
    EXPECT_FALSE(strip.marks[0].closed);
    const auto level = of(set_level(base, LevelKind::ground, {}, -77'000));
    ASSERT_FALSE(level.marks.empty());
    EXPECT_EQ(level.marks[0].lines.front().front().y, -77'000);
}

TEST_F(Variants, CombineWhatIsNotKnownAndWhatLiesBelow) {
    Section one = base, two = base;
    one.extra["later"] = "1", two.extra["other"] = "[2]";
    one.underlays.push_back({.id = "u1", .attachment = "a", .origin = {}});
    two.underlays.push_back({.id = "u2", .attachment = "b", .origin = {}});
    two.level_extra["x"] = "0";
    const Section both = combined(base, one, two);
    EXPECT_EQ(both.extra, (Extra{{"later", "1"}, {"other", "[2]"}}));
    EXPECT_EQ(both.level_extra, two.level_extra);
    ASSERT_EQ(both.underlays.size(), base.underlays.size() + 2);
    two.extra["later"] = "3";
    EXPECT_THROW(combined(base, one, two), InputFault);
    // What one took away is gone.
    Section with = base, without = base;
    with.extra["later"] = "1";
    EXPECT_EQ(combined(with, without, with).extra, base.extra);
}

}  // namespace
}  // namespace wallfoot
