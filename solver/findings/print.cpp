// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "core/foot/check_json.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/derivation_print.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

using Json = nlohmann::ordered_json;

constexpr int point_decimals = 2;  // a temperature at a point has no bracket

std::string name_of(LengthSystem lengths) { return lengths == LengthSystem::internal ? "internal" : "external"; }
std::string name_of(Purpose purpose) { return purpose == Purpose::heat_flow ? "heat-flow" : "surface-check"; }

/// Codes that say why a value is missing or on what it leans.
bool is_gap(const Message& message) {
    static const std::set<std::string> codes{"element-no-reference", "element-not-square", "floor-alone-refused",
                                             "no-coupling-touching", "undeclared-condition", "void-over-soil"};
    return codes.contains(message.code);
}

Json point_json(Point p) { return Json::array({to_mm(p.x), to_mm(p.y)}); }

Json message_json(const Message& message) {
    Json json{{"code", message.code}, {"text", english(message)}};
    if (message.at) json["at"] = point_json(*message.at);
    if (!message.pointer.empty()) json["pointer"] = message.pointer;
    return json;
}

void put_bracket(Json& json, const Bracketed& value, const char* name = "value") {
    const auto shown = printed(value);
    json[name] = shown.value;
    json["lower"] = shown.lower;
    json["upper"] = shown.upper;
}

Json value_or_reason(Json json, const std::optional<Bracketed>& value, const std::string& reason, const std::string& sentence) {
    if (value) {
        put_bracket(json, *value);
    } else {
        json["value"] = nullptr;
        json["reason"] = reason;
        json["text"] = sentence;
    }
    return json;
}

Json taken_off_json(const TakenOff& off) {
    Json json{{"element", off.element}, {"method", off.method}};
    if (off.U) json["U"] = significant(*off.U, 6);
    if (off.length_m) json["length"] = rounded(*off.length_m, 6);
    if (off.floor_alone) put_bracket(json, *off.floor_alone, "L2D");
    return json;
}

Json psi_json(const Findings& findings, const Psi& psi) {
    const auto& spaces = findings.section->spaces;
    auto json = value_or_reason({{"between", {spaces[psi.a].id, spaces[psi.b].id}}, {"lengths", name_of(psi.lengths)}}, psi.value, psi.reason,
                                psi.value ? "" : why_missing(findings, psi.a, psi.b, psi.lengths, psi.reason));
    if (psi.other_reading) {
        json["other_reading"] = Json::object();
        put_bracket(json["other_reading"], *psi.other_reading);
    }
    if (psi.by_iso13370) {
        json["floor_by_iso13370"] = Json::object();
        put_bracket(json["floor_by_iso13370"], *psi.by_iso13370);
    }
    if (psi.headline) json["headline"] = true;
    json["taken_off"] = Json::array();
    for (const auto& off : psi.taken_off) json["taken_off"].push_back(taken_off_json(off));
    return json;
}

Json floor_width_json(const FloorWidthPsi& at) {
    Json json{{"width", rounded(at.width, 6)}, {"of", at.own ? "study" : "convention"}, {"lengths", name_of(at.lengths)}};
    const auto put = [&](const char* name, const std::optional<Bracketed>& value) {
        if (!value) return;
        json[name] = Json::object();
        put_bracket(json[name], *value);
    };
    put("second_section", at.second_section);
    put("floor_by_iso13370", at.by_iso13370);
    if (!at.reason.empty()) json["reason"] = at.reason;
    return json;
}

Json shared_json(const Findings& findings, const SharedPsi& shared) {
    Json json{{"lengths", name_of(shared.lengths)}, {"share", shared.share == DwellingShare::half ? "half" : "by-side"}, {"sides", Json::array()}};
    put_bracket(json, shared.total);
    for (const auto& side : shared.sides) {
        Json told{{"space", findings.section->spaces[side.space].id}, {"psi", Json::object()}, {"enter", Json::object()}};
        put_bracket(told["psi"], side.psi);
        put_bracket(told["enter"], side.enter);
        json["sides"].push_back(std::move(told));
    }
    return json;
}

