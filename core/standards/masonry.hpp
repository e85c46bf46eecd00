// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

/// Masonry as one even material: units in mortar, from the conductivities of both. Conductivities W/(m·K). Every function
/// throws OutsideStandard for values that are not finite or outside the stated range.
namespace wallfoot::masonry {

/// λ = d/R of a unit whose paper states its resistance: ISO 6946:2017, 6.7.1.1 (from memory), the other way round.
/// thickness_m > 0, resistance > 0 in m²·K/W.
double conductivity_of_unit(double thickness_m, double resistance);

/// One unit of the face of a wall with the bed joint below it and the perpend beside it: the part that repeats. Joints run
/// through the whole thickness.
struct Bond {
    double length_mm = 0, height_mm = 0;  ///< of the unit, > 0
    double bed_mm = 0, perpend_mm = 0;    ///< thickness of the joints, ≥ 0; 0 = none
    double unit = 0, mortar = 0;          ///< W/(m·K), > 0
};

struct Conductivities {
    double mortar_share = 0;  ///< of the face
    double across = 0;        ///< through the wall
    double up = 0;            ///< along its height
    double up_even = 0;       ///< the same with every course evened out first: the other limit
};

/// Through the wall: unit and mortar side by side by their shares of the face, λ = (1 − f)·λ_unit + f·λ_mortar (EN 1745,
/// masonry of solid units; from memory). For one layer by itself this is both limits of ISO 6946, 6.7.2.
/// Along the height: columns side by side by their widths – unit over bed joint over unit …, and the perpends –, which is the
/// upper limit R′ of the resistance of ISO 6946, 6.7.2.3 (parallel paths; from memory), so the smaller conductivity.
/// `up_even` is its lower limit R″ (6.7.2.4): courses of unit and perpend evened out, over bed joints. Perpends are taken as
/// standing above each other; where a bond staggers them, `up_even` still is a limit from above.
Conductivities conductivities(const Bond& bond);

}  // namespace wallfoot::masonry
