// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/foot/foot_report.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/foot/foot_words.hpp"
#include "core/foot/check_json.hpp"
#include "core/foot/judge.hpp"
#include "core/study/site.hpp"
#include "core/water/capillary.hpp"
#include "core/text/refuse_faults.hpp"

namespace wallfoot {

namespace {

using Json = nlohmann::ordered_json;

Json text_json(const Message& message) { return {{"code", message.code}, {"text", english(message)}}; }

Json check_json(const Check& check) {
    Json json{{"rule", check.rule}, {"name", check.name}, {"check", word_of(rule_kind_words, check.kind)},
              {"verdict", word_of(verdict_words, check.verdict)}, {"code", check.message.code}, {"text", english(check.message)}};
    json["told"] = json["places"] = json["facts"] = json["ends"] = json["would_decide"] = Json::array();
    for (const Message& message : check.told) json["told"].push_back(text_json(message));
    for (const Point p : check.places) json["places"].push_back({to_mm(p.x), to_mm(p.y)});
    json["pieces"] = check.pieces;
    for (const FactUsed& fact : check.facts) {
        json["facts"].push_back({{"fact", fact.key}});
        if (!fact.value.empty()) json["facts"].back().update({{"value", fact.value}, {"source", fact.source}});  // absent = not known, as in a study
    }
    for (const End& end : check.ends)
        json["ends"].push_back({{"when", end.when}, {"verdict", word_of(verdict_words, end.verdict)}, {"code", end.message.code}, {"text", english(end.message)}});
    for (const Decider& decider : check.deciders) json["would_decide"].push_back({{"key", decider.key}, {"question", english(decider.question)}});
    json["asks"] = check.asks, json["source"] = check.source, json["jurisdiction"] = check.jurisdiction;
    json["cautions"] = check.cautions;
    return json;
}

Json all_json(const std::vector<Check>& checks) {
    Json all = Json::array();
    for (const Check& check : checks) all.push_back(check_json(check));
    return all;
}

/// Rounded to 10 mm: an estimate carries no more.
double tens(double mm) { return 10 * std::round(mm / 10); }

std::vector<RisingDampFinding> rising_damp_of(const FootView& view) {
    std::vector<RisingDampFinding> all;
    for (const FootSide& side : view.sides())
        for (const WallLeaf& leaf : side.leaves) {
            std::optional<double> sorptivity;
            bool same = true;
            std::vector<std::string> ids;
            for (const int piece : leaf.pieces) {
                const Material* material = view.study.find_material(view.section.pieces[static_cast<std::size_t>(piece)].filled_with);
                if (!material || !is_capillary(*material)) continue;
                const auto stated = material->sorptivity && *material->sorptivity > 0 ? material->sorptivity : std::nullopt;
                same &= ids.empty() || sorptivity == stated;
                sorptivity = stated;
                ids.push_back(view.section.pieces[static_cast<std::size_t>(piece)].id);
            }
            if (ids.empty()) continue;
            if (!same) sorptivity.reset();  // different units: the typical range
            RisingDampFinding found{ids, typical_rising_damp(leaf.width() / 1000, sorptivity), sorptivity.has_value(), {}};
            Args args{{"leaf", names_of(view.section, leaf.pieces)}, {"thickness", in_mm_text(leaf.width())},
                      {"low", in_mm_text(1000 * tens(found.range.low.height))}, {"high", in_mm_text(1000 * tens(found.range.high.height))}};
            const Point at{static_cast<Micrometres>(std::llround((leaf.from + leaf.to) / 2)), leaf.dpc.value_or(side.ground)};
            args["dpc"] = leaf.dpc ? in_mm_text(static_cast<double>(*leaf.dpc - side.ground)) : "";
            args["sorptivity"] = english({Severity::note, sorptivity ? "foot-rise-stated" : "foot-rise-typical", {}, {}, ""});
            found.message = {Severity::note, leaf.dpc_drawn ? "foot-rise-dpc" : "foot-rise", args, at, ""};
            all.push_back(std::move(found));
        }
    return all;
}

std::vector<FrostBand> bands_of(const FootView& view, const FootRules& rules) {
    std::vector<FrostBand> bands;
    for (const Rule& rule : rules.rules)
        for (const FootSide& side : view.sides()) {
            if (rule.kind != RuleKind::frost_band || side.leaves.empty()) continue;
            const WallLeaf& leaf = side.leaves.front();
            bands.push_back({{static_cast<Micrometres>(std::llround(leaf.from)), side.ground - from_mm(rule.numbers.at("below")),
                              static_cast<Micrometres>(std::llround(leaf.to)), side.ground + from_mm(rule.numbers.at("above"))}, rule.id});
        }
    return bands;
}

std::string indented(const std::string& text, const char* indent) { return indent + text + "\n"; }

std::string check_text(const Check& check) {
    std::string text = "  " + verdict_text(check.verdict) + ": " + check.name + "\n" + indented(english(check.message), "    ");
    for (const End& end : check.ends)
        text += indented(english({Severity::note, "foot-end", {{"when", end.when}, {"verdict", verdict_text(end.verdict)}, {"then", english(end.message)}}, {}, ""}), "      ");
    for (const Message& told : check.told) text += indented(english(told), "    ");
    std::string facts;
    for (const FactUsed& fact : check.facts) {
        if (fact.value.empty()) continue;
        facts += facts.empty() ? "" : "; ";
        facts += english({Severity::note, fact.source.empty() ? "foot-fact" : "foot-fact-source",
                          {{"fact", site_fact_name(fact.key)}, {"value", site_value_text(fact.key, fact.value)}, {"source", fact.source}}, {}, ""});
    }
    for (const std::string& caution : check.cautions) text += indented(caution, "    ");
    if (!facts.empty()) text += indented(english({Severity::note, "foot-rests-on", {{"facts", facts}}, {}, ""}), "    ");
    for (const Decider& decider : check.deciders) text += indented(english({Severity::note, "foot-would-decide", {{"question", english(decider.question)}}, {}, ""}), "    ");
    return text;
}

}  // namespace

std::string checks_json(const std::vector<Check>& checks) { return all_json(checks).dump(-1, ' ', false, Json::error_handler_t::replace); }

std::vector<Question> questions_of(const std::vector<Check>& checks) {
    std::vector<Question> questions;
    for (const Check& check : checks)
        for (const Decider& decider : check.deciders) {
            auto same = std::find_if(questions.begin(), questions.end(), [&](const Question& q) { return q.key == decider.key; });
            if (same == questions.end()) same = questions.insert(questions.end(), Question{decider.key, decider.question, {}, 0});
            ++same->decides;
            if (std::find(same->rules.begin(), same->rules.end(), check.name) == same->rules.end()) same->rules.push_back(check.name);
        }
    std::stable_sort(questions.begin(), questions.end(), [](const Question& a, const Question& b) { return a.decides > b.decides; });
    return questions;
}

FootReport foot_report(const Study& study, const Variant& variant, const Arrangement& arrangement, const WaterWay& way, const UsedRules& used) {
    FootReport report{variant.section, variant.id, variant.name, used.rules.id, used.rules.name, used.rules.about, {}, {}, {}, {}, used.notes};
    const FootView view(study, *variant.section, arrangement, way);
    report.checks = foot_checks(study, *variant.section, arrangement, way, used.rules);
    report.questions = questions_of(report.checks);
    report.rising_damp = rising_damp_of(view);
    report.bands = bands_of(view, used.rules);
    return report;
}

FootReport foot_report(const Study& study, const Variant& variant, const std::string& rules, const Context& context) {
    const UsedRules used = used_foot_rules(study, rules);
    const Arrangement arrangement = arrange(study, *variant.section, context);
    refuse_faults(arrangement.messages);
    return foot_report(study, variant, arrangement, water_way(study, *variant.section, arrangement, context), used);
}

std::string questions_text(const std::vector<Question>& questions) {
    std::string text;
    int number = 0;
    for (const Question& question : questions) {
        std::string rules;
        for (const std::string& rule : question.rules) rules += (rules.empty() ? "" : "; ") + rule;
        text += std::to_string(++number) + ". " +
                english({Severity::note, question.decides == 1 ? "foot-question-one" : "foot-question",
                         {{"question", english(question.question)}, {"count", std::to_string(question.decides)}, {"rules", rules}}, {}, ""}) + "\n";
    }
    return text;
}

std::string foot_table(const std::vector<FootReport>& reports) {
    std::string text;
    for (const FootReport& report : reports) {
        text += (text.empty() ? "" : "\n") + (report.variant_name.empty() ? report.variant_id : report.variant_name) + "\n";
        for (const Check& check : report.checks) text += check_text(check);
        for (const RisingDampFinding& rise : report.rising_damp) text += indented(english(rise.message), "  ");
        for (const Message& note : report.notes) text += indented(english(note), "  ");
        const std::string questions = questions_text(report.questions);
        if (!questions.empty()) text += indented(english({Severity::note, "foot-questions", {}, {}, ""}), "  ") + questions;
        text += indented(english({Severity::note, "foot-end-note", {{"rules", report.rules_name}}, {}, ""}), "  ");
    }
    return text;
}

std::string foot_json(const std::string& program, const std::string& title, const std::vector<FootReport>& reports) {
    Json json{{"study", title}, {"program", program}, {"variants", Json::array()}};
    for (const FootReport& report : reports) {
        Json variant{{"id", report.variant_id}, {"name", report.variant_name}, {"rule_set", report.rules_id}, {"checks", all_json(report.checks)}};
        variant["questions"] = variant["rising_damp"] = variant["warnings"] = Json::array();
        for (const Question& question : report.questions)
            variant["questions"].push_back({{"key", question.key}, {"question", english(question.question)}, {"decides", question.decides}, {"rules", question.rules}});
        for (const RisingDampFinding& rise : report.rising_damp)
            variant["rising_damp"].push_back({{"pieces", rise.pieces}, {"thickness", rise.range.low_inputs.thickness}, {"low", rise.range.low.height}, {"high", rise.range.high.height},
                                              {"sorptivity_stated", rise.stated_sorptivity}, {"code", rise.message.code}, {"text", english(rise.message)}});
        for (const Message& note : report.notes) variant["warnings"].push_back(text_json(note));
        json["variants"].push_back(std::move(variant));
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace wallfoot
