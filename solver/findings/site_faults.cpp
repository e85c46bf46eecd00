// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/site_faults.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "core/foot/foot_report.hpp"
#include "core/study/names.hpp"
#include "core/text/refuse_faults.hpp"
#include "core/water/report.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

/// What water and rules say of one variant.
struct Said {
    std::map<std::string, std::string> drawn; ///< pieces that draw water: id, name
    std::set<std::string> reached;            ///< ids of those that water reaches
    std::map<std::string, Verdict> verdicts;  ///< the worst of each rule, by its name
};

/// From what is met to what is not; what is not assessed says nothing.
int badness(Verdict verdict) { return verdict == Verdict::does_not_meet ? 3 : verdict == Verdict::undecided ? 2 : verdict == Verdict::meets ? 1 : 0; }

Said said_of(const Study& study, const Variant& variant, const UsedRules& rules, const Context& context) {
    Said said;
    const WaterReport report = water_report(study, variant, context);
    for (const PieceWater& piece : report.way.pieces) {
        const Piece& drawn = report.section->pieces[static_cast<std::size_t>(piece.piece)];
        said.drawn[drawn.id] = shown_name(drawn);
        if (piece.state == WaterState::reached) said.reached.insert(drawn.id);
    }
    for (const Check& check : foot_report(study, variant, report.arrangement, report.way, rules).checks) {
        Verdict& worst = said.verdicts.try_emplace(check.name, check.verdict).first->second;
        if (badness(check.verdict) > badness(worst)) worst = check.verdict;
    }
    return said;
}

std::shared_ptr<const Findings> sound_findings(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
    auto findings = find(study, variant, options, context);
    refuse_faults(findings->messages);
    return findings;
}

FaultEffect effect_of(const DetailSwitch& fault, std::shared_ptr<const Findings> found, const Findings& meant, const Said& now, const Said& before) {
    FaultEffect effect;
    effect.id = fault.id;
    effect.name = fault.name;
    effect.about = fault.about;
    const Psi *a = meant.headline_psi(), *b = found->headline_psi();
    if (a && b && a->value && b->value) effect.psi = difference(*b->value, *a->value);
    const SurfaceFinding *cold = meant.headline_surface(), *colder = found->headline_surface();
    if (cold && colder && cold->fRsi && colder->fRsi) {
        effect.factor = *colder->fRsi - *cold->fRsi;
        effect.factor_open = cold->estimate + colder->estimate;
    }
    for (const std::string& id : now.reached)
        if (!before.reached.contains(id)) effect.reached.push_back(now.drawn.at(id));
    // What the fault leaves out is not kept dry by it.
    for (const std::string& id : before.reached)
        if (now.drawn.contains(id) && !now.reached.contains(id)) effect.no_longer_reached.push_back(now.drawn.at(id));
    for (const auto& [rule, verdict] : now.verdicts) {
        const auto was = before.verdicts.find(rule);
        if (badness(verdict) > 1 && (was == before.verdicts.end() || badness(verdict) > badness(was->second))) (verdict == Verdict::undecided ? effect.rules_open : effect.rules_worse).push_back(rule);
    }
    effect.findings = std::move(found);
    return effect;
}

std::string signed_text(const std::string& number, bool positive) { return (positive && number.front() != '-' ? "+" : "") + number; }

std::string joined(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
    return all;
}

}  // namespace

std::string psi_change(const FaultEffect& effect) {
    if (!effect.psi) return "–";
    if (effect.psi->lower <= 0 && effect.psi->upper >= 0) return "none within " + one_digit_up(std::max(-effect.psi->lower, effect.psi->upper));
    return signed_text(with_bracket(*effect.psi), effect.psi->value > 0);
}

std::string factor_change(const FaultEffect& effect) {
    if (!effect.factor) return "–";
    if (std::abs(*effect.factor) <= effect.factor_open) return "none within " + one_digit_up(effect.factor_open);
    constexpr int most_decimals_of_factor = 4;
    const int decimals = std::min(supported_decimals(effect.factor_open), most_decimals_of_factor);
    const double unit = std::pow(10.0, -decimals);
    if (std::abs(*effect.factor) < unit) return std::string(*effect.factor > 0 ? "rise" : "fall") + " below " + fixed(unit, decimals);
    return signed_text(fixed(*effect.factor, decimals), *effect.factor > 0);
}