Json surface_json(const Findings& findings, const SurfaceFinding& found) {
    Json json{{"space", findings.section->spaces[found.space].id},
              {"for", name_of(found.purpose)},
              {"lowest", rounded(found.lowest, temperature_decimals(findings, found))},
              {"at", {rounded(found.at[0] / 1000, 2), rounded(found.at[1] / 1000, 2)}}};
    if (found.fRsi) json["fRsi"] = rounded(*found.fRsi, factor_decimals(found));
    json["estimate"] = significant(found.estimate, 2);
    if (found.mean) {
        json["mean"] = {{"length", rounded(found.mean_length_mm, 3)}};
        put_bracket(json["mean"], *found.mean);
    }
    if (found.whole) {
        json["with_hidden"] = {{"lowest", rounded(found.whole->lowest, temperature_decimals(findings, found))}, {"at", {rounded(found.whole->at[0] / 1000, 2), rounded(found.whole->at[1] / 1000, 2)}}};
        if (found.whole->fRsi) json["with_hidden"]["fRsi"] = rounded(*found.whole->fRsi, factor_decimals(found));
    }
    for (std::size_t i = 0; i < found.weights.size(); ++i) json["weights"][findings.section->spaces[i].id] = rounded(found.weights[i], 5);
    if (found.headline) json["headline"] = true;
    return json;
}

const char* name_of(SurfaceDemand demand) {
    constexpr const char* names[] = {"convention", "mould", "condensation", "psi"};
    return names[static_cast<int>(demand)];
}

Json verdict_json(const Findings& findings, const SurfaceVerdict& verdict) {
    constexpr const char* words[] = {"meets", "does-not-meet", "undecided", "not-assessed"};
    Json json{{"against", name_of(verdict.demand)}, {"verdict", words[static_cast<int>(verdict.verdict)]}};
    if (verdict.space >= 0) json["space"] = findings.section->spaces[verdict.space].id;
    if (verdict.asked) json["asked"] = significant(*verdict.asked, 4);
    if (verdict.month) json["month"] = *verdict.month + 1;
    if (verdict.margin_K) json["margin"] = rounded(*verdict.margin_K, 2);
    json["code"] = verdict.message.code;
    json["text"] = english(verdict.message);
    return json;
}

/// Slopes are the fields' own: no bracket is proven for them.
Json slope_json(const Slope& slope) { return {{"per_share", significant(slope.value, 4)}}; }

Json sensitivity_json(const Findings& findings, const InputSlope& input) {
    const auto& section = *findings.section;
    Json json;
    if (input.space >= 0) {
        json = {{"input", "surface_resistance"}, {"space", section.spaces[input.space].id}, {"value", input.resistance}};
    } else {
        json = {{"input", "conductivity"}, {"pieces", Json::array()}, {"value", input.conductivity}};
        for (const int piece : input.pieces) json["pieces"].push_back(section.pieces[piece].id);
    }
    const auto put = [&](Json& list, int a, int b, const std::optional<Slope>& slope) -> Json* {
        if (!slope) return nullptr;
        list.push_back({{"between", {section.spaces[a].id, section.spaces[b].id}}});
        list.back().update(slope_json(*slope));
        return &list.back();
    };
    json["L2D"] = json["psi"] = Json::array();
    for (std::size_t i = 0; i < input.coupling.size(); ++i) put(json["L2D"], findings.couplings[i].a, findings.couplings[i].b, input.coupling[i]);
    for (std::size_t i = 0; i < input.psi.size(); ++i)
        if (auto* shown = put(json["psi"], findings.psi[i].a, findings.psi[i].b, input.psi[i])) (*shown)["lengths"] = name_of(findings.psi[i].lengths);
    if (input.surface) json["fRsi"] = slope_json(*input.surface);
    return json;
}

/// What the rules at the wall foot say; a rule set that cannot be used is told and stops nothing else.
std::vector<Check> checks_of(const Study& study, const Findings& findings, std::vector<Message>& told) {
    if (!findings.arrangement.sound()) return {};
    try {
        const UsedRules used = used_foot_rules(study);
        told = used.notes;
        return foot_checks(study, *findings.section, findings.arrangement, water_way(study, *findings.section, findings.arrangement), used.rules);
    } catch (const InputFault& fault) {
        told = fault.faults();
        return {};
    }
}

