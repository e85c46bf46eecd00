// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <set>
#include <tuple>

#include "core/study/materials.hpp"
#include "core/study/names.hpp"
#include "core/study/unwritten.hpp"
#include "core/study/words.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/report/parts.hpp"

// What was worked out: the sections, the materials in their place, the convention.
namespace wallfoot::report_part {

namespace {

/// "0.24 W/(m·K)"-less figure with the digits that were stated.
std::string figure(double value) {
    std::string text = fixed(value, 4);
    while (text.ends_with('0')) text.pop_back();
    if (text.ends_with('.')) text.pop_back();
    return text;
}

/// What the paper says of a conductivity: condition, basis, fractile, source.
std::string stated(const Material& material, const FaceConductivity& in_place) {
    auto found = material.lambda.by_condition.find(in_place.used);
    if (found == material.lambda.by_condition.end() && material.kind != MaterialKind::airspace && same_in_all_conditions(material.kind)) found = material.lambda.by_condition.begin();
    if (found == material.lambda.by_condition.end()) return say("report-by-formula");
    const Conductivity& stated = found->second;
    std::string text = say("report-basis", {{"condition", plain_word(word_of(condition_words, in_place.used))}, {"basis", plain_word(word_of(basis_words, stated.basis))}});
    if (stated.moisture) text += ", " + say("report-moisture", {{"value", figure(stated.moisture->value)}, {"by", word_of(moisture_by_words, stated.moisture->by)}});
    if (stated.fractile) text += ", " + say("report-fractile", {{"value", figure(*stated.fractile)}});
    if (stated.low || stated.high) text += ", " + say("report-range", {{"low", stated.low ? figure(*stated.low) : "–"}, {"high", stated.high ? figure(*stated.high) : "–"}});
    text += "; " + (stated.source.empty() ? say("report-no-source") : stated.source);
    if (in_place.undeclared) text += ". " + say("report-undeclared", {{"asked", plain_word(word_of(condition_words, in_place.asked))}});
    return text;
}

/// One row per piece and conductivity that holds in a part of it.
std::vector<std::vector<std::string>> rows_of(const ReportSource& source, const Findings& findings) {
    std::set<std::tuple<int, double, double, Condition, bool>> seen;
    std::vector<std::pair<int, std::vector<std::string>>> rows;
    for (std::size_t f = 0; f < findings.arrangement.faces.size(); ++f) {
        const Face& face = findings.arrangement.faces[f];
        if (face.kind != FaceKind::solid || face.piece < 0) continue;
        const auto& here = findings.conductivity[f];
        if (!seen.insert({face.piece, here.across, here.up, here.used, here.undeclared}).second) continue;
        const Piece& piece = findings.section->pieces[static_cast<std::size_t>(face.piece)];
        const Material* material = source.study->find_material(piece.filled_with);
        if (!material) continue;
        const std::string lambda = here.across == here.up ? figure(here.across) : say("report-two-axes", {{"across", figure(here.across)}, {"up", figure(here.up)}});
        rows.push_back({face.piece, {shown_name(piece), shown_name(*material), lambda, stated(*material, here)}});
    }
    std::stable_sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<std::vector<std::string>> result;
    for (auto& [piece, row] : rows) result.push_back(std::move(row));
    return result;
}

/// Where a variant was traced from what is not to scale: which edges no dimension gives. Variants that say the same
/// stand together.
void unwritten(Report& report, const ReportSource& source) {
    struct Told {
        std::string variants, underlays;
        std::vector<std::vector<std::string>> rows;
    };
    std::vector<Told> all;
    for (const auto& findings : source.findings) {
        const Section& section = *findings->section;
        Told told{findings->variant_name, underlays_not_to_scale(*source.study, section), {}};
        if (told.underlays.empty()) continue;
        for (const auto& piece : unwritten_edges(section)) told.rows.push_back({piece_name(section, piece.piece), std::to_string(piece.edges.size()), where_unwritten(piece)});
        const auto same = std::find_if(all.begin(), all.end(), [&](const Told& before) { return before.underlays == told.underlays && before.rows == told.rows; });
        if (same == all.end()) all.push_back(std::move(told));
        else same->variants += ", " + told.variants;
    }
    for (auto& told : all) {
        const std::string caution = say("report-not-to-scale", {{"variant", told.variants}, {"underlays", told.underlays}});
        report.items.push_back(ReportText{told.rows.empty() ? caution + " " + say("report-all-written") : caution, true});
        if (told.rows.empty()) continue;
        report.items.push_back(ReportTable{say("report-unwritten-caption", {{"variant", told.variants}}), {say("report-piece"), say("report-unwritten-number"), say("report-unwritten-where")}, std::move(told.rows), {false, true, false}});
    }
}

}  // namespace

void sections(Report& report, const ReportSource& source) {
    report.items.push_back(ReportHeading{say("report-heading-section"), 1});
    for (std::size_t i = 0; i < source.findings.size(); ++i) {
        const auto& section = *source.findings[i]->section;
        report.items.push_back(ReportPicture{ReportPicture::Shows::section, i, source.findings[i]->variant_name,
                                             say("report-section-words", {{"variant", source.findings[i]->variant_name}, {"width", figure(to_mm(section.cut.width()))}, {"height", figure(to_mm(section.cut.height()))}, {"pieces", std::to_string(section.pieces.size())}})});
    }
    std::string filled;
    std::set<std::string> named;
    for (const auto& findings : source.findings)
        for (const Piece& piece : findings->section->pieces)
            if (const Material* material = source.study->find_material(piece.filled_with); material && named.insert(shown_name(*material)).second) filled += (filled.empty() ? "" : ", ") + shown_name(*material);
    if (!filled.empty()) report.items.push_back(ReportPicture{ReportPicture::Shows::key, 0, say("report-key"), say("report-key-words", {{"materials", filled}})});
    unwritten(report, source);
}

void heat_maps(Report& report, const ReportSource& source) {
    report.items.push_back(ReportHeading{say("report-heading-heat"), 1});
    report.items.push_back(ReportText{say("report-heat-reading"), false});
    for (std::size_t i = 0; i < source.findings.size(); ++i) {
        const auto& findings = *source.findings[i];
        const SurfaceFinding* surface = findings.headline_surface();
        report.items.push_back(ReportPicture{ReportPicture::Shows::heat, i, findings.variant_name,
                                             say("report-heat-words", {{"variant", findings.variant_name}, {"lowest", surface ? fixed(surface->lowest, 1) : "–"},
                                                                       {"x", surface ? fixed(surface->at[0] / 1000, 0) : "–"}, {"y", surface ? fixed(surface->at[1] / 1000, 0) : "–"}})});
    }
}

void materials(Report& report, const ReportSource& source) {
    report.items.push_back(ReportHeading{say("report-heading-materials"), 1});
    const auto base = rows_of(source, *source.findings.front());
    for (const auto& findings : source.findings) {
        const bool first = findings == source.findings.front();
        ReportTable table;
        table.caption = say(first ? "report-materials-caption" : "report-materials-other", {{"variant", findings->variant_name}, {"base", source.findings.front()->variant_name}});
        table.head = {say("report-piece"), say("report-material"), say("report-lambda"), say("report-stated")};
        table.figures = {false, false, true, false};
        for (auto& row : rows_of(source, *findings))
            if (first || std::find(base.begin(), base.end(), row) == base.end()) table.rows.push_back(std::move(row));
        if (!table.rows.empty()) report.items.push_back(std::move(table));
    }
    std::set<std::string> gaps;
    for (const auto& findings : source.findings)
        for (const auto& message : findings->messages)
            if (message.severity == Severity::caution && gaps.insert(english(message)).second)
                report.items.push_back(ReportText{source.findings.size() > 1 ? say("report-of-variant", {{"variant", findings->variant_name}, {"text", english(message)}}) : english(message), true});
}

void convention(Report& report, const ReportSource& source) {
    const Convention& used = source.study->used_convention();
    report.items.push_back(ReportHeading{say("report-heading-convention"), 1});
    report.items.push_back(ReportText{say("report-convention", {{"name", used.name}, {"version", std::to_string(used.version)}, {"lengths", word_of(length_system_words, used.lengths)}, {"reading", say(used.floor_reading == FloorReading::to_underside ? "report-reading-underside" : "report-reading-ground")}}), false});
    ReportTable spaces;
    spaces.caption = say("report-spaces-caption");
    spaces.head = {say("report-variant"), say("report-space"), say("report-temperature"), say("report-flow")};
    spaces.figures = {false, false, true, true};
    for (const auto& findings : source.findings)
        for (std::size_t s = 0; s < findings->section->spaces.size(); ++s)
            spaces.rows.push_back({findings->variant_name, space_words(*findings->section, static_cast<int>(s)), figure(findings->temperatures[s]), s < findings->heat_flow.size() ? with_bracket(findings->heat_flow[s]) : "–"});
    report.items.push_back(std::move(spaces));
    ReportTable films;
    films.caption = say("report-films-caption");
    films.head = {say("report-purpose"), say("report-film-up"), say("report-film-horizontal"), say("report-film-down"), say("report-film-outside"), say("report-source")};
    films.figures = {false, true, true, true, true, false};
    const auto row = [&](const std::string& purpose, const SurfaceRule& rule) {
        films.rows.push_back({purpose, figure(rule.inside.up), figure(rule.inside.horizontal), figure(rule.inside.down), figure(rule.outside), rule.source});
    };
    row(say("report-purpose-flow"), used.heat_flow);
    row(say("report-purpose-surface"), used.surface_check.value_or(used.heat_flow));
    report.items.push_back(std::move(films));
    for (const auto& text : used.sources) report.items.push_back(ReportText{text + ".", false});
}

}  // namespace wallfoot::report_part
