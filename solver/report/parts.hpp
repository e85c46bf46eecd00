// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/report/report.hpp"

// The parts of a report, in the order in which they stand. Each appends to `report`.
namespace wallfoot::report_part {

void title_block(Report& report, const ReportSource& source);
void answer(Report& report, const ReportSource& source);
void sections(Report& report, const ReportSource& source);
void materials(Report& report, const ReportSource& source);
void convention(Report& report, const ReportSource& source);
void results(Report& report, const ReportSource& source);
void heat_maps(Report& report, const ReportSource& source);
void surface_checks(Report& report, const ReportSource& source);
void water(Report& report, const ReportSource& source);
void checks(Report& report, const ReportSource& source);
void usual_errors(Report& report, const ReportSource& source);
void left_open(Report& report, const ReportSource& source);
void derivations(Report& report, const ReportSource& source);
void record(Report& report, const ReportSource& source);

/// A derivation as a table: its quantities in order, below the formula; notes behind it.
void derivation(Report& report, const Derivation& derived);

/// What the office says of its own before the answer and at the end, where it does.
void office_words(Report& report, const ReportSource& source, bool at_end);

/// What a surface or psi is judged against, in words.
std::string demand_words(SurfaceDemand demand);
/// A sentence of the catalogue.
std::string say(const std::string& code, std::map<std::string, std::string> args = {});
/// A word of the study file as people write it: "below ground" of "below-ground", "below DPC" of "below-dpc".
std::string plain_word(std::string word);
std::string piece_name(const Section& section, int piece);
std::string space_words(const Section& section, int space);
/// "0.0894 ± 0.00007", or the reason there is none.
std::string psi_words(const Findings& findings);
/// fRsi as it is printed, and its estimated error. That is no bound: three decimals at most. Asks for an fRsi.
struct FactorWords {
    std::string value, estimate;
};
FactorWords factor_words(const SurfaceFinding& surface);
/// For the text of a page; breaks of lines stay breaks.
std::string as_page_text(const std::string& text);
/// From the first line of a page up to the end of its style, "</style>" left out.
std::string page_begin(const std::string& title, const std::string& program, const std::string& language);
/// Logo, name and contact lines as the head of a page; "" where there are none.
std::string office_head(const OfficeTemplate& office);

}  // namespace wallfoot::report_part
