// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <map>

#include "solver/findings/psi.hpp"
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

/// A slab whose surface is at 0 and the ground outside at `ground`; small, as only the ways are tested here.
Draft slab(double ground, double underside = -300) {
    Draft d;
    d.cut = "[-4000, -5000, 5000, 1200]";
    d.material("clay", 1.5, "soil").material("concrete", 2.0).material("board", 0.03).material("block", 0.2);
    d.piece("clay", -4000, -5000, 5000, std::min(ground, underside));
    if (ground > underside) d.piece("clay", 300, underside, 5000, ground);
    if (ground < underside) d.piece("clay", -4000, ground, 0, underside);
    d.piece("concrete", -4000, underside + 100, 0, 0).piece("board", -4000, underside, 0, underside + 100);
    d.piece("block", 0, -600, 300, 1200);
    d.space("in", "inside", -2000, 600, 20).space("out", "outside", 2000, 600, 0);
    return d;
}

}  // namespace

TEST(FloorAlone, BothReadingsWhereTheFloorLiesDeep) {
    const auto f = slab(-100).solved();
    ASSERT_FALSE(f->has_fault()) << english(f->messages.at(0));
    const auto& psi = psi_of(*f, LengthSystem::internal);
    ASSERT_TRUE(psi.value) << psi.reason;
    ASSERT_TRUE(psi.other_reading);
    // Soil against the edge of the floor lets more heat out of the floor alone: the other psi is the smaller.
    EXPECT_LT(psi.other_reading->value, psi.value->value);
    EXPECT_EQ(says(*f, "floor-readings-differ"), std::abs(psi.other_reading->value - psi.value->value) > 0.01);
    bool explained = false;
    for (const auto& d : f->derivations) explained = explained || d.of == "floor alone left";
    EXPECT_TRUE(explained);
}

TEST(FloorAlone, TheConventionChoosesTheReading) {
    auto study = slab(-100).study();
    const auto one = find(study, study.variants[0]);
    study.conventions.begin()->second.floor_reading = FloorReading::to_ground;
    const auto other = find(study, study.variants[0]);
    const auto &a = psi_of(*one, LengthSystem::internal), &b = psi_of(*other, LengthSystem::internal);
    EXPECT_DOUBLE_EQ(a.value->value, b.other_reading->value);
    EXPECT_DOUBLE_EQ(a.other_reading->value, b.value->value);
}

TEST(FloorAlone, OneReadingWhereTheUndersideIsAtOrAboveTheGround) {
    for (const double ground : {-300.0, -400.0}) {
        const auto f = slab(ground).solved();
        ASSERT_FALSE(f->has_fault()) << english(f->messages.at(0));
        const auto& psi = psi_of(*f, LengthSystem::internal);
        EXPECT_TRUE(psi.value) << psi.reason;
        EXPECT_FALSE(psi.other_reading);
    }
}

TEST(FloorAlone, ABasementIsRefused) {
    const auto f = slab(300).solved();
    ASSERT_FALSE(f->has_fault()) << english(f->messages.at(0));
    EXPECT_FALSE(psi_of(*f, LengthSystem::internal).value);
    EXPECT_EQ(psi_of(*f, LengthSystem::internal).reason, "floor-alone-refused");
    EXPECT_TRUE(says(*f, "floor-alone-refused"));
    EXPECT_TRUE(f->couplings.at(0).value) << "L2D is there all the same";
}

TEST(FloorAlone, TwoFloorLevelsAreRefused) {
    auto d = slab(-100);
    d.piece("concrete", -1000, 0, 0, 150);
    EXPECT_EQ(psi_of(*d.solved(), LengthSystem::internal).reason, "floor-alone-refused");
}

// A reference of the study's own is for lengths: the second section keeps the planes that are drawn. The first version moved them.
TEST(FloorAlone, AReferenceForLengthsDoesNotMoveTheSecondSection) {
    const auto plain = slab(-100).solved();
    auto d = slab(-100);
    d.more = R"(, "elements": [{"id": "wall", "cut": "top", "reference": {"external": [200, -100]}}])";
    const auto own = d.solved();
    const auto alone = [](const Findings& f) { return psi_of(f, LengthSystem::internal).taken_off.at(1).floor_alone->value; };
    EXPECT_EQ(alone(*own), alone(*plain));
    EXPECT_EQ(psi_of(*own, LengthSystem::internal).value->value, psi_of(*plain, LengthSystem::internal).value->value);
    FindingsOptions as_first;
    as_first.formulas = FormulaVersions::recorded({});
    EXPECT_GT(std::abs(alone(*d.solved(as_first)) - alone(*plain)), 1e-3);
}

