// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/foot/rules.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "core/foot/foot_words.hpp"
#include "core/study/site.hpp"
#include "tests/unit/arrangement/sections.hpp"

namespace wallfoot {
namespace {

using Json = nlohmann::json;

Json general() { return Json::parse(foot_rules_text("foot-general")); }

std::vector<Message> faults_of(const Json& json, const std::string& pointer = "") {
    try {
        read_foot_rules(json.dump(), pointer);
    } catch (const InputFault& fault) {
        return fault.faults();
    }
    return {};
}

TEST(FootRules, the_general_set_has_every_kind_and_a_source_for_each) {
    const FootRules rules = read_foot_rules(foot_rules_text("foot-general"));
    std::map<RuleKind, int> kinds;
    for (const Rule& rule : rules.rules) {
        ++kinds[rule.kind];
        EXPECT_FALSE(rule.source.empty()) << rule.id;
        EXPECT_FALSE(rule.asks.empty()) << rule.id;
        EXPECT_FALSE(rule.jurisdiction.empty()) << rule.id;
    }
    EXPECT_EQ(kinds.size(), rule_kind_words.size());
}

TEST(FootRules, a_broken_one_names_the_place) {
    const struct {
        const char *pointer, *value, *code, *place;
    } table[] = {{"/rules/0/check", "\"dpc-hight\"", "unknown-word", "/rules/0/check"},
                 {"/rules/0/numbers/least", "\"150\"", "wrong-type", "/rules/0/numbers/least"},
                 {"/rules/0/numbers/least", "-1", "number-out-of-range", "/rules/0/numbers/least"},
                 {"/rules/0/numbers", "{}", "foot-rules-missing", "/rules/0"},
                 {"/rules/0/least", "150", "foot-rules-unknown-field", "/rules/0/least"},
                 {"/rules/6/accepted/0/0", "\"weight\"", "unknown-word", "/rules/6/accepted/0/0"},
                 {"/rules/6/accepted", "[]", "foot-rules-missing", "/rules/6"},
                 {"/rules/6/accepted/0", "[]", "foot-rules-empty-list", "/rules/6/accepted/0"},
                 {"/rules/6/numbers", "{\"above\":150,\"below\":150,\"strength\":7.3}", "foot-rules-missing", "/rules/6"},
                 {"/rules/1/id", "\"dpc_height\"", "duplicate-id", "/rules/1"},
                 {"/for", "\"roof\"", "unknown-word", "/for"},
                 {"/id", "\"\"", "empty-id", "/id"}};
    EXPECT_TRUE(faults_of(general()).empty());
    for (const auto& line : table) {
        Json json = general();
        json[Json::json_pointer(line.pointer)] = Json::parse(line.value);
        const auto faults = faults_of(json, "/rule_sets/own");
        ASSERT_FALSE(faults.empty()) << line.pointer;
        EXPECT_EQ(faults[0].pointer, std::string("/rule_sets/own") + line.place);
        EXPECT_EQ(faults[0].code, line.code) << line.pointer << ": " << english(faults[0]);
    }
    EXPECT_THROW(read_foot_rules("{ \"id\": "), InputFault);
}

TEST(FootRules, a_study_carries_its_own) {
    Study study = testing::study();
    EXPECT_EQ(used_foot_rules(study).rules.id, "foot-general");
    EXPECT_THROW(used_foot_rules(study, "foot-nowhere"), InputFault);
    study.kept["rule_sets"] = R"({"own":{"limits":[1]}})";
    EXPECT_EQ(used_foot_rules(study).rules.id, "foot-general") << "a set for something else";
    study = carry_foot_rules(study, "foot-general");
    Json kept = Json::parse(study.kept["rule_sets"]);
    EXPECT_TRUE(kept.contains("own")) << "what else is carried stays";
    kept["foot-general"]["rules"][0]["numbers"]["least"] = 200;
    study.kept["rule_sets"] = kept.dump();
    EXPECT_EQ(used_foot_rules(study).rules.rules[0].numbers.at("least"), 200);
    kept["zz"] = kept["foot-general"];
    study.kept["rule_sets"] = kept.dump();
    ASSERT_EQ(used_foot_rules(study).notes.size(), 1u) << "two are carried, one is asked";
    kept["foot-general"]["rules"][0].erase("source");
    study.kept["rule_sets"] = kept.dump();
    try {
        used_foot_rules(study);
        ADD_FAILURE() << "a broken set is used";
    } catch (const InputFault& fault) {
        EXPECT_TRUE(fault.faults()[0].pointer.starts_with("/rule_sets/foot-general/rules/0")) << fault.faults()[0].pointer;
    }
    study = carry_foot_rules(study, "foot-general");
    EXPECT_FALSE(Json::parse(study.kept["rule_sets"]).contains("zz")) << "one set takes the place of all";
}

TEST(SiteFacts, are_stated_with_their_source_and_taken_away) {
    Study study = testing::study();
    EXPECT_FALSE(site_value(study, "gas")) << "nothing stands for what is not known";
    study = set_site_fact(study, "gas", "needed", "radon map");
    study = set_site_fact(study, "drained", "true");
    study = set_site_fact(study, "ground_water", "1200.5");
    EXPECT_EQ(study.site["gas"].value, "\"needed\"");
    EXPECT_EQ(study.site["drained"].value, "true");
    EXPECT_EQ(site_value(study, "ground_water"), "1200.5");
    EXPECT_EQ(site_source(study, "gas"), "radon map");
    EXPECT_FALSE(set_site_fact(study, "gas", {}).site.contains("gas"));
    for (const auto& [key, value] : {std::pair("gas", "yes"), std::pair("frost", "F2"), std::pair("drained", "1"), std::pair("ground_water", "deep"),
                                     std::pair("ground_water", "1e9"), std::pair("storeys", "0"), std::pair("gaz", "needed")})
        EXPECT_THROW(set_site_fact(study, key, value), InputFault) << key << " " << value;
    const auto wrong = check_site_fact("soil", Fact{"\"marsh\"", "", {}});
    ASSERT_TRUE(wrong);
    EXPECT_NE(english(*wrong).find("made-ground"), std::string::npos) << "what would be right";
}

TEST(SiteFacts, may_stand_under_building) {
    Study study = testing::study();
    study.building = R"({ "floor": { "storeys": 9 }, "note": "\"storeys\": 8", "storeys": 2, "use": "dwelling" })";
    EXPECT_EQ(site_value(study, "storeys"), "2");
    EXPECT_EQ(site_value(study, "use"), "dwelling");
    study = set_site_fact(study, "storeys", "3");
    EXPECT_EQ(site_value(study, "storeys"), "3");
    study.building = R"({ "storeys": [2], "use": 7 })";
    EXPECT_EQ(site_value(set_site_fact(study, "storeys", {}), "storeys"), std::nullopt);
    EXPECT_EQ(site_value(study, "use"), std::nullopt);
}

TEST(SiteFacts, have_words_for_everything_that_can_be_said) {
    const auto has = [](const std::string& text, const std::string& code) { EXPECT_NE(text, code); };
    for (const SiteFact& fact : site_facts()) {
        const std::string key = fact.key;
        has(site_fact_name(key), "site-fact-" + key);
        has(site_question(key), "site-ask-" + key);
        for (const std::string& value : fact.could_be) has(english({Severity::note, "site-" + key + "-" + value, {}, {}, ""}), "site-" + key + "-" + value);
        EXPECT_TRUE(fact.kind != FactKind::word || fact.could_be == fact.words) << "all that could be is all that may be said";
    }
    EXPECT_EQ(site_value_text("ground_water", "1200"), "1200 mm");
}

}  // namespace
}  // namespace wallfoot
