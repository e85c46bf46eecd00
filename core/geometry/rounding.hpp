// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/geometry/point.hpp"

namespace wallfoot {

using Wide = __int128;  ///< exact products of three lengths on the grid

/// Nearest whole number to numerator / denominator, halves upwards: the pixel [c − ½, c + ½) that holds the exact value.
/// denominator ≠ 0.
constexpr Micrometres nearest(Wide numerator, Wide denominator) {
    if (denominator < 0) {
        numerator = -numerator;
        denominator = -denominator;
    }
    const Wide n = 2 * numerator + denominator;
    const Wide d = 2 * denominator;
    const Wide quotient = n / d;
    return static_cast<Micrometres>(n % d < 0 ? quotient - 1 : quotient);
}

}  // namespace wallfoot
