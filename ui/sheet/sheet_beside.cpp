// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "core/study/edits_elements.hpp"
#include "ui/panels/hidden_box.hpp"
#include "ui/panels/words.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/sheet/sheet_pens.hpp"
#include "ui/window/document.hpp"

// What stands beside the drawing: lengths of the flanking elements, and surfaces that nobody sees.
namespace wallfoot {

namespace {

/// Pixels between a point and a line that ends.
double pixels_to(const QLineF& line, QPointF p) {
    const QPointF way = line.p2() - line.p1();
    const double length2 = QPointF::dotProduct(way, way);
    const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(p - line.p1(), way) / length2, 0.0, 1.0) : 0.0;
    return QLineF(p, line.p1() + t * way).length();
}

}  // namespace

void Sheet::set_lengths(bool shown, bool other) {
    const bool room = shown != lengths_;
    lengths_ = shown;
    other_lengths_ = other;
    if (room && fitted_) fit();
    update();
}

LengthSystem Sheet::length_system() const {
    LengthSystem lengths = LengthSystem::internal;
    if (document_.has_study()) {
        const auto& conventions = document_.study()->conventions;
        if (const auto used = conventions.find(document_.study()->convention); used != conventions.end()) lengths = used->second.lengths;
    }
    if (!other_lengths_) return lengths;
    return lengths == LengthSystem::internal ? LengthSystem::external : LengthSystem::internal;
}

std::vector<ElementLength> Sheet::lengths_drawn() const {
    const bool one = picked_.kind == PickedKind::element;
    if ((!lengths_ && !one) || !lengths_fit()) return {};
    if (!document_.has_study() || findings_->variant_id != document_.variant().id) return {};  // places of another variant are none of this one
    return element_lengths(view_, *findings_, length_system(), lengths_, one ? picked_.id.toStdString() : std::string(), QRectF(rect()));
}

std::optional<Sheet::Drag> Sheet::length_handle_at(QPointF pixels) const {
    const auto section = shown();
    auto all = lengths_drawn();
    // Where two are measured to one place, that of the picked one is taken.
    std::stable_partition(all.begin(), all.end(), [&](const ElementLength& drawn) { return picked_.kind == PickedKind::element && words(drawn.element) == picked_.id; });
    for (const ElementLength& drawn : all) {
        const Picked of{PickedKind::element, words(drawn.element)};
        if (drawn.reference && QLineF(view_.to_pixels(*drawn.reference), pixels).length() <= 9)
            return Drag{of, *drawn.reference, *drawn.reference, true, false, {}, section, nullptr, {}, {}, false, true, drawn.side, length_system()};
        if (!drawn.label().contains(pixels) && pixels_to(drawn.line, pixels) > 5) continue;
        const QPointF mm = view_.to_mm(pixels);
        const Point at{from_mm(mm.x()), from_mm(mm.y())};
        return Drag{of, at, at, true, false, {}, section, nullptr, {}, {}, false, std::nullopt, drawn.side, length_system()};
    }
    return {};
}

std::optional<Sheet::Drag> Sheet::hidden_handle_at(QPointF pixels) const {
    const auto section = shown();
    if (activity_ != Activity::draw && activity_ != Activity::heat) return {};
    if (picked_.kind == PickedKind::hidden && picked_.more.empty())
        if (const HiddenSurface* hidden = find_hidden(*section, picked_.id.toStdString()))
            if (const auto end = line_handle_at(pixels, {&hidden->path}, false)) return end;
    for (const HiddenSurface& hidden : section->hidden)
        for (std::size_t i = 1; i < hidden.path.size(); ++i)
            if (pixels_to({view_.to_pixels(hidden.path[i - 1]), view_.to_pixels(hidden.path[i])}, pixels) <= 4)
                return Drag{{PickedKind::hidden, words(hidden.id)}, hidden.path[i - 1], hidden.path[i - 1], true, false, {}, section, nullptr, {}};
    return {};
}

void Sheet::paint_lengths(QPainter& painter) {
    const auto drawn = lengths_drawn();
    if (drawn.empty()) return;
    const SheetColours colours = this->colours();
    painter.save();
    if (!current_) painter.setOpacity(0.4);
    paint_element_lengths(painter, view_, drawn, colours, picked_.kind == PickedKind::element ? picked_.id.toStdString() : std::string());
    painter.restore();
    const auto& hot = drag_ ? drag_ : handle_;
    if (!hot || hot->of.kind != PickedKind::element || !hot->end) return;
    painter.setPen(thin(colours.accent, 4));
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(view_.to_pixels(drag_ && drag_->to ? *drag_->to : hot->a), 7, 7);
}

std::vector<Message> Sheet::commit_hidden() {
    HiddenSurface hidden;
    hidden.path = outline_->corners();
    const auto reason = ask_hidden_reason(this);
    if (!reason) {
        set_tool(Tool::pick);
        return {};
    }
    hidden.reason = *reason;
    std::string id;
    const auto refusals = document_.edit(tr("Hide a stretch of surface"), [&](const Section& section) {
        Section with = add_hidden(section, hidden);
        id = with.hidden.back().id;
        return with;
    });
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked({PickedKind::hidden, QString::fromStdString(id)});
    return {};
}

}  // namespace wallfoot
