// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// As the functions of paint.hpp, with labels kept off what is already taken in `places`.
double paint_isotherms(QPainter& painter, const View& view, const Solution& solution,
                       const std::vector<double>& temperatures, TemperatureRange range, const QRectF& shown,
                       LabelPlaces& places);
double paint_heat_flow_lines(QPainter& painter, const View& view, const Solution& solution,
                             const std::vector<double>& temperatures, const QRectF& shown);

/// Pens of the two families: unbroken and thin against broken and thicker, to be told apart without colour.
QPen isotherm_pen();
QPen heat_flow_pen();

}  // namespace wallfoot
