// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "core/exchange/zip.hpp"
#include "core/file/study_file.hpp"
#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

class PackCommand : public CommandTest {
  protected:
    Ran run(const std::string& arguments) { return CommandTest::run("pack " + arguments); }
    std::string place(const std::string& name) { return (folder_ / name).string(); }
    const std::string sample = in_tree("samples/plain-wall.wallfoot");
};

TEST_F(PackCommand, TheSameStudyGivesTheSameBytes) {
    ASSERT_EQ(run(sample + " --out " + place("one.zip")).status, 0);
    ASSERT_EQ(run(sample + " --out " + place("two.zip")).status, 0);
    const std::string one = all_of(place("one.zip"));
    EXPECT_GT(one.size(), 1000u);
    EXPECT_EQ(one, all_of(place("two.zip")));
    for (const char* name : {"README.txt", "study.wallfoot", "variant-1/junction/faces.csv", "variant-1/junction/surfaces.csv", "variant-1/points.csv", "variant-1/results.csv", "variant-1/drawing.dxf", "variant-1/drawing.svg"})
        EXPECT_NE(one.find(name), std::string::npos) << name;
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder_), {}), 4);  // both packs, what was printed: no part of one is left
}

TEST_F(PackCommand, SaysWhatIsWrong) {
    EXPECT_EQ(run("").status, 2);
    EXPECT_EQ(run(sample).status, 2);
    EXPECT_EQ(run(sample + " --out " + place("x.pdf")).status, 2);
    EXPECT_EQ(run(sample + " --out " + place("x.zip") + " --variant nobody").status, 2);
    EXPECT_EQ(run(sample + " --out /nowhere/x.zip").status, 1);
    EXPECT_FALSE(std::filesystem::exists(place("x.zip")));
}

TEST(Zip, AnArchiveOfNothingAndOfAnEmptyFile) {
    EXPECT_FALSE(zip_bytes({}).empty());
    EXPECT_NE(zip_bytes({{"empty", ""}, {"Größe/β.txt", "x"}}).find("Größe/β.txt"), std::string::npos);
}

}  // namespace
}  // namespace wallfoot
