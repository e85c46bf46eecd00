// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace {

namespace fs = std::filesystem;

class WaterCommand : public wallfoot::CommandTest {
  protected:
    wallfoot::Ran run(const std::string& arguments) { return CommandTest::run("water " + arguments); }
};

const std::string foot = wallfoot::in_tree("samples/slab-insulation-below.wallfoot");

TEST_F(WaterCommand, PrintsSentencesWithTheirCautionInside) {
    const auto ran = run("--variant foam " + foot);
    EXPECT_EQ(ran.status, 0) << ran.err;
    EXPECT_NE(ran.out.find("Water reaches \"Foot block below the damp course\""), std::string::npos) << ran.out;
    const auto dpc = ran.out.find("damp-proof course, 100 mm");
    ASSERT_NE(dpc, std::string::npos) << ran.out;
    EXPECT_LT(ran.out.find("structural engineer", dpc), ran.out.find('\n', dpc));
    EXPECT_EQ(ran.out.find('{'), std::string::npos) << "no place left open in a sentence";
}

TEST_F(WaterCommand, PrintsJson) {
    const auto ran = run("--json --variant foam " + foot);
    ASSERT_EQ(ran.status, 0) << ran.err;
    const auto variants = nlohmann::json::parse(ran.out)["variants"];
    ASSERT_EQ(variants.size(), 1u);
    for (const auto& piece : variants[0]["pieces"]) {
        if (piece["piece"] == "leaf") {
            EXPECT_EQ(piece["state"], "no-path");
            EXPECT_EQ(piece["relies_on"], (nlohmann::json{"dpm", "dpc-inner"}));
            EXPECT_FALSE(piece.contains("remedy"));
        }
        if (piece["piece"] != "foot-below") continue;
        EXPECT_EQ(piece["state"], "reached");
        EXPECT_EQ(piece["path"]["from"], "soil");
        EXPECT_EQ(piece["path"]["by"], (nlohmann::json{"soil", "leaf-base"}));
        EXPECT_EQ(piece["remedy"]["answer"], "proposed");
        EXPECT_EQ(piece["remedy"]["length"], 105.0);
    }
}

TEST_F(WaterCommand, SaysWhatIsWrongWithTheInput) {
    EXPECT_EQ(run("").status, 2);
    EXPECT_EQ(run("--tolerance 1 " + foot).status, 2);
    EXPECT_EQ(run(foot + " --variant").status, 2);
    const auto unknown = run("--variant nobody " + foot);
    EXPECT_EQ(unknown.status, 2);
    EXPECT_NE(unknown.err.find("nobody"), std::string::npos);
    EXPECT_TRUE(unknown.out.empty());
}

}  // namespace
