// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/arrangement/vertical_ray.hpp"
#include "core/standards/direction.hpp"

namespace wallfoot {

/// Smallest rectangle, at any angle, around a set of points.
struct EnclosingRectangle {
    double shorter_m = 0, longer_m = 0;
    double short_x = 0, short_y = 0;    ///< unit vector along the shorter side; the more level one of a square
    double middle_x = 0, middle_y = 0;  ///< µm
};
/// At least three points that are not on one line.
EnclosingRectangle enclosing_rectangle(std::vector<Point> points);

/// An airspace piece read as an unventilated layer (RULES 14, ISO 6946).
struct AirspaceReading {
    double conductivity = 0;   ///< d/R, W/(m·K)
    double thickness_m = 0;    ///< d, the shorter side of the smallest enclosing rectangle
    Direction direction = Direction::horizontal;  ///< of the heat flow across d
    double area_share = 1;     ///< area over that of the rectangle
    double length_ratio = 0;   ///< longer over shorter side
    bool too_thick = false;    ///< thicker than the table goes; its last line serves
};
/// `faces`: the connected faces of one airspace, sorted. `temperatures` of section.spaces, °C.
AirspaceReading read_airspace(const Section& section, const Arrangement& arrangement, const std::vector<int>& faces,
                              const VerticalRay& ray, const std::vector<double>& temperatures);

}  // namespace wallfoot
