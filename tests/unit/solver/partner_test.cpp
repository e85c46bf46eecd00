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

EqualAsked conductivity_of(std::vector<std::string> pieces, std::vector<Measure> measures = {Measure::psi}) {
    return {{ParameterWhat::conductivity, std::move(pieces), {}}, least_tried, most_tried, std::move(measures)};
}

TEST(EqualPartner, OfALayerIsFoundAsByHand) {
    // f_Rsi of a plane wall is 1 − R_si/R_T (ISO 13788:2012, 5.2 with ISO 6946; from memory): equal R_T, so λ in the ratio of the thicknesses.
    const Study thin = layer_study(100, 0.12), thick = layer_study(215, 1.0);
    const auto target = find(thin, thin.variants[0]);
    const auto found = equal_parameter(thick, thick.variants[0], conductivity_of({"wall"}, {Measure::fRsi}), *target);
    const EqualBy& by = found.by.at(0);
    ASSERT_EQ(by.roots.size(), 1U);
    EXPECT_NEAR(by.roots[0].value, 0.12 * 215 / 100, 0.12 * 2.15 * 1e-3);
    EXPECT_LE(by.roots[0].lower, 0.258);
    EXPECT_GE(by.roots[0].upper, 0.258);
    EXPECT_TRUE(by.better_when_lower);
    ASSERT_EQ(found.as_good.size(), 1U);
    EXPECT_EQ(found.as_good[0].from, least_tried);
    EXPECT_EQ(found.as_good[0].to, by.roots[0].value);
}

