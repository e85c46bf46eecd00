// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/foot/foot_report.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// The zones in which frost is most likely, hatched over the section, and what the hatch means; inside `shown` (pixels).
void paint_frost_bands(QPainter& painter, const View& view, const FootReport& report, const QRectF& shown, const SheetColours& colours, LabelPlaces& places);

}  // namespace wallfoot
