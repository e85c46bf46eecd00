// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "core/study/differences.hpp"
#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/report/parts.hpp"

// What was asked and what came out: title block, answer, results side by side.
namespace wallfoot::report_part {

namespace {

std::string lengths_of(const Psi& psi) { return word_of(length_system_words, psi.lengths); }

const Bracketed* value_of(const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    return psi && psi->value ? &*psi->value : nullptr;
}

/// Masonry that stays dry only where a lap holds that is not stated as sealed.
std::string lapped_pieces(const WaterReport& water) {
    std::string pieces;
    for (const auto& piece : water.way.pieces)
        if (piece.state == WaterState::lap_not_proven) pieces += (pieces.empty() ? "" : ", ") + piece_name(*water.section, piece.piece);
    return pieces;
}

/// "+0.115 ± 0.0002"; a real sign, or "–" where either has no value.
std::string difference_words(const Findings& findings, const Findings& base) {
    const Bracketed *now = value_of(findings), *before = value_of(base);
    if (!now || !before) return "–";
    const Bracketed by = difference(*now, *before);
    return (by.value > 0 ? "+" : "") + with_bracket(by);
}

std::string answer_of(const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    std::string text = psi && psi->value ? say("report-answer-psi", {{"variant", findings.variant_name}, {"psi", psi_words(findings)}, {"lengths", lengths_of(*psi)}})
                                         : say("report-answer-no-psi", {{"variant", findings.variant_name}, {"reason", psi_words(findings)}});
    if (const SurfaceFinding* surface = findings.headline_surface(); surface && surface->fRsi)
        text += " " + say("report-answer-fRsi", {{"fRsi", factor_words(*surface).value},
                                                 {"estimate", factor_words(*surface).estimate},
                                                 {"temperature", fixed(surface->lowest, std::min(temperature_decimals(findings, *surface), 1))},
                                                 {"x", fixed(surface->at[0] / 1000, 0)}, {"y", fixed(surface->at[1] / 1000, 0)}});
    for (const SurfaceVerdict& verdict : findings.verdicts) {
        if (verdict.verdict == Verdict::not_assessed) continue;
        const std::map<std::string, std::string> args{{"what", demand_words(verdict.demand)}, {"verdict", verdict_text(verdict.verdict)}, {"month", verdict.month ? month_name(*verdict.month) : ""},
                                                      {"margin", verdict.margin_K ? (*verdict.margin_K > 0 ? "+" : "") + fixed(*verdict.margin_K, 1) : ""}};
        text += " " + say(verdict.month ? "report-answer-month" : "report-answer-limit", args);
    }
    return text;
}

std::string compared(const Findings& findings, const Findings& base) {
    const Bracketed *now = value_of(findings), *before = value_of(base);
    if (!now || !before) return {};
    const Bracketed by = difference(*now, *before);
    const std::map<std::string, std::string> args{{"variant", findings.variant_name}, {"base", base.variant_name}, {"by", with_bracket({std::abs(by.value), by.value < 0 ? -by.upper : by.lower, by.value < 0 ? -by.lower : by.upper})}};
    if (by.lower <= 0 && by.upper >= 0) return say("report-answer-alike", args);
    return say(by.value > 0 ? "report-answer-more" : "report-answer-less", args);
}

/// Masonry that water reaches.
std::string reached_pieces(const WaterReport& water) {
    std::string pieces;
    for (const auto& piece : water.way.pieces)
        if (piece.state == WaterState::reached && water.remedies.contains(piece.piece)) pieces += (pieces.empty() ? "" : ", ") + piece_name(*water.section, piece.piece);
    return pieces;
}

}  // namespace

void title_block(Report& report, const ReportSource& source) {
    ReportTable table;
    table.head = {"", ""};
    table.figures = {false, false};
    const Project project = source.study->project.value_or(Project{});
    for (const auto& [code, value] : {std::pair{"report-project", project.name}, {"report-plot", project.plot}, {"report-junction", project.junction}, {"report-drawing", project.drawing},
                                      {"report-revision", project.revision}, {"report-author", project.author}, {"report-checker", project.checker}, {"report-date", project.date}, {"report-enquiry", project.enquiry}, {"report-contact", project.contact}})
        if (!value.empty()) table.rows.push_back({say(code), value});
    table.rows.push_back({say("report-printed"), source.date});
    if (!source.file.empty()) table.rows.push_back({say("report-file"), source.file});
    report.items.push_back(std::move(table));
}

void answer(Report& report, const ReportSource& source) {
    report.items.push_back(ReportHeading{say("report-heading-answer"), 1});
    if (!source.study->notes.empty()) report.items.push_back(ReportText{source.study->notes, false});
    const Findings& base = *source.findings.front();
    for (std::size_t i = 0; i < source.findings.size(); ++i) {
        std::string text = answer_of(*source.findings[i]);
        if (i > 0)
            if (const auto more = compared(*source.findings[i], base); !more.empty()) text += " " + more;
        report.items.push_back(ReportText{text, false});
    }
    // What holds for all is said once.
    std::vector<std::pair<std::string, std::string>> reached;
    for (const auto& water : source.water) {
        const auto same = std::find_if(reached.begin(), reached.end(), [&, pieces = reached_pieces(water)](const auto& said) { return said.second == pieces; });
        if (same == reached.end()) reached.emplace_back(water.variant_name, reached_pieces(water));
        else same->first += ", " + water.variant_name;
    }
    for (const auto& [variants, pieces] : reached)
        report.items.push_back(ReportText{say(pieces.empty() ? "report-answer-not-reached" : "report-answer-reached", {{"variants", reached.size() == 1 && source.water.size() > 1 ? say("report-all-variants") : variants}, {"pieces", pieces}}), true});
    for (const auto& water : source.water)
        if (const std::string pieces = lapped_pieces(water); !pieces.empty()) report.items.push_back(ReportText{say("report-answer-laps", {{"variant", water.variant_name}, {"pieces", pieces}}), true});
    std::string checked;
    for (const auto& foot : source.foot) {
        std::size_t failed = 0, open = 0, met = 0;
        std::vector<std::string> failing;
        for (const Check& check : foot.checks) {
            failed += check.verdict == Verdict::does_not_meet;
            open += check.verdict == Verdict::undecided;
            met += check.verdict == Verdict::meets;
            if (check.verdict == Verdict::does_not_meet && std::find(failing.begin(), failing.end(), check.name) == failing.end()) failing.push_back(check.name);
        }
        std::string names;
        for (const auto& name : failing) names += (names.empty() ? "" : ", ") + name;
        checked += (checked.empty() ? "" : " ") + (say(failed > 0 ? "report-answer-checks" : "report-answer-checks-none", {{"variant", foot.variant_name}, {"failed", std::to_string(failed)}, {"names", names}, {"open", std::to_string(open)}, {"met", std::to_string(met)}}));
    }
    if (!checked.empty()) report.items.push_back(ReportText{checked, true});
    report.items.push_back(ReportText{say("report-answer-holds"), true});
}

namespace {

/// What stands beside the table: psi with another width of the floor, what two dwellings enter, surfaces left out.
void beside_results(Report& report, const ReportSource& source) {
    for (const auto& findings : source.findings) {
        const std::string who = source.findings.size() > 1 ? findings->variant_name + ": " : "";
        for (const FloorWidthPsi& at : findings->floor_widths)
            if (at.second_section)
                report.items.push_back(ReportText{who + say(at.own ? "report-own-floor" : "report-convention-floor",
                                                            {{"width", fixed(at.width, 3)}, {"psi", with_bracket(*at.second_section)}, {"option", at.by_iso13370 ? with_bracket(*at.by_iso13370) : "–"}}), false});
        for (const Message& message : findings->messages)
            for (const char* code : {"floor-width-not-followed", "shared-half", "shared-by-side", "surface-hidden", "surface-hidden-effect"})
                if (message.code == code) report.items.push_back(ReportText{who + english(message), false});
    }
}

}  // namespace

void results(Report& report, const ReportSource& source) {
    report.items.push_back(ReportHeading{say("report-heading-results"), 1});
    const Findings& base = *source.findings.front();
    ReportTable table;
    table.caption = say("report-results-caption");
    table.head = {say("report-variant"), say("report-psi"), say("report-difference"), say("report-L2D"), say("report-fRsi"), say("report-lowest")};
    table.figures = {false, true, true, true, true, true};
    for (const auto& findings : source.findings) {
        const SurfaceFinding* surface = findings->headline_surface();
        const Psi* psi = findings->headline_psi();
        const Coupling* coupling = nullptr;
        for (const auto& each : findings->couplings)
            if (psi && each.a == psi->a && each.b == psi->b) coupling = &each;
        table.rows.push_back({findings->variant_name, value_of(*findings) ? psi_words(*findings) : "–",
                              findings == source.findings.front() ? "" : difference_words(*findings, base),
                              coupling && coupling->value ? with_bracket(*coupling->value) : "–",
                              surface && surface->fRsi ? factor_words(*surface).value : "–",
                              surface ? fixed(surface->lowest, std::min(temperature_decimals(*findings, *surface), 1)) : "–"});
    }
    report.items.push_back(std::move(table));
    report.items.push_back(ReportText{say("report-results-bracket"), false});
    beside_results(report, source);

    ReportTable flanking;
    flanking.caption = say("report-flanking-caption");
    flanking.head = {say("report-variant"), say("report-element"), say("report-U"), say("report-length-internal"), say("report-length-external")};
    flanking.figures = {false, false, true, true, true};
    for (const auto& findings : source.findings)
        for (const auto& element : findings->elements) {
            const auto metres = [](const std::optional<Micrometres>& length) { return length ? fixed(to_m(*length), 3) : std::string("–"); };
            flanking.rows.push_back({findings->variant_name, element.id, element.U ? fixed(*element.U, 4) : element.ground ? say("report-ground-element") : "–", metres(element.internal_length), metres(element.external_length)});
        }
    report.items.push_back(std::move(flanking));

    const auto note = [&](const Findings& findings) {
        const Variant* variant = source.study->find_variant(findings.variant_id);
        if (variant && !variant->note.empty()) report.items.push_back(ReportText{say("report-variant-note", {{"variant", findings.variant_name}, {"note", variant->note}}), false});
    };
    note(base);
    for (std::size_t i = 1; i < source.findings.size(); ++i) {
        report.items.push_back(ReportHeading{say("report-heading-differs", {{"variant", source.findings[i]->variant_name}, {"base", base.variant_name}}), 2});
        note(*source.findings[i]);
        const auto said = differences(*source.study, *base.section, *source.findings[i]->section);
        for (const auto& message : said) report.items.push_back(ReportText{english(message), false});
        if (said.empty()) report.items.push_back(ReportText{say("report-differs-nothing"), false});
    }
}

}  // namespace wallfoot::report_part