std::vector<std::string> notes_of(const FaultEffect& effect) {
    std::vector<std::string> notes;
    if (effect.mixed()) notes.push_back(std::string("psi gets ") + (effect.psi->value > 0 ? "worse, yet the coldest surface warmer" : "better, yet the coldest surface colder") + ": read both together");
    if (!effect.reached.empty()) notes.push_back("water now reaches: " + joined(effect.reached));
    if (!effect.no_longer_reached.empty()) notes.push_back("water no longer reaches: " + joined(effect.no_longer_reached));
    if (!effect.rules_worse.empty()) notes.push_back("not met now: " + joined(effect.rules_worse));
    if (!effect.rules_open.empty()) notes.push_back("undecided now: " + joined(effect.rules_open));
    return notes;
}

bool FaultEffect::mixed() const {
    if (!psi || !factor || std::abs(*factor) <= factor_open) return false;
    return (psi->lower > 0 && *factor > 0) || (psi->upper < 0 && *factor < 0);
}

SiteFaults site_faults(const Detail& detail, DetailSettings settings, const FindingsOptions& options, const Context& context) {
    settings.switches.clear();
    for (const DetailSwitch& fault : detail.switches) settings.switches.push_back(fault.id);
    const Study study = make_study(detail, settings);
    const UsedRules rules = used_foot_rules(study);
    SiteFaults result{detail.name, sound_findings(study, study.variants.front(), options, context), {}};
    const Said before = said_of(study, study.variants.front(), rules, context);
    // One variant for each switch, in the order of the detail.
    for (std::size_t v = 1; v < study.variants.size(); ++v)
        result.effects.push_back(effect_of(detail.switches[v - 1], sound_findings(study, study.variants[v], options, context), *result.meant, said_of(study, study.variants[v], rules, context), before));
    std::stable_sort(result.effects.begin(), result.effects.end(), [](const FaultEffect& a, const FaultEffect& b) {
        const auto rise = [](const FaultEffect& effect) { return !effect.psi || (effect.psi->lower <= 0 && effect.psi->upper >= 0) ? 0.0 : effect.psi->value; };
        if (rise(a) != rise(b)) return rise(a) > rise(b);
        return a.factor.value_or(0) < b.factor.value_or(0);
    });
    return result;
}

std::string site_faults_text(const SiteFaults& faults) {
    const Psi* psi = faults.meant->headline_psi();
    const SurfaceFinding* surface = faults.meant->headline_surface();
    std::string text = faults.detail + "\n  as meant: psi " + (psi && psi->value ? with_bracket(*psi->value) : "–") + " W/(m·K), fRsi " +
                       (surface && surface->fRsi ? fixed(*surface->fRsi, factor_decimals(*surface)) : "–") + "\n\n  " + padded("site fault", 44) + padded("psi W/(m·K)", 24) + "fRsi\n";
    if (faults.effects.empty()) text += "  none that this detail knows\n";
    for (const FaultEffect& effect : faults.effects) {
        text += "  " + padded(effect.name, 44) + padded(psi_change(effect), 24) + factor_change(effect) + "\n";
        for (const std::string& note : notes_of(effect)) text += "      " + note + "\n";
    }
    return text + "\nOne fault at a time, all else as meant; together they need not add up. Local rules prevail.\n";
}

std::string site_faults_json(const SiteFaults& faults) {
    using Json = nlohmann::ordered_json;
    Json json{{"program", std::string("wallfoot ") + program_version}, {"detail", faults.detail}, {"faults", Json::array()}};
    for (const FaultEffect& effect : faults.effects) {
        Json one{{"id", effect.id}, {"name", effect.name}, {"psi_change", nullptr}, {"fRsi_change", nullptr}, {"mixed", effect.mixed()}};
        if (effect.psi) {
            const auto p = printed(*effect.psi);
            one["psi_change"] = {{"value", p.value}, {"lower", p.lower}, {"upper", p.upper}};
        }
        if (effect.factor) one["fRsi_change"] = {{"value", rounded(*effect.factor, 4)}, {"open", rounded_up(effect.factor_open, 4)}};
        one["water_reaches"] = effect.reached;
        one["water_no_longer_reaches"] = effect.no_longer_reached;
        one["rules_not_met"] = effect.rules_worse;
        one["rules_undecided"] = effect.rules_open;
        json["faults"].push_back(one);
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace wallfoot
