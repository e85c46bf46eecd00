// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot drawing FILE --out x.dxf|x.svg [--variant ID]`: writes the lines of one variant's section, in mm. Returns an
/// ExitStatus; one line per fault on standard error, nothing written then.
int drawing_command(const std::vector<std::string>& arguments);

extern const char* const drawing_usage;

}  // namespace wallfoot
