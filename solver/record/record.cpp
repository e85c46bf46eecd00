// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/record/record.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <string_view>

#include "core/file/attachment.hpp"
#include "core/file/study_file.hpp"
#include "core/foot/rules.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

using Json = nlohmann::json;  // keys in order: the same bytes however a file was written

Json newest_versions() {
    Json all = Json::object();
    for (const KnownFormula& known : known_formulas()) all[known.id] = known.newest;
    return all;
}

/// What only names or comments.
void without_words(Json& value) {
    if (value.is_object()) {
        for (const char* name : {"title", "notes", "note", "name", "evidence"}) value.erase(name);
        for (auto& [key, member] : value.items()) without_words(member);
    } else if (value.is_array()) {
        for (auto& member : value) without_words(member);
    }
}

/// Numbers as such: a file writes 20 for 20.0.
void without_kinds_of_number(Json& value) {
    if (value.is_number()) value = value.get<double>() + 0.0;  // −0 is 0
    else if (value.is_structured())
        for (auto& member : value) without_kinds_of_number(member);
}

/// Over everything in the record but its own hash and what only names.
std::string hash_of(Json record) {
    record.erase("hash");
    without_words(record["study"]);
    without_words(record["findings"]);
    without_kinds_of_number(record);
    return "sha256" + sha256_of(record.dump());
}

/// What a run of the same input gives again: no times, no mesh.
Json findings_of(const Study& study, const FormulaVersions& formulas, const Context& context) {
    FindingsOptions options;
    options.formulas = formulas;
    std::vector<std::shared_ptr<const Findings>> all;
    for (const Variant& variant : study.variants) {
        all.push_back(find(study, variant, options, context));
        refuse_faults(all.back()->messages);
    }
    Json variants = Json::parse(to_json(study, "", all)).at("variants");
    for (auto& variant : variants)
        for (const char* name : {"seconds", "mesh"}) variant.erase(name);
    return variants;
}

Json issued_of(const Study& study) {
    const auto kept = study.kept.find("issued");
    return kept == study.kept.end() ? Json::array() : Json::parse(kept->second);
}

// ---- working a record out again ----------------------------------------------------------------------------------------

std::string between_words(const Json& finding) {
    std::string text;
    if (finding.contains("between")) text = " " + finding["between"][0].get<std::string>() + "–" + finding["between"][1].get<std::string>();
    if (finding.contains("lengths")) text += ", " + finding["lengths"].get<std::string>();
    if (finding.contains("space")) text += " " + finding["space"].get<std::string>();
    if (finding.contains("for")) text += ", " + finding["for"].get<std::string>();
    if (finding.contains("against")) text += " " + finding["against"].get<std::string>();
    if (finding.contains("name")) text += " " + finding["name"].get<std::string>();
    return text;
}

bool has_number(const Json& finding, const char* name) { return finding.contains(name) && finding[name].is_number(); }

/// Decimals that the bounds of a finding, or its estimated error, support: six at most, more says nothing to a reader. None of what has
/// neither.
std::optional<int> told_decimals(const Json& finding) {
    constexpr int most_told = 6, most_estimated = 4;
    if (has_number(finding, "lower") && has_number(finding, "upper")) return std::min(supported_decimals(0.5 * (finding["upper"].get<double>() - finding["lower"].get<double>())), most_told);
    if (has_number(finding, "estimate")) return std::min(supported_decimals(finding["estimate"]), most_estimated);
    return std::nullopt;
}

std::string plain_number_words(const Json& value) { return value.is_number() ? Json(significant(value.get<double>(), 6)).dump() : value.dump(); }

/// The value of a finding in words, whatever kind it is.
std::string value_words_of(const Json& finding) {
    if (!finding.is_object()) return plain_number_words(finding);
    for (const char* name : {"value", "fRsi", "lowest", "verdict", "temperature"}) {
        if (!finding.contains(name)) continue;
        const Json& value = finding[name];
        if (value.is_string()) return value.get<std::string>();
        const auto decimals = value.is_number() ? told_decimals(finding) : std::nullopt;
        return decimals ? fixed(value.get<double>(), *decimals) : plain_number_words(value);
    }
    return "–";
}

/// Bounds of a finding: those printed, or value ± estimate.
std::optional<std::pair<double, double>> bounds_of(const Json& finding) {
    if (!finding.is_object()) return std::nullopt;
    if (finding.contains("lower") && finding["lower"].is_number()) return std::pair(finding["lower"].get<double>(), finding["upper"].get<double>());
    if (finding.contains("fRsi") && finding.contains("estimate")) {
        const double value = finding["fRsi"], estimate = finding["estimate"];
        return std::pair(value - estimate, value + estimate);
    }
    return std::nullopt;
}