// By hand: 4 m of slab are drawn, so U = L2D,a/4 whatever the study states, and by internal lengths 4.3 m of it are taken off, which is
// 0.3·U more. The floor to the outer face stays 4.3 m long, so the external psi stays.
TEST(FloorAlone, AnInternalLengthOfTheFloorsOwnMovesTheInternalPsiOnly) {
    const auto plain = slab(-100).solved();
    auto d = slab(-100);
    d.more = R"(, "elements": [{"id": "left", "cut": "left", "reference": {"internal": [300, 0]}}])";
    const auto own = d.solved();
    ASSERT_FALSE(own->has_fault()) << english(own->messages.at(0));
    const auto &before = psi_of(*plain, LengthSystem::internal), &after = psi_of(*own, LengthSystem::internal);
    const Bracketed alone = *before.taken_off.at(1).floor_alone;
    const double U = alone.value / 4;
    EXPECT_NEAR(U, 0.15, 0.02);
    ASSERT_TRUE(after.value) << after.reason;
    EXPECT_EQ(after.taken_off.at(1).floor_alone->value, alone.value);
    EXPECT_NEAR(after.value->value, before.value->value - 0.3 * U, 1e-12);
    EXPECT_NEAR(after.value->lower, before.value->lower - 0.3 * alone.upper / 4, 1e-12);
    EXPECT_NEAR(after.other_reading->value, before.other_reading->value - 0.3 * (before.value->value + alone.value - before.other_reading->value) / 4, 1e-12);
    const auto &outer = psi_of(*plain, LengthSystem::external), &outer_after = psi_of(*own, LengthSystem::external);
    ASSERT_TRUE(outer_after.value) << outer_after.reason;
    EXPECT_NEAR(outer_after.value->value, outer.value->value, 1e-12);
    EXPECT_NEAR(outer_after.value->upper, outer.value->upper, 1e-12);
    // What is taken off makes L2D whole: the wall, 4.3 m of floor, psi.
    const double wall = *after.taken_off.at(0).U * *after.taken_off.at(0).length_m;
    EXPECT_NEAR(after.value->value + wall + 4.3 * U, own->couplings.at(0).value->value, 1e-12);
    for (const Element& element : own->elements)
        for (const Psi* psi : {&after, &outer_after})
            if (element.ground) {
                EXPECT_NEAR(second_section_length(*psi, element).value(), 4, 1e-12);
            }
    // By ISO 13370 the same 0.3 m of that floor, and nothing of the other.
    double of_standard = 0;
    for (const Derivation& derivation : own->derivations)
        if (derivation.id == "iso13370-floor")
            for (const auto& input : derivation.inputs)
                if (input.name == "U_floor") of_standard = input.value;
    EXPECT_NEAR(after.by_iso13370->value, before.by_iso13370->value - 0.3 * of_standard, 1e-12);
}

// A skirting does not shorten the wall or the floor (RULES 5), and a plinth does not move the outer face.
TEST(FloorAlone, SkirtingAndPlinthDoNotMoveTheReferences) {
    auto d = slab(-100);
    d.piece("board", -15, 0, 0, 100).piece("block", 300, -100, 330, 40);
    const auto f = d.solved();
    const auto plain = slab(-100).solved();
    ASSERT_EQ(f->elements.size(), plain->elements.size());
    for (std::size_t i = 0; i < f->elements.size(); ++i) {
        EXPECT_EQ(f->elements[i].internal_length, plain->elements[i].internal_length);
        EXPECT_EQ(f->elements[i].external_length, plain->elements[i].external_length);
    }
    EXPECT_EQ(psi_of(*f, LengthSystem::internal).taken_off.at(1).floor_alone->value,
              psi_of(*plain, LengthSystem::internal).taken_off.at(1).floor_alone->value);
}

namespace {

/// A floor over a void on soil: three spaces.
Draft suspended() {
    Draft d;
    d.cut = "[-3000, -4000, 4000, 1200]";
    d.material("clay", 1.5, "soil").material("deck", 0.2).material("block", 0.3);
    d.piece("clay", -3000, -4000, 4000, -500).piece("clay", 300, -600, 4000, -150);
    d.piece("deck", -3000, -200, 0, 0).piece("block", 0, -700, 300, 1200);
    d.space("in", "inside", -1500, 600, 20).space("void", "unheated", -1500, -350, 5).space("out", "outside", 2000, 600, 0);
    return d;
}

}  // namespace

