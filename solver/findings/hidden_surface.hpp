// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/study/study.hpp"
#include "solver/bracket/solution.hpp"

namespace wallfoot {

/// Tells which parts of a piece of surface no hidden stretch of the section covers (as surface_minimum asks); empty where
/// nothing is hidden. A stretch covers what lies within 0.1 mm of it.
SeenParts seen_parts(const Section& section);

/// Whether the hidden stretch lies on any surface of this space, of the solved section.
bool lies_on_surface(const HiddenSurface& hidden, const Solution& solution, int space);

}  // namespace wallfoot
