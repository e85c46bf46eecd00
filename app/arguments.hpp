// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

// What the commands of the command line share.

/// Exit status of every command (FORMAT): the worst of several variants counts.
enum ExitStatus { solved = 0, other_failure = 1, input_at_fault = 2, tolerance_not_reached = 3 };

/// Throws InputFault "wrong-use".
[[noreturn]] void wrong_use(const std::string& what, const std::string& right);

/// Variants by id or name, all of them for no names. Throws InputFault "unknown-variant".
std::vector<const Variant*> chosen(const Study& study, const std::vector<std::string>& names);

/// The date of the clock, ISO 8601.
std::string today();

/// One line per fault on standard error.
void print_faults(const std::vector<Message>& messages, const std::string& file);

/// Prints on standard output; `status`, or other_failure when it cannot be written.
int print_result(const std::string& text, int status);

/// Reads the words of a command and does what they ask; faults name the file asked for.
template <class Asked>
int run_command(const std::vector<std::string>& arguments, Asked (*read)(const std::vector<std::string>&), int (*work)(const Asked&)) {
    std::string file = "wallfoot";
    try {
        const Asked asked = read(arguments);
        file = asked.file;
        return work(asked);
    } catch (const InputFault& fault) {
        print_faults(fault.faults(), file);
        return input_at_fault;
    }
}

}  // namespace wallfoot
