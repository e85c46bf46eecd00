// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/differences.hpp"

#include <gtest/gtest.h>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

struct Differences : ::testing::Test {
    Study study = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    const Section& base = *study.variants.front().section;

    std::string codes(const Section& other) const {
        std::string all;
        for (const auto& said : differences(study, base, other)) all += (all.empty() ? "" : " ") + said.code;
        return all;
    }
};

TEST_F(Differences, EqualSectionsHaveNone) { EXPECT_EQ(codes(base), ""); }

TEST_F(Differences, EachEditIsNamedOnceAndAlone) {
    const Piece& piece = base.pieces.back();
    EXPECT_EQ(codes(set_material(base, piece.id, study.materials.front().id == piece.filled_with ? study.materials[1].id : study.materials.front().id)), "differs-filling");
    EXPECT_EQ(codes(set_moisture(base, piece.id, Condition::saturated)), "differs-moisture");
    EXPECT_EQ(codes(delete_piece(base, piece.id)), "differs-piece-less");
    EXPECT_EQ(codes(reorder_piece(base, piece.id, 0)), "differs-order");
    EXPECT_EQ(codes(rename_piece(base, piece.id, "Other name")), "differs-else") << "a name changes no answer, but is not hidden";
    EXPECT_EQ(codes(set_level(base, LevelKind::ground, {}, -77'000)), "differs-level-ground");
    EXPECT_EQ(codes(delete_membrane(base, base.membranes.front().id)), "differs-membrane-less");
    EXPECT_EQ(codes(set_sealed_laps(base, base.membranes.front().id, !base.membranes.front().sealed_laps.value_or(false))), "differs-membrane");
    EXPECT_EQ(codes(set_temperature(base, base.spaces.front().id, 12.5)), "differs-space");
    Section cut = base;
    cut.cut.left -= 1000;
    EXPECT_EQ(codes(cut), "differs-cut");
    Piece more = piece;
    more.id = "more";
    EXPECT_EQ(codes(add_piece(base, more)), "differs-piece-more");
}

TEST_F(Differences, APieceThatOnlyMovedSaysByHowMuch) {
    const auto said = differences(study, base, move_piece(base, base.pieces.back().id, 12'500, -3000));
    ASSERT_EQ(said.size(), 1U);
    EXPECT_EQ(said[0].code, "differs-moved");
    EXPECT_EQ(said[0].args.at("dx"), "12.5");
    EXPECT_EQ(said[0].args.at("dy"), "-3");
}

TEST_F(Differences, OfTwoStudiesTellsMaterialsAndWhatHoldsForAll) {
    Study other = study;
    EXPECT_TRUE(differences(study, base, other, base).empty()) << "the same section of two equal studies";
    // Another id for the same thing is no difference; what it is stated to be is told once, however many pieces it fills.
    for (Material& material : other.materials)
        if (material.id == "foam-strong") {
            material.lambda.by_condition.at(Condition::below_dpc).value = 0.33;
            material.lambda.by_condition.erase(Condition::saturated);
        } else if (material.id == base.pieces.front().filled_with) material.id = "renamed";
    Section section = base;
    for (Piece& piece : section.pieces)
        if (piece.filled_with == base.pieces.front().filled_with) piece.filled_with = "renamed";
    auto said = differences(study, base, other, section);
    ASSERT_EQ(said.size(), 1U) << english(said.back());
    EXPECT_EQ(said[0].code, "differs-material");
    EXPECT_EQ(said[0].args.at("values").substr(0, 31), "below-dpc 0.33 instead of 0.22;");
    EXPECT_NE(said[0].args.at("values").find("saturated not declared instead of "), std::string::npos) << said[0].args.at("values");
    other.floor_width = 6'000'000;
    other.conventions.at(other.convention).lengths = LengthSystem::external;
    said = differences(study, base, other, section);
    ASSERT_EQ(said.size(), 3U);
    EXPECT_EQ(said[1].code, "differs-convention");
    EXPECT_EQ(english(said[2]), "The floor is 6000 mm wide instead of 8000 mm.");
}

}  // namespace
}  // namespace wallfoot
