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
void left_open(Report& report, const ReportSource& source);
void derivations(Report& report, const ReportSource& source);
void record(Report& report, const ReportSource& source);

/// What a surface or psi is judged against, in words.
std::string demand_words(SurfaceDemand demand);
/// A sentence of the catalogue.
std::string say(const std::string& code, std::map<std::string, std::string> args = {});
std::string piece_name(const Section& section, int piece);
std::string space_words(const Section& section, int space);
/// "0.0894 ± 0.00007", or the reason there is none.
std::string psi_words(const Findings& findings);

}  // namespace wallfoot::report_part
