// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <utility>

#include "core/geometry/point.hpp"

namespace wallfoot {

/// Outline clipped to a rectangle (Sutherland and Hodgman 1974), corners on the grid. Parts outside leave edges that run
/// to and fro along the border: they cancel by parity. The same slanted edge gives the same crossing in whichever
/// direction it is drawn. May be empty.
Outline clip(const Outline& outline, const Rect& rect);

/// The part of a straight line inside a rectangle, if it has a length there.
std::optional<std::pair<Point, Point>> clip(Point a, Point b, const Rect& rect);

}  // namespace wallfoot
