// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot find`: studies below a folder, by what stands in them. Returns an ExitStatus.
int find_command(const std::vector<std::string>& arguments);
extern const char* const find_usage;

}  // namespace wallfoot
