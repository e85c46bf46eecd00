// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/heat_loss.hpp"

#include "core/file/quantities.hpp"
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

std::string missing_of(const HeatLoss& loss) {
    std::string all;
    for (const Message& message : loss.missing) all += (all.empty() ? "" : " ") + message.code;
    return all;
}

struct LossOfAFoot : ::testing::Test {
    const Study study = junction({}).study();
    const std::shared_ptr<const Findings> findings = find(study, study.variants.front());
    HeatLoss of(const Quantities& given, const FindingsOptions& options = {}) const {
        return heat_loss(set_quantities(study, given), options.tolerance == tolerance_at_rest ? *findings : *find(study, study.variants.front(), options));
    }
};

}  // namespace

// By the independent finite-volume code of junction_test.cpp: L2D of the floor alone 0.6036 (0.5 %), psi 0.168 (0.003), U of
// the wall 0.27587 by hand.
TEST_F(LossOfAFoot, IsTheSumByHand) {
    const HeatLoss loss = of({28, {{"top", 40}, {"left", 35}}});
    ASSERT_TRUE(loss.value) << missing_of(loss);
    EXPECT_NEAR(loss.value->value, 0.27587 * 40 + 0.6036 / 4 * 35 + 0.168 * 28, 0.005 * 0.6036 / 4 * 35 + 0.003 * 28);
    ASSERT_EQ(loss.terms.size(), 3u);
    double sum = 0;
    for (const LossTerm& term : loss.terms) sum += term.coefficient * term.quantity;
    EXPECT_NEAR(sum, loss.value->value, 1e-9);
    EXPECT_EQ(loss.terms[0].of, "top");
    EXPECT_EQ(loss.terms[2].of, "");
    const std::string text = sum_text(loss);
    EXPECT_TRUE(text.starts_with("0.2759 W/(m²·K) × 40 m² (top) + 0.15")) << text;
    EXPECT_TRUE(text.ends_with(" W/(m·K) × 28 m (junction)")) << text;
}

TEST_F(LossOfAFoot, BracketHoldsTheFinerValueAndCountsTheFloorAloneOnce) {
    FindingsOptions coarse, fine;
    coarse.tolerance = 5e-3;
    fine.tolerance = 1e-5;
    for (const double area : {0.0, 35.0, 400.0}) {
        const Quantities given{28, {{"top", 40}, {"left", area}}};
        const auto wide = of(given, coarse).value.value(), narrow = of(given, fine).value.value();
        EXPECT_LE(wide.lower, narrow.lower) << area;
        EXPECT_GE(wide.upper, narrow.upper) << area;
    }
    // Where the floor's area is its drawn length times that of the junction, it drops out of U·A + psi·l: only L2D is left.
    const auto level = of({28, {{"top", 0}, {"left", 4 * 28}}}).value.value();
    EXPECT_NEAR(level.width(), 28 * findings->couplings.at(0).value->width(), 1e-9);
    const Psi& psi = *findings->headline_psi();
    EXPECT_LT(level.width(), 28 * psi.value->width());
    // Without areas it is psi's own bracket; with a large floor its coupling counts as often as is left over, on the same side.
    const auto bare = of({28, {{"top", 0}, {"left", 0}}}).value.value();
    EXPECT_NEAR(bare.lower, 28 * psi.value->lower, 1e-9);
    EXPECT_NEAR(bare.upper, 28 * psi.value->upper, 1e-9);
    const Bracketed L2D = *findings->couplings.at(0).value, alone = *psi.taken_off.at(1).floor_alone;
    const auto large = of({28, {{"top", 0}, {"left", 400}}}).value.value();
    EXPECT_NEAR(large.value - large.lower, 28 * (L2D.value - L2D.lower) + (100 - 28) * (alone.value - alone.lower), 1e-9);
    EXPECT_NEAR(large.upper - large.value, 28 * (L2D.upper - L2D.value) + (100 - 28) * (alone.upper - alone.value), 1e-9);
}

TEST_F(LossOfAFoot, SaysWhatToEnterAndTakesNoZeroForIt) {
    EXPECT_EQ(missing_of(of({})), "loss-needs-length loss-needs-areas");
    EXPECT_FALSE(of({}).value);
    EXPECT_EQ(sum_text(of({})), "");
    const HeatLoss half = of({28, {{"top", 40}}});
    EXPECT_EQ(missing_of(half), "loss-needs-areas");
    EXPECT_EQ(half.missing.front().args.at("elements"), "left");
    EXPECT_FALSE(half.value);
    EXPECT_NEAR(of({0, {{"top", 10}, {"left", 0}}}).value.value().value, 2.7587, 1e-3) << "a zero that was entered is one";
}

TEST_F(LossOfAFoot, IsComparedOnlyWithOneOfTheSameElements) {
    const HeatLoss loss = of({28, {{"top", 40}, {"left", 35}}});
    HeatLoss less = loss;
    less.value = Bracketed{loss.value->value - 1, loss.value->lower - 1.5, loss.value->upper - 0.5};
    const auto by = loss_difference(loss, less);
    ASSERT_TRUE(by);
    EXPECT_NEAR(by->value, 1, 1e-12);
    EXPECT_NEAR(by->width(), loss.value->width() + less.value->width(), 1e-12) << "as far as both may be off";
    EXPECT_FALSE(adds_up_otherwise(loss, less));
    less.terms.erase(less.terms.begin());
    EXPECT_FALSE(loss_difference(loss, less));
    EXPECT_TRUE(adds_up_otherwise(loss, less));
    EXPECT_FALSE(adds_up_otherwise(loss, HeatLoss{})) << "one that is missing is told as such";
}

TEST(LossOfAWall, IsUTimesArea) {
    // 1/(0.13 + 0.1/0.5 + 0.1/0.032 + 0.1/0.77 + 0.04) = 0.27587 W/(m²·K); psi of a plane wall is 0.
    Study study = plane_wall().study();
    const auto findings = find(study, study.variants.front());
    const HeatLoss loss = heat_loss(set_quantities(study, {10, {{"top", 20}}}), *findings);
    ASSERT_TRUE(loss.value) << missing_of(loss);
    EXPECT_NEAR(loss.value->value, 20 * 0.27587, 1e-3);
}
