// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/foot/check.hpp"
#include "core/foot/foot_view.hpp"

namespace wallfoot {

// How a rule is asked: a judge answers for one set of site facts; what is not known is tried both ways by judged_by_facts.

/// Site facts as they would be, by key, plain text. A judge may ask for those its rule depends on only.
struct Facts {
    std::map<std::string, std::string> values;
    /// The one place that is looked at, -1 = all; what is said of others may be left empty.
    int place = -1;
    const std::string& at(const std::string& key) const { return values.at(key); }
    bool wants(std::size_t index) const { return place < 0 || static_cast<std::size_t>(place) == index; }
};

/// What a rule says of one place when all facts are known.
struct Judged {
    Verdict verdict = Verdict::not_assessed;
    Message message;
    std::vector<Point> places;
    std::vector<std::string> pieces;
    std::vector<Decider> deciders;
    std::vector<Message> told;
    /// Facts that the answer at this place could rest on, whatever they are; nothing: all that the kind may ask for.
    std::optional<std::vector<std::string>> may_rest_on;
};

/// For the same section and rule always as many answers, in the same order, whatever the facts.
using Judge = std::vector<Judged> (*)(const FootView&, const Rule&, const Facts&);

/// The site facts a kind of rule may ask for.
std::vector<std::string> facts_of(RuleKind kind);
Judge judge_of(RuleKind kind);

// The judges, by subject.
std::vector<Judged> judge_dpc_height(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_dpc_continuity(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_dpc_bridging(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_cavity_clear(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_gas_membrane(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_frost_band(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_inner_below_dpc(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_sulfate(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_dry_conductivity(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_exposure(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_water_pressure(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_strength(const FootView&, const Rule&, const Facts&);
std::vector<Judged> judge_to_specify(const FootView&, const Rule&, const Facts&);

// Small help for them.
using Args = std::map<std::string, std::string>;
Judged judged(Verdict verdict, const std::string& code, Args args = {}, std::optional<Point> at = {});
/// A rule that has nothing to look at in this section.
std::vector<Judged> nothing_to_judge(const std::string& code);
std::string name_of(const Piece& piece);
/// Names in quotes, with commas.
std::string names_of(const Section& section, const std::vector<int>& pieces);
/// A length of µm in mm, at most three decimals, no zeros at its end.
std::string in_mm_text(double um);

}  // namespace wallfoot