// The same by hand for its thickness, once as a named measure and once as the extent of the piece: d = λ·R.
TEST(EqualPartner, OfAThicknessIsFoundAsByHand) {
    const Study good = layer_study(100, 0.12);
    Study study = layer_study(215, 0.5);
    Stretch stretch;
    stretch.id = "d";
    stretch.line = {{100'000, 0}, {100'000, 1'000}};
    stretch.moves = "right";
    stretch.measure = {{0, 500'000}, {215'000, 500'000}};
    study.variants[0].section = std::make_shared<const Section>(add_stretch(*study.variants[0].section, stretch));
    const auto target = find(good, good.variants[0]);
    const double by_hand = 0.5 * 100 / 0.12;  // mm
    for (const Parameter& parameter : {Parameter{ParameterWhat::measure, {"d"}, {}}, Parameter{ParameterWhat::extent, {"wall"}, CutSide::right}}) {
        const auto found = equal_parameter(study, study.variants[0], {parameter, 110, 700, {Measure::fRsi}}, *target);
        ASSERT_EQ(found.by.at(0).roots.size(), 1U);
        EXPECT_NEAR(found.by[0].roots[0].value, by_hand, by_hand * 1e-3);
        EXPECT_FALSE(found.by[0].roots[0].leap);
        EXPECT_FALSE(found.by[0].better_when_lower);
        ASSERT_EQ(found.as_good.size(), 1U);
        EXPECT_EQ(found.as_good[0].to, 700);
    }
    // Out of what the drawing allows is told, and the rest is searched all the same: 900 mm would meet the mark of the outside.
    const auto wide = equal_parameter(study, study.variants[0], {{ParameterWhat::extent, {"wall"}, CutSide::right}, 110, 1200, {Measure::fRsi}}, *target);
    EXPECT_EQ(wide.by.at(0).roots.size(), 1U);
    EXPECT_FALSE(wide.tried.back().problem.empty());
    EXPECT_LT(wide.as_good.at(0).to, 900);
}

TEST(EqualPartner, SaysWhenItCannotBeReached) {
    // 5 mm of the best that is tried (0.02) do not make 300 mm of 0.03.
    const Study thick = layer_study(300, 0.03), thin = layer_study(5, 1.0);
    const auto target = find(thick, thick.variants[0]);
    const auto found = equal_parameter(thin, thin.variants[0], conductivity_of({"wall"}, {Measure::fRsi}), *target);
    EXPECT_TRUE(found.by.at(0).roots.empty());
    EXPECT_TRUE(found.as_good.empty());
    EXPECT_LT(*found.tried.front().fRsi, found.by[0].target) << "even the best is worse";
}

/// Two strips of wall above each other with nothing between them, both 490 mm high and with 200 mm of layers: above all of
/// the material sought, below 20 mm of it and 180 mm of λ = 1. The reference takes U of the upper one off for both.
Study strips_study(double lambda) {
    return read_study(R"({ "wallfoot": 1, "convention": "iso", "materials": [ { "id": "m", "kind": "other", "lambda": { "dry": )" + std::to_string(lambda) + R"( } }, { "id": "k", "kind": "other", "lambda": { "dry": 1.0 } } ],
      "variants": [ { "id": "v", "name": "V", "section": { "cut": [-500, 0, 900, 1000],
        "spaces": [ { "id": "in", "kind": "inside", "at": [-200, 500], "temperature": 20 }, { "id": "out", "kind": "outside", "at": [800, 500], "temperature": 0 } ],
        "pieces": [ { "id": "above", "material": "m", "moisture": "dry", "outline": [[0,510],[200,510],[200,1000],[0,1000]] },
                    { "id": "skin", "material": "m", "moisture": "dry", "outline": [[0,10],[20,10],[20,500],[0,500]] },
                    { "id": "core", "material": "k", "moisture": "dry", "outline": [[20,10],[200,10],[200,500],[20,500]] },
                    { "id": "gap", "cutout": true, "outline": [[0,500],[200,500],[200,510],[0,510]] },
                    { "id": "below", "cutout": true, "outline": [[0,0],[200,0],[200,10],[0,10]] } ],
        "elements": [ { "id": "wall", "cut": "top", "reference": { "internal": [0, 20], "external": [200, 20] } } ] } } ] })").study;
}

/// psi of the strips by ISO 6946: 0.49 m · (U below − U above), R_si + R_se = 0.17 m²·K/W.
double psi_of_strips(double lambda) { return 0.49 * (1 / (0.17 + 0.18 + 0.02 / lambda) - 1 / (0.17 + 0.2 / lambda)); }

// psi rises from 0 with λ and falls below 0 in the end, so every value on the way up is met twice. With g = 1/λ, equal psi is
// 0.004·D·g² + (0.0734·D − 0.18)·g + 0.0595·D + 0.18 = 0, D = psi/0.49: the product of its roots gives one by the other.
TEST(EqualPartner, FindsBothOfTwoRoots) {
    for (const auto& [lambda, steps] : {std::pair(0.1, 14), std::pair(0.16, 6)}) {  // at 0.16 no step lies between the two roots
        const Study study = strips_study(lambda);
        const auto target = find(study, study.variants[0]);
        ASSERT_NEAR(target->headline_psi()->value->value, psi_of_strips(lambda), 1e-4);
        const double D = psi_of_strips(lambda) / 0.49, other = lambda / ((0.0595 * D + 0.18) / (0.004 * D) * lambda * lambda);
        EqualAsked asked = conductivity_of({"above", "skin"});
        asked.steps = steps;
        const auto found = equal_parameter(study, study.variants[0], asked, *target);
        const auto& roots = found.by.at(0).roots;
        ASSERT_EQ(roots.size(), 2U) << lambda;
        EXPECT_NEAR(roots[0].value, std::min(lambda, other), 0.02 * lambda);
        EXPECT_NEAR(roots[1].value, std::max(lambda, other), 0.02 * other);
        for (const EqualRoot& root : roots) EXPECT_NEAR(psi_of_strips(root.value), psi_of_strips(lambda), 2e-4);
        EXPECT_FALSE(found.by[0].better_when_lower);
        // Worse between them, as good on both sides.
        ASSERT_EQ(found.as_good.size(), 2U);
        EXPECT_EQ(found.as_good[0].to, roots[0].value);
        EXPECT_EQ(found.as_good[1].from, roots[1].value);
    }
}

/// A block wall that stands in soil water, on a membrane of which one end may go on; 100 mm below it is through.
Study damp_wall(double reach_mm) {
    return read_study(R"({ "wallfoot": 1, "convention": "iso", "materials": [ { "id": "block", "kind": "masonry", "lambda": { "dry": 0.1, "protected": 0.12, "exposed": 0.13, "below-dpc": 0.3, "below-ground": 0.4 } },
        { "id": "clay", "kind": "soil", "lambda": { "below-ground": 1.5 } } ],
      "variants": [ { "id": "v", "name": "V", "section": { "cut": [-500, -500, 500, 1000], "levels": { "ground": 0, "dpc": 150 }, "water": { "soil": true, "rain": false, "cavity_foot": false, "standing": false },
        "spaces": [ { "id": "in", "kind": "inside", "at": [-250, 500], "temperature": 20 }, { "id": "out", "kind": "outside", "at": [250, 500], "temperature": 0 } ],
        "pieces": [ { "id": "soil", "material": "clay", "outline": [[-500,-500],[500,-500],[500,-100],[-500,-100]] },
                    { "id": "foot", "material": "block", "outline": [[0,-100],[100,-100],[100,0],[0,0]] },
                    { "id": "upper", "material": "block", "outline": [[0,0],[100,0],[100,1000],[0,1000]] } ],
        "membranes": [ { "id": "m", "kind": "dpc", "path": [[0,-100],[)" + std::to_string(reach_mm) + R"(,-100]] } ] } } ] })").study;
}

// It keeps the wall dry once it is through and not before (RULES on water), so the measure leaps there and nowhere else.
TEST(EqualPartner, OfAMembraneIsALeapWhereItIsThrough) {
    const Study wet = damp_wall(60), dry = damp_wall(100);
    const auto target = find(dry, dry.variants[0]), now = find(wet, wet.variants[0]);
    ASSERT_GT(*target->headline_surface()->fRsi, *now->headline_surface()->fRsi + 0.01);
    const auto found = equal_parameter(wet, wet.variants[0], {{ParameterWhat::membrane, {"m"}, CutSide::right}, 20, 180, {Measure::fRsi}}, *target);
    ASSERT_EQ(found.as_good.size(), 1U);
    EXPECT_NEAR(found.as_good[0].from, 100, 0.05);
    EXPECT_EQ(found.as_good[0].to, 180);
    ASSERT_EQ(found.by.at(0).roots.size(), 1U) << "the same all the way from there on";
    // A target half-way between wet and dry is met by no length at all.
    Findings between = *now;
    for (SurfaceFinding& surface : between.surface)
        if (surface.headline) surface.fRsi = (*target->headline_surface()->fRsi + *now->headline_surface()->fRsi) / 2;
    const auto leaps = equal_parameter(wet, wet.variants[0], {{ParameterWhat::membrane, {"m"}, CutSide::right}, 20, 180, {Measure::fRsi}}, between);
    ASSERT_EQ(leaps.by.at(0).roots.size(), 1U);
    EXPECT_TRUE(leaps.by[0].roots[0].leap);
    EXPECT_NEAR(leaps.by[0].roots[0].value, 100, 0.05);
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
    const auto found = equal_parameter(study, aggregate, conductivity_of(foot), *target);
    const EqualBy& by = found.by.at(0);
    ASSERT_FALSE(by.roots.empty());
    std::size_t changes = 0;
    for (std::size_t i = 1; i < found.tried.size(); ++i) changes += (*found.tried[i].psi < by.target) != (*found.tried[i - 1].psi < by.target);
    EXPECT_EQ(by.roots.size(), changes);
    for (const auto& root : by.roots) {
        Study again = study;
        Material own;
        own.id = "own";
        own.kind = MaterialKind::other;
        for (const auto condition : {Condition::dry, Condition::protected_, Condition::exposed, Condition::below_dpc, Condition::below_ground, Condition::saturated}) own.lambda.by_condition[condition].value = root.value;
        again.materials.push_back(own);
        Variant variant = aggregate;
        Section section = *variant.section;
        for (const auto& id : foot) section = set_material(section, id, "own");
        variant.section = std::make_shared<const Section>(section);
        const auto findings = find(again, variant);
        EXPECT_NEAR(findings->headline_psi()->value->value, by.target, 2e-4);
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

// What holds for both holds for each: the one is the overlap of the other two.
TEST_F(EqualFoot, BothAtOnceIsTheOverlap) {
    const auto target = find(study, foam);
    const auto both = equal_parameter(study, aggregate, conductivity_of(foot, {Measure::psi, Measure::fRsi}), *target);
    const auto psi = equal_parameter(study, aggregate, conductivity_of(foot), *target);
    const auto surface = equal_parameter(study, aggregate, conductivity_of(foot, {Measure::fRsi}), *target);
    ASSERT_EQ(psi.as_good.size(), 1U);
    ASSERT_EQ(surface.as_good.size(), 1U);
    const double from = std::max(psi.as_good[0].from, surface.as_good[0].from), to = std::min(psi.as_good[0].to, surface.as_good[0].to);
    ASSERT_EQ(both.as_good.size(), from < to ? 1U : 0U);
    if (from < to) {
        EXPECT_EQ(both.as_good[0].from, from);
        EXPECT_EQ(both.as_good[0].to, to);
    }
}

TEST_F(EqualFoot, StandsBesideWhatHeatDoesNotDecide) {
    const auto codes = [](const std::vector<Message>& messages) {
        std::vector<std::string> all;
        for (const Message& message : messages) {
            all.push_back(message.code);
            EXPECT_EQ(english(message).find('{'), std::string::npos) << english(message);
        }
        return all;
    };
    EXPECT_EQ(codes(beside_heat(study, aggregate, {ParameterWhat::conductivity, foot, {}}, "foam-strong")), (std::vector<std::string>{"beside-declared", "beside-declared", "beside-another-block", "beside-heat"}));
    EXPECT_EQ(codes(beside_heat(study, aggregate, {ParameterWhat::measure, {"d"}, {}})), (std::vector<std::string>{"beside-thickness", "beside-heat"}));
    EXPECT_EQ(codes(beside_heat(study, aggregate, {ParameterWhat::membrane, {"dpm"}, {}})), (std::vector<std::string>{"beside-membrane", "beside-heat"}));
}

TEST_F(EqualFoot, RefusesWhatItCannotUse) {
    const auto target = find(study, foam);
    EXPECT_THROW(equal_parameter(study, aggregate, conductivity_of({"nothing"}), *target), InputFault);
    EXPECT_THROW(equal_parameter(study, aggregate, {{ParameterWhat::measure, {"nothing"}, {}}, 1, 2}, *target), InputFault);
    EXPECT_THROW(equal_parameter(study, aggregate, {{ParameterWhat::conductivity, foot, {}}, 2, 1}, *target), InputFault);
    EXPECT_THROW(equal_courses(study, aggregate, foot, "nothing", *target, 225'000, 8), InputFault);
    EXPECT_THROW(equal_courses(study, aggregate, foot, "aggregate-light", *target, 0, 8), InputFault);
    EXPECT_THROW(equal_courses(study, aggregate, {"soil-that-is-not"}, "aggregate-light", *target, 225'000, 8), InputFault);
}

}  // namespace
}  // namespace wallfoot
