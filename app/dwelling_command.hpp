// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot dwelling FILE`: the junctions of a dwelling, what is open, the sums, and the sheet to be typed into a
/// calculation. Returns an ExitStatus.
int dwelling_command(const std::vector<std::string>& arguments);

extern const char* const dwelling_usage;

}  // namespace wallfoot
