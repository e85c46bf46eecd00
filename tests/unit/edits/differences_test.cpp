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

}  // namespace
}  // namespace wallfoot
