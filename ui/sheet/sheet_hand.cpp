// SPDX-License-Identifier: GPL-3.0-or-later
#include <QMouseEvent>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"
#include "ui/sheet/entry_box.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

// The hand on the sheet: what lies under it, picking, and dragging corners and edges.
namespace wallfoot {

namespace {

double distance_to_line(QPointF p, QPointF a, QPointF b) {
    const QPointF d = b - a;
    const double length2 = QPointF::dotProduct(d, d);
    const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(p - a, d) / length2, 0.0, 1.0) : 0.0;
    const QPointF off = p - (a + t * d);
    return std::hypot(off.x(), off.y());
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
    if (!snapper_ || snapper_of_ != section) {
        snapper_.emplace(*section, drag_ ? drag_->moving : std::vector<Point>{});
        snapper_of_ = section;
    }
    return snapper_->snap(mm, reach_mm(), grid_step_mm(view_.pixels_per_mm));
}

std::optional<Sheet::Drag> Sheet::handle_at(QPointF pixels) const {
    const auto section = shown();
    if (!section || picked_.kind != PickedKind::piece) return {};
    const Piece* piece = find_piece(*section, picked_.id.toStdString());
    if (!piece) return {};
    std::vector<const Outline*> outlines{&piece->outline};
    for (const auto& hole : piece->holes) outlines.push_back(&hole);
    std::optional<Drag> found;
    double best = 9;
    for (const auto* outline : outlines)
        for (const Point p : *outline) {
            const QPointF at = view_.to_pixels(p);
            const double d = std::hypot(at.x() - pixels.x(), at.y() - pixels.y());
            if (d <= best) {
                best = d;
                found = Drag{p, p, true, false, {p}, section, nullptr, p, {}};
            }
        }
    if (found) return found;
    best = 6;
    for (const auto* outline : outlines)
        for (std::size_t i = 0; i < outline->size(); ++i) {
            const Point a = (*outline)[i], b = (*outline)[(i + 1) % outline->size()];
            const double d = distance_to_line(pixels, view_.to_pixels(a), view_.to_pixels(b));
            if (d <= best) {
                best = d;
                found = Drag{a, b, false, false, {}, section, nullptr, a, {}};
            }
        }
    if (found) found->moving = points_moved_with_edge(*section, found->a, found->b);
    return found;
}

void Sheet::pick_at(QPointF pixels) {
    const auto section = shown();
    if (!section) return;
    const auto pieces = pieces_at(*section, free_point(view_.to_mm(pixels)));
    std::vector<Picked> under;
    for (const auto& membrane : section->membranes)
        for (std::size_t i = 1; i < membrane.path.size(); ++i)
            if (distance_to_line(pixels, view_.to_pixels(membrane.path[i - 1]), view_.to_pixels(membrane.path[i])) <= 4) {
                under.push_back({PickedKind::membrane, QString::fromStdString(membrane.id)});
                break;
            }
    for (const auto i : pieces) under.push_back({PickedKind::piece, QString::fromStdString(section->pieces[i].id)});
    const auto present = std::find(under.begin(), under.end(), picked_);
    if (under.empty()) set_picked({});
    else if (present == under.end()) set_picked(under.front());
    else set_picked(*(present + 1 == under.end() ? under.begin() : present + 1));
}

void Sheet::hover_to(QPointF pixels, Qt::KeyboardModifiers keys) {
    hovering_ = true;
    hover_pixels_ = pixels;
    hover_ = snap_at(pixels, keys);
    if (outline_) {
        outline_->hover(hover_);
        if (entry_->isVisible()) tell_entry();
    } else if (!drag_) {
        handle_ = handle_at(pixels);
    }
    update_cursor();
    emit hovered(tool_ == Tool::pick && !drag_ ? view_.to_mm(pixels) : QPointF(to_mm(hover_.at.x), to_mm(hover_.at.y)), name_of(hover_.kind));
    update();
}

void Sheet::update_cursor() {
    if (panning_) setCursor(Qt::ClosedHandCursor);
    else if (space_held_) setCursor(Qt::OpenHandCursor);
    else if (tool_ != Tool::pick) setCursor(Qt::CrossCursor);
    else if (drag_ || handle_) setCursor((drag_ ? drag_ : handle_)->corner ? Qt::SizeAllCursor : Qt::PointingHandCursor);
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
    if (event->button() == Qt::RightButton && outline_) {
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        else drop_outline();
        return;
    }
    if (event->button() != Qt::LeftButton) return;
    hover_to(event->position(), event->modifiers());
    if (outline_) {
        outline_step(outline_->commit());
    } else if ((handle_ = handle_at(event->position()))) {
        drag_ = handle_;
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
        emit told(drag_->corner ? tr("Move corner; Esc leaves it where it was.") : tr("Move edge; Esc leaves it where it was."));
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
    if (outline_) {
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        return;
    }
    const auto handle = handle_at(event->position());
    if (!handle) return;
    if (handle->corner) {
        emit told(sentence(document_.edit(tr("Take corner out"), [&](const Section& s) { return remove_corner(s, handle->a); })));
    } else {
        // On the edge itself, wherever the cursor was exactly.
        const QPointF a(to_mm(handle->a.x), to_mm(handle->a.y)), b(to_mm(handle->b.x), to_mm(handle->b.y));
        const Point wished = snap_at(event->position(), event->modifiers()).at;
        const QPointF w(to_mm(wished.x), to_mm(wished.y));
        const double t = QPointF::dotProduct(w - a, b - a) / QPointF::dotProduct(b - a, b - a);
        const QPointF on = a + std::clamp(t, 0.0, 1.0) * (b - a);
        emit told(sentence(document_.edit(tr("Insert corner"), [&](const Section& s) { return insert_corner(s, {from_mm(on.x()), from_mm(on.y())}); })));
    }
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
    if (!drag.corner) {
        // An edge moves square to itself.
        const double ex = to_mm(drag.b.x - drag.a.x), ey = to_mm(drag.b.y - drag.a.y);
        const double length = std::hypot(ex, ey);
        const double across = (-to_mm(to.x - drag.a.x) * ey + to_mm(to.y - drag.a.y) * ex) / length;
        to = {drag.a.x + from_mm(-across * ey / length), drag.a.y + from_mm(across * ex / length)};
    }
    if (drag.to == to) return;
    drag.to = to;
    try {
        const Section& base = *drag.base;
        auto preview = std::make_shared<const Section>(drag.corner ? move_corner(base, drag.a, to)
                                                                   : move_edge(base, drag.a, drag.b, to.x - drag.a.x, to.y - drag.a.y));
        drag.preview = preview;
        emit told(tr("dx %1  dy %2").arg(QString::fromStdString(length_text(to_mm(to.x - drag.a.x))), QString::fromStdString(length_text(to_mm(to.y - drag.a.y)))));
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
        emit told(sentence(document_.edit(drag.corner ? tr("Move corner") : tr("Move edge"), [&](const Section&) { return *drag.preview; })));
    update_cursor();
    update();
}

void Sheet::move_picked(int dx_mm, int dy_mm) {
    if (!document_.has_study() || drag_) return;
    const std::string id = picked_.id.toStdString();
    if (outline_ || picked_.kind != PickedKind::piece) {
        constexpr double pixels = 40;
        pan_by({-pixels * (dx_mm > 0) + pixels * (dx_mm < 0), pixels * (dy_mm > 0) - pixels * (dy_mm < 0)});
        return;
    }
    emit told(sentence(document_.edit(tr("Move piece"), [&](const Section& s) { return move_piece(s, id, dx_mm * um_per_mm, dy_mm * um_per_mm); })));
}

}  // namespace wallfoot
