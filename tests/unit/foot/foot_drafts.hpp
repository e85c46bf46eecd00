// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>

#include "core/foot/foot_report.hpp"
#include "core/study/site.hpp"
#include "tests/unit/water/drafts.hpp"

// A cavity wall on a strip footing with a slab beside it, in mm, sound in every respect, and what the tests ask of it.
namespace wallfoot::foot_drafts {

using water_drafts::Draft;
using testing::mm;

/// Ground at `ground`, damp-proof course at 0, the foot of the cavity filled up to `fill`. Leaves at 0 to 100 and 200 to 300.
inline Draft foot(double ground = -150, double fill = -225) {
    Draft d("foot");
    d.section = testing::section(-1500, -1000, 1000, 1000);
    d.water(true, true, true);
    d.section.ground.both = from_mm(ground), d.section.dpc.both = 0, d.section.floor.both = 0;
    for (const char* id : {"unit", "render", "inner-unit"}) {
        Material m;
        m.id = m.name = id;
        m.kind = std::string(id) == "render" ? MaterialKind::render : MaterialKind::masonry;
        d.study.materials.push_back(m);
    }
    for (const char* id : {"unit", "inner-unit", "block"}) d.material(id).density = 1800, d.material(id).strength = 10;
    d.piece("soil", "soil", -1500, -1000, 0, -150)
        .piece("soil-out", "soil", 0, -1000, 1000, ground)
        .piece("footing", "concrete", -50, -800, 350, -600)
        .piece("slab", "concrete", -1500, -150, -30, 0)
        .piece("strip", "foam", -30, -150, 0, 0)
        .piece("inner-base", "inner-unit", 0, -600, 100, 0)
        .piece("inner", "block", 0, 0, 100, 1000)
        .piece("cavity", "still-air", 100, -600, 200, 1000)
        .piece("fill", "concrete", 100, -600, 200, fill)
        .piece("outer-base", "unit", 200, -600, 300, 0)
        .piece("outer", "block", 200, 0, 300, 1000);
    d.membrane("dpm", {{-1500, -150}, {0, -150}, {0, 0}, {100, 0}}, MembraneKind::dpm)
        .membrane("dpc-inner", {{0, 0}, {100, 0}})
        .membrane("dpc-outer", {{200, 0}, {300, 0}});
    return d.space("in", SpaceKind::inside, -700, 500).space("out", SpaceKind::outside, 650, 500);
}

/// All facts, those of a benign site.
inline Draft& stated(Draft& d) {
    for (const auto& [key, value] : {std::pair("gas", "not-needed"), std::pair("frost", "moderate"), std::pair("rain", "sheltered"), std::pair("sulfate", "DS-1"),
                                     std::pair("ground_water", "5000"), std::pair("drained", "true"), std::pair("soil", "sand"), std::pair("coastal", "false"),
                                     std::pair("storeys", "2"), std::pair("use", "dwelling")})
        d.study = set_site_fact(d.study, key, value, "invented");
    return d;
}
inline Draft& fact(Draft& d, const std::string& key, std::optional<std::string> value) {
    d.study = set_site_fact(d.study, key, std::move(value), "invented");
    return d;
}

inline FootRules general() { return read_foot_rules(foot_rules_text("foot-general")); }
inline Rule& rule_of(FootRules& rules, RuleKind kind) {
    return *std::find_if(rules.rules.begin(), rules.rules.end(), [&](const Rule& rule) { return rule.kind == kind; });
}

inline std::vector<Check> checks(const Draft& d, const FootRules& rules = general()) {
    const water_drafts::Solved solved = water_drafts::solve(d);
    return foot_checks(d.study, d.section, solved.arrangement, solved.way, rules);
}
inline std::vector<Check> checks(const Draft& d, RuleKind kind, const FootRules& rules = general()) {
    std::vector<Check> all = checks(d, rules);
    std::erase_if(all, [&](const Check& check) { return check.kind != kind; });
    return all;
}
/// The worst check of a kind.
inline Check check(const Draft& d, RuleKind kind, const FootRules& rules = general()) {
    const auto all = checks(d, kind, rules);
    if (all.empty()) throw std::logic_error("no check of that kind");
    return all.front();
}
inline Check check_of(const Draft& d, RuleKind kind, const std::string& piece) {
    for (const Check& one : checks(d, kind))
        if (std::find(one.pieces.begin(), one.pieces.end(), piece) != one.pieces.end()) return one;
    throw std::logic_error("no check of that kind speaks of " + piece);
}

inline bool asks(const Check& check, const std::string& key) {
    return std::any_of(check.deciders.begin(), check.deciders.end(), [&](const Decider& d) { return d.key == key; });
}
inline bool names(const Check& check, const std::string& key) {
    return std::any_of(check.facts.begin(), check.facts.end(), [&](const FactUsed& f) { return f.key == key; });
}

}  // namespace wallfoot::foot_drafts
