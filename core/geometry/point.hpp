// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <compare>
#include <cstdint>
#include <vector>

namespace wallfoot {

/// Length or coordinate on the grid of the study file: whole micrometres.
using Micrometres = std::int64_t;
constexpr Micrometres um_per_mm = 1000;
/// No coordinate may exceed 500 m (FORMAT): orientation tests then stay exact in 64 bits.
constexpr Micrometres coordinate_limit = 500'000'000;

/// A point of the drawing on the 1 µm grid, y upwards.
struct Point {
    Micrometres x = 0;
    Micrometres y = 0;
    auto operator<=>(const Point&) const = default;
};

using Outline = std::vector<Point>;  ///< closed; the last corner joins the first
using Path = std::vector<Point>;     ///< open polyline

/// Doubled area in µm²; exact for every outline inside the coordinate limit.
using Area2 = __int128;

/// Twice the signed area of a, b, c: positive when they turn anticlockwise. Exact.
constexpr std::int64_t cross(Point a, Point b, Point c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/// Axis-parallel rectangle, left < right and bottom < top when it is valid.
struct Rect {
    Micrometres left = 0, bottom = 0, right = 0, top = 0;
    auto operator<=>(const Rect&) const = default;
    constexpr bool contains(Point p) const {
        return left <= p.x && p.x <= right && bottom <= p.y && p.y <= top;
    }
    constexpr Micrometres width() const { return right - left; }
    constexpr Micrometres height() const { return top - bottom; }
};

constexpr double to_mm(Micrometres v) { return static_cast<double>(v) / 1000.0; }
constexpr double to_m(Micrometres v) { return static_cast<double>(v) * 1e-6; }
/// µm.
inline double distance(Point a, Point b) { return std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)); }
/// Nearest grid value to a length in mm; the caller has checked that it is finite and within the limit.
inline Micrometres from_mm(double mm) {
    const double um = mm * 1000.0;
    return static_cast<Micrometres>(um < 0 ? um - 0.5 : um + 0.5);
}

}  // namespace wallfoot
