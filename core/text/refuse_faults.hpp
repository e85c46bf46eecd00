// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/text/message.hpp"

namespace wallfoot {

/// Throws InputFault with all that are faults; nothing when none is.
void refuse_faults(const std::vector<Message>& messages);

}  // namespace wallfoot
