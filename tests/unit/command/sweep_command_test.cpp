// SPDX-License-Identifier: GPL-3.0-or-later
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/file.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace {

class SweepCommand : public wallfoot::CommandTest {
  protected:
    std::string plan() {
        const auto path = folder_ / "plan.json";
        std::ofstream(path) << R"({"variants":["foam"],"change":[{"what":"conductivity","piece":"foot-below","from":0.1,"to":1,"steps":9}]})";
        return path.string();
    }
    std::string begin() { return "sweep " + wallfoot::in_tree("samples/slab-insulation-below.wallfoot") + " " + plan(); }
    static std::vector<std::string> lines_of(const std::string& text) {
        std::vector<std::string> lines;
        std::istringstream all(text);
        for (std::string line; std::getline(all, line);) lines.push_back(line);
        return lines;
    }
    std::vector<std::string> shard_lines(const std::string& out) {
        std::vector<std::string> lines;
        for (const auto& file : std::filesystem::directory_iterator(folder_ / out))
            if (file.path().filename().string().starts_with("rows-"))
                for (const auto& line : lines_of(all_of(file.path().string()))) lines.push_back(line);
        std::sort(lines.begin(), lines.end(), [](const auto& a, const auto& b) { return std::stoi(a) < std::stoi(b); });
        return lines;
    }
};

TEST_F(SweepCommand, TwoShardsJoinToTheWholeAndOneCutShortLosesNothing) {
    const auto whole = run(begin());
    ASSERT_EQ(whole.status, 0) << whole.err;
    auto lines = lines_of(whole.out);
    ASSERT_EQ(lines.size(), 11u);
    const std::string head = lines.front();
    lines.erase(lines.begin());

    const std::string out = (folder_ / "shards").string();
    ASSERT_EQ(run(begin() + " --shard 1/2 --out " + out).status, 0);
    ASSERT_EQ(run(begin() + " --shard 2/2 --out " + out).status, 0);
    EXPECT_EQ(shard_lines("shards"), lines);
    EXPECT_EQ(all_of(out + "/header.csv"), head + "\n");

    // As a killed worker leaves it: a line cut in its middle, the rest not there; and a line of another run.
    const std::string first = out + "/rows-1-of-2.csv", before = all_of(first);
    std::string cut = before.substr(0, before.size() / 2 + 7);
    cut.replace(cut.find(",sha256") + 7, 4, "0000");
    std::ofstream(first, std::ios::binary) << cut;
    ASSERT_EQ(run(begin() + " --shard 1/2 --out " + out).status, 0);
    EXPECT_EQ(shard_lines("shards"), lines) << "nothing lost, nothing twice";
    // Begun again when all is there, it changes nothing.
    ASSERT_EQ(run(begin() + " --shard 2/2 --out " + out).status, 0);
    EXPECT_EQ(shard_lines("shards"), lines);
}

TEST_F(SweepCommand, LeavesAShardThatAnotherProcessWorksOn) {
    const std::string out = (folder_ / "shards").string();
    std::filesystem::create_directories(out);
    const int other = ::open((out + "/rows-1-of-2.csv.lock").c_str(), O_RDWR | O_CREAT, 0666);
    ASSERT_EQ(::flock(other, LOCK_EX | LOCK_NB), 0);
    const auto taken = run(begin() + " --shard 1/2 --out " + out);
    EXPECT_EQ(taken.status, 2);
    EXPECT_NE(taken.err.find("another process"), std::string::npos) << taken.err;
    EXPECT_FALSE(std::filesystem::exists(out + "/rows-1-of-2.csv"));
    ::close(other);
    EXPECT_EQ(run(begin() + " --shard 1/2 --out " + out).status, 0);
}

TEST_F(SweepCommand, SaysWhatItCannotUse) {
    EXPECT_EQ(run(begin() + " --shard 3/2 --out x").status, 2);
    EXPECT_EQ(run(begin() + " --shard 1/2").status, 2);
    EXPECT_EQ(run("sweep " + wallfoot::in_tree("samples/slab-insulation-below.wallfoot")).status, 2);
    EXPECT_EQ(run("sweep " + wallfoot::in_tree("samples/slab-insulation-below.wallfoot") + " /nowhere.json").status, 2);
    std::ofstream(folder_ / "bad.json") << R"({"change":[{"what":"conductivity","piece":"nobody","values":[1]}]})";
    const auto unknown = run("sweep " + wallfoot::in_tree("samples/slab-insulation-below.wallfoot") + " " + (folder_ / "bad.json").string());
    EXPECT_EQ(unknown.status, 2);
    EXPECT_NE(unknown.err.find("no piece"), std::string::npos) << unknown.err;
}

}  // namespace
