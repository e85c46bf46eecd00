// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot compare FILE [OTHER] …`: returns the exit status.
int compare_command(const std::vector<std::string>& arguments);
extern const char* const compare_usage;

}  // namespace wallfoot
