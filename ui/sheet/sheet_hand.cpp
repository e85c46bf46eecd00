// SPDX-License-Identifier: GPL-3.0-or-later
#include <QMouseEvent>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"
#include "ui/sheet/entry_box.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

// The hand on the sheet: pointing, clicking, and dragging what it holds (sheet_handles.cpp says what that may be).
namespace wallfoot {

namespace {

Qt::CursorShape of_hand(PickedKind kind, bool corner) {
    if (kind == PickedKind::level) return Qt::SizeVerCursor;
    return corner ? Qt::SizeAllCursor : Qt::PointingHandCursor;
}

}  // namespace

// ---- pointing -------------------------------------------------------------------------------------------------------

Snap Sheet::snap_at(QPointF pixels, Qt::KeyboardModifiers keys) {
    const QPointF mm = view_.to_mm(pixels);
    if (keys & (Qt::ControlModifier | Qt::AltModifier)) return {free_point(mm), SnapKind::free};
    if (outline_ && outline_->drawing()) {
        const QPointF first = view_.to_pixels(outline_->corners().front());
        if (std::hypot(first.x() - pixels.x(), first.y() - pixels.y()) <= 9) return {outline_->corners().front(), SnapKind::corner};
    }
    const auto section = drag_ ? drag_->base : shown();
    if (!section) return {free_point(mm), SnapKind::free};
    // A mark stands in air: edges do not hold it.
    const bool in_air = tool_ == Tool::space || tool_ == Tool::fill || (drag_ && drag_->of.kind == PickedKind::space);
    if (in_air) return grid_point(mm, grid_step_mm(view_.pixels_per_mm));
    if (!snapper_ || snapper_of_ != section) {
        snapper_.emplace(drag_ ? snapper_for(*drag_) : Snapper(*section));
        hold_by_underlays(*snapper_, *section);
        snapper_of_ = section;
    }
    const bool in_line = outline_ && outline_->drawing() && (tool_ == Tool::polygon || tool_ == Tool::membrane);
    return snapper_->snap(mm, reach_mm(), grid_step_mm(view_.pixels_per_mm), in_line ? std::optional(outline_->corners().back()) : std::nullopt);
}

void Sheet::hover_to(QPointF pixels, Qt::KeyboardModifiers keys) {
    hovering_ = true;
    hover_pixels_ = pixels;
    hover_ = snap_at(pixels, keys);
    if (outline_) {
        outline_->hover(hover_);
        if (entry_->isVisible()) tell_entry();
    } else if (!drag_ && !asked_) {
        handle_ = handle_at(pixels);
    }
    update_cursor();
    emit hovered(tool_ == Tool::pick && !drag_ ? view_.to_mm(pixels) : QPointF(to_mm(hover_.at.x), to_mm(hover_.at.y)), name_of(hover_.kind));
    update();
}

void Sheet::update_cursor() {
    if (panning_) setCursor(Qt::ClosedHandCursor);
    else if (space_held_) setCursor(Qt::OpenHandCursor);
    else if (tool_ != Tool::pick || asked_) setCursor(Qt::CrossCursor);
    else if (drag_ || handle_) setCursor(of_hand((drag_ ? drag_ : handle_)->of.kind, (drag_ ? drag_ : handle_)->corner));
    else setCursor(Qt::ArrowCursor);
}

void Sheet::mousePressEvent(QMouseEvent* event) {
    press_pixels_ = event->position();
    if (event->button() == Qt::MiddleButton || (event->button() == Qt::LeftButton && space_held_)) {
        panning_ = true;
        update_cursor();
        return;
    }
    if (!document_.has_study()) return;
    asked_press_ = asked_ && event->button() == Qt::LeftButton;
    if (asked_press_) return take_asked(event->position(), event->modifiers());
    if (event->button() == Qt::RightButton && outline_) {
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        else drop_outline();
        return;
    }
    if (event->button() != Qt::LeftButton) return;
    hover_to(event->position(), event->modifiers());
    if (outline_) {
        outline_step(outline_->commit());
    } else if (const auto handle = handle_at(event->position())) {
        if (handle->of.kind != PickedKind::piece) set_picked(handle->of);
        drag_ = handle_ = handle;
    }
}

void Sheet::mouseMoveEvent(QMouseEvent* event) {
    if (panning_) {
        pan_by(event->position() - hover_pixels_);
        hover_pixels_ = event->position();
        return;
    }
    if (drag_ && !drag_->begun && (event->position() - press_pixels_).manhattanLength() > 4) {
        drag_->begun = true;
        snapper_.reset();
        emit told(tr("%1; Esc leaves it where it was.").arg(name_of_drag(*drag_)));
    }
    hover_to(event->position(), event->modifiers());
    if (drag_ && drag_->begun) drag_to(event->position(), event->modifiers());
}

void Sheet::mouseReleaseEvent(QMouseEvent* event) {
    if (panning_ && event->button() != Qt::RightButton) {
        panning_ = false;
        update_cursor();
        return;
    }
    if (event->button() == Qt::LeftButton && std::exchange(asked_press_, false)) return;
    if (event->button() != Qt::LeftButton || tool_ != Tool::pick || !document_.has_study()) return;
    if (drag_ && drag_->begun) {
        end_drag(true);
        return;
    }
    // A click on a handle may begin a double click: it leaves the pick as it is.
    const bool on_handle = drag_.has_value();
    drag_.reset();
    if (!on_handle && (event->position() - press_pixels_).manhattanLength() <= 4) pick_at(event->position());
    hover_to(event->position(), event->modifiers());
}

void Sheet::mouseDoubleClickEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !document_.has_study()) return;
    if (asked_) {
        asked_press_ = true;  // one place, however quickly it was clicked twice
        return;
    }
    if (outline_) {
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        return;
    }
    const auto handle = handle_at(event->position());
    if (!handle || handle->of.kind == PickedKind::space || handle->of.kind == PickedKind::level || handle->of.kind == PickedKind::underlay) return;
    change_corner_at(*handle, event->position(), event->modifiers());
    // The second press holds what lies there now, so that its release picks nothing else.
    press_pixels_ = event->position();
    drag_ = handle_at(event->position());
}

