// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/water/report.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// What the water's way says of an area, worst first. Told by pattern as well as by colour.
enum class WaterLook { reached, lap_not_proven, enclosed, no_path };

/// Areas that draw water with the pattern of what is said of them, inside `shown` (pixels).
void paint_water_areas(QPainter& painter, const View& view, const WaterReport& report, const QRectF& shown, const SheetColours& colours);
/// Ways of the water to `piece` (index; -1: to every piece of masonry that is reached), laps that are not proven, and what
/// is proposed for the piece.
void paint_water_ways(QPainter& painter, const View& view, const WaterReport& report, int piece, const QRectF& shown, const SheetColours& colours);
/// The key of patterns and lines at the bottom right of `bounds`; returns its place.
QRectF water_key_rect(const QRectF& bounds);
void paint_water_key(QPainter& painter, const QRectF& where, const SheetColours& colours);

}  // namespace wallfoot
