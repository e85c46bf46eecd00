// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot selftest`: the validation cases of ISO 10211 on this very program, as a dated page. Returns an ExitStatus.
int selftest_command(const std::vector<std::string>& arguments);

extern const char* const selftest_usage;

}  // namespace wallfoot
