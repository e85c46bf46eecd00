// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/input_range.hpp"

#include <algorithm>

#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

void give_range(Study& study, const std::string& id, double low, double high) {
    for (Material& material : study.materials)
        if (material.id == id)
            for (auto& [condition, value] : material.lambda.by_condition) value.low = low, value.high = high;
}

void give_value(Study& study, const std::string& id, double value) {
    for (Material& material : study.materials)
        if (material.id == id)
            for (auto& [condition, stated] : material.lambda.by_condition) stated.value = value;
}

}  // namespace

TEST(InputRange, OfAPlaneWallIsThatByHand) {
    // fRsi of a plane wall is 1 − R_si/R_T (ISO 13788:2012, 5.2 with ISO 6946; from memory); with R_si 0.25 and R_se 0.04 for
    // the check, batts of 0.03 to 0.04 W/(m·K) over 0.1 m, and 0.1/0.5 + 0.1/0.77 beside them.
    Study study = plane_wall().study();
    give_range(study, "batts", 0.03, 0.04);
    const auto range = input_range(study, study.variants.front());
    EXPECT_EQ(range.materials, std::vector<std::string>{"batts"});
    ASSERT_TRUE(range.fRsi);
    const auto by_hand = [](double batts) { return 1 - 0.25 / (0.25 + 0.1 / 0.5 + 0.1 / batts + 0.1 / 0.77 + 0.04); };
    EXPECT_NEAR(range.fRsi->low, by_hand(0.04), 1e-4);
    EXPECT_NEAR(range.fRsi->high, by_hand(0.03), 1e-4);
}

TEST(InputRange, HoldsEveryCornerOfTheRanges) {
    // Insulation on the floor and blocks at the foot: psi falls with the one conductivity where it rises with the other.
    Study study = junction({.below_dpc = 0.6, .first_course = 0.6}).study();
    const std::vector<std::tuple<std::string, double, double>> ranges{{"batts", 0.028, 0.04}, {"z1", 0.4, 0.9}, {"board", 0.02, 0.032}};
    for (const auto& [id, low, high] : ranges) give_range(study, id, low, high);
    const auto range = input_range(study, study.variants.front());
    EXPECT_EQ(range.materials.size(), 3u);
    ASSERT_TRUE(range.psi && range.fRsi);
    double least = 1e9, most = -1e9, coldest = 1e9, warmest = -1e9;
    for (int corner = 0; corner < 8; ++corner) {
        Study at = study;
        for (std::size_t i = 0; i < ranges.size(); ++i) give_value(at, std::get<0>(ranges[i]), (corner >> i) & 1 ? std::get<2>(ranges[i]) : std::get<1>(ranges[i]));
        const auto found = find(at, at.variants.front());
        const double psi = found->headline_psi()->value->value, factor = *found->headline_surface()->fRsi;
        least = std::min(least, psi), most = std::max(most, psi), coldest = std::min(coldest, factor), warmest = std::max(warmest, factor);
    }
    // The ends are those of the worst corners, within brackets and estimates.
    EXPECT_LE(range.psi->low, least);
    EXPECT_GE(range.psi->high, most);
    EXPECT_NEAR(range.psi->low, least, 1.5e-4);
    EXPECT_NEAR(range.psi->high, most, 1.5e-4);
    EXPECT_NEAR(range.fRsi->low, coldest, 2e-3);
    EXPECT_NEAR(range.fRsi->high, warmest, 2e-3);
}

TEST(InputRange, WithoutAnyIsTheBracketItself) {
    const Study study = junction({}).study();
    const auto range = input_range(study, study.variants.front());
    EXPECT_TRUE(range.materials.empty());
    const auto found = find(study, study.variants.front());
    EXPECT_NEAR(range.psi.value().low, found->headline_psi()->value->lower, 1e-4);
    EXPECT_LE(range.psi->high - range.psi->low, 1e-4);
}

TEST(InputRange, IsCutShortWhenItIsStopped) {
    Study study = junction({}).study();
    give_range(study, "z1", 0.9, 1.5);
    // Five solves: as stated, and both ends for psi and for fRsi. A solve that is stopped while it refines still answers.
    for (int at = 0; at <= 5; ++at) {
        Context context;
        FindingsOptions options;
        int begun = 0;
        options.on_coarse = [&](std::shared_ptr<const Findings>) {
            if (++begun == at) context.cancel();
        };
        if (at == 0) context.cancel();
        EXPECT_THROW(input_range(study, study.variants.front(), options, context), Cancelled) << at;
        EXPECT_EQ(begun, at);
    }
}
