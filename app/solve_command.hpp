// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot solve FILE …`: prints findings on standard output, one line per fault on standard error.
int solve_command(const std::vector<std::string>& arguments);

extern const char* const solve_usage;

}  // namespace wallfoot
