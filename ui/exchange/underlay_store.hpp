// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QLineF>
#include <QPolygonF>
#include <QTransform>
#include <functional>
#include <map>
#include <memory>
#include <vector>

#include "core/study/study.hpp"
#include "ui/exchange/background.hpp"
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
    bool loading = false;           ///< nothing is there yet
};

/// The image or the lines of a file, for one underlay; `trouble` says why there is nothing.
UnderlayContent content_of(const Attachment& attachment, UnderlayKind kind, int page);
/// Same; throws InputFault where content_of has trouble.
UnderlayContent sound_content_of(const Attachment& attachment, UnderlayKind kind, int page);

/// Unpacks files once, away from the window's thread, and keeps what they show while they are in use.
class UnderlayStore {
  public:
    /// Called when what an underlay of the file `name` shows has come, or why nothing can be shown: once for each.
    using Arrived = std::function<void(const QString& name, const QString& trouble)>;
    explicit UnderlayStore(Arrived arrived = {}) : arrived_(std::move(arrived)) {}
    /// Never null and never waited for: what is not there yet is `loading`.
    std::shared_ptr<const UnderlayContent> content(const Study& study, const Underlay& underlay);
    /// Takes in what was unpacked already.
    void keep(const Underlay& underlay, std::shared_ptr<const UnderlayContent> content) { kept_[key_of(underlay)] = std::move(content); }
    /// Lets go of what this study has no use for.
    void tidy(const Study& study);
    bool idle() const { return background_.idle(); }

  private:
    using Key = std::tuple<std::string, UnderlayKind, int>;
    static Key key_of(const Underlay& underlay) { return {underlay.attachment, underlay.kind, underlay.page}; }

    Arrived arrived_;
    std::map<Key, std::shared_ptr<const UnderlayContent>> kept_;
    Background background_;
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
