// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// The corners between two points on the way along noded edges inside the cut that never turns back, neither in x nor in
/// y (so it is at most √2 times as long as the straight line), where the shortest such way is unique; empty where it is
/// not, where it is straight, or where a point lies on no edge.
Path way_along_edges(const Arrangement& arrangement, Point from, Point to);

}  // namespace wallfoot
