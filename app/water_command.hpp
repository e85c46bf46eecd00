// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot water FILE …`: prints the water's way on standard output, one line per fault on standard error.
/// Returns an ExitStatus.
int water_command(const std::vector<std::string>& arguments);

extern const char* const water_usage;

}  // namespace wallfoot
