// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/paint/difference_marks.hpp"
#include "ui/paint/field_lines.hpp"
#include "ui/paint/heat_lines.hpp"
#include "ui/paint/foot_layer.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/section_marks.hpp"
#include "ui/paint/water_layer.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/sheet/sheet_pens.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

constexpr double legend_row = 20, legend_sample = 36, legend_margin = 8;  // pixels

QRectF on_screen(const View& view, const Rect& rect) {
    return QRectF(view.to_pixels(Point{rect.left, rect.top}), view.to_pixels(Point{rect.right, rect.bottom})).normalized();
}

}  // namespace

void Sheet::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const SheetColours colours = this->colours();
    painter.fillRect(rect(), colours.paper);
    const auto section = shown();
    if (!section) {
        paint_empty(painter);
        return;
    }
    paint_below(painter, *section);
    if (heat_shown()) {
        heat_layer_->want({view_, devicePixelRatioF(), findings_, range_});
        painter.save();
        painter.setClipRect(on_screen(view_, section->cut));
        if (!current_) painter.setOpacity(0.3);
        heat_layer_->paint(painter, view_);
        painter.restore();
    }
    paint_lines(painter);
    paint_grid(painter);
    painter.setRenderHint(QPainter::Antialiasing);
    paint_measures(painter);
    paint_lengths(painter);
    paint_picked_underlay(painter);
    paint_picked(painter);
    paint_marks(painter);
    paint_outline(painter);
    paint_asked(painter);
    paint_legend(painter);
    if (pointed_at_) {
        painter.setPen(thin(colours.accent, 3));
        painter.setBrush(Qt::NoBrush);
        painter.drawEllipse(view_.to_pixels(*pointed_at_), 22, 22);
    }
    if (hasFocus()) {
        painter.setPen(thin(palette().color(QPalette::Highlight)));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5));
    }
}

void Sheet::paint_lines(QPainter& painter) {
    const double ratio = devicePixelRatioF();
    const auto section = shown();
    const LineLayer key{view_, ratio, section, findings_, mark_places(), heat_shown(), isotherms_, flow_lines_, dark_, current_,
                        water_shown() ? water_ : nullptr, water_shown() ? water_piece() : -1, foot_shown() ? foot_ : nullptr, marked_against()};
    if (!(key == lines_key_) || lines_.isNull()) {
        lines_key_ = key;
        lines_ = QImage(QSize(static_cast<int>(std::ceil(width() * ratio)), static_cast<int>(std::ceil(height() * ratio))),
                        QImage::Format_ARGB32_Premultiplied);
        lines_.setDevicePixelRatio(ratio);
        lines_.fill(Qt::transparent);
        QPainter layer(&lines_);
        layer.setRenderHint(QPainter::Antialiasing);
        SectionLook look;
        look.colours = colours();
        look.hatches = !key.heat;
        look.faults = false;  // numbered marks of the list stand there instead
        const bool same_drawing = findings_ && findings_->section == section;
        const Arrangement* arrangement = same_drawing ? &findings_->arrangement : nullptr;
        LabelPlaces places(QRectF(rect()).adjusted(3, 3, -3, -3));
        for (const QPointF& at : key.marks) places.reserve(QRectF(at - QPointF(14, 14), QSizeF(28, 28)));
        places.reserve(scale_bar_rect(QPointF(16, height() - 16), view_));
        if (key.heat) {
            places.reserve(legend_rect());
            const HeatLook heat{range_, isotherms_, flow_lines_, current_ ? 1.0 : 0.3, lowest()};
            const QRectF shown = on_screen(view_, section->cut) & QRectF(rect());
            steps_ = paint_over_heat(layer, view_, *document_.study(), *section, arrangement, *findings_, look, heat, shown, places);
        } else if (key.water) {
            paint_water(layer, look, places);
        } else {
            // What was traced must not hide what it was traced from.
            const bool over_underlay = std::any_of(section->underlays.begin(), section->underlays.end(), [](const Underlay& u) { return u.visible; });
            layer.setOpacity(over_underlay ? 0.6 : 1);
            paint_section_body(layer, view_, *document_.study(), *section, arrangement, look);
            if (key.foot) paint_frost_bands(layer, view_, *key.foot, QRectF(rect()), look.colours, places);
            layer.setOpacity(1);
            if (lowest()) places.reserve(lowest_ring(view_, *lowest()));
            paint_section_marks(layer, view_, *document_.study(), *section, arrangement, look, places);
            if (lowest()) paint_lowest(layer, view_, *lowest(), look.colours, false, places);
        }
        if (key.base) paint_differences(layer, *key.base, places);
        named_ = places.named();
    }
    painter.drawImage(QPointF(0, 0), lines_);
}

std::shared_ptr<const Section> Sheet::marked_against() const {
    const bool fits = activity_ == Activity::draw || activity_ == Activity::heat;
    return difference_marks_ && fits && document_.active() > 0 ? document_.study()->variants.front().section : nullptr;
}

void Sheet::paint_differences(QPainter& layer, const Section& base, LabelPlaces& places) {
    const Study& study = *document_.study();
    const Variant& first = study.variants.front();
    const QString name = QString::fromStdString(first.name.empty() ? first.id : first.name);
    const MarkedDifferences found = marked_differences(study, base, study, *shown());
    QRectF room(rect());
    if (heat_shown()) room.setBottom(legend_rect().top());
    const QRectF list = difference_list_rect(room, found, name);
    places.reserve(list);
    paint_difference_marks(layer, view_, found, QRectF(rect()).adjusted(-9, -9, 9, 9), colours(), places);
    paint_difference_list(layer, list, found, name, colours());
}

