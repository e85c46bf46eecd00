// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/report/short_answer.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <sstream>

#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"
#include "solver/report/parts.hpp"

namespace wallfoot {

namespace {

using report_part::say;

constexpr double counts_from = 5e-4;       // W/(m·K) of psi for 10 % of an input: what is named as changing the answer
constexpr std::size_t most_named = 5, most_questions = 4;
constexpr std::size_t line_width = 76;

/// The pieces whose conductivity moves psi most, with 10 % of it in W/(m·K), largest first.
std::vector<std::pair<const InputSlope*, double>> what_moves_psi(const Findings& findings) {
    std::vector<std::pair<const InputSlope*, double>> all;
    const Psi* psi = findings.headline_psi();
    if (!psi) return all;
    const auto index = static_cast<std::size_t>(psi - findings.psi.data());
    for (const InputSlope& input : findings.slopes)
        if (!input.pieces.empty() && index < input.psi.size() && input.psi[index] && std::abs(0.1 * input.psi[index]->value) >= counts_from)
            all.emplace_back(&input, 0.1 * input.psi[index]->value);
    std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return std::abs(a.second) > std::abs(b.second); });
    if (all.size() > most_named) all.resize(most_named);
    return all;
}

std::string pieces_named(const Section& section, const std::vector<int>& pieces) {
    std::string text;
    for (const int piece : pieces) text += (text.empty() ? "" : ", ") + report_part::piece_name(section, piece);
    return text;
}

void items_of(Report& report, const char* heading, const std::vector<std::string>& sentences) {
    if (sentences.empty()) return;
    report.items.push_back(ReportHeading{say(heading), 1});
    for (const std::string& sentence : sentences) report.items.push_back(ReportText{sentence, false});
}

/// Adds a sentence unless it is there.
void add_once(std::vector<std::string>& sentences, std::string sentence) {
    if (std::find(sentences.begin(), sentences.end(), sentence) == sentences.end()) sentences.push_back(std::move(sentence));
}

/// The pieces whose conductivity counts in the first variant.
std::set<std::string> pieces_that_count(const Findings& findings) {
    std::set<std::string> ids;
    for (const auto& [input, change] : what_moves_psi(findings))
        for (const int piece : input->pieces) ids.insert(findings.section->pieces[static_cast<std::size_t>(piece)].id);
    return ids;
}

/// The conductivities that were taken of a piece, by condition, in the order in which they are met.
std::vector<const FaceConductivity*> taken_of(const Findings& findings, std::size_t piece) {
    std::vector<const FaceConductivity*> taken;
    for (std::size_t f = 0; f < findings.arrangement.faces.size(); ++f) {
        const Face& face = findings.arrangement.faces[f];
        if (face.kind != FaceKind::solid || face.piece < 0 || static_cast<std::size_t>(face.piece) != piece) continue;
        const FaceConductivity& here = findings.conductivity[f];
        if (std::none_of(taken.begin(), taken.end(), [&](const FaceConductivity* before) { return before->asked == here.asked && before->across == here.across; })) taken.push_back(&here);
    }
    return taken;
}

std::vector<std::string> conditions(const ReportSource& source) {
    std::vector<std::string> all;
    const Convention& convention = source.study->used_convention();
    all.push_back(say("short-convention", {{"convention", convention.name.empty() ? convention.id : convention.name}, {"lengths", word_of(length_system_words, convention.lengths)}}));
    const auto counts = pieces_that_count(*source.findings.front());
    std::string membranes;
    for (std::size_t i = 0; i < source.findings.size(); ++i) {
        const Findings& findings = *source.findings[i];
        std::string others;
        for (std::size_t p = 0; p < findings.section->pieces.size(); ++p) {
            const Piece& piece = findings.section->pieces[p];
            const Material* material = source.study->find_material(piece.filled_with);
            if (!material || material->kind != MaterialKind::masonry) continue;
            std::string taken;
            for (const FaceConductivity* here : taken_of(findings, p)) {
                if (!here->undeclared && !counts.contains(piece.id)) continue;
                taken += (taken.empty() ? "" : ", ") + say(here->undeclared ? "short-taken-undeclared" : "short-taken", {{"condition", report_part::plain_word(word_of(condition_words, here->asked))}, {"used", report_part::plain_word(word_of(condition_words, here->used))}, {"lambda", fixed(here->across, 3)}});
            }
            if (taken.empty()) continue;
            std::string text = say("short-condition", {{"piece", shown_name(piece)}, {"material", shown_name(*material)}, {"taken", taken}});
            // What a later variant has otherwise is told with its name.
            if (i == 0) add_once(all, std::move(text));
            else if (std::find(all.begin(), all.end(), text) == all.end()) others += (others.empty() ? "" : " ") + text;
        }
        if (!others.empty()) add_once(all, say("report-of-variant", {{"variant", findings.variant_name}, {"text", others}}));
        if (i > 0 || source.water.empty()) continue;
        std::set<int> relied;
        for (const auto& piece : source.water.front().way.pieces)
            if (piece.state != WaterState::reached) relied.insert(piece.relies_on.begin(), piece.relies_on.end());
        for (const int membrane : relied) membranes += (membranes.empty() ? "" : ", ") + findings.section->membranes[static_cast<std::size_t>(membrane)].id;
    }
    if (!membranes.empty()) all.push_back(say("short-relies-on", {{"membranes", membranes}}));
    return all;
}

