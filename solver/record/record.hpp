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

/// Such a record by itself, as JSON text, and the study with one added behind those it has: a study that went on meanwhile loses
/// nothing. Throw as above.
std::string record_of(const Study& study, const Issue& issue, const Context& context = {});
Study with_issued(const Study& study, const std::string& record);

/// A record as it was frozen; nothing is worked out.
struct IssuedRecord {
    Issue issue;
    std::string program, hash;
    bool whole = false;         ///< its hash holds
    struct Frozen {
        std::string variant, what, value;  ///< value with its bounds, in words
        bool operator==(const Frozen&) const = default;
    };
    std::vector<Frozen> findings;
    std::vector<Message> trouble;  ///< why it cannot be read, or not in full; empty else
};
/// All of the study, in the order in which they were issued; one that cannot be read says so and stays as it is.
std::vector<IssuedRecord> issued_records(const Study& study);

enum class Recheck {
    equal,           ///< the same to the last printed digit
    within_brackets, ///< another value whose bracket meets the one of the record
    changed
};
/// "equal", "inside the brackets", "CHANGED".
const char* recheck_words(Recheck state);

struct RecheckedFinding {
    std::string variant, what;  ///< such as "psi in–out, internal"
    Recheck state = Recheck::equal;
    std::string then, now;      ///< in words
};

struct RecheckedRecord {
    Issue issue;
    std::string program;        ///< that issued it
    bool whole = false;         ///< its hash holds: nothing that results rest on was changed; names, notes and evidence are not in it
    bool refused = false;       ///< it names formulas that this program does not have (see `why`): then nothing is worked out again
    std::vector<RecheckedFinding> findings;
    std::vector<Message> why;   ///< what may explain a change
    bool holds() const;         ///< whole, worked out again, and nothing changed
};

/// Works every record of the study out again from its own copy, with the versions of formulas that it names; the study as it is now has
/// no part in it. Throws InputFault
/// for a record that cannot be read ("record-unreadable").
std::vector<RecheckedRecord> recheck(const Study& study, const Context& context = {});

/// The same for one of them, from 0.
RecheckedRecord recheck_record(const Study& study, std::size_t number, const Context& context = {});

std::string recheck_table(const std::vector<RecheckedRecord>& records);
std::string recheck_json(const std::vector<RecheckedRecord>& records);

}  // namespace wallfoot
