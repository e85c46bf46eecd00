// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "solver/findings/derivation_print.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/report/parts.hpp"

// Water, what the report leaves to others, how the numbers were worked out, and the record.
namespace wallfoot::report_part {

void water(Report& report, const ReportSource& source) {
    if (source.water.empty()) return;
    report.items.push_back(ReportHeading{say("report-heading-water"), 1});
    report.items.push_back(ReportText{say("report-water-reading"), true});
    std::vector<std::pair<std::string, std::vector<ReportItem>>> told;
    for (const auto& water : source.water) {
        std::vector<ReportItem> items;
        for (const auto& piece : water.way.pieces) {
            std::string text = piece_name(*water.section, piece.piece) + ":";
            for (const auto& said : sentences(water, piece)) text += " " + english(said);
            if (const auto remedy = water.remedies.find(piece.piece); remedy != water.remedies.end())
                for (const auto& said : sentences(water, remedy->second)) text += " " + english(said);
            items.push_back(ReportText{text, false});
        }
        for (const auto& note : water.notes) items.push_back(ReportText{english(note), note.severity == Severity::caution});
        // Variants of which the same is to be said stand under one heading.
        const auto same = std::find_if(told.begin(), told.end(), [&](const auto& before) { return before.second == items; });
        if (same == told.end()) told.emplace_back(water.variant_name, std::move(items));
        else same->first += ", " + water.variant_name;
    }
    for (auto& [variants, items] : told) {
        report.items.push_back(ReportHeading{variants, 2});
        for (auto& item : items) report.items.push_back(std::move(item));
    }
}

void left_open(Report& report, const ReportSource&) {
    report.items.push_back(ReportHeading{say("report-heading-others"), 1});
    for (const char* code : {"report-others-structure", "report-others-gas", "report-others-frost", "report-others-damp", "report-others-fire", "report-others-local"}) report.items.push_back(ReportText{say(code), true});
}

void derivation(Report& report, const Derivation& derived) {
    ReportTable table;
    table.caption = derived.of + ": " + derived.formula;
    table.head = {say("report-input"), say("report-value"), say("report-unit"), say("report-source")};
    table.figures = {false, true, false, false};
    for (const auto& input : derived.inputs) table.rows.push_back({input.name, derived_value(input.value), input.unit, input.source});
    report.items.push_back(std::move(table));
    for (const auto& note : derived.notes) report.items.push_back(ReportText{note, false});
}

void derivations(Report& report, const ReportSource& source) {
    report.items.push_back(ReportHeading{say("report-heading-derivations"), 1});
    report.items.push_back(ReportText{say("report-derivations-reading"), false});
    std::vector<Derivation> base;
    for (std::size_t i = 0; i < source.findings.size(); ++i) {
        const Findings& findings = *source.findings[i];
        report.items.push_back(ReportHeading{findings.variant_name, 2});
        std::vector<Derivation> own = findings.derivations;
        if (i < source.errors.size())
            for (const UsualError& error : source.errors[i].errors)
                if (!error.derivation.of.empty()) own.push_back(error.derivation);
        for (const Derivation& derivation : own)
            if (std::find(base.begin(), base.end(), derivation) == base.end()) report_part::derivation(report, derivation);
            else report.items.push_back(ReportText{say("report-derived-alike", {{"of", derivation.of}, {"base", source.findings.front()->variant_name}}), false});
        if (i == 0) base = std::move(own);
    }
}

void record(Report& report, const ReportSource& source) {
    report.items.push_back(ReportHeading{say("report-heading-record"), 1});
    ReportTable table;
    table.caption = say("report-record-caption");
    table.head = {say("report-variant"), say("report-triangles"), say("report-unknowns"), say("report-tolerance"), say("report-reached"), say("report-hash")};
    table.figures = {false, true, true, true, false, false};
    for (const auto& findings : source.findings)
        table.rows.push_back({findings->variant_name, findings->solution ? std::to_string(findings->solution->triangles.size()) : "–",
                              findings->solution ? std::to_string(findings->solution->unknowns) : "–", one_digit_up(findings->tolerance),
                              say(findings->converged ? "report-yes" : "report-no"), findings->input_hash});
    report.items.push_back(std::move(table));
    report.items.push_back(ReportText{say("report-record", {{"program", report.program}, {"date", report.date}}), false});
}

}  // namespace wallfoot::report_part
