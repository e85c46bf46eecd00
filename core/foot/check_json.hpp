// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/foot/check.hpp"

namespace wallfoot {

/// Checks as the text of a JSON list.
std::string checks_json(const std::vector<Check>& checks);

}  // namespace wallfoot
