// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <set>

#include "core/file/json_value.hpp"
#include "core/foot/judge.hpp"
#include "core/study/site.hpp"

namespace wallfoot {

namespace {

/// A block of possible sites: per fact the values it may have.
using Block = std::vector<std::vector<std::string>>;

/// Every combination of the facts that one answer of a judge could rest on, and what it says then.
class Possible {
  public:
    /// `first`: what the judge said of all places with the facts `given`.
    Possible(const FootView& view, const Rule& rule, const Facts& given, const std::vector<Judged>& first, std::size_t place) {
        for (const std::string& key : first[place].may_rest_on.value_or(facts_of(rule.kind))) {
            keys_.push_back(key);
            std::vector<std::string> values = find_site_fact(key)->could_be;
            known_.push_back(site_value(view.study, key));
            if (known_.back() && std::find(values.begin(), values.end(), *known_.back()) == values.end()) values.push_back(*known_.back());
            domains_.push_back(std::move(values));
        }
        std::size_t count = 1;
        for (const auto& domain : domains_) count *= domain.size();
        Facts facts = given;
        facts.place = static_cast<int>(place);
        for (std::size_t c = 0; c < count; ++c) {
            for (std::size_t k = 0; k < keys_.size(); ++k) facts.values[keys_[k]] = value(c, k);
            answers_.push_back(keys_.empty() ? first[place] : judge_of(rule.kind)(view, rule, facts)[place]);
        }
    }

    /// One check of all that the judge said.
    Check check(const Study& study, const std::string& subject) const {
        const auto open = possible();
        std::vector<int> outcome(answers_.size(), -1);
        std::vector<std::size_t> first;  // combination of each outcome
        for (std::size_t c = 0; c < answers_.size(); ++c) {
            const auto same = std::find_if(first.begin(), first.end(), [&](std::size_t f) { return alike(answers_[f], answers_[c]); });
            outcome[c] = static_cast<int>(same - first.begin());
            if (same == first.end()) first.push_back(c);
        }
        Check check;
        std::set<std::size_t> open_keys;
        for (std::size_t k = 0; k < keys_.size(); ++k) {
            if (!counts(k, outcome, open)) continue;
            check.facts.push_back({keys_[k], known_[k].value_or(""), known_[k] ? site_source(study, keys_[k]) : ""});
            if (!known_[k]) open_keys.insert(k);
        }
        const Judged& shown = answers_[open.front()];
        check.verdict = shown.verdict, check.message = shown.message, check.places = shown.places, check.pieces = shown.pieces;
        check.deciders = shown.deciders, check.told = shown.told;
        if (open_keys.empty()) return check;
        check.verdict = Verdict::undecided;
        check.told.clear();
        check.deciders.clear();
        for (const std::size_t k : open_keys) check.deciders.push_back({"site/" + keys_[k], {Severity::note, "site-ask-" + keys_[k], {}, {}, ""}});
        std::set<std::string> asked;
        for (const std::size_t c : open) {
            if (std::any_of(check.ends.begin(), check.ends.end(), [&](const End& end) { return alike(end.verdict, end.message, answers_[c]); })) continue;
            for (const auto& block : blocks_of(outcome, outcome[c], open, open_keys))
                check.ends.push_back({in_words(block, open_keys), answers_[c].verdict, answers_[c].message});
            for (const Decider& decider : answers_[c].deciders)
                if (asked.insert(decider.key).second) check.deciders.push_back(decider);
        }
        // Whatever is not known, a verdict that all ends share is the verdict.
        const Verdict verdict = answers_[open.front()].verdict;
        const bool decided = verdict == Verdict::does_not_meet || verdict == Verdict::meets;
        if (decided && std::all_of(open.begin(), open.end(), [&](std::size_t c) { return answers_[c].verdict == verdict; })) check.verdict = verdict;
        std::string facts;
        for (const std::size_t k : open_keys) facts += (facts.empty() ? "" : ", ") + site_fact_name(keys_[k]);
        check.message = {Severity::caution, subject.empty() ? "foot-open" : "foot-open-of", {{"subject", subject}, {"facts", facts}}, shown.message.at, ""};
        return check;
    }

  private:
    const std::string& value(std::size_t combination, std::size_t key) const {
        for (std::size_t k = 0; k < key; ++k) combination /= domains_[k].size();
        return domains_[key][combination % domains_[key].size()];
    }
    static bool alike(Verdict verdict, const Message& message, const Judged& b) { return verdict == b.verdict && message.code == b.message.code && message.args == b.message.args; }
    static bool alike(const Judged& a, const Judged& b) { return alike(a.verdict, a.message, b); }

