// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/numbers.hpp"
#include "solver/report/parts.hpp"

// The usual errors of drawing and reading: those that stand in the drawing, and what others would do to it.
namespace wallfoot::report_part {

namespace {

/// The piece it is about and a place on the drawing, as far as it has one.
std::string place_of(const UsualError& error, const Findings& findings) {
    std::string text;
    for (std::size_t p = 0; p < findings.section->pieces.size(); ++p)
        if (!error.piece.empty() && findings.section->pieces[p].id == error.piece) text = piece_name(*findings.section, static_cast<int>(p));
    if (!error.at) return text.empty() ? "–" : text;
    return (text.empty() ? "" : text + ", ") + say("report-error-at", {{"x", fixed(to_mm(error.at->x), 0)}, {"y", fixed(to_mm(error.at->y), 0)}});
}

std::string error_sentences(const UsualError& error) {
    std::string text = error.effect.name + ". " + error.effect.about;
    for (const std::string& note : notes_of(error.effect)) text += " " + note;
    return text;
}

void errors_table(Report& report, const UsualErrors& found, bool present) {
    ReportTable table;
    table.caption = say(present ? "report-errors-present" : "report-errors-possible");
    table.head = {say("report-error"), say("report-error-place"), say("report-error-psi"), say("report-error-fRsi")};
    table.figures = {false, false, true, true};
    for (const UsualError& error : found.errors)
        if (error.present == present) table.rows.push_back({error_sentences(error), place_of(error, *found.drawn), psi_change(error.effect), factor_change(error.effect)});
    if (!table.rows.empty()) report.items.push_back(std::move(table));
    else if (present) report.items.push_back(ReportText{say("report-errors-none"), false});
}

}  // namespace

void usual_errors(Report& report, const ReportSource& source) {
    if (source.errors.empty()) return;
    report.items.push_back(ReportHeading{say("report-heading-errors"), 1});
    report.items.push_back(ReportText{say("report-errors-reading"), true});
    for (const UsualErrors& found : source.errors) {
        report.items.push_back(ReportHeading{found.variant_name, 2});
        errors_table(report, found, true);
        errors_table(report, found, false);
    }
}

}  // namespace wallfoot::report_part