TEST(ThreeSpaces, EveryPairHasItsCouplingAndPsi) {
    const auto f = suspended().solved();
    ASSERT_FALSE(f->has_fault()) << english(f->messages.at(0));
    ASSERT_EQ(f->couplings.size(), 3u);
    for (const auto& c : f->couplings) EXPECT_LE(c.value->width(), 1e-4);
    EXPECT_TRUE(psi_of(*f, LengthSystem::internal, 0, 2).value);
    EXPECT_TRUE(psi_of(*f, LengthSystem::internal, 0, 2).headline);
    EXPECT_TRUE(psi_of(*f, LengthSystem::internal, 0, 1).value) << psi_of(*f, LengthSystem::internal, 0, 1).reason;
    EXPECT_EQ(psi_of(*f, LengthSystem::internal, 1, 2).reason, "void-over-soil");
}

// Superposition: the weights of all spaces add up to 1 everywhere, and flows to 0 (exact).
TEST(ThreeSpaces, WeightsAddUpToOne) {
    const auto f = suspended().solved();
    for (const auto& nodes : f->solution->temperatures_for({1, 1, 1}))
        for (const double t : nodes) EXPECT_NEAR(t, 1, 1e-9);
    for (const SurfaceFinding& surface : f->surface) {
        ASSERT_EQ(surface.weights.size(), 3u);
        EXPECT_NEAR(surface.weights[0] + surface.weights[1] + surface.weights[2], 1, 1e-9);
        double there = 0;
        for (std::size_t i = 0; i < 3; ++i) there += surface.weights[i] * f->temperatures[i];
        EXPECT_NEAR(there, surface.lowest, 1e-3);
    }
    double sum = 0;
    for (const auto& flow : f->heat_flow) sum += flow.value;
    EXPECT_NEAR(sum, 0, 1e-9);
    // Flow of the room = Σ L2D·Δθ, within what the brackets leave.
    const double flow = f->couplings[0].value->value * 15 + f->couplings[1].value->value * 20;
    EXPECT_NEAR(f->heat_flow[0].value, flow, 1e-3);
}

/// The suspended floor with its void settled by a balance over 10 m of junction.
std::shared_ptr<const Findings> with_balance(const std::string& losses) {
    auto d = suspended();
    const std::string stated = R"("temperature": 5)";
    d.spaces.replace(d.spaces.find(stated), stated.size(), R"("balance": {"length": 10, "losses": [)" + losses + "]}");
    return d.solved();
}

// Without ventilation the void takes what its couplings alone give; with endless ventilation it is as cold as outside.
TEST(Balance, BetweenNoVentilationAndEndless) {
    const auto closed = with_balance("");
    ASSERT_FALSE(closed->has_fault()) << english(closed->messages.at(0));
    const double to_room = closed->couplings[0].value->value, to_outside = closed->couplings[2].value->value;
    EXPECT_NEAR(closed->temperatures[1], 20 * to_room / (to_room + to_outside), 1e-9);
    EXPECT_NEAR(closed->heat_flow[1].value, 0, 1e-3) << "a space in balance takes as much as it gives";
    const auto windy = with_balance(R"({"to": "out", "coefficient": 1e6})");
    EXPECT_NEAR(windy->temperatures[1], 0, 1e-3);
    // An area with U, an air change (1200 J/(m³·K): ISO 13789, from memory) and openings (ISO 13370, from memory), by hand.
    const auto aired = with_balance(R"({"to": "out", "area": 5, "U": 0.4}, {"to": "out", "volume": 30, "air_change": 0.5}, {"to": "out", "openings": 0.03, "wind": 4, "shelter": 0.05})");
    const double losses = 5 * 0.4 + 30 * 0.5 * 1200 / 3600 + 725 * 0.03 * 4 * 0.05, room = 10 * aired->couplings[0].value->value;
    EXPECT_NEAR(aired->temperatures[1], 20 * room / (room + 10 * aired->couplings[2].value->value + losses), 1e-9);
    // Couplings do not depend on what the void's temperature turns out to be.
    for (std::size_t i = 0; i < 3; ++i) EXPECT_DOUBLE_EQ(aired->couplings[i].value->value, closed->couplings[i].value->value);
}