Json variant_json(const Study& study, const Findings& findings) {
    const auto& spaces = findings.section->spaces;
    Json json{{"id", findings.variant_id}, {"name", findings.variant_name}, {"input_hash", findings.input_hash}};
    json["heat_flow"] = Json::object();
    for (std::size_t i = 0; i < spaces.size(); ++i)
        json["heat_flow"][spaces[i].id] = i < findings.heat_flow.size() ? Json(printed(findings.heat_flow[i]).value) : Json();
    json["L2D"] = json["psi"] = json["surface"] = json["points"] = json["gaps"] = json["checks"] = Json::array();
    for (const auto& coupling : findings.couplings)
        json["L2D"].push_back(value_or_reason({{"between", {spaces[coupling.a].id, spaces[coupling.b].id}}}, coupling.value, coupling.reason,
                                               coupling.value ? "" : why_missing(findings, coupling.a, coupling.b, LengthSystem::internal, coupling.reason)));
    for (const auto& psi : findings.psi) json["psi"].push_back(psi_json(findings, psi));
    for (const auto& at : findings.floor_widths) json["floor_widths"].push_back(floor_width_json(at));
    for (const auto& shared : findings.shared) json["shared"].push_back(shared_json(findings, shared));
    for (const auto& found : findings.surface) json["surface"].push_back(surface_json(findings, found));
    for (const auto& point : findings.points)
        json["points"].push_back({{"at", point_json(point.at)}, {"temperature", rounded(point.temperature, point_decimals)}});
    json["surface_checks"] = Json::array();
    for (const auto& verdict : findings.verdicts) json["surface_checks"].push_back(verdict_json(findings, verdict));
    if (findings.seasons) json["seasons"] = Json::parse(season_json(findings));
    json["derivations"] = Json::object();
    for (const auto& derivation : findings.derivations) json["derivations"][derivation.of] = Json::parse(derivation_json(derivation));
    for (const auto& input : findings.slopes) json["sensitivities"].push_back(sensitivity_json(findings, input));
    if (findings.solution)
        json["mesh"] = {{"triangles", findings.solution->triangles.size()}, {"unknowns", findings.solution->unknowns}};
    if (findings.criteria) {
        const Criteria& criteria = *findings.criteria;
        Json& told = json["criteria"];
        told = {{"elements", {criteria.coarse.elements, criteria.fine.elements}}, {"flow_change", significant(criteria.flow_change(), 3)}, {"balance", significant(criteria.balance, 2)}, {"met", criteria.met()}};
        if (const auto change = criteria.fRsi_change()) told["fRsi_change"] = significant(*change, 3);
        for (const CutDistance& cut : criteria.cuts) told["cuts"][to_string(cut.side)] = {{"needed", to_mm(cut.needed)}, {"present", to_mm(cut.present)}};
    }
    json["tolerance"] = findings.tolerance;
    json["converged"] = findings.converged;
    json["seconds"] = significant(findings.seconds, 3);
    json["warnings"] = Json::array();
    for (const auto& message : findings.messages) json[is_gap(message) ? "gaps" : "warnings"].push_back(message_json(message));
    std::vector<Message> told;
    json["checks"] = Json::parse(checks_json(checks_of(study, findings, told)));
    for (const auto& message : told) json["warnings"].push_back(message_json(message));
    return json;
}

std::string line(const std::string& what, const std::string& value, const std::string& rest = "") {
    std::string text = "  " + padded(what, 36) + padded(value, 24) + rest;
    while (!text.empty() && text.back() == ' ') text.pop_back();
    return text + "\n";
}

std::string psi_rows(const Findings& findings) {
    const auto& spaces = findings.section->spaces;
    std::string text;
    for (const auto& psi : findings.psi) {
        const auto what = "psi " + spaces[psi.a].id + "–" + spaces[psi.b].id + ", " + name_of(psi.lengths);
        text += psi.value ? line(what, with_bracket(*psi.value), std::string("W/(m·K)") + (psi.headline ? "  ←" : ""))
                          : line(what, "– " + why_missing(findings, psi.a, psi.b, psi.lengths, psi.reason));
        if (psi.by_iso13370) text += line("  with the floor by ISO 13370", with_bracket(*psi.by_iso13370), "W/(m·K)");
        if (psi.other_reading) text += line("  other reading of the floor", with_bracket(*psi.other_reading), "W/(m·K)");
    }
    for (const auto& at : findings.floor_widths) {
        const std::string which = (at.own ? "own B′ " : "convention's width ") + fixed(at.width, 3) + " m";
        if (at.second_section) text += line("psi, floor of " + which, with_bracket(*at.second_section), std::string("W/(m·K)  ") + name_of(at.lengths));
        if (at.by_iso13370) text += line("  with the floor by ISO 13370", with_bracket(*at.by_iso13370), "W/(m·K)");
    }
    for (const auto& shared : findings.shared) {
        text += line("psi of both dwellings, " + name_of(shared.lengths), with_bracket(shared.total), "W/(m·K)");
        for (const auto& side : shared.sides) text += line("  to enter, " + spaces[side.space].id, with_bracket(side.enter), "W/(m·K)");
    }
    return text;
}

