// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/context/context.hpp"
#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

// Results that were issued: frozen in the study with everything they rest on, and worked out again from that alone.

/// Who issues, and why.
struct Issue {
    std::string date;  ///< ISO 8601
    std::string author, checker, revision, reason;
};

/// The study with a record of all its variants added under `issued`: who and why, the program's version, a copy of the study
/// (without attachments, lessons and earlier records), all findings, and a hash over these. Names, notes and titles are in the
/// copy but not in the hash. Throws InputFault: a drawing at fault, or "issue-incomplete" without date, author or reason.
Study with_record(const Study& study, const Issue& issue, const Context& context = {});

enum class Recheck {
    equal,           ///< the same to the last printed digit
    within_brackets, ///< another value whose bracket meets the one of the record
    changed
};

struct RecheckedFinding {
    std::string variant, what;  ///< such as "psi in–out, internal"
    Recheck state = Recheck::equal;
    std::string then, now;      ///< in words
};

struct RecheckedRecord {
    Issue issue;
    std::string program;        ///< that issued it
    bool whole = false;         ///< its hash holds: nothing in it was changed
    bool refused = false;       ///< it names formulas that this program does not have (see `why`): then nothing is worked out again
    std::vector<RecheckedFinding> findings;
    std::vector<Message> why;   ///< what may explain a change
    bool holds() const;         ///< whole, worked out again, and nothing changed
};

/// Works every record of the study out again from its own copy, with the versions of formulas that it names; the study as it is now has
/// no part in it. Throws InputFault
/// for a record that cannot be read ("record-unreadable").
std::vector<RecheckedRecord> recheck(const Study& study, const Context& context = {});

std::string recheck_table(const std::vector<RecheckedRecord>& records);
std::string recheck_json(const std::vector<RecheckedRecord>& records);

}  // namespace wallfoot
