// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/water_layer.hpp"

#include <QPainterPath>
#include <algorithm>
#include <array>
#include <cmath>

#include "core/study/material.hpp"
#include "ui/paint/clip.hpp"
#include "ui/paint/hatches.hpp"

namespace wallfoot {

namespace {

constexpr std::array all_looks{WaterLook::reached, WaterLook::lap_not_proven, WaterLook::enclosed, WaterLook::no_path};

/// Short dashes in level rows for water, as water is drawn in the conventional symbols for ground; the others keep clear
/// of it in form and of each other in lightness (a blue–orange pair stays apart for every common colour vision).
Hatch hatch_of(WaterLook look) {
    Hatch hatch;
    switch (look) {
        case WaterLook::reached:
            hatch.tint_light = QColor(0xbfd9f2), hatch.tint_dark = QColor(0x1f4468);
            hatch.lines = {{0, 1.6, 0.3, 0, {2.2, 1.4}, true}};
            break;
        case WaterLook::lap_not_proven:
            hatch.tint_light = QColor(0xfbe3c0), hatch.tint_dark = QColor(0x5a4218);
            hatch.marks = {{QStringLiteral("dot"), 0.7, 2.2, 0.2}};
            break;
        case WaterLook::enclosed:
            hatch.tint_light = QColor(0xe6e0ec), hatch.tint_dark = QColor(0x40384a);
            hatch.lines = {{45, 2.2, 0.2, 0, {}, false}, {135, 2.2, 0.2, 0, {}, false}};
            break;
        case WaterLook::no_path:
            hatch.tint_light = QColor(0xf4f4f2), hatch.tint_dark = QColor(0x2c2d2e);
            break;
    }
    return hatch;
}

WaterLook look_of(const PartWater& part) {
    if (part.state == WaterState::reached) return WaterLook::reached;
    if (part.state == WaterState::lap_not_proven) return WaterLook::lap_not_proven;
    return part.enclosed ? WaterLook::enclosed : WaterLook::no_path;
}

const char* words_of(WaterLook look) {
    switch (look) {
        case WaterLook::reached: return "water-key-reached";
        case WaterLook::lap_not_proven: return "water-key-lap";
        case WaterLook::enclosed: return "water-key-enclosed";
        case WaterLook::no_path: return "water-key-no-path";
    }
    return "";
}

struct LineLook {
    const char* words;
    QPen pen;
};

QPen way_pen(const SheetColours& colours) { return QPen(colours.accent, 2.4, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin); }
QPen proposal_pen(const SheetColours& colours) { return QPen(colours.caution, 4, Qt::CustomDashLine, Qt::FlatCap, Qt::RoundJoin); }

QPen dashed(QPen pen) {
    pen.setDashPattern({2.2, 1.1});
    return pen;
}

/// A line on a background that sets it off from patterns, cut at `shown`.
void draw_way(QPainter& painter, const QList<QPointF>& points, const QPen& pen, const QRectF& shown, const SheetColours& colours) {
    QPen casing(colours.label_back, pen.widthF() + 3, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin);
    for (const QPen& use : {casing, pen}) {
        painter.setPen(use);
        for (qsizetype i = 1; i < points.size(); ++i)
            if (const auto line = clipped(QLineF(points[i - 1], points[i]), shown)) painter.drawLine(*line);
    }
}

void draw_arrow(QPainter& painter, QPointF from, QPointF to, const QColor& colour) {
    const QLineF line(from, to);
    if (line.length() < 1) return;
    const QPointF along = (to - from) / line.length(), across(-along.y(), along.x());
    painter.setPen(Qt::NoPen);
    painter.setBrush(colour);
    painter.drawPolygon(QPolygonF{to, to - 11 * along + 4.5 * across, to - 11 * along - 4.5 * across});
    painter.setBrush(Qt::NoBrush);
}

QList<QPointF> path_in_pixels(const View& view, const Path& path) {
    QList<QPointF> points;
    for (const Point p : path) points << view.to_pixels(p);
    return points;
}

}  // namespace

void paint_water_areas(QPainter& painter, const View& view, const WaterReport& report, const QRectF& shown, const SheetColours& colours) {
    const auto& a = report.arrangement;
    std::map<WaterLook, Rings> areas;
    for (std::size_t t = 0; t < a.triangles.size(); ++t) {
        const int part = report.way.net.part_of[t];
        if (part < 0) continue;
        QPolygonF triangle;
        for (const int v : a.triangles[t]) triangle << view.to_pixels(a.vertices[v]);
        if (const auto seen = clipped(triangle, shown); seen.size() > 2) areas[look_of(report.way.parts[part])] << seen;
    }
    const QPointF origin = view.to_pixels(0, 0);
    for (const auto& [look, rings] : areas) paint_hatch(painter, rings, hatch_of(look), 0, origin, colours);
}

void paint_water_ways(QPainter& painter, const View& view, const WaterReport& report, int piece, const QRectF& shown, const SheetColours& colours) {
    for (const PieceWater& found : report.way.pieces) {
        const bool wanted = piece >= 0 ? found.piece == piece : report.remedies.contains(found.piece);
        const auto& path = report.way.parts[found.part].path;
        if (!wanted || found.state != WaterState::reached || !path || path->line.size() < 2) continue;
        const auto points = path_in_pixels(view, path->line);
        draw_way(painter, points, way_pen(colours), shown, colours);
        if (shown.contains(points.last())) draw_arrow(painter, points[points.size() - 2], points.last(), colours.accent);
    }
    for (const auto& [of, remedy] : report.remedies) {
        if (of != piece) continue;  // all at once would hide each other
        for (const RemedyRun& run : remedy.runs) draw_way(painter, path_in_pixels(view, run.path), dashed(proposal_pen(colours)), shown, colours);
    }
    for (const PieceWater& found : report.way.pieces)
        for (const Lap& lap : found.laps) {
            const QPointF at = view.to_pixels(lap.at);
            if (lap.sealed || !shown.contains(at)) continue;
            painter.setPen(QPen(colours.fault, 2));
            painter.setBrush(Qt::NoBrush);
            painter.drawEllipse(at, 8, 8);
        }
}

QRectF water_key_rect(const QRectF& bounds) {
    double width = 0;
    const QFont font = sheet_font(12);
    for (const char* words : {"water-key-reached", "water-key-lap", "water-key-enclosed", "water-key-no-path", "water-key-way", "water-key-proposed"})
        width = std::max(width, label_size(font, caption(words)).width());
    const QSizeF size(width + key_sample + 3 * key_margin, (all_looks.size() + 2) * key_row + 2 * key_margin);
    return {QPointF(bounds.right() - size.width() - key_margin, bounds.bottom() - size.height() - key_margin), size};
}

void paint_water_key(QPainter& painter, const QRectF& where, const SheetColours& colours) {
    painter.setPen(QPen(colours.faint, 1));
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(where, 4, 4);
    painter.setBrush(Qt::NoBrush);
    painter.setFont(sheet_font(12));
    double y = where.top() + key_margin;
    const auto sample = [&] { return QRectF(where.left() + key_margin, y + 3, key_sample, key_row - 6); };
    const auto text = [&](const char* words) {
        painter.setPen(colours.ink);
        painter.drawText(QRectF(where.left() + key_sample + 2 * key_margin, y, where.width(), key_row), Qt::AlignVCenter | Qt::AlignLeft, caption(words));
        y += key_row;
    };
    for (const WaterLook look : all_looks) {
        const QRectF box = sample();
        paint_hatch(painter, {QPolygonF{box.topLeft(), box.topRight(), box.bottomRight(), box.bottomLeft()}}, hatch_of(look), 0, box.topLeft(), colours);
        painter.setPen(QPen(colours.ink, 1));
        painter.drawRect(box);
        text(words_of(look));
    }
    const QRectF way = sample();
    draw_way(painter, {QPointF(way.left(), way.center().y()), QPointF(way.right() - 6, way.center().y())}, way_pen(colours), where, colours);
    draw_arrow(painter, {way.left(), way.center().y()}, {way.right(), way.center().y()}, colours.accent);
    text("water-key-way");
    const QRectF proposal = sample();
    draw_way(painter, {QPointF(proposal.left(), proposal.center().y()), QPointF(proposal.right(), proposal.center().y())}, dashed(proposal_pen(colours)), where, colours);
    text("water-key-proposed");
}

}  // namespace wallfoot