/// Verdicts have no bounds: the same verdict against the same thing in the same month, whatever the digits.
bool same_verdict(const Json& then, const Json& now) {
    if (!then.is_object() || !now.is_object() || !then.contains("against")) return false;
    for (const char* name : {"against", "verdict", "month", "space"})
        if (then.value(name, Json()) != now.value(name, Json())) return false;
    return true;
}

Recheck compared_with(Json then, Json now) {
    without_words(then);
    without_words(now);
    if (then == now) return Recheck::equal;
    if (same_verdict(then, now)) return Recheck::within_brackets;
    const auto a = bounds_of(then), b = bounds_of(now);
    return a && b && a->first <= b->second && b->first <= a->second ? Recheck::within_brackets : Recheck::changed;
}

/// Kinds of findings with the word they are told by.
constexpr std::pair<const char*, const char*> finding_lists[] = {{"L2D", "L2D"}, {"psi", "psi"}, {"surface", "lowest surface"}, {"surface_checks", "surface check"}, {"checks", "check"}};

void compare_lists(const std::string& variant, const std::string& what, const Json& then, const Json& now, std::vector<RecheckedFinding>& all) {
    const std::size_t count = std::max(then.size(), now.size());
    for (std::size_t i = 0; i < count; ++i) {
        const Json before = i < then.size() ? then[i] : Json(), after = i < now.size() ? now[i] : Json();
        all.push_back({variant, what + between_words(before.is_null() ? after : before), compared_with(before, after), value_words_of(before), value_words_of(after)});
    }
}

void compare_variants(const Json& then, const Json& now, std::vector<RecheckedFinding>& all) {
    const std::string variant = then.value("name", then.value("id", ""));
    for (const auto& [what, shown] : finding_lists)
        compare_lists(variant, shown, then.value(what, Json::array()), now.value(what, Json::array()), all);
    const Json flows_then = then.value("heat_flow", Json::object()), flows_now = now.value("heat_flow", Json::object());
    for (const auto& [space, flow] : flows_then.items()) {
        const Json after = flows_now.value(space, Json());
        all.push_back({variant, "heat flow " + space, flow == after ? Recheck::equal : Recheck::changed, value_words_of(flow), value_words_of(after)});
    }
}

/// Heat flows carry no bounds of their own: one that moved while every coupling stayed within its bracket is within it too.
void settle_flows(std::vector<RecheckedFinding>& all) {
    const bool couplings_hold = std::none_of(all.begin(), all.end(), [](const RecheckedFinding& f) { return f.what.starts_with("L2D") && f.state == Recheck::changed; });
    for (RecheckedFinding& finding : all)
        if (finding.what.starts_with("heat flow") && finding.state == Recheck::changed && couplings_hold) finding.state = Recheck::within_brackets;
}

/// The versions that a record was worked out with. One that this program does not have is told in `refused`.
FormulaVersions versions_of(const Json& record, std::vector<Message>& refused) {
    std::map<std::string, int> stated;
    const Json formulas = record.value("formulas", Json::object());
    for (const auto& [id, version] : formulas.items()) {
        const double number = version.get<double>();
        constexpr double most_versions = 1e6;
        stated[id] = number >= 1 && number <= most_versions && number == std::floor(number) ? static_cast<int>(number) : 0;  // 0: none that could be known
        if (auto unknown = unknown_version(id, stated[id])) refused.push_back(std::move(*unknown));
    }
    return FormulaVersions::recorded(std::move(stated));
}

/// What a formula gives, in words; those that ever had more than one version and have a part in a record. The year's wave has none.
constexpr std::pair<const char*, const char*> formula_words[] = {{"iso10211-floor-alone", "formula-floor-alone"}, {"iso13788-months", "formula-months"}, {"iso6946-parts", "formula-parts"}};

/// The formulas that these findings use and that are at a later version now, "" for none.
std::string older_words(const FormulaVersions& then, const Json& findings) {
    std::set<std::string> used;
    for (const Json& variant : findings) {
        const Json derivations = variant.value("derivations", Json::object());
        for (const auto& [of, derivation] : derivations.items()) used.insert(derivation.value("id", ""));
    }
    std::string words;
    for (const KnownFormula& known : known_formulas())
        for (const auto& [id, code] : formula_words)
            if (known.id == std::string_view(id) && used.contains(id) && then.of(id) != known.newest)
                words += (words.empty() ? "" : ", ") + english(Message{Severity::note, code, {{"then", std::to_string(then.of(id))}, {"now", std::to_string(known.newest)}}, {}, {}});
    return words;
}

