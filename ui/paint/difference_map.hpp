// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "ui/paint/paint.hpp"

namespace wallfoot {

/// Colour of a difference from −1 (colder) over 0 to 1 (warmer); its making is told in colour_map.cpp.
QColor difference_colour(double t);

/// Temperatures of one variant less those of another, pixel by pixel, where both have body.
struct TemperatureDifference {
    QSize size;                 ///< device pixels
    double ratio = 1;           ///< device pixels per pixel
    std::vector<float> kelvin;  ///< row by row from the top; not a number where one of them has none
    double largest = 0;         ///< of the magnitudes, K; 0 also where nothing is compared
};
TemperatureDifference temperature_difference(const View& view, double device_pixel_ratio, const Findings& of, const Findings& base);

/// Steps of the lines and the end of the scale, K, symmetric about 0. `largest` may be 0.
struct DifferenceScale {
    double end = 1, step = 0.5;
};
DifferenceScale difference_scale(double largest);

/// Colours with a line at every step but 0; what is colder is hatched, so that the sign is seen without colour.
QImage difference_map(const TemperatureDifference& difference, DifferenceScale scale);

/// A lying key of about 260 × 44: colours, hatching, numbers and unit.
void paint_difference_key(QPainter& painter, QRectF where, DifferenceScale scale, const SheetColours& colours);

}  // namespace wallfoot
