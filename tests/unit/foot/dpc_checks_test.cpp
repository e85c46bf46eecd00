// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/unit/foot/foot_drafts.hpp"

namespace wallfoot::foot_drafts {
namespace {

using enum Verdict;

void erase_membrane(Draft& d, const std::string& id) {
    std::erase_if(d.section.membranes, [&](const Membrane& m) { return m.id == id; });
}

// Common rules of the United Kingdom (NHBC Standards 5.1.19): 150 mm above the ground; 149 is too low.
TEST(DpcHeight, is_measured_to_the_ground_outside) {
    const Check met = check(foot(-150), RuleKind::dpc_height);
    EXPECT_EQ(met.verdict, meets);
    EXPECT_EQ(met.message.args.at("height"), "150");
    const Check low = check(foot(-149), RuleKind::dpc_height);
    EXPECT_EQ(low.verdict, does_not_meet);
    EXPECT_EQ(low.message.args.at("missing"), "1");
    ASSERT_EQ(low.told.size(), 1u) << "the exception with its conditions";
    EXPECT_NE(english(low.told[0]).find("channel"), std::string::npos);
    EXPECT_TRUE(met.told.empty());
    EXPECT_EQ(check(foot(20), RuleKind::dpc_height).message.code, "foot-dpc-height-below");
}

TEST(DpcHeight, takes_the_level_of_its_own_side) {
    Draft d = foot(-150);
    d.section.ground = {};
    d.section.ground.right = from_mm(-150), d.section.ground.left = from_mm(400);
    EXPECT_EQ(check(d, RuleKind::dpc_height).verdict, meets) << "ground on the other side of the house is another matter";
    d.section.ground.right = from_mm(-100);
    EXPECT_EQ(check(d, RuleKind::dpc_height).message.args.at("height"), "100");
}

TEST(DpcHeight, counts_what_is_drawn_against_the_wall) {
    Draft d = foot(-150);
    d.piece("paving", "concrete", 300, -150, 1000, -90);
    const Check check = foot_drafts::check(d, RuleKind::dpc_height);
    EXPECT_EQ(check.verdict, does_not_meet);
    EXPECT_EQ(check.message.args.at("height"), "90");
    EXPECT_EQ(check.told.front().code, "foot-ground-drawn-higher");
    Draft sill = foot(-150);
    sill.piece("rail", "concrete", 300, 300, 320, 340);
    EXPECT_EQ(foot_drafts::check(sill, RuleKind::dpc_height).verdict, meets) << "a ledge of the wall is no ground";
}

TEST(DpcHeight, is_open_without_course_and_level) {
    Draft d = foot();
    d.section.membranes.clear();
    d.section.dpc = {};
    const Check open = check(d, RuleKind::dpc_height);
    EXPECT_EQ(open.verdict, undecided);
    EXPECT_TRUE(asks(open, "level/dpc"));
    d.section.dpc.both = 0;
    EXPECT_EQ(check(d, RuleKind::dpc_height).told.front().code, "foot-dpc-height-by-level");
}

TEST(DpcContinuity, is_whole_across_both_leaves_and_linked) {
    const auto all = checks(foot(), RuleKind::dpc_continuity);
    ASSERT_EQ(all.size(), 3u) << "two leaves and the floor membrane";
    for (const Check& one : all) EXPECT_EQ(one.verdict, meets) << english(one.message);
}

TEST(DpcContinuity, breaks_where_a_membrane_is_missing_or_short) {
    for (const auto& [id, end] : {std::pair("dpc-inner", 100.0), std::pair("dpc-outer", 300.0)}) {
        Draft gone = foot();
        erase_membrane(gone, id);
        if (id == std::string("dpc-inner")) erase_membrane(gone, "dpm");
        EXPECT_EQ(check(gone, RuleKind::dpc_continuity).message.code, "foot-dpc-none") << id;
        Draft brief = foot();
        if (id == std::string("dpc-inner")) brief.section.membranes[0].path.back().x -= 5 * um_per_mm;
        for (Membrane& m : brief.section.membranes)
            if (m.id == id) m.path.back().x -= 5 * um_per_mm;
        const Check broken = check(brief, RuleKind::dpc_continuity);
        EXPECT_EQ(broken.verdict, does_not_meet);
        EXPECT_EQ(broken.message.code, "foot-dpc-broken") << id;
        ASSERT_FALSE(broken.places.empty());
        EXPECT_EQ(broken.places[0].y, 0);
        EXPECT_GT(broken.places[0].x, from_mm(end - 101));
        EXPECT_LT(broken.places[0].x, from_mm(end));
    }
}

// Laps of 100 mm by the common rules; 150 mm by EN 1996-2:2006 3.5.4 where nothing else is said: the rule set decides.
TEST(DpcContinuity, asks_for_the_lap_of_the_rule_set) {
    const auto link = [](double lap, std::optional<bool> sealed, double least) {
        Draft d = foot();
        d.section.membranes[0].path.back().x = from_mm(lap);
        if (lap == 0) d.section.membranes[0].path.pop_back();
        d.section.membranes[0].sealed_laps = sealed;
        FootRules rules = general();
        rule_of(rules, RuleKind::dpc_continuity).numbers["lap"] = least;
        return check(d, RuleKind::dpc_continuity, rules);
    };
    EXPECT_EQ(link(100, {}, 100).verdict, meets);
    EXPECT_EQ(link(100, {}, 150).message.code, "foot-link-short");
    EXPECT_EQ(link(99, {}, 100).verdict, does_not_meet);
    EXPECT_EQ(link(60, true, 100).verdict, meets) << "welded or sealed";
    EXPECT_EQ(link(60, false, 100).verdict, does_not_meet);
    EXPECT_EQ(link(0, {}, 100).message.code, "foot-link-touching");
    Draft apart = foot();
    apart.section.membranes[0].path = {mm(-1500, -150), mm(0, -150)};
    EXPECT_EQ(check(apart, RuleKind::dpc_continuity).message.code, "foot-link-apart");
    Draft one = foot();
    erase_membrane(one, "dpc-inner");
    for (const Check& each : checks(one, RuleKind::dpc_continuity)) EXPECT_EQ(each.verdict, meets) << "the floor membrane is the course: " << english(each.message);
}

TEST(DpcBridging, names_what_leads_past_the_course) {
    for (const Check& one : checks(foot(), RuleKind::dpc_bridging)) EXPECT_EQ(one.verdict, meets);
    const auto bridged = [](const Draft& d) {
        const Check one = check(d, RuleKind::dpc_bridging);
        EXPECT_EQ(one.verdict, does_not_meet) << d.section.pieces.back().id;
        return one.pieces;
    };
    Draft render = foot();
    render.piece("render", "render", 300, -150, 315, 800);
    EXPECT_EQ(bridged(render), std::vector<std::string>{"render"});
    Draft drip = foot();
    drip.piece("above", "render", 300, 10, 315, 800).piece("below", "render", 300, -150, 315, -10);
    EXPECT_EQ(check(drip, RuleKind::dpc_bridging).verdict, meets) << "stopped above it and begun anew below";
    Draft soil = foot();
    soil.piece("bed", "soil", 300, -150, 600, 60);
    EXPECT_EQ(bridged(soil), std::vector<std::string>{"bed"});
    Draft slab = foot();
    slab.section.membranes[0].path = {mm(-1500, -150), mm(-30, -150)};
    slab.piece("wide-slab", "concrete", -30, -150, 0, 0).piece("screed", "concrete", -1500, 0, 0, 60);
    EXPECT_EQ(bridged(slab), std::vector<std::string>{"screed"}) << "by way of the slab that touches the leaf below";
    Draft tight = slab;
    for (Material& m : tight.study.materials)
        if (m.id == "concrete") m.capillary = false;
    EXPECT_EQ(check(tight, RuleKind::dpc_bridging).verdict, meets) << "what draws no water bridges nothing";
}

// Common practice in England (Approved Document C, PD 6697, from memory): clear for 225 mm below the course, or a tray.
TEST(CavityClear, is_deep_enough_or_has_a_tray) {
    EXPECT_EQ(check(foot(-150, -225), RuleKind::cavity_clear).verdict, meets);
    const Check shallow = check(foot(-150, -224), RuleKind::cavity_clear);
    EXPECT_EQ(shallow.verdict, does_not_meet);
    EXPECT_EQ(shallow.message.args.at("missing"), "1");
    EXPECT_EQ(shallow.places[0].y, from_mm(-224));
    EXPECT_EQ(check(foot(-150, 0), RuleKind::cavity_clear).message.code, "foot-cavity-filled");
    EXPECT_EQ(check(foot(-150, 80), RuleKind::cavity_clear).message.code, "foot-cavity-filled");
    Draft droppings = foot();
    droppings.piece("droppings", "concrete", 100, -225, 150, -75);
    EXPECT_EQ(check(droppings, RuleKind::cavity_clear).message.args.at("depth"), "75");
    Draft tray = foot(-150, -100);
    tray.membrane("tray", {{100, 150}, {200, 0}}, MembraneKind::tray);
    EXPECT_EQ(check(tray, RuleKind::cavity_clear).message.code, "foot-cavity-tray");
    EXPECT_EQ(check(tray, RuleKind::cavity_clear).verdict, meets);
}

TEST(FootChecks, have_nothing_to_say_of_a_wall_without_ground) {
    Draft d = foot();
    std::erase_if(d.section.pieces, [](const Piece& p) { return p.id.starts_with("soil"); });
    d.section.spaces[1].at.push_back(mm(-700, -500));
    for (const Check& one : checks(d)) EXPECT_TRUE(one.kind == RuleKind::dry_conductivity || one.verdict == not_assessed) << one.rule;
}

}  // namespace
}  // namespace wallfoot::foot_drafts
