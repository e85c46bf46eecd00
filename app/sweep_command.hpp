// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot sweep FILE PLAN`: every combination of a plan as rows of CSV, whole or one shard of it. Returns an ExitStatus.
int sweep_command(const std::vector<std::string>& arguments);

extern const char* const sweep_usage;

}  // namespace wallfoot
