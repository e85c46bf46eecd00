// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot::drafts;
namespace fs = std::filesystem;

namespace {

class Command : public wallfoot::CommandTest {};

}  // namespace

TEST_F(Command, SolvesToATable) {
    const auto ran = run("solve " + write("wall.wallfoot", plane_wall().json()));
    EXPECT_EQ(ran.status, 0) << ran.err;
    EXPECT_NE(ran.out.find("psi in–out, internal"), std::string::npos) << ran.out;
}

TEST_F(Command, SolvesToJson) {
    const auto ran = run("solve --json --at 100,500 --variant Base " + write("wall.wallfoot", plane_wall().json()));
    ASSERT_EQ(ran.status, 0) << ran.err;
    const auto json = nlohmann::json::parse(ran.out);
    EXPECT_EQ(json["variants"].size(), 1u);
    EXPECT_EQ(json["variants"][0]["points"].size(), 1u);
}

TEST_F(Command, AMissingValueWithItsReasonIsSolved) {
    auto d = plane_wall();
    d.piece("leaf", -60, 0, 0, 400);
    const auto ran = run("solve --json " + write("wall.wallfoot", d.json()));
    EXPECT_EQ(ran.status, 0);
    const auto psi = nlohmann::json::parse(ran.out)["variants"][0]["psi"][0];
    EXPECT_TRUE(psi["value"].is_null());
    EXPECT_EQ(psi["reason"], "element-no-reference");
}

// Printed bounds are widened by 1e-11 of the value: narrower ones cannot be reached.
TEST_F(Command, AToleranceNotReachedIsThree) {
    const auto ran = run("solve --json --tolerance 1e-15 " + write("wall.wallfoot", plane_wall().json()));
    EXPECT_EQ(ran.status, 3) << ran.err;
    EXPECT_FALSE(nlohmann::json::parse(ran.out)["variants"][0]["L2D"][0]["value"].is_null()) << "the bracket reached is printed";
}

TEST_F(Command, AToleranceMayBeAShareOfL2D) {
    const auto file = write("junction.wallfoot", junction({}).json());
    const auto ran = run("solve --json --tolerance 0.01% " + file);
    ASSERT_EQ(ran.status, 0) << ran.err;
    const auto variant = nlohmann::json::parse(ran.out)["variants"][0];
    const double L2D = variant["L2D"][0]["value"];
    EXPECT_NEAR(double(variant["tolerance"]), 1e-4 * L2D, 1e-8);
    EXPECT_LE(double(variant["psi"][0]["upper"]) - double(variant["psi"][0]["lower"]), 1.3e-4 * L2D) << "bounds are printed rounded outward";
}

TEST_F(Command, SensitivitiesArePrintedWhenAsked) {
    const auto file = write("junction.wallfoot", junction({}).json());
    const auto inputs = nlohmann::json::parse(run("solve --json --sensitivities " + file).out)["variants"][0]["sensitivities"];
    ASSERT_GE(inputs.size(), 10u);
    EXPECT_EQ(inputs[0]["psi"].size(), 2u) << "both systems of lengths";
    EXPECT_NE(run("solve --sensitivities " + file).out.find("10 % more of each input"), std::string::npos);
    EXPECT_FALSE(nlohmann::json::parse(run("solve --json " + file).out)["variants"][0].contains("sensitivities"));
}

TEST_F(Command, AnOpenVoidNamesItsPlace) {
    auto d = plane_wall();
    d.outline("hollow", R"("material": "batts", "moisture": "dry", "holes": [[[120,400],[180,400],[180,500],[120,500]]])",
              {{100, 0}, {200, 0}, {200, 1000}, {100, 1000}});
    d.pieces.erase(d.pieces.find(R"({"id": "batts)"), d.pieces.find(R"({"id": "brick)") - d.pieces.find(R"({"id": "batts)"));
    const auto ran = run("solve " + write("void.wallfoot", d.json()));
    EXPECT_EQ(ran.status, 2);
    EXPECT_TRUE(ran.out.empty()) << ran.out;
    EXPECT_NE(ran.err.find("void.wallfoot"), std::string::npos);
    EXPECT_NE(ran.err.find("/variants/0"), std::string::npos) << ran.err;
}

TEST_F(Command, FaultsOfTheInputAreTwo) {
    const auto wall = write("wall.wallfoot", plane_wall().json());
    auto negative = plane_wall();
    negative.material("bad", -1);
    const auto cut_short = plane_wall().json().substr(0, 200);
    for (const auto& arguments : {"solve --variant nobody " + wall, "solve --at -250,500 " + wall, "solve --at 1 " + wall,
                                  "solve --tolerance 0 " + wall, "solve --tolerance nan " + wall, "solve --tolerance 100% " + wall, "solve --unknown " + wall,
                                  std::string("solve /nowhere/at-all.wallfoot"), std::string("solve"), std::string("nonsense"),
                                  "solve " + write("short.wallfoot", cut_short), "solve " + write("negative.wallfoot", negative.json())}) {
        const auto ran = run(arguments);
        EXPECT_EQ(ran.status, 2) << arguments << ran.err;
        EXPECT_TRUE(ran.out.empty()) << arguments;
        EXPECT_FALSE(ran.err.empty()) << arguments;
    }
    EXPECT_NE(run("solve " + (folder_ / "negative.wallfoot").string()).err.find("/materials/3/lambda"), std::string::npos);
}

TEST_F(Command, TellsAboutItself) {
    EXPECT_EQ(run("--version").out, "wallfoot 0.1.0\n");
    EXPECT_NE(run("--help").out.find("wallfoot solve FILE"), std::string::npos);
    EXPECT_EQ(run("--help").status, 0);
}
