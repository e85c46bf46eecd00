// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <set>

#include "core/file/json_value.hpp"
#include "core/foot/foot_words.hpp"
#include "core/foot/judge.hpp"
#include "core/study/materials.hpp"

namespace wallfoot {

namespace {

constexpr const char* frost_classes[] = {"F0", "F1", "F2"};  // EN 771-1

bool contains(const std::vector<std::string>& words, const std::string& word) { return std::find(words.begin(), words.end(), word) != words.end(); }

/// Whether a property is good enough, not, or not stated.
std::optional<bool> answers(const Rule& rule, const Material& material, UnitProperty property) {
    const auto number = [&](const std::optional<double>& stated, const char* limit) { return stated ? std::optional(*stated >= rule.numbers.at(limit)) : std::nullopt; };
    switch (property) {
        case UnitProperty::density: return number(material.density, "density");
        case UnitProperty::strength: return number(material.strength, "strength");
        case UnitProperty::aggregate:
            return material.aggregate && !material.aggregate->empty() ? std::optional(contains(rule.lists.at("aggregates"), *material.aggregate)) : std::nullopt;
        case UnitProperty::assessed: return material.assessed;
    }
    return std::nullopt;
}

std::string shown(const Rule& rule, const Material& material, UnitProperty property) {
    const auto text = [](const std::optional<double>& value) { return value ? json::number_text(*value) : std::string("–"); };
    switch (property) {
        case UnitProperty::density: return english({Severity::note, "foot-unit-density", {{"value", text(material.density)}, {"least", text(rule.numbers.at("density"))}}, {}, ""});
        case UnitProperty::strength: return english({Severity::note, "foot-unit-strength", {{"value", text(material.strength)}, {"least", text(rule.numbers.at("strength"))}}, {}, ""});
        case UnitProperty::aggregate: return english({Severity::note, "foot-unit-aggregate", {{"value", material.aggregate.value_or("–")}}, {}, ""});
        case UnitProperty::assessed: return english({Severity::note, material.assessed.value_or(false) ? "foot-unit-assessed" : "foot-unit-not-assessed", {}, {}, ""});
    }
    return {};
}

Decider asked(const Material& material, const std::string& property, const std::string& code) {
    return {"material/" + material.id + "/" + property, {Severity::note, code, {{"material", shown_name(material)}}, {}, ""}};
}

Decider asked(const Material& material, UnitProperty property) {
    switch (property) {
        case UnitProperty::density: return asked(material, "density", "foot-ask-density");
        case UnitProperty::strength: return asked(material, "strength", "foot-ask-strength");
        case UnitProperty::aggregate: return asked(material, "aggregate", "foot-ask-aggregate");
        case UnitProperty::assessed: break;
    }
    return asked(material, "assessed", "foot-ask-assessed");
}

/// What a rule says of the units of one material. Bricks are judged by the class they declare (EN 771-1), all else by what
/// the rule accepts.
Judged judge_unit(const Rule& rule, const Material& material, Args args) {
    args["material"] = shown_name(material);
    if (material.frost && std::find(std::begin(frost_classes), std::end(frost_classes), *material.frost) != std::end(frost_classes)) {
        const bool good = contains(rule.lists.at("frost_classes"), *material.frost);
        args["class"] = *material.frost;
        return judged(good ? Verdict::meets : Verdict::does_not_meet, good ? "foot-units-class-meets" : "foot-units-class-low", args);
    }
    std::string why;
    std::vector<Decider> deciders;
    bool open = false;
    const auto add = [&](UnitProperty property) { why += (why.empty() ? "" : ", ") + shown(rule, material, property); };
    for (const auto& together : rule.accepted) {
        const bool all = std::all_of(together.begin(), together.end(), [&](UnitProperty p) { return answers(rule, material, p).value_or(false); });
        if (!all) continue;
        for (const UnitProperty property : together) add(property);
        args["by"] = why;
        return judged(Verdict::meets, "foot-units-meet", args);
    }
    for (const auto& together : rule.accepted) {
        const bool lost = std::any_of(together.begin(), together.end(), [&](UnitProperty p) { return !answers(rule, material, p).value_or(true); });
        open |= !lost;
        for (const UnitProperty property : together) {
            const auto answer = answers(rule, material, property);
            if (answer && !*answer) add(property);
            // What another property of the same list has settled already decides nothing.
            if (!answer && !lost) deciders.push_back(asked(material, property));
        }
    }
    args["by"] = why.empty() ? english({Severity::note, "foot-unit-nothing", {}, {}, ""}) : why;
    Judged one = judged(open ? Verdict::undecided : Verdict::does_not_meet, open ? "foot-units-open" : "foot-units-low", args);
    one.deciders = std::move(deciders);
    return one;
}

std::vector<Judged> judge_units(const FootView& view, const Rule& rule, FootZone zone, Micrometres above, Micrometres below, bool no_frost, const char* none) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    std::vector<Judged> all;
    for (const FootSide& side : view.sides())
        for (const ZonePiece& here : view.zones(side, above, below)) {
            if (here.zone != zone) continue;
            const Piece& piece = view.section.pieces[static_cast<std::size_t>(here.piece)];
            const Material* material = view.study.find_material(piece.filled_with);
            Judged one = judge_unit(rule, *material, {{"name", name_of(piece)}});
            if (no_frost && one.verdict != Verdict::meets) one = judged(Verdict::not_assessed, "foot-units-no-frost", one.message.args);
            one.message.at = here.at;
            one.places = {here.at};
            one.pieces = {piece.id};
            all.push_back(std::move(one));
        }
    return all.empty() ? nothing_to_judge(none) : all;
}

}  // namespace

