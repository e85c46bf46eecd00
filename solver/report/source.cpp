// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/report/parts.hpp"

#include <algorithm>

#include "core/study/names.hpp"
#include "core/study/variants.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

std::shared_ptr<const Findings> sound_findings(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
    FindingsOptions asked = options;
    asked.seasons = asked.seasons || states_year(study);
    auto findings = find(study, variant, asked, context);
    refuse_faults(findings->messages);
    return findings;
}

}  // namespace

ReportSource report_source(std::shared_ptr<const Study> study, const std::string& file, const std::string& date, const std::vector<std::string>& variants,
                           const FindingsOptions& options, const Context& context) {
    std::vector<const Variant*> wanted;
    for (const auto& name : variants) wanted.push_back(&need_variant(*study, name));
    if (wanted.empty())
        for (const auto& variant : study->variants) wanted.push_back(&variant);
    if (wanted.empty()) throw InputFault(Message{Severity::fault, "study-without-variant", {}, {}, "/variants"});
    ReportSource source{study, file, date, {}, {}, {}};
    for (const Variant* variant : wanted) {
        source.findings.push_back(sound_findings(*study, *variant, options, context));
    }
    follow_up(source, context);
    return source;
}

void follow_up(ReportSource& source, const Context& context) {
    if (!source.water.empty()) return;
    const UsedRules rules = used_foot_rules(*source.study);
    for (const auto& findings : source.findings) {
        const Variant& variant = need_variant(*source.study, findings->variant_id);
        source.water.push_back(water_report(*source.study, variant, context));
        source.foot.push_back(foot_report(*source.study, variant, source.water.back().arrangement, source.water.back().way, rules));
    }
}

void add_usual_errors(ReportSource& source, const Context& context) {
    if (!source.errors.empty()) return;
    std::vector<UsualErrors> found;
    for (const auto& findings : source.findings) {
        context.check();
        found.push_back(usual_errors(*source.study, need_variant(*source.study, findings->variant_id), {}, context));
    }
    source.errors = std::move(found);
}

Report make_report(const ReportSource& source) {
    Report report;
    report.title = source.study->title.empty() ? report_part::say("report-untitled") : source.study->title;
    report.program = std::string("wallfoot ") + program_version;
    report.date = source.date;
    report.office = source.office;
    for (const auto& part : {report_part::title_block, report_part::answer, report_part::sections, report_part::results, report_part::heat_maps, report_part::surface_checks, report_part::materials,
                             report_part::convention, report_part::water, report_part::checks, report_part::usual_errors, report_part::left_open, report_part::derivations, report_part::record}) {
        if (part == report_part::answer) report_part::office_words(report, source, false);
        part(report, source);
    }
    report_part::office_words(report, source, true);
    return report;
}

namespace report_part {

std::string say(const std::string& code, std::map<std::string, std::string> args) { return english({Severity::note, code, std::move(args), {}, {}}); }

std::string plain_word(std::string word) {
    std::replace(word.begin(), word.end(), '-', ' ');
    if (word.ends_with(" dpc")) word.replace(word.size() - 3, 3, "DPC");
    return word;
}

std::string piece_name(const Section& section, int piece) { return shown_name(section.pieces[static_cast<std::size_t>(piece)]); }

std::string space_words(const Section& section, int space) { return shown_name(section, section.spaces[static_cast<std::size_t>(space)]); }

void office_words(Report& report, const ReportSource& source, bool at_end) {
    if (!source.office) return;
    const std::string& text = at_end ? source.office->at_end : source.office->before_answer;
    if (!text.empty()) report.items.push_back(ReportText{.text = text, .own_words = true});
}

std::string psi_words(const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    if (!psi) return say("report-no-psi");
    return psi->value ? with_bracket(*psi->value) : why_missing(findings, psi->a, psi->b, psi->lengths, psi->reason);
}

FactorWords factor_words(const SurfaceFinding& surface) {
    const int decimals = std::min(factor_decimals(surface), 3);
    return {fixed(*surface.fRsi, decimals), estimate_beside(*surface.fRsi, surface.estimate, decimals)};
}

}  // namespace report_part

}  // namespace wallfoot
