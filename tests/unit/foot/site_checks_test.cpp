// SPDX-License-Identifier: GPL-3.0-or-later
#include <nlohmann/json.hpp>
#include <set>

#include "tests/unit/foot/foot_drafts.hpp"

namespace wallfoot::foot_drafts {
namespace {

using enum Verdict;

Draft with_unit(std::optional<double> density, std::optional<double> strength, std::optional<std::string> aggregate = {}, std::optional<bool> assessed = {}, double ground = -150) {
    Draft d = foot(ground);
    stated(d);
    Material& unit = d.material("unit");
    unit.density = density, unit.strength = strength, unit.aggregate = aggregate, unit.assessed = assessed;
    return d;
}

// NHBC Standards 5.1.13 and 6.1.8: any one of density 1500 kg/m³, strength 7.3 N/mm², dense aggregate, assessment.
TEST(FrostBand, accepts_any_one_of_what_the_rule_names) {
    const auto verdict = [](const Draft& d) { return check_of(d, RuleKind::frost_band, "outer-base").verdict; };
    EXPECT_EQ(verdict(with_unit(1400, 5, "light", false)), does_not_meet);
    EXPECT_EQ(verdict(with_unit(1500, 5, "light", false)), meets);
    EXPECT_EQ(verdict(with_unit(1499, 5, "light", false)), does_not_meet);
    EXPECT_EQ(verdict(with_unit(1400, 7.3, "light", false)), meets);
    EXPECT_EQ(verdict(with_unit(1400, 7.2, "light", false)), does_not_meet);
    EXPECT_EQ(verdict(with_unit(1400, 5, "dense", false)), meets);
    EXPECT_EQ(verdict(with_unit(1400, 5, "light", true)), meets);
}

TEST(FrostBand, says_which_property_would_decide) {
    const Check nothing = check_of(with_unit({}, {}), RuleKind::frost_band, "outer-base");
    EXPECT_EQ(nothing.verdict, undecided);
    for (const char* property : {"density", "strength", "aggregate", "assessed"}) EXPECT_TRUE(asks(nothing, std::string("material/unit/") + property)) << property;
    const Check low = check_of(with_unit(1400, {}, "light", false), RuleKind::frost_band, "outer-base");
    EXPECT_EQ(low.verdict, undecided);
    ASSERT_EQ(low.deciders.size(), 1u);
    EXPECT_EQ(low.deciders[0].key, "material/unit/strength");
    EXPECT_NE(english(low.message).find("1400"), std::string::npos);
}

TEST(FrostBand, may_ask_for_properties_together) {
    FootRules rules = general();
    rule_of(rules, RuleKind::frost_band).accepted = {{UnitProperty::density, UnitProperty::strength}};
    EXPECT_EQ(check(with_unit(1500, 5), RuleKind::frost_band, rules).verdict, does_not_meet);
    EXPECT_EQ(check(with_unit(1500, 7.3), RuleKind::frost_band, rules).verdict, meets);
    EXPECT_EQ(check(with_unit(1400, {}), RuleKind::frost_band, rules).verdict, does_not_meet) << "no strength would help";
    const Check open = check(with_unit(1500, {}), RuleKind::frost_band, rules);
    EXPECT_EQ(open.verdict, undecided);
    ASSERT_EQ(open.deciders.size(), 1u);
    EXPECT_EQ(open.deciders[0].key, "material/unit/strength");
}

// Common practice, no source: most at risk from 150 mm above to 150 mm below the ground, in the outer leaf.
TEST(FrostBand, is_about_the_ground_and_the_outer_leaf) {
    const auto in_band = [](const Draft& d) {
        std::set<std::string> pieces;
        for (const Check& one : checks(d, RuleKind::frost_band)) pieces.insert(one.pieces.begin(), one.pieces.end());
        return pieces;
    };
    EXPECT_EQ(in_band(foot(-150)), std::set<std::string>{"outer-base"}) << "what begins 150 mm above the ground is outside";
    EXPECT_EQ(in_band(foot(-149)), (std::set<std::string>{"outer", "outer-base"}));
    Draft deep = foot(-150);
    deep.piece("deep", "unit", 200, -600, 300, -300);
    EXPECT_FALSE(in_band(deep).contains("deep"));
    deep.section.pieces.back().outline = testing::box(200, -600, 300, -299);
    EXPECT_TRUE(in_band(deep).contains("deep"));
}

TEST(FrostBand, goes_by_the_class_of_a_brick_and_by_the_frost_of_the_site) {
    Draft d = with_unit(1900, 40);
    d.material("unit").frost = "F1";  // EN 771-1: moderate exposure; the band is severe
    EXPECT_EQ(check_of(d, RuleKind::frost_band, "outer-base").message.code, "foot-units-class-low");
    d.material("unit").frost = "F2";
    EXPECT_EQ(check_of(d, RuleKind::frost_band, "outer-base").verdict, meets);
    Draft poor = with_unit(1400, 5, "light", false);
    EXPECT_EQ(check_of(fact(poor, "frost", "none"), RuleKind::frost_band, "outer-base").verdict, not_assessed);
    const Check open = check_of(fact(poor, "frost", {}), RuleKind::frost_band, "outer-base");
    EXPECT_EQ(open.verdict, undecided);
    ASSERT_EQ(open.ends.size(), 2u) << "both ends";
    EXPECT_TRUE(asks(open, "site/frost"));
    Draft good = with_unit(1800, 5);
    EXPECT_EQ(check_of(fact(good, "frost", {}), RuleKind::frost_band, "outer-base").verdict, meets) << "good anywhere: nothing to ask";
}

TEST(InnerBelowDpc, is_judged_by_its_own_rule) {
    Draft d = foot();
    EXPECT_EQ(check_of(d, RuleKind::inner_below_dpc, "inner-base").verdict, meets);
    d.material("inner-unit") = Material{};
    d.material("").id = "inner-unit";
    d.material("inner-unit").kind = MaterialKind::masonry;
    EXPECT_EQ(check_of(d, RuleKind::inner_below_dpc, "inner-base").verdict, undecided);
    d.material("inner-unit").frost = "F1";
    EXPECT_EQ(check_of(d, RuleKind::inner_below_dpc, "inner-base").verdict, meets) << "the milder case";
    for (const Check& one : checks(d, RuleKind::inner_below_dpc)) EXPECT_EQ(one.pieces, std::vector<std::string>{"inner-base"});
}

TEST(GasMembrane, is_never_more_than_drawn_continuous) {
    Draft d = foot();
    const Check open = check(d, RuleKind::gas_membrane);
    EXPECT_EQ(open.verdict, undecided);
    EXPECT_EQ(open.ends.size(), 2u);
    fact(d, "gas", "needed");
    const Check none = check(d, RuleKind::gas_membrane);
    EXPECT_EQ(none.message.code, "foot-gas-none");
    EXPECT_EQ(none.verdict, does_not_meet);
    Draft across = d;
    across.membrane("gas", {{-1500, -150}, {0, -150}, {0, 0}, {100, 0}, {200, 0}, {300, 0}}, MembraneKind::gas);
    const Check drawn = check(across, RuleKind::gas_membrane);
    EXPECT_EQ(drawn.message.code, "foot-gas-drawn");
    EXPECT_EQ(drawn.verdict, not_assessed);
    for (const Check* one : {&none, &drawn}) EXPECT_NE(english(one->message).find("specialist"), std::string::npos) << "the caution is in the sentence";
    Draft brief = d;
    brief.membrane("gas", {{-1500, -150}, {0, -150}, {0, 0}, {100, 0}}, MembraneKind::gas);
    EXPECT_EQ(check(brief, RuleKind::gas_membrane).message.code, "foot-gas-outside");
    EXPECT_EQ(check(brief, RuleKind::gas_membrane).places.front(), mm(100, 0));
    Draft holed = d;
    holed.membrane("gas", {{-1400, -150}, {0, -150}, {0, 0}, {300, 0}}, MembraneKind::gas);
    EXPECT_EQ(check(holed, RuleKind::gas_membrane).message.code, "foot-gas-floor");
    Draft two = d;
    two.membrane("gas-1", {{-1500, -150}, {0, -150}, {0, 0}, {100, 0}}, MembraneKind::gas).membrane("gas-2", {{0, 0}, {100, 0}, {300, 0}}, MembraneKind::gas);
    EXPECT_EQ(check(two, RuleKind::gas_membrane).message.code, "foot-gas-laps");
    for (Membrane& m : two.section.membranes) m.sealed_laps = true;
    EXPECT_EQ(check(two, RuleKind::gas_membrane).message.code, "foot-gas-drawn");
    EXPECT_EQ(check(fact(d, "gas", "not-needed"), RuleKind::gas_membrane).verdict, not_assessed);
}

TEST(Sulfate, asks_the_maker_from_its_class_on) {
    Draft d = foot();
    EXPECT_EQ(check(d, RuleKind::sulfate).ends.size(), 2u);
    EXPECT_EQ(check(fact(d, "sulfate", "DS-1"), RuleKind::sulfate).verdict, meets);
    const Check asked = check(fact(d, "sulfate", "DS-2"), RuleKind::sulfate);
    EXPECT_EQ(asked.verdict, undecided);
    EXPECT_TRUE(asks(asked, "sulfate/maker"));
    EXPECT_EQ(asked.pieces, (std::vector<std::string>{"footing", "slab", "inner-base", "outer-base"})) << "all that touches soil";
}

TEST(DryConductivity, is_told_below_the_course) {
    Draft d = foot();
    for (Material& m : d.study.materials)
        if (m.kind == MaterialKind::masonry) m.lambda.by_condition[Condition::dry].value = 0.5;
    for (Piece& piece : d.section.pieces) piece.moisture.reset();
    const Check dry = check(d, RuleKind::dry_conductivity);
    EXPECT_EQ(dry.verdict, does_not_meet);
    EXPECT_EQ(dry.pieces, (std::vector<std::string>{"inner-base", "outer-base"}));
    for (const char* id : {"unit", "inner-unit"})
        for (const Condition c : {Condition::below_dpc, Condition::below_ground}) d.material(id).lambda.by_condition[c].value = 0.7;
    EXPECT_EQ(check(d, RuleKind::dry_conductivity).verdict, meets);
}

// Typical classes, from memory (EN 1996-2:2006 Annex A); the national annex decides.
TEST(Exposure, follows_zone_and_site) {
    const auto class_of = [](Draft d, const std::string& piece, const std::vector<std::pair<std::string, std::string>>& facts) {
        for (const auto& [key, value] : facts) fact(d, key, value);
        for (const Check& one : checks(d, RuleKind::exposure))
            if (one.pieces == std::vector{piece} && one.message.args.contains("class")) return one.message.args.at("class");
        return std::string("none");
    };
    Draft d = foot();
    stated(d);
    d.piece("deep", "unit", 200, -600, 300, -300);
    EXPECT_EQ(class_of(d, "inner", {}), "MX1");
    EXPECT_EQ(class_of(d, "inner-base", {}), "MX2.2") << "water reaches it";
    EXPECT_EQ(class_of(d, "outer", {}), "MX3.1");
    EXPECT_EQ(class_of(d, "outer", {{"rain", "severe"}}), "MX3.2");
    EXPECT_EQ(class_of(d, "outer", {{"frost", "none"}}), "MX2.1");
    EXPECT_EQ(class_of(d, "outer", {{"coastal", "true"}}), "MX4");
    EXPECT_EQ(class_of(d, "outer-base", {}), "MX3.2");
    EXPECT_EQ(class_of(d, "outer-base", {{"frost", "none"}}), "MX2.2");
    EXPECT_EQ(class_of(d, "outer-base", {{"soil", "made-ground"}}), "MX5");
    EXPECT_EQ(class_of(d, "deep", {}), "MX2.2");
    EXPECT_EQ(class_of(d, "deep", {{"sulfate", "DS-3"}}), "MX5");
    EXPECT_EQ(class_of(d, "deep", {{"drained", "false"}}), "") << "the table speaks of drained ground only";
    const Check open = check_of(fact(d, "rain", {}), RuleKind::exposure, "outer");
    EXPECT_EQ(open.verdict, undecided);
    ASSERT_EQ(open.ends.size(), 2u);
    EXPECT_EQ(open.ends[0].when, "driving rain = sheltered or moderate");
    EXPECT_EQ(open.ends[1].message.args.at("class"), "MX3.2");
}

TEST(WaterPressure, is_no_matter_for_a_damp_course) {
    Draft d = foot(-140);
    EXPECT_EQ(check(d, RuleKind::water_pressure).ends.size(), 2u);
    EXPECT_EQ(check(fact(d, "ground_water", "2000"), RuleKind::water_pressure).verdict, meets);
    EXPECT_EQ(check(fact(d, "ground_water", "10"), RuleKind::water_pressure).verdict, meets) << "as deep as the membrane";
    const Check above = check(fact(d, "ground_water", "-10"), RuleKind::water_pressure);
    EXPECT_EQ(above.verdict, does_not_meet);
    EXPECT_EQ(above.message.args.at("height"), "20");
    fact(d, "ground_water", {});
    d.section.water->water_level = from_mm(-100);
    EXPECT_EQ(check(d, RuleKind::water_pressure).verdict, does_not_meet) << "what the drawing states needs no fact";
    d.membrane("tank", {{0, -600}, {0, -150}}, MembraneKind::tanking);
    EXPECT_EQ(check(d, RuleKind::water_pressure).verdict, not_assessed);
}

TEST(Strength, follows_the_storeys) {
    Draft d = foot();
    d.material("unit").strength = 3.5;
    EXPECT_EQ(check_of(d, RuleKind::strength, "outer-base").ends.size(), 2u);
    EXPECT_EQ(check_of(fact(d, "storeys", "2"), RuleKind::strength, "outer-base").verdict, meets);
    const Check low = check_of(fact(d, "storeys", "4"), RuleKind::strength, "outer-base");
    EXPECT_EQ(low.verdict, does_not_meet);
    EXPECT_NE(english(low.message).find("structural engineer"), std::string::npos);
    EXPECT_FALSE(names(check_of(d, RuleKind::strength, "outer"), "storeys")) << "strong enough for any";
    d.material("unit").strength.reset();
    EXPECT_TRUE(asks(check_of(d, RuleKind::strength, "outer-base"), "material/unit/strength"));
}

TEST(FootChecks, open_exactly_where_they_rest_on_a_fact_that_is_taken_away) {
    Draft d = with_unit(1400, 5, "light", false, -140);
    d.piece("deep", "unit", 200, -600, 300, -290);
    const auto before = checks(d);
    for (const Check& one : before) EXPECT_TRUE(one.ends.empty()) << one.name;
    std::set<std::string> used;
    for (const SiteFact& taken : site_facts()) {
        Draft without = d;
        const auto after = checks(fact(without, taken.key, {}));
        ASSERT_EQ(after.size(), before.size());
        for (const std::string& value : taken.could_be) {
            Draft other = d;
            const auto with = checks(fact(other, taken.key, value));
            for (const Check& one : before)
                EXPECT_TRUE(names(one, taken.key) || std::find(with.begin(), with.end(), one) != with.end()) << one.name << " changed with " << taken.key << " " << value;
        }
        for (const Check& one : before) {  // checks of one rule may change places
            if (!names(one, taken.key)) {
                EXPECT_TRUE(std::find(after.begin(), after.end(), one) != after.end()) << one.name << " changed without " << taken.key;
                continue;
            }
            used.insert(taken.key);
            const auto now = std::find_if(after.begin(), after.end(), [&](const Check& c) { return c.rule == one.rule && c.pieces == one.pieces && c.message.at == one.message.at; });
            ASSERT_TRUE(now != after.end()) << one.name;
            EXPECT_EQ(now->verdict, undecided) << one.name << " without " << taken.key;
            EXPECT_GE(now->ends.size(), 2u);
            EXPECT_TRUE(asks(*now, std::string("site/") + taken.key));
        }
    }
    EXPECT_EQ(used, (std::set<std::string>{"coastal", "drained", "frost", "gas", "ground_water", "rain", "soil", "storeys", "sulfate"}));
}

TEST(FootChecks, are_the_same_in_the_mirror) {
    Draft d = with_unit({}, 5);
    fact(d, "rain", {}), fact(d, "gas", "needed");
    d.piece("render", "render", 300, -150, 315, 800).piece("droppings", "concrete", 100, -225, 150, -75);
    d.membrane("gas", {{-1500, -150}, {0, -150}, {0, 0}, {100, 0}}, MembraneKind::gas);
    const auto there = checks(d), here = checks(water_drafts::mirrored(d));
    ASSERT_EQ(there.size(), here.size());
    std::set<Verdict> seen;
    for (std::size_t i = 0; i < there.size(); ++i) {
        seen.insert(there[i].verdict);
        EXPECT_EQ(there[i].verdict, here[i].verdict) << there[i].name;
        EXPECT_EQ(there[i].message.code, here[i].message.code);
        EXPECT_EQ(there[i].message.args, here[i].message.args);
        EXPECT_EQ(there[i].pieces, here[i].pieces);
        ASSERT_EQ(there[i].places.size(), here[i].places.size());
        if (there[i].kind == RuleKind::dry_conductivity) continue;  // a point somewhere in each piece
        for (std::size_t k = 0; k < there[i].places.size(); ++k) {
            EXPECT_NEAR(static_cast<double>(there[i].places[k].x), static_cast<double>(-here[i].places[k].x), 2) << there[i].name;
            EXPECT_EQ(there[i].places[k].y, here[i].places[k].y) << there[i].name;
        }
    }
    EXPECT_EQ(seen.size(), 4u) << "every verdict occurs";
}

TEST(Questions, are_ordered_by_how_many_checks_wait_for_them) {
    Draft d = foot();
    d.material("unit").density.reset(), d.material("unit").strength.reset();
    const auto all = checks(d);
    const auto questions = questions_of(all);
    ASSERT_GT(questions.size(), 4u);
    int waiting = 0;
    for (std::size_t i = 0; i < questions.size(); ++i) {
        int count = 0;
        for (const Check& one : all) count += asks(one, questions[i].key);
        EXPECT_EQ(questions[i].decides, count) << questions[i].key;
        EXPECT_TRUE(i == 0 || questions[i - 1].decides >= questions[i].decides);
        waiting += count;
    }
    EXPECT_GT(waiting, 4);
    const std::string text = questions_text(questions);
    EXPECT_TRUE(text.starts_with("1. ")) << text;
    EXPECT_NE(text.find("unit"), std::string::npos) << "the material is named";
    stated(d);
    d.material("unit").density = 1800, d.material("unit").strength = 10;
    EXPECT_EQ(questions_text(questions_of(checks(d))), "") << "nothing is open";
}

TEST(FootReport, tells_the_estimate_and_the_band) {
    Draft d = foot();
    d.study.variants.push_back({"v", "V", "", std::make_shared<const Section>(d.section), {}});
    const FootReport report = foot_report(d.study, d.study.variants[0]);
    ASSERT_EQ(report.bands.size(), 1u);
    EXPECT_EQ(report.bands[0].area, (Rect{from_mm(200), from_mm(-300), from_mm(300), 0}));
    ASSERT_EQ(report.rising_damp.size(), 2u);
    EXPECT_DOUBLE_EQ(report.rising_damp[0].range.low_inputs.thickness, 100);
    EXPECT_TRUE(english(report.rising_damp[0].message).starts_with("Estimate")) << english(report.rising_damp[0].message);
    for (Material& m : d.study.materials) m.sorptivity = 1;
    const FootReport known = foot_report(d.study, d.study.variants[0]);
    EXPECT_TRUE(known.rising_damp[0].stated_sorptivity);
    EXPECT_LT(known.rising_damp[0].range.high.height, report.rising_damp[0].range.high.height);
    const auto json = nlohmann::json::parse(foot_json("wallfoot", "t", {report}));
    EXPECT_EQ(json["variants"][0]["checks"].size(), report.checks.size());
    const std::string table = foot_table({report});
    EXPECT_EQ(table.find('{'), std::string::npos) << "no place left open in a sentence: " << table;
}

}  // namespace
}  // namespace wallfoot::foot_drafts
