// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// The frame: the cut with the distances beyond it (RULES 3; for `auto` ISO 10211:2017 5.2.4 by way of the convention's
/// factors). `drawn` is the section resolved without anything beyond; it is looked at only where a side is `auto`.
/// Fault beyond-too-far for a side that would leave ±500 m (then it is drawn to there).
Rect reach(const Study& study, const Section& section, const Arrangement& drawn, std::vector<Message>& messages);

/// Whether any side's distance is `auto`.
bool has_automatic(const Section& section);

}  // namespace wallfoot