std::vector<std::string> what_would_change(const ReportSource& source) {
    std::vector<std::string> all;
    const Findings& findings = *source.findings.front();
    for (const auto& [input, change] : what_moves_psi(findings))
        all.push_back(say("short-moves", {{"pieces", pieces_named(*findings.section, input->pieces)}, {"lambda", fixed(input->conductivity, 3)}, {"change", (change > 0 ? "+" : "") + fixed(change, 4)}}));
    if (const Psi* psi = findings.headline_psi(); psi && psi->value && psi->by_iso13370)
        all.push_back(say("short-floor-option", {{"psi", with_bracket(*psi->by_iso13370)}}));
    for (const auto& each : source.findings)
        for (const Message& message : each->messages)
            if (message.severity == Severity::caution) add_once(all, english(message));
    return all;
}

std::vector<std::string> open_questions(const ReportSource& source) {
    std::vector<Check> checks;
    for (const FootReport& foot : source.foot) checks.insert(checks.end(), foot.checks.begin(), foot.checks.end());
    std::vector<std::string> all;
    const auto questions = questions_of(checks);
    for (const Question& question : questions) {
        if (all.size() == most_questions) break;
        all.push_back(english(question.question));
    }
    if (questions.size() > most_questions) all.push_back(say("short-more-questions", {{"count", std::to_string(questions.size() - most_questions)}}));
    return all;
}

/// Height above or below the finished floor.
std::string level_words(const Section& section, Micrometres y) {
    const Micrometres floor = section.floor.both.value_or(section.floor.left.value_or(section.floor.right.value_or(0)));
    const double mm = to_mm(y - floor);
    if (mm == 0) return say("short-floor-level");
    return say(mm > 0 ? "short-above-floor" : "short-below-floor", {{"mm", fixed(std::abs(mm), 0)}});
}

/// "0.220 W/(m·K)", of a piece in several conditions each with its own.
std::string asked_of(const Findings& findings, std::size_t piece) {
    const auto taken = taken_of(findings, piece);
    std::string text;
    for (const FaceConductivity* here : taken)
        text += (text.empty() ? "" : ", ") + (taken.size() == 1 ? fixed(here->across, 3) + " W/(m·K)" : say("short-clause-part", {{"lambda", fixed(here->across, 3)}, {"condition", report_part::plain_word(word_of(condition_words, here->asked))}}));
    return text;
}

std::vector<std::string> clause(const ReportSource& source) {
    std::vector<std::string> all;
    const Findings& findings = *source.findings.front();
    const Section& section = *findings.section;
    for (const auto& [input, change] : what_moves_psi(findings)) {
        if (change <= 0) continue;
        for (const int index : input->pieces) {
            const Piece& piece = section.pieces[static_cast<std::size_t>(index)];
            const Material* material = source.study->find_material(piece.filled_with);
            if (!material || (material->kind != MaterialKind::masonry && material->kind != MaterialKind::insulation)) continue;
            const auto [low, high] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point a, Point b) { return a.y < b.y; });
            const bool masonry = material->kind == MaterialKind::masonry;
            all.push_back(say(masonry ? "short-clause-masonry" : "short-clause-insulation",
                              {{"piece", shown_name(piece)}, {"from", level_words(section, std::max(low->y, section.cut.bottom))}, {"to", level_words(section, std::min(high->y, section.cut.top))}, {"lambda", asked_of(findings, static_cast<std::size_t>(index))}}));
        }
    }
    if (!all.empty()) all.push_back(say("short-clause-end"));
    return all;
}