Issue issue_of(const Json& record) { return {record.value("date", ""), record.value("author", ""), record.value("checker", ""), record.value("revision", ""), record.value("reason", "")}; }

RecheckedRecord recheck_one(const Json& record, const Context& context) {
    RecheckedRecord result;
    result.issue = issue_of(record);
    result.program = record.at("program");
    result.whole = record.at("hash") == hash_of(record);
    if (!result.whole) result.why.push_back({Severity::caution, "record-altered", {}, {}, {}});
    const FormulaVersions formulas = versions_of(record, result.why);
    result.refused = std::any_of(result.why.begin(), result.why.end(), [](const Message& why) { return why.severity == Severity::fault; });
    if (result.refused) return result;
    const Study study = read_study(record.at("study").dump()).study;
    const Json now = findings_of(study, formulas, context), then = record.at("findings");
    for (std::size_t i = 0; i < then.size(); ++i) compare_variants(then[i], i < now.size() ? now[i] : Json::object(), result.findings);
    settle_flows(result.findings);
    const std::string program = std::string("wallfoot ") + program_version;
    if (program != result.program) result.why.push_back({Severity::note, "record-other-program", {{"then", result.program}, {"now", program}}, {}, {}});
    if (const std::string older = older_words(formulas, now); !older.empty()) result.why.push_back({Severity::note, "record-other-formulas", {{"list", older}}, {}, {}});
    return result;
}

/// The value with its bounds, or with its estimated error.
std::string frozen_words(const Json& finding) {
    std::string text = value_words_of(finding);
    if (!finding.is_object()) return text;
    const int decimals = told_decimals(finding).value_or(0);
    if (has_number(finding, "lower") && has_number(finding, "upper"))
        text += ", between " + fixed(rounded_down(finding["lower"], decimals + 1), decimals + 1) + " and " + fixed(rounded_up(finding["upper"], decimals + 1), decimals + 1);
    else if (has_number(finding, "estimate"))
        text += ", estimated error " + estimate_beside(has_number(finding, "fRsi") ? finding["fRsi"].get<double>() : 0, finding["estimate"], decimals);
    if (finding.contains("text") && finding["text"].is_string()) text += ": " + finding["text"].get<std::string>();
    return text;
}

std::vector<IssuedRecord::Frozen> frozen_of(const Json& findings) {
    std::vector<IssuedRecord::Frozen> all;
    for (const Json& variant : findings) {
        const std::string name = variant.value("name", variant.value("id", ""));
        for (const auto& [what, shown] : finding_lists) {
            const Json list = variant.value(what, Json::array());
            for (const Json& finding : list) all.push_back({name, shown + between_words(finding), frozen_words(finding)});
        }
        const Json flows = variant.value("heat_flow", Json::object());
        for (const auto& [space, flow] : flows.items()) all.push_back({name, "heat flow " + space, value_words_of(flow)});
    }
    return all;
}

InputFault unreadable_record(std::size_t number) { return InputFault(Message{Severity::fault, "record-unreadable", {{"number", std::to_string(number + 1)}}, {}, "/issued/" + std::to_string(number)}); }

}  // namespace

const char* recheck_words(Recheck state) { return state == Recheck::equal ? "equal" : state == Recheck::within_brackets ? "inside the brackets" : "CHANGED"; }

std::string record_of(const Study& study, const Issue& issue, const Context& context) {
    if (issue.date.empty() || issue.author.empty() || issue.reason.empty()) throw InputFault(Message{Severity::fault, "issue-incomplete", {}, {}, {}});
    Study copy = study;
    copy.attachments.clear();
    for (const char* name : {"issued", "lessons", "dwelling", "sweeps"}) copy.kept.erase(name);
    for (Variant& variant : copy.variants) {
        auto section = std::make_shared<Section>(*variant.section);
        section->underlays.clear();
        variant.section = std::move(section);
    }
    copy = carry_foot_rules(copy, used_foot_rules(copy).rules.id);  // those of the program may change
    Json record{{"date", issue.date}, {"author", issue.author}, {"reason", issue.reason}, {"program", std::string("wallfoot ") + program_version},
                {"formulas", newest_versions()}, {"study", Json::parse(write_study(copy))}, {"findings", findings_of(copy, {}, context)}};
    if (!issue.checker.empty()) record["checker"] = issue.checker;
    if (!issue.revision.empty()) record["revision"] = issue.revision;
    record["hash"] = hash_of(record);
    return record.dump();
}

