// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QLineF>
#include <optional>
#include <string>
#include <vector>

#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// The length that U of a flanking element is multiplied by, as it is drawn beside the section (pixels).
struct ElementLength {
    std::string element;              ///< id
    CutSide side = CutSide::top;
    std::optional<Point> reference;   ///< that it is measured to; nothing where it is one line from end to end
    QLineF line;                      ///< from the reference to the cut
    std::optional<QLineF> from_side;  ///< helping line from the reference
    bool from_beyond = false, to_beyond = false;  ///< runs on beyond what is drawn, where the length goes further
    QString text;
    QPointF centre;                   ///< of its text
    bool upright = false;             ///< the text is read from the right, along an upright line
    QRectF label() const;
};

/// With `all` those of the elements that psi between the headline's spaces takes off in these lengths (of all elements
/// where there is no such psi); that of the element `also` in any case. `room`: what there is to draw in, pixels.
std::vector<ElementLength> element_lengths(const View& view, const Findings& findings, LengthSystem lengths, bool all, const std::string& also, const QRectF& room);
/// In a look of their own: a ring where they begin, an arrow at the cut. `picked`: id of the one that is picked.
void paint_element_lengths(QPainter& painter, const View& view, const std::vector<ElementLength>& lengths, const SheetColours& colours, const std::string& picked);

/// Stretches of surface that are left out of the lowest temperature, with oblique strokes along them.
void paint_hidden(QPainter& painter, const View& view, const Section& section, const SheetColours& colours, LabelPlaces& places);
/// The stretch alone, inside `bounds` (pixels).
void paint_hidden_line(QPainter& painter, const View& view, const Path& path, const QRectF& bounds, QColor ink, double width);

}  // namespace wallfoot
