// SPDX-License-Identifier: GPL-3.0-or-later
#include <QMouseEvent>
#include <algorithm>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
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
    if (in_air) return grid_point(mm, grid_step());
    if (!snapper_ || snapper_of_ != section) {
        snapper_.emplace(drag_ ? snapper_for(*drag_) : Snapper(*section));
        snapper_->set_guides(guides_);
        hold_by_underlays(*snapper_, *section);
        snapper_of_ = section;
    }
    const bool in_line = outline_ && outline_->drawing() && (outline_->shape() == OutlineTool::Shape::polygon || outline_->shape() == OutlineTool::Shape::line);
    return snapper_->snap(mm, reach_mm(), grid_step(), in_line ? std::optional(outline_->corners().back()) : std::nullopt);
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
        const bool add = event->modifiers() & Qt::ControlModifier;
        if (handle->of != picked_ && !(add && handle->of.kind == PickedKind::piece)) set_picked(add ? toggled(picked_, handle->of) : handle->of);
        drag_ = handle_ = clicked_ = handle;
    } else if (const auto body = body_at(event->position())) {
        drag_ = body;
    } else {
        box_from_ = event->position();
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
    if (box_from_ && !boxing_ && (event->position() - press_pixels_).manhattanLength() > 4) {
        boxing_ = true;
        emit told(tr("Picks what lies wholly inside; with Shift also what it touches."));
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
    const auto from = std::exchange(box_from_, std::nullopt);
    if (std::exchange(boxing_, false) && from) {
        emit told({});
        pick_box(QRectF(view_.to_mm(*from), view_.to_mm(event->position())).normalized(), event->modifiers() & Qt::ShiftModifier);
        return;
    }
    // A click on a handle may begin a double click: it leaves the pick as it is. So does one that ended what a tool drew.
    const bool picks = from || (drag_ && drag_->body);
    drag_.reset();
    if (picks && (event->position() - press_pixels_).manhattanLength() <= 4) pick_at(event->position(), event->modifiers() & Qt::ControlModifier);
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
    if (!handle || (handle->of.kind != PickedKind::piece && handle->of.kind != PickedKind::membrane)) return;
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
    const bool only_picks = (drag.of.kind == PickedKind::element && !drag.end) || (drag.of.kind == PickedKind::hidden && drag.moving.empty());
    if (drag.tried == to || only_picks) return;
    drag.tried = to;
    try {
        auto preview = std::make_shared<const Section>(dragged(*drag.base, drag, to));
        drag.preview = preview;
        drag.to = to;
        if (drag.of.kind == PickedKind::element) {
            if (drag.end) emit told(tr("measured to x %1, y %2").arg(QString::fromStdString(length_text(to_mm(to.x))), QString::fromStdString(length_text(to_mm(to.y)))));
        } else if (drag.of.kind == PickedKind::stretch) emit told(QString::fromStdString(length_text(to_mm(stretch_length(*find_stretch(*preview, drag.of.id.toStdString()))))));
        else if (drag.end) emit told(QString::fromStdString(length_text(dimension_length(*find_dimension(*preview, drag.of.id.toStdString())))));
        else if (drag.of.kind == PickedKind::level) emit told(tr("height %1").arg(QString::fromStdString(length_text(to_mm(to.y)))));
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
        emit told(sentence(document_.edit(name_of_drag(drag), [&](const Section& s) { return &s == drag.base.get() ? *drag.preview : dragged(s, drag, *drag.to); })));
    if (commit && drag.of.kind == PickedKind::space && drag.to && picked_.id == drag.of.id) set_picked({PickedKind::space, picked_.id, *drag.to});
    update_cursor();
    update();
}

void Sheet::move_picked(int dx_mm, int dy_mm) {
    if (!document_.has_study() || drag_) return;
    const std::string id = picked_.id.toStdString();
    const Micrometres dx = dx_mm * um_per_mm, dy = dy_mm * um_per_mm;
    const Taken taken = taken_of(picked_);
    if (!outline_ && picked_.hole) {
        const Piece* piece = find_piece(document_.section(), id);
        if (!piece || *picked_.hole >= piece->holes.size()) return;
        const Outline hole = piece->holes[*picked_.hole];
        emit told(sentence(document_.edit(tr("Move hole"), [&](const Section& s) {
            // In another variant it may have another place in the list.
            const Piece* there = find_piece(s, id);
            const auto at = there ? std::find(there->holes.begin(), there->holes.end(), hole) - there->holes.begin() : 0;
            return move_hole(s, id, static_cast<std::size_t>(at), dx, dy);
        })));
    } else if (!outline_ && taken != Taken{}) {
        const QString name = !picked_.more.empty() ? tr("Move") : picked_.kind == PickedKind::piece ? tr("Move piece") : picked_.kind == PickedKind::membrane ? tr("Move membrane") : tr("Move");
        emit told(sentence(document_.edit(name, [&](const Section& s) { return move_taken(s, taken, dx, dy); })));
    } else if (const Stretch* stretch = picked_.kind == PickedKind::stretch && !outline_ ? find_stretch(document_.section(), id) : nullptr) {
        const bool back = stretch->moves == "left" || stretch->moves == "down";
        const Micrometres by = stretch->moves == "left" || stretch->moves == "right" ? dx : dy;
        emit told(sentence(document_.edit(tr("Change measure"), [&](const Section& s) {
            const Stretch* there = find_stretch(s, id);
            return set_stretch(s, id, (there ? stretch_length(*there) : 0) + (back ? -by : by));
        })));
    } else if (!outline_ && picked_.kind == PickedKind::space && picked_.mark) {
        const Point from = *picked_.mark, to{from.x + dx, from.y + dy};
        const auto refusals = document_.edit(tr("Move space mark"), [&](const Section& s) { return move_mark(s, id, from, to); });
        if (refusals.empty()) set_picked({PickedKind::space, picked_.id, to});
        emit told(sentence(refusals));
    } else if (!outline_ && picked_.kind == PickedKind::underlay) {
        emit told(sentence(document_.edit(tr("Move underlay"), [&](const Section& s) { return move_underlay(s, id, dx, dy); })));
    } else if (!outline_ && picked_.kind == PickedKind::element) {
        const std::string element = id;
        const LengthSystem lengths = length_system();
        // As stated now: the findings may still be of what was stated before. Only where nothing is stated the drawing says it.
        const auto own = [&](const Section& s, CutSide side) {
            const ElementOverride* stated = find_element(s, element, side);
            return !stated ? std::nullopt : lengths == LengthSystem::internal ? stated->internal : stated->external;
        };
        for (const ElementLength& drawn : lengths_drawn()) {
            if (drawn.element != element || !drawn.reference) continue;
            if (!own(document_.section(), drawn.side) && findings_->section != shown()) return;  // its place is not known yet
            emit told(sentence(document_.edit(tr("Move the place that \"%1\" is measured to").arg(picked_.id), [&](const Section& s) {
                const Point from = own(s, drawn.side).value_or(*drawn.reference);
                return set_element_reference(s, element, drawn.side, lengths, Point{from.x + dx, from.y + dy});
            })));
            return;
        }
    } else if (!outline_ && picked_.kind == PickedKind::hidden) {
        emit told(sentence(document_.edit(tr("Move hidden surface"), [&](const Section& s) {
            const HiddenSurface* there = find_hidden(s, id);
            HiddenSurface hidden;
            hidden.id = id;
            if (there) hidden = *there;
            for (Point& p : hidden.path) p = {p.x + dx, p.y + dy};
            return change_hidden(s, hidden);
        })));
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
