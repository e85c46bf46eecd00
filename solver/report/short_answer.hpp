// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/report/report.hpp"

namespace wallfoot {

/// The answer on one page: what came out, under which conditions it holds, what would change it, what is open, a performance
/// clause and what to look at on site before it is covered. Same kind of data as the report, so that every rendering serves.
/// What would change it needs findings with slopes.
Report make_short_answer(const ReportSource& source);

/// Works the first variant out once more with slopes, where they are missing: what a short answer needs of it.
void add_slopes(ReportSource& source, const Context& context = {});

/// A report as plain text, such as for an e-mail; lines of at most 76 characters, tables as lines.
std::string report_text(const Report& report);

}  // namespace wallfoot