int Sheet::water_piece() const {
    if (picked_.kind != PickedKind::piece) return -1;
    for (const PieceWater& found : water_->way.pieces)
        if (water_->section->pieces[found.piece].id == picked_.id.toStdString()) return found.piece;
    return -1;
}

void Sheet::paint_water(QPainter& layer, const SectionLook& look, LabelPlaces& places) {
    const Section& section = *water_->section;
    const QRectF shown = on_screen(view_, section.cut) & QRectF(rect());
    SectionLook outlines = look;
    outlines.hatches = false;
    const QRectF key = water_key_rect(QRectF(rect()));
    places.reserve(key);
    paint_water_areas(layer, view_, *water_, shown, look.colours);
    paint_section_body(layer, view_, *document_.study(), section, &water_->arrangement, outlines);
    paint_water_ways(layer, view_, *water_, water_piece(), shown, look.colours);
    paint_section_marks(layer, view_, *document_.study(), section, &water_->arrangement, look, places);
    paint_water_key(layer, key, look.colours);
}

std::vector<QPointF> Sheet::mark_places() const {
    constexpr double apart = 25;
    std::vector<QPointF> taken, places;
    if (lowest()) taken.push_back(lowest_ring(view_, *lowest()).center());
    for (const Mark& mark : marks_) {
        const QPointF at = view_.to_pixels(mark.at);
        QPointF place = at;
        const auto free = [&](QPointF p) {
            return std::all_of(taken.begin(), taken.end(), [&](QPointF other) { return std::hypot(p.x() - other.x(), p.y() - other.y()) >= apart; });
        };
        for (int turn = 0; turn < 24 && !free(place); ++turn) {
            const double angle = (turn % 8) * std::numbers::pi / 4, away = (2 + turn / 8) * apart / 2;
            place = at + away * QPointF(std::cos(angle), -std::sin(angle));
        }
        taken.push_back(place);
        places.push_back(place);
    }
    return places;
}

void Sheet::paint_marks(QPainter& painter) {
    const SheetColours colours = this->colours();
    const auto places = mark_places();
    for (std::size_t i = 0; i < marks_.size(); ++i) {
        const Mark& mark = marks_[i];
        const QPointF at = places[i], place = view_.to_pixels(mark.at);
        const QColor colour = mark.fault ? colours.fault : colours.caution;
        painter.setPen(thin(colour, 2));
        if (at != place) {
            painter.drawLine(place, at);
            painter.setBrush(colour);
            painter.drawEllipse(place, 2, 2);
        }
        QColor back = colours.label_back;
        back.setAlpha(255);
        painter.setBrush(back);
        // Faults are round, cautions three-cornered: not told by colour alone.
        if (mark.fault) painter.drawEllipse(at, 10, 10);
        else painter.drawPolygon(QPolygonF{at + QPointF(0, -12), at + QPointF(12, 9), at + QPointF(-12, 9)});
        painter.setPen(colours.ink);
        painter.setFont(sheet_font(12));
        painter.drawText(QRectF(at - QPointF(14, 10), QSizeF(28, mark.fault ? 20 : 23)), Qt::AlignCenter, QString::number(mark.number));
    }
    painter.setFont(font());
}

QStringList Sheet::legend_lines() const {
    QStringList lines;
    if (isotherms_) lines << caption("key-isotherms", {{"step", number(steps_.kelvins, 3).toStdString()}});
    if (flow_lines_) lines << caption("key-heat-flow", {{"watts", number(steps_.watts, 6).toStdString()}});
    return lines;
}

QRectF Sheet::legend_rect() const {
    const auto lines = legend_lines();
    double wide = 240;
    for (const QString& text : lines) wide = std::max(wide, legend_sample + 6 + label_size(sheet_font(12), text).width());
    const QSizeF size(wide + 2 * legend_margin, 48 + legend_row * static_cast<double>(lines.size()) + 2 * legend_margin);
    return {QPointF(width() - 8 - size.width(), height() - 8 - size.height()), size};
}

void Sheet::paint_legend(QPainter& painter) {
    const SheetColours colours = this->colours();
    paint_scale_bar(painter, QPointF(16, height() - 16), view_, colours);
    if (!heat_shown()) return;
    const QRectF back = legend_rect(), in = back.adjusted(legend_margin, legend_margin, -legend_margin, -legend_margin);
    painter.setPen(thin(colours.faint));
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(back, 4, 4);
    const auto lines = legend_lines();
    for (int i = 0; i < lines.size(); ++i) {
        const QRectF row(in.left(), in.top() + legend_row * i, in.width(), legend_row);
        const bool flow = flow_lines_ && i == lines.size() - 1;
        paint_line_sample(painter, QRectF(row.left(), row.top() + 2, legend_sample, row.height() - 5), flow ? heat_flow_pen() : isotherm_pen(), flow);
        painter.setPen(colours.ink);
        painter.setFont(sheet_font(12));
        painter.drawText(row.adjusted(legend_sample + 6, 0, 0, 0), Qt::AlignVCenter | Qt::TextSingleLine | Qt::TextDontClip, lines[i]);
    }
    paint_key(painter, QRectF(in.left(), in.bottom() - 48, in.width(), 48), range_, colours);
    painter.setFont(font());
}

void Sheet::paint_empty(QPainter& painter) {
    painter.setPen(colours().ink);
    painter.drawText(rect(), Qt::AlignCenter | Qt::TextWordWrap, tr("No study is open. File › Open (Ctrl+O) opens one, File › New (Ctrl+N) begins one."));
}

}  // namespace wallfoot
