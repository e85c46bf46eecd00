// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/dwelling/dwelling_drafts.hpp"
#include "tests/unit/tree.hpp"

namespace {

class DwellingCommand : public wallfoot::CommandTest {
  protected:
    /// A dwelling with one row from a copy of the plain wall, never worked out.
    std::string plain_dwelling() {
        std::filesystem::copy(wallfoot::in_tree("samples/plain-wall.wallfoot"), folder_ / "plain-wall.wallfoot");
        return write("plain.dwelling", R"({"format":"wallfoot-dwelling","version":1,"lengths":"internal","junctions":[{"id":"w","kind":"other","length":7,"study":{"file":"plain-wall.wallfoot","variant":"foam"}}]})");
    }
    static nlohmann::json json_of(const wallfoot::Ran& ran) { return nlohmann::json::parse(ran.out); }
};

TEST_F(DwellingCommand, prints_sums_as_table_json_and_csv) {
    const std::string file = write("full.dwelling", wallfoot::test::full_dwelling());
    const auto table = run("dwelling " + file);
    EXPECT_EQ(table.status, 0) << table.err;
    for (const char* said : {"at least Σ psi·l", "2.400 (2.190 to 2.620)", "OUT OF DATE", "OPEN", "no row yet", "y = Σ psi·l / Σ A = 2.4 / (80 + 40)", "better lintels: saves 1.000 (0.800 to 1.200) W/K", "6 junctions are open"})
        EXPECT_NE(table.out.find(said), std::string::npos) << said << "\n" << table.out;
    const auto json = json_of(run("dwelling " + file + " --json"));
    EXPECT_NEAR(json["sums"]["y"]["value"].get<double>(), 0.02, 1e-9);
    EXPECT_EQ(json["open"], 6);
    EXPECT_EQ(json["out_of_date"], 1);
    EXPECT_EQ(json["complete"], false);
    EXPECT_EQ(json["junctions"][0]["standing"], "out-of-date");
    EXPECT_TRUE(json["junctions"][3]["loss"].is_null()) << "open is not zero";
    const auto csv = run("dwelling " + file + " --csv");
    EXPECT_NE(csv.out.find("lintels,lintel,Lintel,4,0.3,0.25,0.35,1.2,1,1.4,stated,default: a table\r\n"), std::string::npos) << csv.out;
    EXPECT_NE(csv.out.find(",jamb,Jamb,,,,,,,,open,\r\n"), std::string::npos) << csv.out;
}

TEST_F(DwellingCommand, updates_and_saves_what_its_studies_give) {
    const std::string file = plain_dwelling();
    EXPECT_EQ(json_of(run("dwelling " + file + " --json"))["junctions"][0]["standing"], "open");
    const auto updated = run("dwelling " + file + " --update --json");
    EXPECT_EQ(updated.status, 0) << updated.err;
    EXPECT_EQ(json_of(updated)["junctions"][0]["standing"], "current");
    EXPECT_NEAR(json_of(updated)["junctions"][0]["psi"]["value"].get<double>(), 0, 1e-6);
    EXPECT_EQ(json_of(run("dwelling " + file + " --json"))["junctions"][0]["standing"], "current") << "saved";
    std::filesystem::remove(folder_ / "plain-wall.wallfoot");
    const std::string before = all_of(file);
    const auto gone = run("dwelling " + file + " --update --json");
    EXPECT_EQ(gone.status, 2);
    EXPECT_NE(gone.err.find("cannot be read"), std::string::npos) << gone.err;
    EXPECT_EQ(json_of(gone)["junctions"][0]["standing"], "out-of-date");
    EXPECT_EQ(all_of(file), before) << "the last value stays in the file";
    EXPECT_EQ(run("dwelling " + file).status, 0) << "only looked at, it is told in the table";
}

TEST_F(DwellingCommand, lists_what_is_to_be_typed_by_a_template_of_ones_own) {
    const std::string file = write("full.dwelling", wallfoot::test::full_dwelling());
    const auto sheet = run("dwelling " + file + " --transfer junction-list");
    EXPECT_EQ(sheet.status, 0) << sheet.err;
    EXPECT_NE(sheet.out.find("Check sum: +2.400 W/K"), std::string::npos) << sheet.out;
    EXPECT_EQ(json_of(run("dwelling " + file + " --transfer junction-list --json"))["check_sum"], "+2.400");
    std::filesystem::create_directories(folder_ / "own" / "transfer");
    write("own/transfer/mine.json", R"({"id":"mine","lengths":"internal","decimals":{"psi":1,"length":0},"decimal_sign":",","columns":[{"what":"psi","name":"P"},{"what":"length","name":"L"}]})");
    const auto own = run("dwelling " + file + " --transfer mine --csv --resources " + (folder_ / "own").string());
    EXPECT_EQ(own.status, 0) << own.err;
    EXPECT_TRUE(own.out.starts_with("P;L\r\n+0,1;10\r\n+0,3;4\r\n")) << own.out;
    EXPECT_NE(own.out.find("Check sum: +2,2 W/K"), std::string::npos) << own.out;
    const auto unknown = run("dwelling " + file + " --transfer mine");
    EXPECT_EQ(unknown.status, 2);
    EXPECT_NE(unknown.err.find("junction-list"), std::string::npos) << "names those that are there";
}

TEST_F(DwellingCommand, says_what_it_cannot_use) {
    EXPECT_EQ(run("dwelling").status, 2);
    EXPECT_EQ(run("dwelling a b").status, 2);
    EXPECT_EQ(run("dwelling --loud a").status, 2);
    EXPECT_EQ(run("dwelling a --json --csv").status, 2);
    EXPECT_EQ(run("dwelling a --transfer").status, 2);
    EXPECT_EQ(run("dwelling /nowhere.dwelling").status, 2);
    const auto study = run("dwelling " + wallfoot::in_tree("samples/plain-wall.wallfoot"));
    EXPECT_EQ(study.status, 2);
    EXPECT_NE(study.err.find("no dwelling file"), std::string::npos) << study.err;
    std::string broken = wallfoot::test::full_dwelling();
    broken.replace(broken.find("\"lintel\""), 8, "\"lintl\"");
    const auto fault = run("dwelling " + write("broken.dwelling", broken));
    EXPECT_EQ(fault.status, 2);
    EXPECT_NE(fault.err.find("/junctions/1/kind"), std::string::npos) << fault.err;
}

}  // namespace
