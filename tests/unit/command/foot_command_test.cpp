// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace {

namespace fs = std::filesystem;
using nlohmann::json;

class FootCommand : public wallfoot::CommandTest {
  protected:
    std::string resources_with(const json& rules, const std::string& name) {
        fs::create_directories(folder_ / "own" / "rule_sets");
        std::ofstream(folder_ / "own" / "rule_sets" / name) << rules;
        return " --resources " + (folder_ / "own").string();
    }
    static json general() { return json::parse(all_of(wallfoot::in_tree("resources/rule_sets/foot-general.json"))); }
    json variant(const std::string& arguments) {
        const auto ran = run("foot --json --variant foam " + arguments);
        EXPECT_EQ(ran.status, 0) << ran.err;
        return ran.status == 0 ? json::parse(ran.out)["variants"][0] : json();
    }
};

const std::string sample = wallfoot::in_tree("samples/slab-insulation-below.wallfoot");

std::string verdict(const json& variant, const std::string& rule) {
    for (const auto& check : variant["checks"])
        if (check["rule"] == rule) return check["verdict"];
    return "none";
}

TEST_F(FootCommand, PrintsVerdictsAndQuestions) {
    const auto ran = run("foot --variant foam " + sample);
    ASSERT_EQ(ran.status, 0) << ran.err;
    EXPECT_EQ(ran.out.find('{'), std::string::npos) << "no place left open in a sentence";
    EXPECT_NE(ran.out.find("meets: Damp-proof course above the ground"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("undecided: Membrane against ground gas"), std::string::npos);
    const auto questions = run("foot --questions --variant foam " + sample);
    EXPECT_TRUE(questions.out.starts_with("1. "));
    EXPECT_NE(ran.out.find(questions.out), std::string::npos) << "the same questions, in the same order";
}

TEST_F(FootCommand, PrintsJsonAndSolveHasTheSameChecks) {
    const json found = variant(sample);
    EXPECT_EQ(verdict(found, "dpc_height"), "meets");
    EXPECT_EQ(verdict(found, "gas_membrane"), "undecided");
    EXPECT_EQ(found["rule_set"], "foot-general");
    for (const auto& check : found["checks"])
        for (const char* field : {"text", "source", "asks", "places", "facts", "ends", "would_decide"}) EXPECT_TRUE(check.contains(field)) << field;
    const auto solved = run("solve --json --variant foam " + sample);
    ASSERT_EQ(solved.status, 0) << solved.err;
    EXPECT_EQ(json::parse(solved.out)["variants"][0]["checks"], found["checks"]);
    const auto table = run("solve --variant foam " + sample);
    EXPECT_NE(table.out.find("check: undecided"), std::string::npos) << table.out;
}

TEST_F(FootCommand, TakesRulesOfAFolderAndOfTheStudy) {
    json national = general();
    national["id"] = "foot-somewhere";
    national["rules"][0]["numbers"]["least"] = 200;
    const std::string own = resources_with(national, "foot-somewhere.json");
    EXPECT_EQ(verdict(variant(sample + own), "dpc_height"), "meets") << "it is there, but nobody asked for it";
    EXPECT_EQ(verdict(variant("--rules foot-somewhere " + sample + own), "dpc_height"), "does-not-meet");
    json study = json::parse(all_of(sample));
    study["rule_sets"]["foot-somewhere"] = national;
    EXPECT_EQ(verdict(variant(write("carries.wallfoot", study.dump())), "dpc_height"), "does-not-meet") << "without the folder too";
    json general_changed = general();
    general_changed["rules"][0]["numbers"]["least"] = 200;
    const json overridden = variant(sample + resources_with(general_changed, "foot-general.json"));
    EXPECT_EQ(verdict(overridden, "dpc_height"), "does-not-meet");
    EXPECT_EQ(overridden["warnings"][0]["code"], "foot-rules-overridden");
}

TEST_F(FootCommand, SaysWhatIsWrongWithTheInput) {
    for (const char* wrong : {"", "--variant", "--later"}) EXPECT_EQ(run("foot " + sample + " " + wrong).status, *wrong ? 2 : 0);
    const auto unknown = run("foot --rules foot-nowhere " + sample);
    EXPECT_EQ(unknown.status, 2);
    EXPECT_NE(unknown.err.find("foot-general"), std::string::npos) << "what there is";
    json broken = general();
    broken["rules"][3]["numbers"]["least"] = "225";
    const auto damaged = run("foot " + sample + resources_with(broken, "foot-general.json"));
    EXPECT_EQ(damaged.status, 2);
    EXPECT_NE(damaged.err.find("foot-general.json"), std::string::npos) << damaged.err;
    EXPECT_NE(damaged.err.find("/rules/3/numbers/least"), std::string::npos) << damaged.err;
    EXPECT_TRUE(damaged.out.empty());
    json study = json::parse(all_of(sample));
    study["site"]["soil"] = {{"value", "marsh"}};
    const auto fact = run("foot " + write("marsh.wallfoot", study.dump()));
    EXPECT_EQ(fact.status, 2);
    EXPECT_NE(fact.err.find("/site/soil/value"), std::string::npos) << fact.err;
    study["site"]["soil"] = {{"value", "clay"}};
    study["site"]["soyl"] = {{"value", "clay"}};
    const auto misspelt = run("foot " + write("misspelt.wallfoot", study.dump()));
    EXPECT_EQ(misspelt.status, 0);
    EXPECT_NE(misspelt.err.find("soyl"), std::string::npos) << "never silently";
}

}  // namespace
