// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/site_faults.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

using namespace wallfoot;

namespace {

SiteFaults of(const std::string& id) { return site_faults(starter_details().get(id), {}); }

bool holds(const std::vector<std::string>& words, const std::string& part) {
    return std::any_of(words.begin(), words.end(), [&](const std::string& word) { return word.find(part) != std::string::npos; });
}

}  // namespace

// psi and fRsi of each row are those of the variant that the same switch makes, solved by itself.
TEST(SiteFaults, AreTheDifferencesOfTheVariantsTheSwitchesMake) {
    const StarterDetails details = starter_details();
    const Detail& detail = details.get("cavity-wall-insulation-above-slab");
    const SiteFaults found = site_faults(detail, {});
    ASSERT_EQ(found.effects.size(), detail.switches.size());
    ASSERT_FALSE(found.effects.empty());
    for (const FaultEffect& effect : found.effects) {
        DetailSettings settings;
        settings.switches = {effect.id};
        const Study study = make_study(detail, settings);
        const auto meant = find(study, study.variants.at(0)), with = find(study, study.variants.at(1));
        ASSERT_TRUE(effect.psi) << effect.id;
        EXPECT_NEAR(effect.psi->value, with->headline_psi()->value->value - meant->headline_psi()->value->value, 1e-12) << effect.id;
        EXPECT_NEAR(*effect.factor, *with->headline_surface()->fRsi - *meant->headline_surface()->fRsi, 1e-12) << effect.id;
    }
    EXPECT_TRUE(std::is_sorted(found.effects.begin(), found.effects.end(), [](const FaultEffect& a, const FaultEffect& b) { return a.psi->lower > b.psi->upper; }));
}

// A strip left out raises psi and may still warm the surface above it: the sign of each is told, and both are named.
TEST(SiteFaults, SayWherePsiAndTheColdestSurfaceMoveApart) {
    std::size_t mixed = 0;
    for (const char* id : {"cavity-wall-insulation-below-slab", "cavity-wall-insulation-above-slab"})
        for (const FaultEffect& effect : of(id).effects)
            if (effect.mixed()) {
                ++mixed;
                EXPECT_GT(effect.psi->value * *effect.factor, 0);
            }
    EXPECT_GT(mixed, 0u);
    EXPECT_NE(site_faults_text(of("cavity-wall-insulation-above-slab")).find("read both together"), std::string::npos);
}

TEST(SiteFaults, NameWhatWaterReachesAndWhichRulesAreMetNoLonger) {
    const SiteFaults found = of("cavity-wall-insulation-below-slab");
    const auto named = [&](const std::string& name) {
        return *std::find_if(found.effects.begin(), found.effects.end(), [&](const FaultEffect& effect) { return effect.name == name; });
    };
    EXPECT_TRUE(holds(named("Soil above the damp course").rules_worse, "Nothing porous past"));
    EXPECT_TRUE(holds(named("Mortar droppings in the cavity").rules_worse, "Cavity clear"));
    EXPECT_TRUE(holds(named("Mortar droppings in the cavity").reached, "Mortar droppings"));
    EXPECT_TRUE(named("Wrong block at the foot").rules_worse.empty()) << "heat only";
    EXPECT_TRUE(named("Wrong block at the foot").rules_open.empty());
}

TEST(SiteFaults, ArePrintedForPeopleAndPrograms) {
    const SiteFaults found = of("cavity-wall-insulation-below-slab");
    const auto json = nlohmann::json::parse(site_faults_json(found));
    ASSERT_EQ(json["faults"].size(), found.effects.size());
    for (std::size_t i = 0; i < found.effects.size(); ++i) EXPECT_EQ(json["faults"][i]["id"], found.effects[i].id);
    for (const FaultEffect& effect : found.effects) EXPECT_NE(site_faults_text(found).find(effect.name), std::string::npos);
}

// A render that is left out with its board is not kept dry by that.
TEST(SiteFaults, WhatIsLeftOutIsNotToldAsKeptDry) {
    for (const FaultEffect& effect : of("solid-wall-external-insulation").effects)
        for (const std::string& name : effect.no_longer_reached) {
            const auto& pieces = effect.findings->section->pieces;
            EXPECT_TRUE(std::any_of(pieces.begin(), pieces.end(), [&](const Piece& piece) { return piece.name == name; })) << effect.name << ": " << name;
        }
}

// As many digits as the errors support; what is less than one of the last is told so, and never as nothing.
TEST(SiteFaults, AChangeOfTheFactorHasTheDigitsThatItsErrorSupports) {
    const struct {
        double factor, open;
        const char* told;
    } table[] = {{0.0123, 0.0005, "+0.012"}, {-0.0123, 0.0005, "-0.012"}, {0.0007, 0.0005, "rise below 0.001"}, {-0.04, 0.02, "fall below 0.1"}, {0.26, 0.02, "+0.3"}, {0.0003, 0, "+0.0003"}, {0.00003, 0, "rise below 0.0001"}};
    for (const auto& line : table) {
        FaultEffect effect;
        effect.factor = line.factor;
        effect.factor_open = line.open;
        EXPECT_EQ(factor_change(effect), line.told);
    }
}
