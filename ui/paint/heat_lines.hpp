// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// What lies over a heat map, beside the section itself.
struct HeatLook {
    TemperatureRange range;
    bool isotherms = true, flow_lines = true;
    double opacity = 1;                      ///< of the lines
    const SurfaceFinding* lowest = nullptr;  ///< coldest point to be marked; null = none
};

/// Steps of the two families of lines as painted, K and W/m; 0 = not painted.
struct LineSteps {
    double kelvins = 0, watts = 0;
};

/// The section over its heat map: pieces, heat-flow lines, isotherms, marks and the coldest point. Marks come first to
/// their places, the isotherms' labels take what is left; `places` holds what is to be kept free besides. `shown`: the
/// part of the cut that is to be seen, in pixels. `section` and `arrangement` may be those of a drawing under the hand,
/// newer than the findings.
LineSteps paint_over_heat(QPainter& painter, const View& view, const Study& study, const Section& section,
                          const Arrangement* arrangement, const Findings& findings, const SectionLook& look,
                          const HeatLook& heat, const QRectF& shown, LabelPlaces& places);

/// A ring at the coldest point, with its temperature when `labelled`.
void paint_lowest(QPainter& painter, const View& view, const SurfaceFinding& lowest, const SheetColours& colours,
                  bool labelled, LabelPlaces& places);
/// Room the ring takes, pixels.
QRectF lowest_ring(const View& view, const SurfaceFinding& lowest);

/// A piece of a line for a key, on the map's colours as the line is seen in the picture.
void paint_line_sample(QPainter& painter, const QRectF& where, const QPen& pen, bool arrow);

}  // namespace wallfoot
