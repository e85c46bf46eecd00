// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// A face met along a straight line, µm along it.
struct Met {
    double from = 0, to = 0;
    int face = -1;
};

/// Faces along the level line at half of `y2` (a height of no vertex), from left to right through the whole frame.
std::vector<Met> row_at(const Arrangement& arrangement, Micrometres y2);
/// Faces along the upright line at half of `x2` (where no vertex stands), from the bottom to the top of the frame.
std::vector<Met> column_at(const Arrangement& arrangement, Micrometres x2);

}  // namespace wallfoot
