// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/damp.hpp"

#include <nlohmann/json.hpp>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "core/study/words.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

/// The plane wall with a leaf that declares three conditions, and is drawn dry.
Study wall_with_declared_leaf() {
    Study study = plane_wall().study();
    auto& leaf = study.materials.front();
    leaf.kind = MaterialKind::masonry;
    leaf.lambda.bare = false;
    leaf.lambda.by_condition.clear();
    leaf.lambda.by_condition[Condition::dry].value = 0.50;
    leaf.lambda.by_condition[Condition::below_dpc].value = 0.60;
    leaf.lambda.by_condition[Condition::saturated].value = 0.90;
    return study;
}

const DampRow& row_of(const DampTable& table, Condition condition) {
    for (const DampRow& row : table.rows)
        if (row.condition == condition) return row;
    throw std::logic_error("no such row");
}

}  // namespace

// L2D of a plane wall 1 m high is 1/(Rsi + Σ d/λ + Rse) (ISO 6946:2017, 6.7.1.1), with the λ of each condition.
TEST(Damp, APlaneWallByHand) {
    const auto study = wall_with_declared_leaf();
    const auto table = damp_table(study, study.variants.front(), study.variants.front().section->pieces.front().id);
    ASSERT_EQ(table.rows.size(), 6u);
    for (const auto& [condition, lambda] : {std::pair{Condition::dry, 0.50}, {Condition::below_dpc, 0.60}, {Condition::saturated, 0.90}}) {
        const DampRow& row = row_of(table, condition);
        ASSERT_TRUE(row.findings);
        EXPECT_EQ(row.conductivity, lambda);
        EXPECT_NEAR(row.findings->couplings.front().value->value, 1 / (0.13 + 0.1 / lambda + 0.1 / 0.032 + 0.1 / 0.77 + 0.04), 1e-9);
    }
    EXPECT_TRUE(row_of(table, Condition::dry).as_drawn);
    EXPECT_FALSE(row_of(table, Condition::below_dpc).as_drawn);
    // What is not declared stays open: no drier value stands for it here.
    for (const Condition gap : {Condition::protected_, Condition::exposed, Condition::below_ground}) EXPECT_FALSE(row_of(table, gap).findings);
    EXPECT_NE(damp_text({table}).find("not declared"), std::string::npos);
    const auto json = nlohmann::json::parse(damp_json("x", {table}));
    EXPECT_EQ(json["tables"][0]["conditions"].size(), 6u);
    EXPECT_FALSE(json["tables"][0]["conditions"][1]["declared"]);
}

// Dirichlet's principle: with two spaces L2D never falls when a conductivity rises.
TEST(Damp, TheFootOfTheSampleLosesMoreTheWetterItIs) {
    const auto study = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    const Variant& foam = *study.find_variant("foam");
    const auto table = damp_table(study, foam, "Foot block below the damp course");
    double conductivity = 0, lower = 0;
    for (const DampRow& row : table.rows) {
        if (!row.findings) continue;
        const auto& L2D = *row.findings->couplings.front().value;
        EXPECT_GE(row.conductivity, conductivity) << word_of(condition_words, row.condition);
        EXPECT_GE(L2D.upper, lower);
        conductivity = row.conductivity;
        lower = L2D.lower;
    }
    EXPECT_GT(conductivity, 0.15);
}

// The conductivity found, put in its place in a solve of its own, gives the psi of the alternative; the water that takes is
// the conversion of ISO 10456 solved for the moisture, times the area of the course (100 mm wide in the sample).
TEST(Damp, HowWetBeforeNoBetterThanTheAlternative) {
    auto study = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    const Variant& foam = *study.find_variant("foam");
    const Material& dense = [&]() -> const Material& {
        const Variant& other = *study.find_variant("aggregate");
        for (const Piece& piece : other.section->pieces)
            if (piece.name == "Foot block below the damp course") return *study.find_material(piece.filled_with);
        throw std::logic_error("no such piece");
    }();
    const auto table = damp_table(study, foam, "Foot block below the damp course", dense.id);
    ASSERT_TRUE(table.alternative);
    ASSERT_EQ(table.alternative->rows.size(), 6u);
    ASSERT_GE(table.no_better.size(), 2u);
    EXPECT_EQ(table.no_better[0].against, Against::as_declared);
    EXPECT_EQ(table.no_better[1].against, Against::in_place);
    for (const NoBetter& found : table.no_better) {
        ASSERT_EQ(found.roots.size(), 1u);
        Study trial = study;
        trial.materials.push_back(plain_material("trial", found.roots[0].value));
        for (Variant& variant : trial.variants)
            if (variant.id == "foam") {
                const Piece* foot = nullptr;
                for (const Piece& piece : foam.section->pieces)
                    if (piece.name == "Foot block below the damp course") foot = &piece;
                variant.section = std::make_shared<const Section>(set_material(*foam.section, foot->id, "trial"));
                EXPECT_NEAR(find(trial, variant)->headline_psi()->value->value, found.target, 2e-4);
            }
        EXPECT_FALSE(no_better_sentences(table, found).empty());
    }
    // The wetter the alternative in its place, the more it loses, and the more the piece may.
    EXPECT_GE(table.no_better[1].roots[0].value, table.no_better[0].roots[0].value);
    const auto json = nlohmann::json::parse(damp_json("x", {table}));
    EXPECT_EQ(json["tables"][0]["no_better"].size(), table.no_better.size());
    EXPECT_NE(damp_text({table}).find("no better than"), std::string::npos);
    EXPECT_EQ(damp_text({table}).find('{'), std::string::npos) << "no place left open in a sentence";
    EXPECT_THROW(damp_table(study, foam, "Foot block below the damp course", "nothing of that name"), InputFault);
}

// What is not declared stands as a range, and psi goes from one end of it to the other.
TEST(Damp, AGapIsShownAsTheRangeOfItsClass) {
    auto study = wall_with_declared_leaf();
    study.materials.front().aggregate = "dense";
    study.materials.front().density = 2000;
    const auto table = damp_table(study, study.variants.front(), study.variants.front().section->pieces.front().id);
    const DampRow& row = row_of(table, Condition::below_ground);
    ASSERT_EQ(row.value.footing, Footing::measured_band);
    ASSERT_TRUE(row.at_low && row.at_high);
    EXPECT_FALSE(row.findings);
    for (const auto& [findings, lambda] : {std::pair{row.at_low, row.value.low}, {row.at_high, row.value.high}})
        EXPECT_NEAR(findings->couplings.front().value->value, 1 / (0.13 + 0.1 / lambda + 0.1 / 0.032 + 0.1 / 0.77 + 0.04), 1e-9);
}

TEST(Damp, SaysWhatItCannotUse) {
    const auto study = wall_with_declared_leaf();
    EXPECT_THROW(damp_table(study, study.variants.front(), "nothing of that name"), InputFault);
    auto with_cutout = study;
    auto section = *study.variants.front().section;
    section.pieces.front().fill = Fill::cutout;
    with_cutout.variants.front().section = std::make_shared<const Section>(section);
    EXPECT_THROW(damp_table(with_cutout, with_cutout.variants.front(), section.pieces.front().id), InputFault);
}