std::vector<Judged> judge_frost_band(const FootView& view, const Rule& rule, const Facts& facts) {
    return judge_units(view, rule, FootZone::outer_band, from_mm(rule.numbers.at("above")), from_mm(rule.numbers.at("below")), facts.at("frost") == "none", "foot-band-none");
}

std::vector<Judged> judge_inner_below_dpc(const FootView& view, const Rule& rule, const Facts&) {
    return judge_units(view, rule, FootZone::inner_below, 0, 0, false, "foot-inner-none");
}

std::vector<Judged> judge_strength(const FootView& view, const Rule& rule, const Facts& facts) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    std::set<int> pieces;
    for (const FootSide& side : view.sides())
        for (const ZonePiece& here : view.zones(side, 0, 0)) pieces.insert(here.piece);
    std::vector<std::pair<const Material*, std::vector<int>>> materials;  // in painter's order of their first piece
    for (const int piece : pieces) {
        const Material* material = view.study.find_material(view.section.pieces[static_cast<std::size_t>(piece)].filled_with);
        const auto same = std::find_if(materials.begin(), materials.end(), [&](const auto& one) { return one.first == material; });
        if (same == materials.end()) materials.push_back({material, {piece}});
        else same->second.push_back(piece);
    }
    const double storeys = std::stod(facts.at("storeys"));
    const double least = rule.numbers.at(storeys >= rule.numbers.at("many_from") ? "many" : "few");
    const double most = std::max(rule.numbers.at("few"), rule.numbers.at("many"));
    std::vector<Judged> all;
    for (const auto& [material, of] : materials) {
        Args args{{"material", shown_name(*material)}, {"pieces", names_of(view.section, of)}, {"least", json::number_text(least)}};
        if (material->strength) args["value"] = json::number_text(*material->strength);
        Judged one;
        if (!material->strength) {
            args.erase("least");
            one = judged(Verdict::undecided, "foot-strength-unknown", args);
            one.deciders.push_back(asked(*material, UnitProperty::strength));
        } else if (*material->strength >= most) {
            args["least"] = json::number_text(most);
            one = judged(Verdict::meets, "foot-strength-most", args);
        } else {
            const bool meets = *material->strength >= least;
            one = judged(meets ? Verdict::meets : Verdict::does_not_meet, meets ? "foot-strength-meets" : "foot-strength-low", args);
        }
        for (const int piece : of) one.pieces.push_back(view.section.pieces[static_cast<std::size_t>(piece)].id);
        all.push_back(std::move(one));
    }
    return all.empty() ? nothing_to_judge("foot-no-leaf") : all;
}

std::vector<Judged> judge_exposure(const FootView& view, const Rule& rule, const Facts& facts) {
    if (view.sides().empty()) return nothing_to_judge("foot-no-ground");
    const bool frost = facts.at("frost") != "none", salt = facts.at("coastal") == "true", drained = facts.at("drained") == "true";
    const bool aggressive = facts.at("sulfate") != "DS-1" || facts.at("soil") == "made-ground";
    std::vector<Judged> all;
    for (const FootSide& side : view.sides())
        for (const ZonePiece& here : view.zones(side, from_mm(rule.numbers.at("above")), from_mm(rule.numbers.at("below")))) {
            if (!facts.wants(all.size())) {
                all.emplace_back();
                continue;
            }
            std::string zone, key, why;
            std::vector<std::string> may_rest_on;
            switch (here.zone) {
                case FootZone::inner_above: zone = "foot-zone-inner-above", key = "inner_above_dpc"; break;
                case FootZone::inner_below:
                    zone = "foot-zone-inner-below", key = here.reached ? "inner_below_dpc_reached" : "inner_below_dpc";
                    why = here.reached ? "foot-why-reached" : "foot-why-no-path";
                    break;
                case FootZone::outer_above:
                    zone = "foot-zone-outer-above", key = salt ? "salt" : "outer_above_" + facts.at("rain") + (frost ? "_frost" : "");
                    why = salt ? "foot-why-salt" : frost ? "foot-why-rain-frost" : "foot-why-rain";
                    may_rest_on = {"frost", "rain", "coastal"};
                    break;
                case FootZone::outer_band:
                    zone = "foot-zone-band", key = aggressive ? "aggressive" : salt ? "salt" : frost ? "band_frost" : "band";
                    why = aggressive ? "foot-why-aggressive" : salt ? "foot-why-salt" : frost ? "foot-why-band-frost" : "foot-why-band";
                    may_rest_on = {"frost", "coastal", "sulfate", "soil"};
                    break;
                case FootZone::outer_below:
                    zone = "foot-zone-outer-below", key = aggressive ? "aggressive" : drained ? "below_drained" : "";
                    why = aggressive ? "foot-why-aggressive" : drained ? "foot-why-below" : "foot-why-undrained";
                    may_rest_on = {"sulfate", "soil", "drained"};
                    break;
            }
            const Piece& piece = view.section.pieces[static_cast<std::size_t>(here.piece)];
            const auto said = [](const std::string& code) { return code.empty() ? std::string() : english({Severity::note, code, {}, {}, ""}); };
            Judged one = judged(Verdict::not_assessed, key.empty() ? "foot-class-none" : "foot-class",
                                {{"name", name_of(piece)}, {"zone", said(zone)}, {"class", key.empty() ? "" : rule.classes.at(key)}, {"why", said(why)}}, here.at);
            one.may_rest_on = std::move(may_rest_on);
            one.places = {here.at};
            one.pieces = {piece.id};
            all.push_back(std::move(one));
        }
    return all.empty() ? nothing_to_judge("foot-no-leaf") : all;
}

}  // namespace wallfoot
