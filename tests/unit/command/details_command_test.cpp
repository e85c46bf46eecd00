// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/unit/command/command_fixture.hpp"

namespace {

namespace fs = std::filesystem;

class DetailsCommand : public wallfoot::CommandTest {};

TEST_F(DetailsCommand, ListsWhatCanBeSet) {
    const auto table = run("details");
    EXPECT_EQ(table.status, 0) << table.err;
    for (const char* word : {"cavity-wall-insulation-below-slab", "floor_insulation", "150 mm  (0 to 300)", "foam | light | dense", "no_edge_strip"})
        EXPECT_NE(table.out.find(word), std::string::npos) << word;
    const auto ran = run("details --json");
    ASSERT_EQ(ran.status, 0) << ran.err;
    const auto details = nlohmann::json::parse(ran.out)["details"];
    ASSERT_GE(details.size(), 2u);
    for (const auto& detail : details) {
        EXPECT_FALSE(detail["about"].get<std::string>().empty());
        for (const auto& parameter : detail["parameters"]) EXPECT_TRUE(parameter.contains("least") || parameter.contains("options"));
        EXPECT_FALSE(detail["switches"].empty());
    }
}

TEST_F(DetailsCommand, BeginsAStudyThatSolves) {
    const std::string file = (folder_ / "begun.wallfoot").string();
    const auto ran = run("begin cavity-wall-insulation-below-slab --set inner_leaf=14cm --set foot_block=dense --with no_edge_strip --out " + file);
    ASSERT_EQ(ran.status, 0) << ran.err;
    EXPECT_TRUE(ran.out.empty() && ran.err.empty()) << ran.out << ran.err;
    const auto solved = run("solve --json --tolerance 1e-3 " + file);
    ASSERT_EQ(solved.status, 0) << solved.err;
    EXPECT_TRUE(solved.err.empty()) << solved.err;
    const auto variants = nlohmann::json::parse(solved.out)["variants"];
    ASSERT_EQ(variants.size(), 2u);
    EXPECT_EQ(variants[1]["name"], "Edge strip left out");
    std::ifstream in(file);
    const auto study = nlohmann::json::parse(in);
    for (const auto& piece : study["variants"][0]["section"]["pieces"])
        if (piece["id"] == "foot-below") {
            EXPECT_EQ(piece["material"], "aggregate-dense");
            EXPECT_EQ(piece["outline"][1][0], 140);
        }
    const auto again = run("begin cavity-wall-insulation-below-slab --out " + file);
    EXPECT_EQ(again.status, 2) << "a study that is there is never written over";
    std::ifstream kept(file);
    EXPECT_EQ(nlohmann::json::parse(kept), study);
}

TEST_F(DetailsCommand, SaysWhatIsWrongWithTheInput) {
    const std::string out = " --out " + (folder_ / "x.wallfoot").string();
    const struct {
        std::string arguments, word;
    } wrong[] = {{"begin", "no detail"},
                 {"begin nobody" + out, "nobody"},
                 {"begin cavity-wall-insulation-below-slab", "--out"},
                 {"begin cavity-wall-insulation-below-slab --set slab" + out, "NAME=VALUE"},
                 {"begin cavity-wall-insulation-below-slab --set slap=100" + out, "slap"},
                 {"begin cavity-wall-insulation-below-slab --set slab=10" + out, "between 100 and 300"},
                 {"begin cavity-wall-insulation-below-slab --set slab=1..0" + out, "decimal sign"},
                 {"begin cavity-wall-insulation-below-slab --set foot_block=gold" + out, "foam, light, dense"},
                 {"begin cavity-wall-insulation-below-slab --with rain" + out, "no_edge_strip"},
                 {"begin cavity-wall-insulation-below-slab --nonsense" + out, "--set, --with, --out"},
                 {"details more", "--json"}};
    for (const auto& [arguments, word] : wrong) {
        const auto ran = run(arguments);
        EXPECT_EQ(ran.status, 2) << arguments;
        EXPECT_NE(ran.err.find(word), std::string::npos) << ran.err;
        EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << ran.err;
    }
    EXPECT_FALSE(fs::exists(folder_ / "x.wallfoot"));
}

}  // namespace
