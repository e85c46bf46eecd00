// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/differences.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/file/quantities.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
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
    EXPECT_EQ(codes(set_temperature(base, base.spaces.front().id, 12.5)), "differs-space-temperature");
    Section cut = base;
    cut.cut.left -= 1000;
    EXPECT_EQ(codes(cut), "differs-cut");
    Piece more = piece;
    more.id = "more";
    EXPECT_EQ(codes(add_piece(base, more)), "differs-piece-more");
}

TEST_F(Differences, WhatIsStatedBesideTheDrawingIsNamedInWords) {
    const std::string space = base.spaces.front().id;
    EXPECT_EQ(codes(set_space_side(base, space, "own")), "differs-space-side");
    EXPECT_EQ(codes(rename_space(base, space, "Hall")), "differs-space") << "a name is a property too";
    Section marked = base;
    marked.spaces.front().at.front().x += 1000;
    EXPECT_EQ(codes(marked), "differs-space-marks");
    EXPECT_EQ(codes(set_element_reference(base, "top", CutSide::top, LengthSystem::internal, Point{0, 0})), "differs-element-reference");
    const auto measured = differences(study, base, set_element_reference(base, "top", CutSide::top, LengthSystem::external, Point{1500, -2000}));
    ASSERT_EQ(measured.size(), 1U);
    EXPECT_EQ(english(measured[0]), "top is measured, in external lengths, to x 1.5, y -2 mm instead of where the drawing has it.");
    ElementCorrections corrections;
    corrections.fixings.push_back({"ins", 17, 12.6, 4, {}, false, {}});
    const auto corrected = differences(study, base, set_element_corrections(base, "top", CutSide::top, corrections));
    ASSERT_EQ(corrected.size(), 1U);
    EXPECT_EQ(english(corrected[0]), "U of top is corrected for: 4 fixings per m² of 12.6 mm² and 17 W/(m·K) in ins; in the first: none.");
    const Section hidden = add_hidden(base, {"", {{0, 0}, {0, 100'000}}, "skirting", {}});
    EXPECT_EQ(codes(hidden), "differs-hidden-more");
    EXPECT_EQ(differences(study, hidden, base).front().code, "differs-hidden-less");
    EXPECT_EQ(marked_differences(study, base, study, hidden).marks.size(), 1U) << "and shown on the drawing";
    HiddenSurface other = hidden.hidden.front();
    other.reason = "lining";
    EXPECT_EQ(differences(study, hidden, change_hidden(hidden, other)).front().code, "differs-hidden-reason");
    other.path.back().y = 50'000;
    EXPECT_EQ(differences(study, hidden, change_hidden(hidden, other)).front().code, "differs-hidden");
    // Equal stretches are the same one, whatever they are called: only the second is new.
    Section two = hidden;
    two.hidden.front().id = "h2";
    two.hidden.push_back({"h1", {{0, 0}, {0, 50'000}}, "lining", {}});
    const auto more = differences(study, hidden, two);
    ASSERT_EQ(more.size(), 1U);
    EXPECT_EQ(more[0].code, "differs-hidden-more");
    EXPECT_EQ(more[0].args.at("reason"), "lining");
    two.hidden.pop_back();
    EXPECT_EQ(differences(study, hidden, two).front().code, "differs-else") << "only its id differs";
}

TEST_F(Differences, WhatAMaterialIsBuiltOfAndItsUseAreNamed) {
    Study built = study;
    const std::string id = base.pieces.front().filled_with;
    const auto of = [&](Study& in) -> Material& {
        return *std::find_if(in.materials.begin(), in.materials.end(), [&](const Material& material) { return material.id == id; });
    };
    of(built).ageing = 1.25;
    of(built).temperature = TemperatureConversion{0.003, 10, 25, {}};
    auto said = differences(study, base, built, base);
    ASSERT_EQ(said.size(), 2U);
    EXPECT_EQ(said[0].code, "differs-material-temperature");
    EXPECT_EQ(said[0].args.at("to"), "from 10 to 25 °C by 0.003 1/K");
    EXPECT_EQ(said[1].code, "differs-material-ageing");
    EXPECT_EQ(said[1].args.at("to"), "1.25");
    // Built of others: the parts by name, and what the parts are stated to be even where they fill no piece.
    Material part = of(study), second = of(study);
    part.id = "part", part.name = "Part", second.id = "second", second.name = "Second";
    built = study;
    for (Study* in : {&study, &built}) {
        Material& mixed = of(*in);
        mixed.lambda = mixed.lambda_up = {};
        mixed.mix = {{"part", 0.25, {}}, {"second", 0.75, {}}};
        in->materials.push_back(part);
        in->materials.push_back(second);
    }
    EXPECT_TRUE(differences(study, base, built, base).empty());
    // A part called alike under another id is the same part.
    Study renamed = built;
    renamed.materials.back().id = "second-too";
    of(renamed).mix.back().material = "second-too";
    EXPECT_TRUE(differences(study, base, renamed, base).empty());
    of(built).mix = {{"part", 0.5, {}}, {"second", 0.5, {}}};
    built.materials.back().ageing = 2;
    said = differences(study, base, built, base);
    ASSERT_EQ(said.size(), 2U);
    EXPECT_EQ(said[0].code, "differs-material-parts");
    EXPECT_EQ(said[0].args.at("from"), "25 % Part, 75 % Second");
    EXPECT_EQ(said[1].code, "differs-material-ageing");
    EXPECT_EQ(said[1].args.at("material"), "Second");
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
    other = study;
    other.building = R"({"floor": {"edge_insulation": {"direction": "vertical", "width": 600, "thickness": 50, "lambda": 0.035}}})";
    said = differences(study, base, set_ground_floor(other, GroundFloor{60, 20}), base);
    ASSERT_EQ(said.size(), 2U);
    EXPECT_EQ(english(said[0]), "The ground floor of the building is: 60 m² with 20 m of edge; in the first: not stated.");
    EXPECT_EQ(english(said[1]), "The insulation along the edge of the floor, for its U by ISO 13370, is: upright, 600 mm deep, 50 mm thick, 0.035 W/(m·K); in the first: not stated.");
}

}  // namespace
}  // namespace wallfoot
