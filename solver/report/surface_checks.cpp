// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "core/standards/outside_standard.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/report/parts.hpp"

// Inside surfaces and psi against the convention and the climate.
namespace wallfoot::report_part {

namespace {

const char* demand_code(SurfaceDemand demand) {
    constexpr const char* codes[] = {"report-demand-convention", "report-demand-mould", "report-demand-condensation", "report-demand-psi"};
    return codes[static_cast<int>(demand)];
}

}  // namespace

std::string demand_words(SurfaceDemand demand) { return say(demand_code(demand)); }

namespace {

/// The year's wave, of every variant that has one.
void through_year(Report& report, const ReportSource& source) {
    ReportTable table;
    table.caption = say("report-season-caption");
    table.head = {say("report-variant"), say("report-season-what"), say("report-found-value")};
    table.figures = {false, false, false};
    for (const auto& findings : source.findings)
        for (const SeasonRow& row : season_rows(*findings)) table.rows.push_back({findings->variant_name, row.what, row.value});
    if (!table.rows.empty()) report.items.push_back(std::move(table));
}

}  // namespace

void surface_checks(Report& report, const ReportSource& source) {
    ReportTable table;
    table.caption = say("report-surface-caption");
    table.head = {say("report-variant"), say("report-asked-by"), say("report-asked"), say("report-found-value"), say("report-margin"), say("report-verdict")};
    table.figures = {false, false, true, true, true, false};
    std::vector<std::string> sentences;
    for (const auto& findings : source.findings)
        for (const SurfaceVerdict& verdict : findings->verdicts) {
            const bool judged = verdict.verdict != Verdict::not_assessed;
            if (judged)
                table.rows.push_back({findings->variant_name, say(demand_code(verdict.demand)) + (verdict.month ? ", " + month_name(*verdict.month) : ""),
                                      verdict.asked ? fixed(*verdict.asked, 3) : "–", fixed(verdict.found, 3), verdict.margin_K ? fixed(*verdict.margin_K, 1) : "–", verdict_text(verdict.verdict)});
            std::string sentence = english(verdict.message);
            if (judged && source.findings.size() > 1) sentence = findings->variant_name + ": " + sentence;
            if (std::find(sentences.begin(), sentences.end(), sentence) == sentences.end()) sentences.push_back(sentence);
        }
    if (sentences.empty()) return;
    report.items.push_back(ReportHeading{say("report-heading-surface"), 1});
    if (!table.rows.empty()) report.items.push_back(std::move(table));
    for (const std::string& sentence : sentences) report.items.push_back(ReportText{sentence, true});
    through_year(report, source);
    const auto& climate = source.study->climate;
    if (!climate || climate->months.empty()) return;
    ReportTable months;
    months.caption = say("report-climate-caption", {{"place", climate->name.empty() ? "–" : climate->name}, {"source", climate->source.empty() ? say("report-no-source") : climate->source}});
    months.head = {say("report-month"), say("report-outside"), say("report-humidity"), say("report-inside"), say("report-asked-fRsi")};
    months.figures = {false, true, true, true, true};
    const double inside = source.findings.front()->headline_surface() ? source.findings.front()->temperatures[source.findings.front()->headline_surface()->space] : source.study->used_convention().inside_temperature;
    for (std::size_t i = 0; i < climate->months.size(); ++i) {
        const ClimateMonth& month = climate->months[i];
        std::optional<double> asked;
        try {
            if (climate->indoor) asked = required_fRsi(month, *climate->indoor, inside);
        } catch (const OutsideStandard&) {
            // told among the verdicts
        }
        months.rows.push_back({month_name(i), fixed(month.outside, 1), fixed(100 * month.humidity, 0), fixed(month.inside.value_or(inside), 1), asked ? fixed(*asked, 3) : "–"});
    }
    report.items.push_back(std::move(months));
}

}  // namespace wallfoot::report_part
