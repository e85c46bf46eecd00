// SPDX-License-Identifier: GPL-3.0-or-later
#include <QDragMoveEvent>
#include <QMimeData>

#include "ui/sheet/sheet.hpp"

// Dropping a material onto a piece. The piece under the hand is picked on the way, so that one sees which gets it.
namespace wallfoot {

std::optional<Picked> Sheet::piece_under(QPointF pixels) const {
    const auto section = shown();
    if (!section) return std::nullopt;
    const auto pieces = pieces_at(*section, free_point(view_.to_mm(pixels)));
    if (pieces.empty()) return std::nullopt;
    return Picked{PickedKind::piece, QString::fromStdString(section->pieces[pieces.front()].id)};
}

void Sheet::dragEnterEvent(QDragEnterEvent* event) {
    if (event->mimeData()->hasFormat(QLatin1String(material_mime)) && !outline_) event->acceptProposedAction();
}

void Sheet::dragMoveEvent(QDragMoveEvent* event) {
    const auto piece = piece_under(event->position());
    if (piece) {
        set_picked(*piece);
        event->acceptProposedAction();
    } else {
        event->ignore();
    }
}

void Sheet::dropEvent(QDropEvent* event) {
    const auto piece = piece_under(event->position());
    if (!piece) return;
    set_picked(*piece);
    event->acceptProposedAction();
    emit material_dropped(QString::fromUtf8(event->mimeData()->data(QLatin1String(material_mime))));
}

}  // namespace wallfoot