std::vector<std::string> hold_points(const ReportSource& source) {
    std::vector<std::string> all;
    const Section& section = *source.findings.front()->section;
    std::string water, gas;
    for (const Membrane& membrane : section.membranes) {
        std::string& names = membrane.kind == MembraneKind::gas ? gas : water;
        names += (names.empty() ? "" : ", ") + membrane.id;
    }
    if (!gas.empty()) all.push_back(say("short-hold-gas", {{"membrane", gas}}));
    if (!water.empty()) all.push_back(say("short-hold-membrane", {{"membrane", water}}));
    bool insulation = false;
    for (const Piece& piece : section.pieces) {
        const Material* material = source.study->find_material(piece.filled_with);
        insulation = insulation || (material && material->kind == MaterialKind::insulation);
    }
    if (insulation) all.push_back(say("short-hold-insulation"));
    all.push_back(say("short-hold-mortar"));
    all.push_back(say("short-hold-blocks"));
    return all;
}

/// Breaks a text into lines at blanks; `indent` stands before all but the first.
void wrap(std::ostringstream& out, const std::string& text, const std::string& first, const std::string& indent) {
    std::istringstream words(text);
    std::string line = first, word;
    bool empty = true;
    while (words >> word) {
        const auto width = static_cast<std::size_t>(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }));
        if (!empty && width + 1 + word.size() > line_width) {
            out << line << "\n";
            line = indent;
            empty = true;
        }
        line += (empty ? "" : " ") + word;
        empty = false;
    }
    out << line << "\n";
}

/// What it is about, in one line.
std::string head_of(const ReportSource& source) {
    const Project project = source.study->project.value_or(Project{});
    std::string line;
    const auto add = [&](const std::string& part) {
        if (!part.empty()) line += (line.empty() ? "" : " · ") + part;
    };
    const auto named = [&](const char* code, const std::string& value) { add(value.empty() ? "" : say(code) + " " + value); };
    add(project.name);
    add(project.plot);
    add(project.junction);
    named("report-drawing", project.drawing);
    named("report-revision", project.revision);
    named("report-enquiry", project.enquiry);
    named("report-contact", project.contact);
    named("report-author", project.author);
    named("report-checker", project.checker);
    add(source.date);
    add(source.file);
    return line;
}

}  // namespace

Report make_short_answer(const ReportSource& source) {
    Report report;
    report.title = source.study->title.empty() ? say("report-untitled") : source.study->title;
    report.program = std::string("wallfoot ") + program_version;
    report.date = source.date;
    report.office = source.office;
    report.items.push_back(ReportText{head_of(source), false});
    report_part::office_words(report, source, false);
    report_part::answer(report, source);
    items_of(report, "short-heading-conditions", conditions(source));
    items_of(report, "short-heading-change", what_would_change(source));
    items_of(report, "short-heading-open", open_questions(source));
    items_of(report, "short-heading-clause", clause(source));
    items_of(report, "short-heading-hold", hold_points(source));
    report.items.push_back(ReportText{say("short-defer"), true});
    report_part::office_words(report, source, true);
    return report;
}

void add_slopes(ReportSource& source, const Context& context) {
    auto& first = source.findings.front();
    if (!first->slopes.empty()) return;
    const Variant* variant = source.study->find_variant(first->variant_id);
    FindingsOptions options;
    options.slopes = true;
    if (variant) first = find(*source.study, *variant, options, context);
}

std::string report_text(const Report& report) {
    std::ostringstream out;
    if (report.office) {
        if (!report.office->office.empty()) out << report.office->office << "\n";
        for (const std::string& line : report.office->contact) out << line << "\n";
        if (report.office->has_head()) out << "\n";
    }
    out << report.title << "\n";
    for (const ReportItem& item : report.items) {
        if (const auto* heading = std::get_if<ReportHeading>(&item)) out << "\n" << heading->text << "\n";
        if (const auto* text = std::get_if<ReportText>(&item); text && text->own_words) {
            std::istringstream paragraphs(text->text);
            out << "\n";
            for (std::string line; std::getline(paragraphs, line);) wrap(out, line, "", "");
            out << "\n";
        } else if (text) {
            wrap(out, text->text, text->caution ? "! " : "- ", "  ");
        }
        if (const auto* table = std::get_if<ReportTable>(&item))
            for (const auto& row : table->rows) {
                std::string line;
                for (const std::string& cell : row) line += (line.empty() ? "" : ": ") + cell;
                wrap(out, line, "", "  ");
            }
    }
    out << "\n" << report.program << ", " << report.date << "\n";
    if (report.office && !report.office->foot.empty()) out << report.office->foot << "\n";
    return out.str();
}

}  // namespace wallfoot
