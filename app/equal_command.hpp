// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

extern const char* const equal_usage;
int equal_command(const std::vector<std::string>& arguments);

}  // namespace wallfoot
