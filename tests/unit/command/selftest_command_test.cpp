// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

namespace {

class SelftestCommand : public wallfoot::CommandTest {};

}  // namespace

TEST_F(SelftestCommand, BothCasesPassWithEveryValueOfTheStandard) {
    const auto ran = run("selftest --json");
    ASSERT_EQ(ran.status, 0) << ran.err << ran.out;
    const auto json = nlohmann::json::parse(ran.out);
    ASSERT_EQ(json["cases"].size(), 2u);
    EXPECT_EQ(json["cases"][0]["values"].size(), 28u);
    EXPECT_EQ(json["cases"][1]["values"].size(), 10u) << "nine temperatures and a heat flow";
    EXPECT_EQ(json["date"].get<std::string>().size(), 10u);
    const auto page = run("selftest");
    EXPECT_NE(page.out.find("case 2: passed"), std::string::npos) << page.out;
    EXPECT_NE(page.out.find("three-dimensional"), std::string::npos);
    EXPECT_EQ(run("selftest --loud").status, 2);
}

// A case of other numbers in the place of the shipped one must fail: the test can fail.
TEST_F(SelftestCommand, AWrongValueIsNotPassed) {
    std::string cases = all_of(wallfoot::in_tree("resources/selftest/iso10211.json"));
    const auto place = cases.find("18.3");
    ASSERT_NE(place, std::string::npos);
    cases.replace(place, 4, "18.6");
    std::filesystem::create_directories(folder_ / "own" / "selftest");
    std::ofstream(folder_ / "own" / "selftest" / "iso10211.json") << cases;
    const auto ran = run("selftest --resources " + (folder_ / "own").string());
    EXPECT_EQ(ran.status, 1) << ran.out;
    EXPECT_NE(ran.out.find("NOT PASSED"), std::string::npos);
}

// The criteria of ISO 10211 beside the bracket: the sample's mesh meets them, a cut too near is named.
TEST_F(SelftestCommand, CriteriaOfTheStandardAreToldWhenAsked) {
    const auto ran = run("solve --json --criteria " + wallfoot::in_tree("samples/slab-insulation-below.wallfoot"));
    ASSERT_EQ(ran.status, 0) << ran.err;
    const auto read = nlohmann::json::parse(ran.out);
    for (const auto& variant : read["variants"]) {
        const auto& criteria = variant["criteria"];
        EXPECT_TRUE(criteria["met"]) << criteria;
        EXPECT_GE(double(criteria["elements"][1]), 2 * double(criteria["elements"][0]));
        EXPECT_LE(double(criteria["flow_change"]), 0.01);
        EXPECT_EQ(criteria["cuts"].size(), 4u);
    }
    auto near = wallfoot::drafts::plane_wall();
    const auto wall = run("solve --json --criteria " + write("wall.wallfoot", near.json()));
    ASSERT_EQ(wall.status, 0) << wall.err;
    // A plane wall is exact on the first mesh: there is no finer one to compare with, and that is said.
    EXPECT_FALSE(nlohmann::json::parse(wall.out)["variants"][0].contains("criteria"));
    EXPECT_NE(wall.out.find("criteria-exact"), std::string::npos);
}
