// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QLineF>
#include <QPolygonF>
#include <QTransform>
#include <map>
#include <memory>
#include <vector>

#include "core/study/study.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// What an underlay shows, in its own units, y upwards.
struct UnderlayContent {
    QSizeF size;                    ///< from its lower left corner (of drawn lines: `box`)
    QRectF box;
    std::vector<QImage> levels;     ///< the image, then half as large each
    std::vector<QPolygonF> lines;   ///< to be painted (dxf)
    std::vector<QLineF> held;       ///< straight lines that hold the cursor
    QString trouble;                ///< why nothing can be shown
};

/// The image or the lines of a file, for one underlay.
UnderlayContent content_of(const Attachment& attachment, UnderlayKind kind, int page);

/// Unpacks files once and keeps what they show while they are in use.
class UnderlayStore {
  public:
    std::shared_ptr<const UnderlayContent> content(const Study& study, const Underlay& underlay);
    /// Lets go of what this study has no use for.
    void tidy(const Study& study);

  private:
    using Key = std::tuple<std::string, UnderlayKind, int>;
    std::map<Key, std::shared_ptr<const UnderlayContent>> kept_;
};

/// From an underlay's own units to pixels.
QTransform transform_of(const View& view, const Underlay& underlay);
/// Paints the visible underlays of a section, lowest first.
void paint_underlays(QPainter& painter, const View& view, const Study& study, const Section& section, UnderlayStore& store, const SheetColours& colours);
/// Whether a place (mm) lies on what a visible underlay shows.
bool lies_on(const UnderlayContent& content, const Underlay& underlay, QPointF mm);
/// Where the straight lines of the visible underlays lie, on the grid.
std::vector<std::pair<Point, Point>> held_lines(const Study& study, const Section& section, UnderlayStore& store);

}  // namespace wallfoot
