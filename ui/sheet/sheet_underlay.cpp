// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPainter>
#include <cmath>

#include "ui/panels/words.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/sheet/sheet_pens.hpp"
#include "ui/window/document.hpp"

// What lies below the section, and places that an act asks for.
namespace wallfoot {

// ---- below the section ------------------------------------------------------------------------------------------------

/// In an image of its own, so that the hand moving over it does not paint it anew.
void Sheet::paint_below(QPainter& painter, const Section& section) {
    if (section.underlays.empty() || activity_ != Activity::draw) return;
    const double ratio = devicePixelRatioF();
    UnderlayLayer key{view_, ratio, dark_, section.underlays};
    if (!(key == below_key_) || below_.isNull()) {
        below_key_ = std::move(key);
        underlays_.tidy(*document_.study());
        below_ = QImage(QSize(static_cast<int>(std::ceil(width() * ratio)), static_cast<int>(std::ceil(height() * ratio))), QImage::Format_ARGB32_Premultiplied);
        below_.setDevicePixelRatio(ratio);
        below_.fill(Qt::transparent);
        QPainter layer(&below_);
        paint_underlays(layer, view_, *document_.study(), section, underlays_, colours());
    }
    painter.drawImage(QPointF(0, 0), below_);
}

void Sheet::underlay_arrived(const QString& name, const QString& trouble) {
    below_ = {};
    snapper_.reset();
    if (!trouble.isEmpty()) emit told(tr("%1 cannot be shown. %2").arg(name, trouble));
    update();
}

void Sheet::paint_picked_underlay(QPainter& painter) {
    const Underlay* underlay = picked_.kind == PickedKind::underlay && activity_ == Activity::draw ? find_underlay(*shown(), picked_.id.toStdString()) : nullptr;
    if (!underlay) return;
    painter.setPen(QPen(colours().selection, 1.5, Qt::DashLine));
    painter.setBrush(Qt::NoBrush);
    painter.drawPolygon(transform_of(view_, *underlay).map(QPolygonF(underlays_.content(*document_.study(), *underlay)->box)));
}

void Sheet::hold_by_underlays(Snapper& snapper, const Section& section) {
    if (activity_ != Activity::draw || section.underlays.empty()) return;
    for (const auto& [a, b] : held_lines(*document_.study(), section, underlays_)) snapper.add_line(a, b);
}

std::optional<Picked> Sheet::underlay_under(QPointF pixels) const {
    const auto section = shown();
    if (activity_ != Activity::draw) return {};
    for (auto underlay = section->underlays.rbegin(); underlay != section->underlays.rend(); ++underlay)
        if (!underlay->locked && lies_on(*underlays_.content(*document_.study(), *underlay), *underlay, view_.to_mm(pixels)))
            return Picked{PickedKind::underlay, words(underlay->id), {}};
    return {};
}

/// A picked underlay that is not locked is dragged by any place of it.
std::optional<Sheet::Drag> Sheet::underlay_handle_at(QPointF pixels) const {
    const auto section = shown();
    const Underlay* underlay = picked_.kind == PickedKind::underlay && activity_ == Activity::draw ? find_underlay(*section, picked_.id.toStdString()) : nullptr;
    if (!underlay || underlay->locked || !lies_on(*underlays_.content(*document_.study(), *underlay), *underlay, view_.to_mm(pixels))) return {};
    const Point at = free_point(view_.to_mm(pixels));
    return Drag{picked_, at, at, true, false, {}, section, nullptr, {}};
}

// ---- places that are asked for ------------------------------------------------------------------------------------------

void Sheet::ask_places(const QStringList& hints, bool held, std::function<void(const std::vector<QPointF>&)> given) {
    set_tool(Tool::pick);
    asked_ = Asked{hints, held, std::move(given), {}};
    emit told(tr("%1 (Esc gives up.)").arg(hints.front()));
    setFocus(Qt::OtherFocusReason);
    update_cursor();
    update();
}

bool Sheet::drop_asked() {
    if (!asked_) return false;
    asked_.reset();
    emit told({});
    update_cursor();
    update();
    return true;
}

QPointF Sheet::asked_place(QPointF pixels, Qt::KeyboardModifiers keys) {
    if (asked_->held) {
        const Snap snap = snap_at(pixels, keys);
        if (snap.kind == SnapKind::corner || snap.kind == SnapKind::crossing || snap.kind == SnapKind::midpoint) return {to_mm(snap.at.x), to_mm(snap.at.y)};
    }
    return view_.to_mm(pixels);
}

void Sheet::take_asked(QPointF pixels, Qt::KeyboardModifiers keys) {
    asked_->places.push_back(asked_place(pixels, keys));
    const auto count = static_cast<qsizetype>(asked_->places.size());
    if (count < asked_->hints.size()) {
        emit told(tr("%1 (Esc gives up.)").arg(asked_->hints[count]));
    } else {
        // The places stay in sight while what is asked next is typed.
        emit told({});
        const auto given = std::move(asked_->given);
        const auto places = asked_->places;
        given(places);
        asked_.reset();
        update_cursor();
    }
    update();
}

void Sheet::paint_asked(QPainter& painter) {
    if (!asked_) return;
    std::vector<QPointF> places;
    for (const QPointF p : asked_->places) places.push_back(view_.to_pixels(p.x(), p.y()));
    if (hovering_ && !places.empty()) {
        painter.setPen(QPen(colours().selection, 1.5, Qt::DashLine));
        painter.drawLine(places.back(), hover_pixels_);
    }
    painter.setBrush(Qt::NoBrush);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const QPointF p = places[i];
        painter.setPen(thin(colours().selection, 2));
        if (i > 0) painter.drawLine(places[i - 1], p);
        painter.drawLine(p - QPointF(7, 0), p + QPointF(7, 0));
        painter.drawLine(p - QPointF(0, 7), p + QPointF(0, 7));
        painter.drawText(p + QPointF(6, -6), QString::number(i + 1));
    }
}

}  // namespace wallfoot