std::string surface_rows(const Findings& findings) {
    std::string text;
    for (const auto& found : findings.surface) {
        const auto what = "lowest surface, " + findings.section->spaces[found.space].id + ", " + name_of(found.purpose);
        text += line(what, fixed(found.lowest, temperature_decimals(findings, found)),
                     "°C at " + fixed(found.at[0] / 1000, 1) + ", " + fixed(found.at[1] / 1000, 1) + " mm");
        if (found.fRsi)
            text += line("  fRsi", fixed(*found.fRsi, factor_decimals(found)),
                         "estimate of its error " + one_digit_up(found.estimate) + (found.headline ? "  ←" : ""));
        if (found.whole && found.whole->fRsi)
            text += line("  fRsi with what is hidden", fixed(*found.whole->fRsi, factor_decimals(found)),
                         "at " + fixed(found.whole->at[0] / 1000, 1) + ", " + fixed(found.whole->at[1] / 1000, 1) + " mm");
        if (found.mean)
            text += line("  mean of " + fixed(found.mean_length_mm, 1) + " mm beside it", with_bracket(*found.mean), "bracketed");
    }
    return text;
}

std::string name_of(const Findings& findings, const InputSlope& input) {
    const auto& section = *findings.section;
    if (input.space >= 0) return "surface resistance " + fixed(input.resistance, 2) + " of " + section.spaces[input.space].id;
    std::string text;
    for (const int piece : input.pieces) {
        const auto& p = section.pieces[piece];
        text += (text.empty() ? "" : ", ") + (p.name.empty() ? p.id : p.name);
    }
    return "λ " + fixed(input.conductivity, 3) + " of " + text;
}

/// What a tenth more of each input does to the headline psi, the largest effects.
std::string slope_rows(const Findings& findings) {
    constexpr std::size_t most_rows = 10;
    const Psi* headline = findings.headline_psi();
    if (findings.slopes.empty()) return "";
    const bool of_psi = headline && headline->value;
    std::string text = std::string("  10 % more of each input changes ") + (of_psi ? "psi" : "L2D") +
                       " (W/(m·K)) and fRsi by, to first order; the largest effects:\n";
    for (std::size_t i = 0; i < std::min(most_rows, findings.slopes.size()); ++i) {
        const auto& input = findings.slopes[i];
        const auto& psi = of_psi ? input.psi[static_cast<std::size_t>(headline - findings.psi.data())] : input.coupling.front();
        const auto tenth = [](const std::optional<Slope>& slope) { return slope ? (slope->value < 0 ? "" : "+") + fixed(0.1 * slope->value, 4) : "–"; };
        text += "    " + padded(tenth(psi), 12) + padded(tenth(input.surface), 12) + name_of(findings, input) + "\n";
    }
    return text;
}

/// The rules at the wall foot in short: what is not met or open, each once, and how many are met.
std::string check_rows(const Study& study, const Findings& findings) {
    std::vector<Message> told;
    const auto checks = checks_of(study, findings, told);
    std::string text;
    std::vector<std::pair<Verdict, std::string>> said;
    std::size_t met = 0;
    for (const Check& check : checks) {
        met += check.verdict == Verdict::meets;
        const bool shown = check.verdict == Verdict::does_not_meet || check.verdict == Verdict::undecided;
        if (!shown || std::find(said.begin(), said.end(), std::pair(check.verdict, check.name)) != said.end()) continue;
        said.emplace_back(check.verdict, check.name);
        text += "  check: " + padded(verdict_text(check.verdict), 15) + check.name + "\n";
    }
    if (met > 0) text += "  check: " + std::to_string(met) + " met; 'wallfoot foot' says all\n";
    for (const Message& message : told) text += std::string("  ") + (message.severity == Severity::note ? "note: " : "caution: ") + english(message) + "\n";
    return text;
}

