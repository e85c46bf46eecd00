// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot foot`: the rules at the wall foot with verdicts, what is open, and the questions that would decide. Returns an
/// ExitStatus.
int foot_command(const std::vector<std::string>& arguments);
extern const char* const foot_usage;

}  // namespace wallfoot
