// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// Gives every region of air to the space whose mark lies in it, and areas of `space` pieces to theirs. Faults:
/// air-unclaimed, air-claimed-twice, mark-in-solid, mark-outside-cut, mark-on-edge, space-without-air, unknown-space.
void claim_air(const Section& section, Arrangement& arrangement);

}  // namespace wallfoot
