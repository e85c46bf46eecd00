// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "solver/report/report.hpp"

namespace wallfoot {

/// What became of one study of many that were reported on.
struct BatchRow {
    std::string file;                ///< its path, as it is told
    std::string title, enquiry;
    struct Answer {
        std::string variant, psi, fRsi;  ///< in words, with their brackets; the reason where there is none
        bool operator==(const Answer&) const = default;
    };
    std::vector<Answer> answers;     ///< one per variant
    std::vector<std::string> made;   ///< names of the files written, in the folder of the index
    std::string failed;              ///< why something was not made; "" else
    bool converged = true;
    bool stopped = false;            ///< not made, or not all of it, because it was stopped: no failure
    std::vector<std::string> notes = {};  ///< sentences about the study, and what of a report had no room
    bool operator==(const BatchRow&) const = default;
};

/// Of rows: each is one of these.
struct BatchCount {
    std::size_t made = 0, failed = 0, stopped = 0;
};
BatchCount batch_count(const std::vector<BatchRow>& rows);
/// "Stopped: 3 made, ..."
std::string batch_stopped_words(const BatchCount& count);

/// Title, enquiry number and answers of a row, from what it is made of.
void tell_answers(BatchRow& row, const ReportSource& source);

/// The rows as one page without outside parts, with links to the files.
std::string batch_index_html(const std::vector<BatchRow>& rows, const std::string& date, const OfficeTemplate* office);

}  // namespace wallfoot
