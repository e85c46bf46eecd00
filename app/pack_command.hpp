// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

extern const char* const pack_usage;

/// `wallfoot pack`: what another program needs to check the study. Returns the exit status.
int pack_command(const std::vector<std::string>& arguments);

}  // namespace wallfoot
