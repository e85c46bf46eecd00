// SPDX-License-Identifier: GPL-3.0-or-later
// Sizes by an independent finite-volume code (see junction_test.cpp); psi of the junction 0.168 with a dense foot.
#include "solver/findings/usual_errors.hpp"

#include <gtest/gtest.h>
#include <map>

#include <nlohmann/json.hpp>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

const UsualError* named(const UsualErrors& found, const std::string& id) {
    for (const UsualError& error : found.errors)
        if (error.effect.id == id) return &error;
    return nullptr;
}

UsualErrors errors_of(const Study& study) { return usual_errors(study, study.variants.front()); }

TEST(UsualErrors, ASheetDrawnAsAPieceInsulates) {
    Study study = junction({.strip = 10}).study();
    for (Material& material : study.materials)
        if (material.id == "sheet") material.kind = MaterialKind::membrane;
    const auto found = errors_of(study);
    const UsualError* sheet = named(found, "sheet-as-piece");
    ASSERT_NE(sheet, nullptr);
    EXPECT_TRUE(sheet->present);
    // Drawn 10 mm thick it makes psi 0.011 less and fRsi 0.017 more: both read as better.
    ASSERT_TRUE(sheet->effect.psi);
    EXPECT_NEAR(sheet->effect.psi->value, -0.011, 0.003);
    ASSERT_TRUE(sheet->effect.factor);
    EXPECT_NEAR(*sheet->effect.factor, 0.017, 0.006);
    EXPECT_FALSE(sheet->effect.mixed());
}

TEST(UsualErrors, OtherResistancesOfTheSurfaceReadWarmer) {
    Study study = junction({}).study();
    for (Material& material : study.materials)
        if (material.id == "board" || material.id == "batts") material.kind = MaterialKind::insulation;
    const auto found = errors_of(study);
    // Without the strip at the edge of the screed psi is 0.208 in place of 0.168, f 0.807 in place of 0.729: both signs.
    const UsualError* strip = named(found, "strip-forgotten");
    ASSERT_NE(strip, nullptr);
    EXPECT_NEAR(strip->effect.psi->value, 0.208 - 0.168, 0.003);
    EXPECT_TRUE(strip->effect.mixed());
    // Wall counted from the ground, 0.325 m of U 0.27587; floor to the outer face, 0.30 m of U 0.1509: −0.090 and −0.045.
    EXPECT_NEAR(named(found, "wall-from-ground")->effect.psi->value, -0.090, 0.0005);
    EXPECT_NEAR(named(found, "floor-to-outer-face")->effect.psi->value, -0.045, 0.0005);
    const UsualError* read = named(found, "other-resistance");
    ASSERT_NE(read, nullptr);
    EXPECT_FALSE(read->present);
    ASSERT_TRUE(read->effect.factor);
    EXPECT_NEAR(*read->effect.factor, 0.728 - 0.654, 0.012) << "0.728 instead of 0.654, each within 0.006";
    for (const char* id : {"stated-drier", "sheet-as-piece", "cut-near", "own-length"}) EXPECT_EQ(named(found, id), nullptr) << id;
}

// The derivation by its own formula, done again from its inputs: a difference of intervals.
TEST(UsualErrors, TheSizeCanBeWorkedOutAgainFromItsDerivation) {
    const auto found = errors_of(junction({}).study());
    std::size_t told = 0;
    for (const UsualError& error : found.errors) {
        std::map<std::string, double> value;
        for (const auto& input : error.derivation.inputs) {
            EXPECT_FALSE(input.source.empty()) << input.name;
            value.emplace(input.name, input.value);
        }
        if (error.effect.psi && value.contains("Δpsi") && !value.contains("Δpsi, lower bound")) {  // by a formula of its own
            EXPECT_EQ(error.effect.psi->value, value.at("Δpsi"));
        } else if (error.effect.psi) {
            ++told;
            const bool floors = error.effect.id == "other-floor";
            const std::string with = floors ? "psi with the floor by ISO 13370" : "psi with the error", without = floors ? "psi with the floor alone by a second section" : "psi without it";
            EXPECT_DOUBLE_EQ(error.effect.psi->value, value.at(with) - value.at(without));
            EXPECT_DOUBLE_EQ(error.effect.psi->lower, value.at(with + ", lower bound") - value.at(without + ", upper bound"));
            EXPECT_DOUBLE_EQ(error.effect.psi->upper, value.at(with + ", upper bound") - value.at(without + ", lower bound"));
        }
        if (error.effect.factor) {
            EXPECT_DOUBLE_EQ(*error.effect.factor, value.at("fRsi with the error") - value.at("fRsi without it"));
        }
        EXPECT_EQ(error.derivation.of.empty(), !error.effect.psi && !error.effect.factor) << error.effect.id;
    }
    EXPECT_GE(told, 1u);
    const auto json = nlohmann::json::parse(usual_errors_json({found}));
    EXPECT_EQ(json["usual_errors"][0]["errors"][0]["derivation"]["inputs"].size(), found.errors[0].derivation.inputs.size());
}

TEST(UsualErrors, APieceStatedDrierThanItsPlaceIsMendedInOneStep) {
    const Study sample = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    EXPECT_EQ(named(errors_of(sample), "stated-drier"), nullptr);
    const Section& section = *sample.variants.front().section;
    const Study dry = with_section(sample, 0, set_moisture(section, "foot-below", Condition::dry));
    const auto found = errors_of(dry);
    const UsualError* drier = named(found, "stated-drier");
    ASSERT_NE(drier, nullptr);
    EXPECT_EQ(drier->piece, "foot-below");
    ASSERT_TRUE(drier->effect.psi);
    EXPECT_LT(drier->effect.psi->upper, 0) << "it makes the junction look better";
    ASSERT_TRUE(drier->mended);
    // Mended, it is what it was, and the size of the error is what the two solves differ by.
    const Study mended = with_section(dry, 0, *drier->mended);
    EXPECT_EQ(named(errors_of(mended), "stated-drier"), nullptr);
    const double before = find(dry, dry.variants.front())->headline_psi()->value->value, after = find(mended, mended.variants.front())->headline_psi()->value->value;
    EXPECT_NEAR(drier->effect.psi->value, before - after, 1e-9);
}

TEST(UsualErrors, ALengthOfOnesOwnAndANearCutAreFound) {
    const Study sample = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    Section section = set_beyond(*sample.variants.front().section, CutSide::right, Beyond{false, 1'000'000});
    section.elements.push_back({"wall", CutSide::top, Point{0, -75'000}, std::nullopt, {}, {}, {}});
    const Study study = with_section(sample, 0, section);
    const auto found = errors_of(study);
    const UsualError *cut = named(found, "cut-near"), *length = named(found, "own-length");
    ASSERT_NE(cut, nullptr);
    EXPECT_TRUE(cut->mended);
    ASSERT_TRUE(cut->effect.psi);
    EXPECT_NE(cut->effect.psi->value, 0);
    ASSERT_NE(length, nullptr);
    ASSERT_TRUE(length->effect.psi);
    // 75 mm more of a wall of U 0.2: psi is less by U times that (RULES 5; the sample's wall by ISO 6946 in heat_loss_test.cpp).
    for (const auto& element : found.drawn->elements)
        if (element.id == "wall" || element.id == "top") {
            EXPECT_NEAR(length->effect.psi->value, -0.075 * *element.U, 1e-4);
        }
    const auto told = nlohmann::json::parse(usual_errors_json({found}));
    EXPECT_EQ(told.at("usual_errors").at(0).at("errors").size(), found.errors.size());
}

}  // namespace
