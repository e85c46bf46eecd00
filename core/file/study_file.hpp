// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// A study as read, with what was odd about it (unknown fields, upgrades), never a fault.
struct ReadStudy {
    Study study;
    std::vector<Message> warnings;
};

/// Reads and validates a study. Every fault is collected with its JSON pointer and, where there is one, its point.
/// Throws InputFault: not JSON (with line and column), duplicate key, wrong type, out of range, unknown reference,
/// duplicate id, bad outline, a newer file version than this program knows.
ReadStudy read_study(const std::string& json);
/// Same, from a file. Throws InputFault when it cannot be opened or is larger than 200 MB.
ReadStudy load_study(const std::string& path);

/// Canonical JSON text: keys sorted, one number form, points on one line; read_study(write_study(s)) == s.
std::string write_study(const Study& study);
/// Writes to a temporary file beside `path`, flushes it to disk and renames: the old file stays whole on any error.
/// Throws std::runtime_error with the reason.
void save_study(const Study& study, const std::string& path);

/// "sha256" and 64 hex digits: of the canonical bytes of the variant's section, the materials it uses, convention,
/// building and rule sets; titles, names, notes, texts and underlays do not count.
std::string input_hash(const Study& study, const Variant& variant);

/// A convention from its JSON text (resources/conventions/*.json or embedded); faults carry pointers below `pointer`.
Convention read_convention(const std::string& json, const std::string& pointer = "");
/// The convention that comes with the program; throws std::out_of_range for an unknown id.
Convention shipped_convention(const std::string& id);
/// Those that the study carries, then those of the program (and of --resources) that it does not.
std::vector<Convention> known_conventions(const Study& study);
/// The study by another convention, which it then carries. Throws InputFault "unknown-convention".
Study with_convention(const Study& study, const std::string& id);

}  // namespace wallfoot
