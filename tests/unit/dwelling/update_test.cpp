// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dwelling/update.hpp"

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <gtest/gtest.h>

#include "core/file/study_file.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

/// A folder with copies of two samples.
class DwellingUpdate : public ::testing::Test {
  protected:
    void SetUp() override {
        char name[] = "/tmp/wallfoot-update-XXXXXX";
        folder = ::mkdtemp(name);
        for (const char* file : {"plain-wall.wallfoot", "slab-insulation-below.wallfoot"}) std::filesystem::copy(in_tree(std::string("samples/") + file), folder / file);
    }
    void TearDown() override { std::filesystem::remove_all(folder); }
    static Dwelling with_row(const std::string& file, const std::string& variant) {
        Dwelling dwelling;
        dwelling.junctions.push_back({"j1", "other", "", 10, FromStudy{file, variant, {}, {}}, {}, {}});
        return dwelling;
    }
    Standing standing(const Dwelling& dwelling) const { return balance(dwelling, studies_now(dwelling, folder)).rows.at(0).standing; }

    std::filesystem::path folder;
};

TEST_F(DwellingUpdate, solves_a_row_and_knows_when_its_study_is_no_longer_that) {
    Dwelling dwelling = with_row("plain-wall.wallfoot", "foam");
    EXPECT_EQ(standing(dwelling), Standing::open) << "never worked out";
    const Updated updated = update_dwelling(dwelling, folder, "2026-11-26");
    ASSERT_TRUE(updated.troubles.empty());
    dwelling = updated.dwelling;
    EXPECT_EQ(standing(dwelling), Standing::current);
    const auto& last = *std::get<FromStudy>(dwelling.junctions[0].value).last;
    EXPECT_NEAR(last.psi, 0, 1e-6) << "a wall alone has no junction: exact";
    EXPECT_EQ(last.date, "2026-11-26");

    // A name changes nothing, a conductivity does.
    const std::string path = (folder / "plain-wall.wallfoot").string();
    Study study = load_study(path).study;
    study.title = "another name";
    save_study(study, path);
    EXPECT_EQ(standing(dwelling), Standing::current);
    for (Material& material : study.materials)
        for (auto& [condition, value] : material.lambda.by_condition) value.value *= 1.01;
    save_study(study, path);
    EXPECT_EQ(standing(dwelling), Standing::out_of_date);
    dwelling = update_dwelling(dwelling, folder, "2026-11-27").dwelling;
    EXPECT_EQ(standing(dwelling), Standing::current);

    // A variant that is gone, a study that is gone, one that moved back.
    study.variants.erase(study.variants.begin());
    ASSERT_FALSE(study.find_variant("foam"));
    save_study(study, path);
    EXPECT_EQ(standing(dwelling), Standing::out_of_date);
    const Updated gone = update_dwelling(dwelling, folder, "2026-11-28");
    EXPECT_EQ(gone.troubles.begin()->second.code, "dwelling-variant-gone");
    EXPECT_TRUE(gone.dwelling == dwelling) << "the last value is kept";
    std::filesystem::remove(path);
    EXPECT_EQ(standing(dwelling), Standing::out_of_date);
    EXPECT_EQ(balance(dwelling, studies_now(dwelling, folder)).rows[0].why.code, "dwelling-study-unreadable");
    const Updated missing = update_dwelling(dwelling, folder, "2026-11-28");
    EXPECT_TRUE(missing.dwelling == dwelling);
    EXPECT_NE(english(missing.troubles.begin()->second).find("plain-wall.wallfoot"), std::string::npos) << "names the file";
}