    /// Combinations that what is known allows.
    std::vector<std::size_t> possible() const {
        std::vector<std::size_t> open;
        for (std::size_t c = 0; c < answers_.size(); ++c) {
            bool fits = true;
            for (std::size_t k = 0; k < keys_.size(); ++k) fits &= !known_[k] || value(c, k) == *known_[k];
            if (fits) open.push_back(c);
        }
        return open;
    }

    /// Whether another value of one fact could lead to another answer, with what else is known kept.
    bool counts(std::size_t key, const std::vector<int>& outcome, const std::vector<std::size_t>& open) const {
        std::size_t stride = 1;
        for (std::size_t k = 0; k < key; ++k) stride *= domains_[k].size();
        const std::size_t many = domains_[key].size();
        for (const std::size_t c : open) {
            const std::size_t base = c - c / stride % many * stride;
            for (std::size_t v = 0; v < many; ++v)
                if (outcome[base + v * stride] != outcome[c]) return true;
        }
        return false;
    }

    /// The combinations that lead to one outcome, as few blocks as merging by single facts gives.
    std::vector<Block> blocks_of(const std::vector<int>& outcome, int wanted, const std::vector<std::size_t>& open, const std::set<std::size_t>& keys) const {
        std::vector<Block> blocks;
        for (const std::size_t c : open) {
            if (outcome[c] != wanted) continue;
            Block block;
            for (const std::size_t k : keys) block.push_back({value(c, k)});
            if (std::find(blocks.begin(), blocks.end(), block) == blocks.end()) blocks.push_back(std::move(block));
        }
        for (bool merged = true; merged;) {
            merged = false;
            for (std::size_t a = 0; a < blocks.size() && !merged; ++a)
                for (std::size_t b = a + 1; b < blocks.size() && !merged; ++b) {
                    std::size_t differ = 0, where = 0;
                    for (std::size_t k = 0; k < blocks[a].size(); ++k)
                        if (blocks[a][k] != blocks[b][k]) ++differ, where = k;
                    if (differ != 1) continue;
                    blocks[a][where].insert(blocks[a][where].end(), blocks[b][where].begin(), blocks[b][where].end());
                    blocks.erase(blocks.begin() + static_cast<std::ptrdiff_t>(b));
                    merged = true;
                }
        }
        return blocks;
    }

    std::string in_words(const Block& block, const std::set<std::size_t>& keys) const {
        std::string text;
        std::size_t i = 0;
        for (const std::size_t k : keys) {
            const auto& values = block[i++];
            if (values.size() == domains_[k].size()) continue;
            std::string list;
            for (std::size_t v = 0; v < values.size(); ++v)
                list += (v == 0 ? "" : v + 1 == values.size() ? " or " : ", ") + site_value_text(keys_[k], values[v]);
            text += (text.empty() ? "" : "; ") + english({Severity::note, "site-is", {{"fact", site_fact_name(keys_[k])}, {"value", list}}, {}, ""});
        }
        return text;
    }