TEST(Balance, IsPrintedAsAnEquationThatHolds) {
    const auto f = with_balance(R"({"name": "airbricks", "to": "out", "coefficient": 2.5})");
    const auto derivation = std::find_if(f->derivations.begin(), f->derivations.end(), [](const Derivation& d) { return d.of == "temperature of void by its balance"; });
    ASSERT_NE(derivation, f->derivations.end());
    std::map<std::string, double> by_name;
    for (const auto& input : derivation->inputs) by_name[input.name] = input.value;
    const double own = by_name.at("θ_u, void");
    EXPECT_NEAR(by_name.at("L2D void–in·l") * (20 - own) + (by_name.at("L2D void–out·l") + 2.5) * (0 - own), 0, 1e-9);
    EXPECT_LE(by_name.at("θ_u, lower bound"), own);
    EXPECT_GE(by_name.at("θ_u, upper bound"), own);
    EXPECT_LT(by_name.at("θ_u, upper bound") - by_name.at("θ_u, lower bound"), 0.01);
    EXPECT_NEAR(by_name.at("b = (θ_i − θ_u)/(θ_i − θ_e)"), (20 - own) / 20, 1e-12);
}

// Two unheated spaces, by hand: what the first loses to the second arrives there.
TEST(Balance, WhatOneSpaceLosesToAnotherArrivesThere) {
    auto d = suspended();
    const std::string stated = R"("temperature": 5)";
    d.spaces.replace(d.spaces.find(stated), stated.size(), R"("balance": {"length": 10, "losses": [{"to": "shed", "coefficient": 4}]})");
    d.cut = "[-3000, -4000, 6000, 1200]";
    d.piece("clay", 4000, -4000, 6000, -150).piece("block", 4000, -150, 4300, 1200);
    d.space("shed", "unheated", 5000, 600, 0);
    const std::string of_shed = R"("at": [5000, 600], "temperature": 0)";
    d.spaces.replace(d.spaces.find(of_shed), of_shed.size(), R"("at": [5000, 600], "balance": {"length": 10, "losses": [{"to": "out", "coefficient": 8}]})");
    const auto f = d.solved();
    ASSERT_FALSE(f->has_fault()) << english(f->messages.at(0));
    for (const int space : {1, 3}) {
        double flow = space == 1 ? 4 * (f->temperatures[3] - f->temperatures[1]) : 4 * (f->temperatures[1] - f->temperatures[3]) + 8 * (0 - f->temperatures[3]);
        for (const Coupling& coupling : f->couplings)
            if (coupling.a == space || coupling.b == space) flow += 10 * coupling.value->value * (f->temperatures[coupling.a == space ? coupling.b : coupling.a] - f->temperatures[space]);
        EXPECT_NEAR(flow, 0, 1e-9) << space;
    }
}

TEST(Balance, SaysWhatIsWrongWithIt) {
    const auto fault = [](const std::string& balance) {
        auto d = suspended();
        const std::string stated = R"("temperature": 5)";
        d.spaces.replace(d.spaces.find(stated), stated.size(), R"("balance": )" + balance);
        try {
            d.solved();
        } catch (const InputFault& found) {
            EXPECT_TRUE(found.faults()[0].pointer.starts_with("/variants/0/section/spaces/1/balance")) << found.faults()[0].pointer;
            EXPECT_NE(english(found.faults()[0]).find(' '), std::string::npos) << found.faults()[0].code;
            return found.faults()[0].code;
        }
        return std::string();
    };
    EXPECT_EQ(fault("{}"), "missing-field");
    EXPECT_EQ(fault(R"({"length": 0})"), "number-out-of-range");
    EXPECT_EQ(fault(R"({"length": 5, "losses": [{"to": "attic", "coefficient": 1}]})"), "balance-space-unknown");
    EXPECT_EQ(fault(R"({"length": 5, "losses": [{"to": "", "coefficient": 1}]})"), "balance-space-unknown");
    EXPECT_EQ(fault(R"({"length": 5, "loss": []})"), "balance-unknown-field");
    EXPECT_EQ(fault(R"({"length": 5, "losses": [{"to": "out", "area": 1}]})"), "balance-loss-one-way");
    EXPECT_EQ(fault(R"({"length": 5, "losses": [{"to": "out", "area": 1, "U": 1, "coefficient": 2}]})"), "balance-loss-one-way");
}
