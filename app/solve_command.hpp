// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// Exit status of every command (FORMAT): the worst of several variants counts.
enum ExitStatus { solved = 0, other_failure = 1, input_at_fault = 2, tolerance_not_reached = 3 };

/// `wallfoot solve FILE …`: prints findings on standard output, one line per fault on standard error.
int solve_command(const std::vector<std::string>& arguments);

extern const char* const solve_usage;

}  // namespace wallfoot
