// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot errors`: usual errors that stand in a drawing, and what others would do to it. Returns an ExitStatus.
int errors_command(const std::vector<std::string>& arguments);
extern const char* const errors_usage;

}  // namespace wallfoot
