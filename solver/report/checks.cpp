// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "core/study/site.hpp"
#include "solver/report/parts.hpp"

// What the rules at the wall foot say, what is open, and the questions that would decide it.
namespace wallfoot::report_part {

namespace {

constexpr Verdict worst_first[] = {Verdict::does_not_meet, Verdict::undecided, Verdict::meets, Verdict::not_assessed};

std::string found(const Check& check) {
    std::string text = english(check.message);
    for (const Message& more : check.told) text += " " + english(more);
    for (const End& end : check.ends) text += " " + say("report-check-end", {{"when", end.when}, {"verdict", verdict_text(end.verdict)}, {"finding", english(end.message)}});
    for (const std::string& caution : check.cautions) text += " " + caution;
    return text;
}

/// Facts of the site a check rests on; what is not known is said.
std::string rests_on(const Check& check) {
    std::string text = check.source;
    for (const FactUsed& fact : check.facts)
        text += "; " + (fact.value.empty() ? say("report-fact-open", {{"fact", site_fact_name(fact.key)}})
                                           : say("report-fact", {{"fact", site_fact_name(fact.key)}, {"value", site_value_text(fact.key, fact.value)}, {"source", fact.source.empty() ? say("report-no-source") : fact.source}}));
    return text;
}

ReportTable table_of(const FootReport& foot) {
    ReportTable table;
    table.caption = say("report-checks-caption", {{"rules", foot.rules_name}});
    table.head = {say("report-check"), say("report-verdict"), say("report-found"), say("report-rests-on")};
    table.figures = {false, false, false, false};
    for (const Verdict verdict : worst_first)
        for (const Check& check : foot.checks)
            if (check.verdict == verdict) table.rows.push_back({check.name, verdict_text(check.verdict), found(check), rests_on(check)});
    return table;
}

}  // namespace

void checks(Report& report, const ReportSource& source) {
    if (source.foot.empty()) return;
    report.items.push_back(ReportHeading{say("report-heading-checks"), 1});
    report.items.push_back(ReportText{say("report-checks-reading"), true});
    std::vector<std::pair<std::string, ReportTable>> told;
    for (const FootReport& foot : source.foot) {
        ReportTable table = table_of(foot);
        const auto same = std::find_if(told.begin(), told.end(), [&](const auto& before) { return before.second == table; });
        if (same == told.end()) told.emplace_back(foot.variant_name, std::move(table));
        else same->first += ", " + foot.variant_name;
    }
    const ReportTable base = told.front().second;
    for (auto& [variants, table] : told) {
        report.items.push_back(ReportHeading{variants, 2});
        if (!(table == base)) {  // of the others what is otherwise
            table.caption = say("report-checks-other", {{"base", source.foot.front().variant_name}});
            std::erase_if(table.rows, [&](const auto& row) { return std::find(base.rows.begin(), base.rows.end(), row) != base.rows.end(); });
            const bool less = std::any_of(base.rows.begin(), base.rows.end(), [&](const auto& row) { return !row.empty() && table.rows.empty(); });
            if (less) report.items.push_back(ReportText{say("report-checks-fewer", {{"base", source.foot.front().variant_name}}), false});
        }
        report.items.push_back(std::move(table));
    }
    std::vector<std::string> once;
    const auto tell = [&](const std::string& text) {
        if (text.empty() || std::find(once.begin(), once.end(), text) != once.end()) return;
        once.push_back(text);
        report.items.push_back(ReportText{text, true});
    };
    for (const FootReport& foot : source.foot) {
        tell(foot.about);
        for (const Check& check : foot.checks)
            if (!check.jurisdiction.empty()) tell(say("report-jurisdiction", {{"jurisdiction", check.jurisdiction}}));
        for (const Message& note : foot.notes) tell(english(note));
        for (const auto& rising : foot.rising_damp) tell(english(rising.message));
    }
    std::vector<Check> all;
    for (const FootReport& foot : source.foot) all.insert(all.end(), foot.checks.begin(), foot.checks.end());
    const auto questions = questions_of(all);
    if (questions.empty()) return;
    report.items.push_back(ReportHeading{say("report-heading-questions"), 2});
    for (const Question& question : questions) report.items.push_back(ReportText{english(question.question), false});
}

}  // namespace wallfoot::report_part
