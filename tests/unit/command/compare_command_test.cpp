// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/unit/bytes.hpp"
#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace {

using ComparedJson = nlohmann::json;

class CompareCommand : public wallfoot::CommandTest {
  protected:
    const std::string sample_ = wallfoot::in_tree("samples/slab-insulation-below.wallfoot");
    ComparedJson study() const { return ComparedJson::parse(wallfoot::test::bytes_of(sample_)); }
};

TEST_F(CompareCommand, TwoFilesAreToldApartInWordsAndNumbers) {
    ComparedJson other = study();
    for (auto& material : other["materials"])
        if (material["id"] == "foam-strong") material["lambda"]["below-dpc"] = 0.4;
    const std::string path = write("later.wallfoot", other.dump());
    const auto table = run("compare " + sample_ + " " + path + " --variant foam");
    ASSERT_EQ(table.status, 0) << table.err;
    EXPECT_NE(table.out.find("below-dpc 0.4 instead of 0.22 W/(m·K)"), std::string::npos) << table.out;
    EXPECT_NE(table.out.find("left open by its conductivities"), std::string::npos) << table.out;
    const auto printed = run("compare " + sample_ + " " + path + " --variant foam --json");
    ASSERT_EQ(printed.status, 0) << printed.err;
    const auto json = ComparedJson::parse(printed.out);
    ASSERT_EQ(json["variants"].size(), 2u);
    const auto &before = json["variants"][0], &after = json["variants"][1];
    EXPECT_EQ(before["study"], sample_);
    EXPECT_FALSE(before.contains("differences"));
    EXPECT_EQ(after["study"], path);
    ASSERT_EQ(after["differences"].size(), 1u) << after["differences"];
    EXPECT_EQ(after["differences"][0]["code"], "differs-material");
    EXPECT_NEAR(after["psi_change"]["value"].get<double>(), after["psi"]["value"].get<double>() - before["psi"]["value"].get<double>(), 2e-4);
    EXPECT_LE(before["psi"]["inputs_low"], before["psi"]["lower"]);
    EXPECT_GE(before["psi"]["inputs_high"], before["psi"]["upper"]);
    EXPECT_TRUE(before["whole"].is_null());
    EXPECT_EQ(before["whole_needs"][0]["code"], "loss-needs-length");
    // The same number as solve gives.
    const auto solved = ComparedJson::parse(run("solve " + sample_ + " --variant foam --json").out);
    bool found = false;
    for (const auto& psi : solved["variants"][0]["psi"]) found = found || (psi.contains("headline") && psi["value"] == before["psi"]["value"]);
    EXPECT_TRUE(found);
}

TEST_F(CompareCommand, OneFileIsComparedWithTheBaseThatIsNamed) {
    ComparedJson with = study();
    with["building"]["quantities"] = {{"junction", 28}, {"areas", {{"top", 40}, {"left", 35}}}};
    const auto printed = run("compare " + write("with.wallfoot", with.dump()) + " --base aggregate --variant foam --json");
    ASSERT_EQ(printed.status, 0) << printed.err;
    const auto json = ComparedJson::parse(printed.out);
    EXPECT_EQ(json["base"]["id"], "aggregate");
    ASSERT_EQ(json["variants"].size(), 2u);
    const auto &foam = json["variants"][0], &aggregate = json["variants"][1];
    EXPECT_FALSE(aggregate.contains("differences"));
    EXPECT_LT(foam["psi_change"]["value"], 0);
    // The flanking elements are the same: all that is saved is psi times the length.
    EXPECT_NEAR(foam["whole"]["value"].get<double>() - aggregate["whole"]["value"].get<double>(), 28 * foam["psi_change"]["value"].get<double>(), 28 * 3e-4);
    EXPECT_NE(foam["whole"]["sum"].get<std::string>().find("× 28 m (junction)"), std::string::npos);
}

TEST_F(CompareCommand, FaultsNameTheFileTheyAreIn) {
    EXPECT_EQ(run("compare").status, 2);
    EXPECT_EQ(run("compare " + sample_ + " --variant nowhere").status, 2);
    EXPECT_EQ(run("compare " + sample_ + " --base nowhere").status, 2);
    ComparedJson broken = study();
    broken["variants"][0]["section"]["cut"] = ComparedJson::array({0, 0, 1});
    const auto refused = run("compare " + sample_ + " " + write("broken.wallfoot", broken.dump()));
    EXPECT_EQ(refused.status, 2);
    EXPECT_EQ(refused.out, "");
    EXPECT_NE(refused.err.find("broken.wallfoot"), std::string::npos) << refused.err;
    EXPECT_NE(refused.err.find("/variants/0/section/cut"), std::string::npos) << refused.err;
}

}  // namespace