void Sheet::leaveEvent(QEvent*) {
    hovering_ = false;
    emit hovered(QPointF(NAN, NAN), {});
    update();
}

// ---- dragging -------------------------------------------------------------------------------------------------------

void Sheet::drag_to(QPointF pixels, Qt::KeyboardModifiers keys) {
    const Snap snap = snap_at(pixels, keys);
    Drag& drag = *drag_;
    Point to = snap.at;
    if (drag.of.kind == PickedKind::level) {
        to.x = drag.a.x;
    } else if (!drag.corner) {
        // An edge moves square to itself.
        const double ex = to_mm(drag.b.x - drag.a.x), ey = to_mm(drag.b.y - drag.a.y);
        const double length = std::hypot(ex, ey);
        const double across = (-to_mm(to.x - drag.a.x) * ey + to_mm(to.y - drag.a.y) * ex) / length;
        to = {drag.a.x + from_mm(-across * ey / length), drag.a.y + from_mm(across * ex / length)};
    }
    if (drag.to == to) return;
    drag.to = to;
    try {
        auto preview = std::make_shared<const Section>(dragged(drag, to));
        drag.preview = preview;
        if (drag.of.kind == PickedKind::level) emit told(tr("height %1").arg(QString::fromStdString(length_text(to_mm(to.y)))));
        else emit told(tr("dx %1  dy %2").arg(QString::fromStdString(length_text(to_mm(to.x - drag.a.x))), QString::fromStdString(length_text(to_mm(to.y - drag.a.y)))));
        emit previewed(preview);
    } catch (const InputFault& fault) {
        emit told(sentence(fault.faults()));
    }
    update();
}

void Sheet::end_drag(bool commit) {
    if (!drag_) return;
    const Drag drag = *std::exchange(drag_, std::nullopt);
    snapper_.reset();
    handle_.reset();
    emit previewed(nullptr);
    if (commit && drag.preview && document_.variant().section == drag.base)
        emit told(sentence(document_.edit(name_of_drag(drag), [&](const Section&) { return *drag.preview; })));
    if (commit && drag.of.kind == PickedKind::space && drag.to && picked_.id == drag.of.id) set_picked({PickedKind::space, picked_.id, *drag.to});
    update_cursor();
    update();
}

void Sheet::move_picked(int dx_mm, int dy_mm) {
    if (!document_.has_study() || drag_) return;
    const std::string id = picked_.id.toStdString();
    const Micrometres dx = dx_mm * um_per_mm, dy = dy_mm * um_per_mm;
    if (!outline_ && picked_.kind == PickedKind::piece) {
        emit told(sentence(document_.edit(tr("Move piece"), [&](const Section& s) { return move_piece(s, id, dx, dy); })));
    } else if (!outline_ && picked_.kind == PickedKind::membrane) {
        emit told(sentence(document_.edit(tr("Move membrane"), [&](const Section& s) { return move_membrane(s, id, dx, dy); })));
    } else if (!outline_ && picked_.kind == PickedKind::space && picked_.mark) {
        const Point from = *picked_.mark, to{from.x + dx, from.y + dy};
        const auto refusals = document_.edit(tr("Move space mark"), [&](const Section& s) { return move_mark(s, id, from, to); });
        if (refusals.empty()) set_picked({PickedKind::space, picked_.id, to});
        emit told(sentence(refusals));
    } else if (!outline_ && picked_.kind == PickedKind::underlay) {
        emit told(sentence(document_.edit(tr("Move underlay"), [&](const Section& s) { return move_underlay(s, id, dx, dy); })));
    } else if (!outline_ && picked_.kind == PickedKind::level) {
        const LevelName level = level_of(picked_.id);
        const Micrometres height = height_of(document_.section(), level).value_or(0) + dy;
        emit told(sentence(document_.edit(tr("Move level"), [&](const Section& s) { return set_level(s, level.kind, level.side, height); })));
    } else {
        constexpr double pixels = 40;
        pan_by({-pixels * (dx_mm > 0) + pixels * (dx_mm < 0), pixels * (dy_mm > 0) - pixels * (dy_mm < 0)});
    }
}

}  // namespace wallfoot
