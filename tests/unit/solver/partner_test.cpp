// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/partner.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

/// A plain wall of one layer between inside and outside: everything can be done by hand.
Study layer_study(double thickness_mm, double lambda) {
    const std::string d = std::to_string(thickness_mm), l = std::to_string(lambda);
    const std::string json = R"({ "wallfoot": 1, "convention": "iso", "materials": [ { "id": "m", "kind": "other", "lambda": { "dry": )" + l + R"( } } ],
      "variants": [ { "id": "v", "name": "V", "section": { "cut": [-500, 0, 900, 1000],
        "spaces": [ { "id": "in", "kind": "inside", "at": [-200, 500], "temperature": 20 }, { "id": "out", "kind": "outside", "at": [800, 500], "temperature": 0 } ],
        "pieces": [ { "id": "wall", "material": "m", "moisture": "dry", "outline": [[0,0],[)" + d + R"(,0],[)" + d + R"(,1000],[0,1000]] } ] } } ] })";
    return read_study(json).study;
}

TEST(EqualPartner, OfALayerIsFoundAsByHand) {
    // f_Rsi of a plane wall is 1 − R_si/R_T (ISO 13788:2012, 5.2 with ISO 6946; from memory): equal R_T, so λ in the ratio of the thicknesses.
    const Study thin = layer_study(100, 0.12), thick = layer_study(215, 1.0);
    const auto target = find(thin, thin.variants[0]);
    const auto found = equal_conductivity(thick, thick.variants[0], {"wall"}, *target, Measure::fRsi);
    ASSERT_EQ(found.roots.size(), 1U);
    EXPECT_NEAR(found.roots[0].conductivity, 0.12 * 215 / 100, 0.12 * 2.15 * 1e-3);
    EXPECT_LE(found.roots[0].lower, 0.258);
    EXPECT_GE(found.roots[0].upper, 0.258);
    EXPECT_TRUE(found.better_when_lower);
}

TEST(EqualPartner, SaysWhenItCannotBeReached) {
    // 5 mm of the best that is tried (0.02) do not make 300 mm of 0.03.
    const Study thick = layer_study(300, 0.03), thin = layer_study(5, 1.0);
    const auto target = find(thick, thick.variants[0]);
    const auto found = equal_conductivity(thin, thin.variants[0], {"wall"}, *target, Measure::fRsi);
    EXPECT_TRUE(found.roots.empty());
    EXPECT_LT(found.tried.front().value, found.target) << "even the best is worse";
}

class EqualFoot : public ::testing::Test {
  protected:
    Study study = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    const Variant& foam = *study.find_variant("foam");
    const Variant& aggregate = *study.find_variant("aggregate");
    const std::vector<std::string> foot{"foot-above", "foot-below"};
};

TEST_F(EqualFoot, EveryRootGivesTheTargetWhenSolvedAfresh) {
    const auto target = find(study, foam);
    const auto found = equal_conductivity(study, aggregate, foot, *target, Measure::psi);
    ASSERT_FALSE(found.roots.empty());
    std::size_t changes = 0;
    for (std::size_t i = 1; i < found.tried.size(); ++i) changes += (found.tried[i].value < found.target) != (found.tried[i - 1].value < found.target);
    EXPECT_EQ(found.roots.size(), changes);
    for (const auto& root : found.roots) {
        Study again = study;
        Material own;
        own.id = "own";
        own.kind = MaterialKind::other;
        for (const auto condition : {Condition::dry, Condition::protected_, Condition::exposed, Condition::below_dpc, Condition::below_ground, Condition::saturated}) own.lambda.by_condition[condition].value = root.conductivity;
        again.materials.push_back(own);
        Variant variant = aggregate;
        Section section = *variant.section;
        for (const auto& id : foot) section = set_material(section, id, "own");
        variant.section = std::make_shared<const Section>(section);
        const auto findings = find(again, variant);
        EXPECT_NEAR(findings->headline_psi()->value->value, found.target, 2e-4);
    }
}

TEST_F(EqualFoot, CoursesLowerPsiStepByStepUntilItIsAsGood) {
    const auto target = find(study, foam);
    const auto same = equal_courses(study, aggregate, foot, "foam-strong", *target, 225'000, 8);
    // Both foot pieces become the foam block: that is the foam variant itself, so it must be reached by then.
    ASSERT_TRUE(same.equal_at);
    double before = same.before->headline_psi()->value->value;
    for (const auto& step : same.steps) {
        const double now = step.findings->headline_psi()->value->value;
        EXPECT_LT(now, before);
        before = now;
    }
    EXPECT_NEAR(before, target->headline_psi()->value->value, 2e-4);
    const auto never = equal_courses(study, aggregate, foot, "concrete", *target, 225'000, 8);
    EXPECT_FALSE(never.equal_at);
    EXPECT_FALSE(never.undecided);
}

TEST_F(EqualFoot, RefusesWhatItCannotUse) {
    const auto target = find(study, foam);
    EXPECT_THROW(equal_conductivity(study, aggregate, {"nothing"}, *target, Measure::psi), InputFault);
    EXPECT_THROW(equal_courses(study, aggregate, foot, "nothing", *target, 225'000, 8), InputFault);
    EXPECT_THROW(equal_courses(study, aggregate, foot, "aggregate-light", *target, 0, 8), InputFault);
    EXPECT_THROW(equal_courses(study, aggregate, {"soil-that-is-not"}, "aggregate-light", *target, 225'000, 8), InputFault);
}

}  // namespace
}  // namespace wallfoot
