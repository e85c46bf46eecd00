// SPDX-License-Identifier: GPL-3.0-or-later
#include <QDragMoveEvent>
#include <QFileInfo>
#include <QMimeData>
#include <QUrl>

#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

// Dropping a file below the section, or a material onto a piece. The piece under the hand is picked on the way, so that one sees which gets it.
namespace wallfoot {

namespace {

/// The first file that can lie below the section; empty when there is none.
QString dropped_file(const QMimeData& data) {
    const QStringList kinds{QStringLiteral("png"), QStringLiteral("jpg"), QStringLiteral("jpeg"), QStringLiteral("pdf"), QStringLiteral("dxf")};
    for (const QUrl& url : data.urls())
        if (kinds.contains(QFileInfo(url.toLocalFile()).suffix().toLower())) return url.toLocalFile();
    return {};
}

}  // namespace

std::optional<Picked> Sheet::piece_under(QPointF pixels) const {
    const auto section = shown();
    if (!section) return std::nullopt;
    const auto pieces = pieces_at(*section, free_point(view_.to_mm(pixels)));
    if (pieces.empty()) return std::nullopt;
    return Picked{PickedKind::piece, QString::fromStdString(section->pieces[pieces.front()].id)};
}

void Sheet::dragEnterEvent(QDragEnterEvent* event) {
    if (document_.has_study() && !dropped_file(*event->mimeData()).isEmpty()) return event->acceptProposedAction();
    if (event->mimeData()->hasFormat(QLatin1String(material_mime)) && !outline_) event->acceptProposedAction();
}

void Sheet::dragMoveEvent(QDragMoveEvent* event) {
    if (!dropped_file(*event->mimeData()).isEmpty()) return event->acceptProposedAction();
    const auto piece = piece_under(event->position());
    if (piece) {
        set_picked(*piece);
        event->acceptProposedAction();
    } else {
        event->ignore();
    }
}

void Sheet::dropEvent(QDropEvent* event) {
    if (const QString path = dropped_file(*event->mimeData()); !path.isEmpty()) {
        event->acceptProposedAction();
        emit file_dropped(path, view_.to_mm(event->position()));
        return;
    }
    const auto piece = piece_under(event->position());
    if (!piece) return;
    set_picked(*piece);
    event->acceptProposedAction();
    emit material_dropped(QString::fromUtf8(event->mimeData()->data(QLatin1String(material_mime))));
}

}  // namespace wallfoot
