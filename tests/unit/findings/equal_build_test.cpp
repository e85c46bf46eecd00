// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/equal_build.hpp"

#include "core/study/edits.hpp"
#include "solver/findings/partner.hpp"
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

/// The plane wall of the drafts with its batts as a measure of 50 mm to `most`.
Study measured_wall(double most) {
    Draft draft = plane_wall();
    draft.more = R"(, "stretch": [{"id": "s", "name": "Batts", "line": [[150, 0], [150, 1000]], "moves": "right", "measure": [[100, 500], [200, 500]], "min": 50, "max": )" + std::to_string(most) + "}]";
    return draft.study();
}

}  // namespace

TEST(EqualBuild, ThicknessOfInsulationForAUIsThatByHand) {
    // U = 1/(0.13 + 0.1/0.5 + d/0.032 + 0.1/0.77 + 0.04) (ISO 6946:2017, 6.7.1): d = 0.144004 m for 0.2 W/(m²·K).
    const Study study = measured_wall(400);
    const double by_hand = 0.032 * (1 / 0.2 - 0.13 - 0.1 / 0.5 - 0.1 / 0.77 - 0.04);
    const auto found = equal_build(study, study.variants.front(), "Batts", "top", Alike::transmittance, 0.2);
    ASSERT_TRUE(found.bracket);
    EXPECT_LE(found.bracket->first, by_hand * 1e6);
    EXPECT_GE(found.bracket->second, by_hand * 1e6);
    EXPECT_LE(found.bracket->second - found.bracket->first, 1);
    EXPECT_NEAR(found.value_before, 0.27587, 1e-5);
    EXPECT_NEAR(found.value, 0.2, 1e-5);
    // The section that is handed back has that U when it is worked out afresh.
    Variant stretched = study.variants.front();
    stretched.section = found.section;
    const auto solved = find(study, stretched);
    EXPECT_NEAR(solved->elements.front().U.value(), 0.2, 1e-5);
    EXPECT_EQ(stretch_length(found.section->stretch.front()), found.length);
}

TEST(EqualBuild, SaysWhenItIsNotReachable) {
    const Study study = measured_wall(120);
    const auto found = equal_build(study, study.variants.front(), "s", "top", Alike::transmittance, 0.2);
    EXPECT_FALSE(found.bracket);
    EXPECT_FALSE(found.section);
    ASSERT_FALSE(found.tried.empty());
    EXPECT_EQ(found.tried.front().length, 50'000);
    EXPECT_EQ(found.tried.back().length, 120'000);
    EXPECT_GT(found.tried.back().value, 0.2) << "the best that can be had";
}

TEST(EqualBuild, EqualThicknessIsMetExactly) {
    const Study study = measured_wall(400);
    const auto found = equal_build(study, study.variants.front(), "Batts", "top", Alike::thickness, 0.35);
    ASSERT_TRUE(found.bracket);
    EXPECT_LE(found.bracket->first, 150'000);
    EXPECT_GE(found.bracket->second, 150'000);
    EXPECT_NEAR(found.value, 0.35, 1e-6);
}

TEST(EqualBuild, RefusesWhatIsNotThere) {
    const Study study = measured_wall(400);
    const Variant& wall = study.variants.front();
    EXPECT_THROW(equal_build(study, wall, "none", "top", Alike::transmittance, 0.2), InputFault);
    EXPECT_THROW(equal_build(study, wall, "Batts", "roof", Alike::transmittance, 0.2), InputFault);
    try {
        alike_value(study, wall, "roof", Alike::thickness);
        FAIL();
    } catch (const InputFault& fault) {
        EXPECT_EQ(fault.faults().front().args.at("known"), "top");
    }
}

// The floor's layers down to the soil: 0.075/1.15 + 0.1/0.025 + 0.15/2.0 and R_s 0.17.
TEST(EqualBuild, AFloorOnSoilCountsByItsLayers) {
    const Study study = junction({}).study();
    EXPECT_NEAR(alike_value(study, study.variants.front(), "left", Alike::transmittance), 1 / (0.17 + 0.075 / 1.15 + 4 + 0.075), 1e-6);
    EXPECT_NEAR(alike_value(study, study.variants.front(), "left", Alike::thickness), 0.325, 1e-9);
}

// Of three values one has no psi: it could be touched unseen between the two others.
TEST(EqualText, CountsTheTriesThatHaveTheQuantity) {
    EqualAnswer answer;
    answer.tried = {{0.1, 0.05, 0.8, ""}, {0.2, std::nullopt, 0.8, ""}, {0.4, 0.06, 0.8, ""}};
    EqualBy by;
    by.target = 0.02;
    answer.by = {by};
    const std::string text = equal_text({.what = ParameterWhat::conductivity, .targets = {"leaf"}}, answer);
    EXPECT_NE(text.find("between two of the 2 values tried"), std::string::npos) << text;
}
