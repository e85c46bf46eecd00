// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "core/file/find_studies.hpp"
#include "core/file/study_file.hpp"
#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace {

namespace fs = std::filesystem;

class FindCommand : public wallfoot::CommandTest {
  protected:
    static std::vector<std::string> names(const nlohmann::json& found) {
        std::vector<std::string> all;
        for (const auto& study : found.at("studies")) all.push_back(fs::path(study.at("path").get<std::string>()).filename().string());
        return all;
    }
};

TEST_F(FindCommand, FindsStudiesByWhatStandsInThem) {
    const std::string samples = wallfoot::in_tree("samples");
    const auto found = [&](const std::string& words) {
        const auto ran = run("find " + samples + " " + words + " --json");
        EXPECT_EQ(ran.status, 0) << ran.err;
        return names(nlohmann::json::parse(ran.out));
    };
    EXPECT_GE(found("").size(), 4U);
    EXPECT_EQ(found("suspended"), (std::vector<std::string>{"suspended-beam-floor.wallfoot"})) << "by its title";
    EXPECT_EQ(found("BEAM foam"), (std::vector<std::string>{"suspended-beam-floor.wallfoot"})) << "every word, in any case";
    EXPECT_EQ(found("edge strip slab"), (std::vector<std::string>{"slab-insulation-above.wallfoot", "slab-insulation-below.wallfoot"})) << "by variant and piece";
    EXPECT_TRUE(found("nothing-like-this").empty());
    const auto ran = run("find " + samples + " beam");
    EXPECT_NE(ran.out.find("1 study\n"), std::string::npos) << ran.out;
}

TEST_F(FindCommand, TellsWhatItCouldNotReadAndGoesOn) {
    const fs::path folder = fs::path(::testing::TempDir()) / "find-command";
    fs::remove_all(folder);
    fs::create_directories(folder / "deeper");
    fs::copy_file(wallfoot::in_tree("samples/plain-wall.wallfoot"), folder / "deeper" / "w.wallfoot");
    std::ofstream(folder / "broken.wallfoot") << "{";
    const auto ran = run("find " + folder.string() + " --json");
    EXPECT_EQ(ran.status, 0);
    EXPECT_EQ(names(nlohmann::json::parse(ran.out)), (std::vector<std::string>{"w.wallfoot"}));
    EXPECT_NE(ran.err.find("broken.wallfoot"), std::string::npos) << ran.err;
    EXPECT_EQ(run("find " + (folder / "nowhere").string()).status, 2);
    EXPECT_EQ(run("find").status, 2);
    fs::remove_all(folder);
}

TEST(FindStudies, CapitalsOfWesternAlphabetsAreTheSame) {
    wallfoot::FoundStudy study;
    study.text = "dämmung über grund";
    EXPECT_TRUE(wallfoot::is_found(study, {"DÄMMUNG", "Grund"}));
    EXPECT_FALSE(wallfoot::is_found(study, {"grund", "keller"}));
}

}  // namespace