std::string variant_table(const Study& study, const Findings& findings) {
    const auto& spaces = findings.section->spaces;
    std::string text = findings.variant_name + " (" + findings.variant_id + ")\n";
    for (const auto& coupling : findings.couplings) {
        const auto what = "L2D " + spaces[coupling.a].id + "–" + spaces[coupling.b].id;
        text += coupling.value ? line(what, with_bracket(*coupling.value), "W/(m·K)") : line(what, "– " + why_missing(findings, coupling.a, coupling.b, LengthSystem::internal, coupling.reason));
    }
    text += psi_rows(findings);
    for (const auto& element : findings.elements) {
        if (!element.U) continue;
        std::string lengths;
        if (element.internal_length) lengths = "W/(m²·K) over " + fixed(to_m(*element.internal_length), 3) + " m internal";
        if (element.external_length) lengths += ", " + fixed(to_m(*element.external_length), 3) + " m external";
        text += line("U " + element.id, fixed(*element.U, 4), lengths);
        if (element.corrected_U) text += line("  with fixings and air gaps", fixed(*element.corrected_U, 4), "W/(m²·K), beside psi: not in it");
    }
    text += surface_rows(findings);
    for (std::size_t i = 0; i < findings.heat_flow.size(); ++i)
        text += line("heat flow from " + spaces[i].id, with_bracket(findings.heat_flow[i]), "W/m");
    for (const auto& point : findings.points)
        text += line("temperature at " + fixed(to_mm(point.at.x), 1) + ", " + fixed(to_mm(point.at.y), 1), fixed(point.temperature, point_decimals), "°C");
    text += slope_rows(findings);
    for (const auto& verdict : findings.verdicts)
        text += "  " + std::string(name_of(verdict.demand)) + ": " + padded(verdict_text(verdict.verdict), 15) + english(verdict.message) + "\n";
    if (findings.seasons) text += "  through the year:\n";
    for (const SeasonRow& row : season_rows(findings)) text += "    " + row.what + ": " + row.value + "\n";
    text += check_rows(study, findings);
    for (const auto& message : findings.messages)
        text += std::string("  ") + (message.severity == Severity::note ? "note: " : "caution: ") + english(message) + "\n";
    if (findings.criteria) {
        const Derivation derivation = derive_criteria(findings);
        text += "  criteria of ISO 10211: from " + std::to_string(findings.criteria->coarse.elements) + " to " + std::to_string(findings.criteria->fine.elements) + " elements";
        text += ", flow changes by " + fixed(100 * findings.criteria->flow_change(), 4) + " %";
        if (const auto change = findings.criteria->fRsi_change()) text += ", fRsi by " + fixed(*change, 5);
        text += "\n";
        for (const auto& note : derivation.notes) text += "    " + note + "\n";
    }
    if (findings.solution)
        text += "  " + std::to_string(findings.solution->triangles.size()) + " triangles, " + fixed(findings.seconds, 2) + " s\n";
    return text;
}

}  // namespace

std::string why_missing(const Findings& findings, int a, int b, LengthSystem lengths, const std::string& reason) {
    Message message{Severity::note, reason, {}, {}, {}};
    for (const auto& said : findings.messages)
        if (said.code == reason && reason == "floor-alone-refused") return english(said);
    for (const int space : {a, b})
        if (findings.section->spaces[space].kind == SpaceKind::unheated) message.args["space"] = findings.section->spaces[space].id;
    for (const auto& element : findings.elements) {
        const bool of_pair = (element.warm_space == a && element.cold_space == b) || (element.warm_space == b && element.cold_space == a);
        const auto& length = lengths == LengthSystem::internal ? element.internal_length : element.external_length;
        if (of_pair && (reason == "element-not-square" ? !element.ground && !element.U : !length)) message.args["element"] = element.id;
    }
    return english(message);
}

std::string to_json(const Study& study, const std::string& study_path, const std::vector<std::shared_ptr<const Findings>>& all) {
    std::string hashes;
    Json variants = Json::array();
    for (const auto& findings : all) {
        hashes += (hashes.empty() ? "" : " ") + findings->input_hash;
        variants.push_back(variant_json(study, *findings));
    }
    const Json json{{"study", study_path}, {"program", std::string("wallfoot ") + program_version}, {"input_hash", hashes}, {"variants", variants}};
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string to_table(const Study& study, const std::vector<std::shared_ptr<const Findings>>& all) {
    std::string text = study.title.empty() ? "" : study.title + "\n";
    for (const auto& findings : all) text += (text.empty() ? "" : "\n") + variant_table(study, *findings);
    text += "\nSteady state, two dimensions; bounds are those of the section as drawn, not of its inputs. Local rules prevail.\n";
    return text;
}

}  // namespace wallfoot
