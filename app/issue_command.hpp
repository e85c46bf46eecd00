// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot issue FILE`: freezes a record of all results in the study. Returns an ExitStatus.
int issue_command(const std::vector<std::string>& arguments);
/// `wallfoot check FILE`: works every record out again from its own data. 0 when all hold, 1 when one was altered or changed.
int check_command(const std::vector<std::string>& arguments);

extern const char* const issue_usage;

}  // namespace wallfoot