Study with_issued(const Study& study, const std::string& record) {
    Json issued = issued_of(study);
    issued.push_back(Json::parse(record));
    Study result = study;
    result.kept["issued"] = issued.dump();
    return result;
}

Study with_record(const Study& study, const Issue& issue, const Context& context) { return with_issued(study, record_of(study, issue, context)); }

std::vector<IssuedRecord> issued_records(const Study& study) {
    std::vector<IssuedRecord> all;
    const Json issued = issued_of(study);
    for (std::size_t i = 0; i < issued.size(); ++i) {
        IssuedRecord record;
        try {
            record.issue = issue_of(issued[i]);
            record.program = issued[i].at("program").get<std::string>();
            record.hash = issued[i].at("hash").get<std::string>();
            record.whole = record.hash == hash_of(issued[i]);
            record.findings = frozen_of(issued[i].at("findings"));
            if (!record.whole) record.trouble.push_back({Severity::caution, "record-altered", {}, {}, {}});
        } catch (const Json::exception&) {
            record.whole = false;
            record.trouble = unreadable_record(i).faults();
        }
        all.push_back(std::move(record));
    }
    return all;
}

bool RecheckedRecord::holds() const {
    return whole && !refused && std::none_of(findings.begin(), findings.end(), [](const RecheckedFinding& finding) { return finding.state == Recheck::changed; });
}

RecheckedRecord recheck_record(const Study& study, std::size_t number, const Context& context) {
    const Json issued = issued_of(study);
    try {
        return recheck_one(issued.at(number), context);
    } catch (const Json::exception&) {
        throw unreadable_record(number);
    }
}

std::vector<RecheckedRecord> recheck(const Study& study, const Context& context) {
    std::vector<RecheckedRecord> all;
    const std::size_t count = issued_of(study).size();
    for (std::size_t i = 0; i < count; ++i) all.push_back(recheck_record(study, i, context));
    return all;
}

std::string recheck_table(const std::vector<RecheckedRecord>& records) {
    std::string text;
    for (std::size_t i = 0; i < records.size(); ++i) {
        const RecheckedRecord& record = records[i];
        text += std::string(i ? "\n" : "") + "Record " + std::to_string(i + 1) + " of " + record.issue.date + ", " + record.issue.author + (record.issue.revision.empty() ? "" : ", revision " + record.issue.revision) + ": " + record.issue.reason + "\n";
        text += std::string("  ") + (record.whole ? "whole: nothing that its results rest on was changed (names, notes and evidence are not watched)" : "ALTERED: its hash does not hold") + "; issued by " + record.program + "\n";
        std::size_t equal = 0;
        for (const RecheckedFinding& finding : record.findings) {
            equal += finding.state == Recheck::equal;
            if (finding.state != Recheck::equal) text += "  " + std::string(recheck_words(finding.state)) + ": " + finding.variant + ", " + finding.what + ": " + finding.then + " → " + finding.now + "\n";
        }
        if (record.refused) text += "  NOT WORKED OUT AGAIN\n";
        else text += "  " + std::to_string(equal) + " of " + std::to_string(record.findings.size()) + " findings equal\n";
        for (const Message& why : record.why) text += "  " + english(why) + "\n";
    }
    return text.empty() ? "No result was issued in this study.\n" : text;
}

std::string recheck_json(const std::vector<RecheckedRecord>& records) {
    Json all = Json::array();
    for (const RecheckedRecord& record : records) {
        Json findings = Json::array();
        for (const RecheckedFinding& finding : record.findings)
            findings.push_back({{"variant", finding.variant}, {"what", finding.what}, {"state", finding.state == Recheck::equal ? "equal" : finding.state == Recheck::within_brackets ? "within" : "changed"}, {"then", finding.then}, {"now", finding.now}});
        Json why = Json::array();
        for (const Message& message : record.why) why.push_back({{"code", message.code}, {"text", english(message)}});
        all.push_back({{"date", record.issue.date}, {"author", record.issue.author}, {"checker", record.issue.checker}, {"revision", record.issue.revision}, {"reason", record.issue.reason},
                       {"program", record.program}, {"whole", record.whole}, {"refused", record.refused}, {"holds", record.holds()}, {"findings", findings}, {"why", why}});
    }
    return Json{{"records", all}}.dump(2) + "\n";
}

}  // namespace wallfoot
