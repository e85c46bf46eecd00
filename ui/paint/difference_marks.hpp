// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/study/differences.hpp"
#include "ui/paint/labels.hpp"

namespace wallfoot {

/// Outlines of what differs, with the number of their sentences, inside `shown` (pixels); what is gone, or stood elsewhere, is dashed.
void paint_difference_marks(QPainter& painter, const View& view, const MarkedDifferences& differences, const QRectF& shown, const SheetColours& colours, LabelPlaces& places);

/// The sentences with their numbers, at the bottom right of `bounds`: as many as have room, and how many more there are.
/// `base`: name of what it differs from.
QRectF difference_list_rect(const QRectF& bounds, const MarkedDifferences& differences, const QString& base);
void paint_difference_list(QPainter& painter, const QRectF& where, const MarkedDifferences& differences, const QString& base, const SheetColours& colours);

}  // namespace wallfoot