// L2D = psi + ΣU·l (ISO 10211, definition of psi): what is told as taken off makes it whole again, in both systems of lengths.
TEST_F(DwellingUpdate, tells_what_was_taken_off_so_that_L2D_is_whole_again) {
    const Study study = load_study((folder / "slab-insulation-below.wallfoot").string()).study;
    const Variant& variant = *study.find_variant("foam");
    const auto findings = find(study, variant);
    const double L2D = findings->couplings.at(0).value.value().value;
    double psi[2] = {};
    int n = 0;
    for (const DwellingLengths lengths : {DwellingLengths::internal, DwellingLengths::external}) {
        bool reached = true;
        const LastValue last = value_of_variant(study, variant, "f", lengths, "2026-11-26", reached);
        EXPECT_TRUE(reached);
        EXPECT_LE(last.lower, last.psi);
        EXPECT_GE(last.upper, last.psi);
        EXPECT_LT(last.upper - last.lower, 2e-4);
        EXPECT_EQ(last.input_hash, input_hash(study, variant));
        ASSERT_EQ(last.flanking.size(), 2u) << "wall and floor";
        double whole = last.psi;
        for (const FlankingElement& element : last.flanking) whole += element.U * element.length;
        EXPECT_NEAR(whole, L2D, 1e-5);
        psi[n++] = last.psi;
    }
    EXPECT_LT(psi[1], psi[0]) << "outer lengths are longer, so less is left for the junction";
}

TEST_F(DwellingUpdate, says_why_a_variant_gives_no_psi) {
    const std::string path = (folder / "plain-wall.wallfoot").string();
    Study study = load_study(path).study;
    auto section = *study.variants.front().section;
    section.pieces.clear();  // air without a space, and nothing solid
    study.variants.front().section = std::make_shared<const Section>(section);
    save_study(study, path);
    const Dwelling dwelling = with_row("plain-wall.wallfoot", study.variants.front().id);
    const Updated updated = update_dwelling(dwelling, folder, "2026-11-26");
    ASSERT_EQ(updated.troubles.size(), 1u);
    EXPECT_EQ(updated.troubles.begin()->second.code, "dwelling-no-psi");
    EXPECT_EQ(balance(updated.dwelling, updated.studies).rows[0].standing, Standing::open) << "no value, and no zero";
}

TEST_F(DwellingUpdate, solves_a_variant_once_for_all_its_rows_and_stops_when_asked) {
    Dwelling dwelling = with_row("plain-wall.wallfoot", "foam");
    dwelling.junctions.push_back(dwelling.junctions[0]);
    dwelling.junctions[1].id = "j2";
    dwelling.measures.push_back({"m", "", "j1", FromStudy{"plain-wall.wallfoot", "aggregate", {}, {}}, {}, {}});
    std::vector<double> shares;
    const Context context([&](double share) { shares.push_back(share); });
    const Updated updated = update_dwelling(dwelling, folder, "2026-11-26", UpdateWhat::all, context);
    ASSERT_FALSE(shares.empty());
    EXPECT_EQ(shares.front(), 0);
    EXPECT_EQ(shares.back(), 1);
    EXPECT_EQ(std::count(shares.begin(), shares.end(), 0.5) > 0, true) << "two variants, each a half";
    EXPECT_EQ(std::count_if(shares.begin(), shares.end(), [](double share) { return share < 0 || share > 1; }), 0);
    EXPECT_EQ(std::get<FromStudy>(updated.dwelling.junctions[0].value), std::get<FromStudy>(updated.dwelling.junctions[1].value));
    EXPECT_TRUE(std::get<FromStudy>(updated.dwelling.measures[0].value).last);
    // What is up to date is left alone on request: a date of today shows what was solved.
    Dwelling half = updated.dwelling;
    std::get<FromStudy>(half.measures[0].value).last.reset();
    const Updated rest = update_dwelling(half, folder, "2026-11-27", UpdateWhat::out_of_date);
    EXPECT_EQ(std::get<FromStudy>(rest.dwelling.junctions[0].value).last->date, "2026-11-26");
    EXPECT_EQ(std::get<FromStudy>(rest.dwelling.measures[0].value).last->date, "2026-11-27");
    Context stopped;
    stopped.cancel();
    EXPECT_THROW(update_dwelling(dwelling, folder, "2026-11-26", UpdateWhat::all, stopped), Cancelled);
}

}  // namespace
}  // namespace wallfoot
