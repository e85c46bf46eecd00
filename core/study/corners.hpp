// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/study/study.hpp"

namespace wallfoot {

/// Corners of all outlines, holes and membranes; a file with more than most_corners is not read.
std::size_t corners_of(const Section& section);

}  // namespace wallfoot