    std::vector<std::string> keys_;
    std::vector<std::optional<std::string>> known_;
    std::vector<std::vector<std::string>> domains_;
    std::vector<Judged> answers_;  ///< per combination
};

/// What an open check speaks of: its piece and zone; "" for the section as a whole.
std::string subject_of(const FootView& view, const Judged& judged) {
    if (judged.pieces.size() != 1) return "";
    const auto zone = judged.message.args.find("zone");
    for (const Piece& piece : view.section.pieces)
        if (piece.id == judged.pieces.front()) return "\"" + name_of(piece) + "\"" + (zone == judged.message.args.end() ? "" : ", " + zone->second);
    return "";
}

int badness(const Check& check) {
    switch (check.verdict) {
        case Verdict::does_not_meet: return 0;
        case Verdict::undecided: return 1;
        case Verdict::meets: return 2;
        case Verdict::not_assessed: return 3;
    }
    return 3;
}

}  // namespace

std::vector<std::string> facts_of(RuleKind kind) {
    switch (kind) {
        case RuleKind::gas_membrane: return {"gas"};
        case RuleKind::frost_band: return {"frost"};
        case RuleKind::sulfate: return {"sulfate"};
        case RuleKind::exposure: return {"frost", "rain", "coastal", "sulfate", "soil", "drained"};
        case RuleKind::water_pressure: return {"ground_water"};
        case RuleKind::strength: return {"storeys"};
        case RuleKind::dpc_height:
        case RuleKind::dpc_continuity:
        case RuleKind::dpc_bridging:
        case RuleKind::cavity_clear:
        case RuleKind::inner_below_dpc:
        case RuleKind::dry_conductivity:
        case RuleKind::to_specify: break;
    }
    return {};
}

Judge judge_of(RuleKind kind) {
    switch (kind) {
        case RuleKind::dpc_height: return judge_dpc_height;
        case RuleKind::dpc_continuity: return judge_dpc_continuity;
        case RuleKind::dpc_bridging: return judge_dpc_bridging;
        case RuleKind::cavity_clear: return judge_cavity_clear;
        case RuleKind::gas_membrane: return judge_gas_membrane;
        case RuleKind::frost_band: return judge_frost_band;
        case RuleKind::inner_below_dpc: return judge_inner_below_dpc;
        case RuleKind::sulfate: return judge_sulfate;
        case RuleKind::dry_conductivity: return judge_dry_conductivity;
        case RuleKind::exposure: return judge_exposure;
        case RuleKind::water_pressure: return judge_water_pressure;
        case RuleKind::strength: return judge_strength;
        case RuleKind::to_specify: break;
    }
    return judge_to_specify;
}

std::vector<Check> foot_checks(const Study& study, const Section& section, const Arrangement& arrangement, const WaterWay& way,
                               const FootRules& rules) {
    const FootView view(study, section, arrangement, way);
    std::vector<Check> all;
    for (const Rule& rule : rules.rules) {
        Facts given;
        for (const std::string& key : facts_of(rule.kind)) given.values[key] = find_site_fact(key)->could_be.front();
        const auto first = judge_of(rule.kind)(view, rule, given);
        std::vector<Check> of_rule;
        for (std::size_t place = 0; place < first.size(); ++place) {
            Check check = Possible(view, rule, given, first, place).check(study, subject_of(view, first[place]));
            check.rule = rule.id, check.name = rule.name, check.kind = rule.kind;
            check.asks = rule.asks, check.source = rule.source, check.jurisdiction = rule.jurisdiction, check.cautions = rule.cautions;
            check.message.severity = check.verdict == Verdict::does_not_meet || check.verdict == Verdict::undecided ? Severity::caution : Severity::note;
            if (check.verdict == Verdict::does_not_meet)
                for (const RuleException& exception : rule.exceptions) {
                    std::string conditions;
                    for (const std::string& condition : exception.conditions) conditions += (conditions.empty() ? "" : "; ") + condition;
                    check.told.push_back({Severity::note, "foot-exception", {{"exception", exception.text}, {"conditions", conditions}}, {}, ""});
                }
            of_rule.push_back(std::move(check));
        }
        std::stable_sort(of_rule.begin(), of_rule.end(), [](const Check& a, const Check& b) { return badness(a) < badness(b); });
        all.insert(all.end(), std::make_move_iterator(of_rule.begin()), std::make_move_iterator(of_rule.end()));
    }
    return all;
}

std::string verdict_text(Verdict verdict) {
    switch (verdict) {
        case Verdict::meets: return english({Severity::note, "verdict-meets", {}, {}, ""});
        case Verdict::does_not_meet: return english({Severity::note, "verdict-does-not-meet", {}, {}, ""});
        case Verdict::undecided: return english({Severity::note, "verdict-undecided", {}, {}, ""});
        case Verdict::not_assessed: break;
    }
    return english({Severity::note, "verdict-not-assessed", {}, {}, ""});
}

Judged judged(Verdict verdict, const std::string& code, Args args, std::optional<Point> at) {
    Judged one{verdict, {Severity::note, code, std::move(args), at, ""}, {}, {}, {}, {}, {}};
    if (at) one.places.push_back(*at);
    return one;
}

std::vector<Judged> nothing_to_judge(const std::string& code) { return {judged(Verdict::not_assessed, code)}; }

std::string name_of(const Piece& piece) { return piece.name.empty() ? piece.id : piece.name; }

std::string names_of(const Section& section, const std::vector<int>& pieces) {
    std::string text;
    for (const int piece : pieces) text += (text.empty() ? "\"" : ", \"") + name_of(section.pieces[static_cast<std::size_t>(piece)]) + "\"";
    return text;
}

std::string in_mm_text(double um) { return json::number_text(std::round(um) / 1000); }

}  // namespace wallfoot
