// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/unit/tree.hpp"

namespace {

namespace fs = std::filesystem;

struct Ran {
    int status = -1;
    std::string out, err;
};

/// The command beside this test in the build folder, with a folder of its own.
class WaterCommand : public ::testing::Test {
  protected:
    void SetUp() override {
        program_ = fs::read_symlink("/proc/self/exe").parent_path().parent_path() / "app" / "wallfoot";
        char name[] = "/tmp/wallfoot-test-XXXXXX";
        folder_ = ::mkdtemp(name);
    }
    void TearDown() override { fs::remove_all(folder_); }
    Ran run(const std::string& arguments) {
        const auto line = program_.string() + " water " + arguments + " >" + (folder_ / "out").string() + " 2>" + (folder_ / "err").string();
        const int code = std::system(line.c_str());
        const auto all_of = [](const fs::path& path) {
            std::ifstream file(path);
            return std::string{std::istreambuf_iterator<char>(file), {}};
        };
        return {WIFEXITED(code) ? WEXITSTATUS(code) : -1, all_of(folder_ / "out"), all_of(folder_ / "err")};
    }

    fs::path program_, folder_;
};

const std::string sample = wallfoot::in_tree("samples/slab-insulation-below.wallfoot");

TEST_F(WaterCommand, PrintsSentencesWithTheirCautionInside) {
    const auto ran = run("--variant foam " + sample);
    EXPECT_EQ(ran.status, 0) << ran.err;
    EXPECT_NE(ran.out.find("Water reaches \"Foot block below the damp course\""), std::string::npos) << ran.out;
    const auto dpc = ran.out.find("damp-proof course, 100 mm");
    ASSERT_NE(dpc, std::string::npos) << ran.out;
    EXPECT_LT(ran.out.find("structural engineer", dpc), ran.out.find('\n', dpc));
    EXPECT_EQ(ran.out.find('{'), std::string::npos) << "no place left open in a sentence";
}

TEST_F(WaterCommand, PrintsJson) {
    const auto ran = run("--json --variant foam " + sample);
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
    EXPECT_EQ(run("--tolerance 1 " + sample).status, 2);
    EXPECT_EQ(run(sample + " --variant").status, 2);
    const auto unknown = run("--variant nobody " + sample);
    EXPECT_EQ(unknown.status, 2);
    EXPECT_NE(unknown.err.find("nobody"), std::string::npos);
    EXPECT_TRUE(unknown.out.empty());
}

}  // namespace
