// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot damp`: words after the command; the exit status.
int damp_command(const std::vector<std::string>& arguments);

extern const char* const damp_usage;

}  // namespace wallfoot
