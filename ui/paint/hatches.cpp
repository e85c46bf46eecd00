// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/hatches.hpp"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QPaintEngine>
#include <QPainterPath>
#include <QTransform>
#include <cmath>
#include <cstdint>
#include <map>
#include <stdexcept>

#include "core/resources/resources.hpp"
#include "core/study/study.hpp"

namespace wallfoot {
namespace {

constexpr MaterialKind all_kinds[] = {MaterialKind::masonry,  MaterialKind::concrete,   MaterialKind::mortar,
                                      MaterialKind::render,   MaterialKind::insulation, MaterialKind::timber,
                                      MaterialKind::metal,    MaterialKind::soil,       MaterialKind::granular,
                                      MaterialKind::airspace, MaterialKind::membrane,   MaterialKind::other};

Hatch read_hatch(const QJsonObject& json) {
    Hatch hatch;
    hatch.tint_light = QColor(json["tint_light"].toString());
    hatch.tint_dark = QColor(json["tint_dark"].toString());
    if (!hatch.tint_light.isValid() || !hatch.tint_dark.isValid())
        throw std::runtime_error("hatches: a kind lacks its tints");
    for (const QJsonValue& v : json["lines"].toArray()) {
        HatchLines lines{
            v["angle"].toDouble(), v["spacing"].toDouble(), v["width"].toDouble(), v["offset"].toDouble(), {},
            v["stagger"].toBool()};
        for (const QJsonValue& d : v["dash"].toArray()) lines.dash.append(d.toDouble());
        if (!(lines.spacing > 0.2)) throw std::runtime_error("hatches: spacing must be above 0.2 mm");
        hatch.lines.append(lines);
    }
    for (const QJsonValue& v : json["marks"].toArray()) {
        hatch.marks.append(
            {v["shape"].toString(), v["size"].toDouble(), v["spacing"].toDouble(), v["width"].toDouble()});
        if (!(hatch.marks.back().spacing > 0.2)) throw std::runtime_error("hatches: spacing must be above 0.2 mm");
    }
    return hatch;
}

std::map<MaterialKind, Hatch> read_all() {
    const auto document = QJsonDocument::fromJson(QByteArray::fromStdString(resource("hatches/sections.json")));
    const QJsonObject kinds = document["kinds"].toObject();
    std::map<MaterialKind, Hatch> all;
    for (const MaterialKind kind : all_kinds)
        all[kind] = read_hatch(kinds[QString::fromStdString(to_string(kind))].toObject());
    return all;
}

/// A fixed scatter in 0 … 1 from grid numbers: natural to look at, the same on every machine.
double scatter(int column, int row, std::uint32_t salt) {
    std::uint32_t h =
        static_cast<std::uint32_t>(column) * 0x9E3779B1u ^ static_cast<std::uint32_t>(row) * 0x85EBCA77u ^ salt;
    h ^= h >> 15, h *= 0x2C1B3C6Du, h ^= h >> 12, h *= 0x297A2D39u, h ^= h >> 15;
    return (h & 0xFFFF) / 65536.0;
}

/// Width of a hatch line in the painter's units. On a screen or image at most one device pixel: above that the raster
/// engine takes ten times as long for thousands of short lines.
double pen_width(const QPainter& painter, double paper_mm) {
    const double wanted = std::max(paper_mm * pixels_per_paper_mm, 0.6);
    if (painter.paintEngine() == nullptr || painter.paintEngine()->type() != QPaintEngine::Raster) return wanted;
    return std::min(wanted, 1 / std::sqrt(std::abs(painter.deviceTransform().determinant())));
}

bool spans_hold(const QList<double>& spans, double left, double right) {
    for (qsizetype i = 0; i + 1 < spans.size(); i += 2)
        if (spans[i] <= left && right <= spans[i + 1]) return true;
    return false;
}

QRectF bounds(const Rings& rings) {
    QRectF box;
    for (const QPolygonF& ring : rings) box = box.isNull() ? ring.boundingRect() : box.united(ring.boundingRect());
    return box;
}

/// Cuts lines into dashes whose phase is fixed to `origin`, not to where a line happens to enter the area.
QList<QLineF> dashed(const QList<QLineF>& lines, const HatchLines& family, double unit, double spacing,
                     QPointF origin) {
    if (family.dash.isEmpty()) return lines;
    double period = 0;
    for (const double d : family.dash) period += d * unit;
    QList<QLineF> dashes;
    for (const QLineF& line : lines) {
        const double length = line.length();
        if (!(length > 0)) continue;
        const QPointF along = (line.p2() - line.p1()) / length;
        const double start = QPointF::dotProduct(line.p1() - origin, along);
        const double across = along.x() * (line.p1().y() - origin.y()) - along.y() * (line.p1().x() - origin.x());
        const bool odd = family.stagger && std::llround(across / spacing) % 2 != 0;
        double at = std::floor(start / period) * period + (odd ? period / 2 : 0) - period;
        while (at < start + length) {
            for (qsizetype k = 0; k < family.dash.size(); ++k) {
                const double to = at + family.dash[k] * unit;
                const double a = std::max(at, start), b = std::min(to, start + length);
                if (k % 2 == 0 && a < b)
                    dashes.append({line.p1() + (a - start) * along, line.p1() + (b - start) * along});
                at = to;
            }
        }
    }
    return dashes;
}

void add_mark(const QString& shape, QPointF c, double r, int column, int row, QPainterPath& path,
              QList<QLineF>& lines) {
    if (shape == "circle") {
        path.addEllipse(c, r * (0.8 + 0.4 * scatter(column, row, 5)), r * (0.6 + 0.3 * scatter(column, row, 6)));
    } else if (shape == "triangle") {
        const double turn = 6.2831853 * scatter(column, row, 7);
        QPointF p[3];
        for (int k = 0; k < 3; ++k) p[k] = c + r * QPointF(std::cos(turn + 2.0944 * k), std::sin(turn + 2.0944 * k));
        for (int k = 0; k < 3; ++k) lines.append({p[k], p[(k + 1) % 3]});
    } else if (shape == "strokes") {  // three short strokes; the neighbouring group leans the other way
        const double lean = (column + row) % 2 == 0 ? 1 : -1;
        for (int k = -1; k <= 1; ++k) {
            const QPointF shift(k * 0.45 * r, k * 0.45 * r * lean);
            lines.append(
                {c + shift + QPointF(-0.55 * r, 0.55 * r * lean), c + shift + QPointF(0.55 * r, -0.55 * r * lean)});
        }
    } else {
        path.addEllipse(c, r, r);
    }
}

void paint_marks(QPainter& painter, const Rings& rings, const HatchMarks& marks, double wider, QPointF origin,
                 QColor ink) {
    const double unit = pixels_per_paper_mm;
    const double spacing = marks.spacing * unit * wider, half = spacing / 2, r = marks.size * unit / 2;
    const double height = spacing * (marks.shape == "strokes" ? 0.5 : 0.75);
    const QRectF box = bounds(rings);
    const QPen pen(ink, pen_width(painter, marks.width), Qt::SolidLine, Qt::RoundCap);
    painter.setPen(marks.shape == "circle" ? pen : QPen(Qt::NoPen));
    painter.setBrush(marks.shape == "circle" ? QBrush(Qt::NoBrush) : QBrush(ink));
    QList<QLineF> lines;
    const bool scattered = marks.shape != "strokes";
    const int first = static_cast<int>(std::floor((box.top() - origin.y()) / height)) - 1;
    const int last = static_cast<int>(std::ceil((box.bottom() - origin.y()) / height)) + 1;
    for (int row = first; row <= last; ++row) {
        const double y = origin.y() + height * (row + (scattered ? 0.5 * (scatter(0, row, 1) - 0.5) : 0));
        const auto above = inside_spans(rings, y - r), middle = inside_spans(rings, y),
                   below = inside_spans(rings, y + r);
        if (above.isEmpty() || middle.isEmpty() || below.isEmpty()) continue;
        const double shift = origin.x() + (row & 1 ? half : 0);
        const int from = static_cast<int>(std::floor((box.left() - shift) / spacing)) - 1;
        const int to = static_cast<int>(std::ceil((box.right() - shift) / spacing)) + 1;
        QPainterPath path;  // row by row: the raster engine is slow at large paths
        path.setFillRule(Qt::WindingFill);
        for (int column = from; column <= to; ++column) {
            const double x = shift + spacing * (column + (scattered ? 0.6 * (scatter(column, row, 2) - 0.5) : 0));
            if (!spans_hold(above, x - r, x + r) || !spans_hold(middle, x - r, x + r) ||
                !spans_hold(below, x - r, x + r))
                continue;
            add_mark(marks.shape, {x, y}, r, column, row, path, lines);
        }
        if (!path.isEmpty()) painter.drawPath(path);
    }
    painter.setPen(pen);
    draw_lines(painter, lines);
}

}  // namespace

const Hatch& hatch_of(MaterialKind kind) {
    static const std::map<MaterialKind, Hatch> all = read_all();
    return all.at(kind);
}

QList<double> inside_spans(const Rings& rings, double y) {
    QList<double> xs;
    for (const QPolygonF& ring : rings) {
        for (qsizetype i = 0; i < ring.size(); ++i) {
            const QPointF a = ring[i], b = ring[(i + 1) % ring.size()];
            if ((a.y() <= y) == (b.y() <= y)) continue;
            xs.append(a.x() + (y - a.y()) * (b.x() - a.x()) / (b.y() - a.y()));
        }
    }
    std::sort(xs.begin(), xs.end());
    return xs;
}

QList<QLineF> hatch_lines(const Rings& rings, double angle, double spacing, QPointF origin) {
    QTransform turn;  // lays the lines level; y of the device goes down
    turn.rotate(angle);
    turn.translate(-origin.x(), -origin.y());
    const QTransform back = turn.inverted();
    Rings level;
    for (const QPolygonF& ring : rings) level.append(turn.map(ring));
    const QRectF box = bounds(level);
    QList<QLineF> lines;
    const int first = static_cast<int>(std::ceil(box.top() / spacing)),
              last = static_cast<int>(std::floor(box.bottom() / spacing));
    for (int k = first; k <= last; ++k) {
        const QList<double> xs = inside_spans(level, k * spacing);
        for (qsizetype i = 0; i + 1 < xs.size(); i += 2)
            lines.append(back.map(QLineF(xs[i], k * spacing, xs[i + 1], k * spacing)));
    }
    return lines;
}

void draw_lines(QPainter& painter, const QList<QLineF>& lines) {
    if (lines.isEmpty()) return;
    painter.setBrush(Qt::NoBrush);
    if (painter.paintEngine() == nullptr || painter.paintEngine()->type() != QPaintEngine::SVG) {
        painter.drawLines(lines);
        return;
    }
    QPainterPath path;
    for (const QLineF& line : lines) {
        path.moveTo(line.p1());
        path.lineTo(line.p2());
    }
    painter.drawPath(path);
}

void paint_hatch(QPainter& painter, const Rings& rings, const Hatch& hatch, int turn, QPointF origin,
                 const SheetColours& colours) {
    const bool dark = colours.paper.lightness() < 128;
    const QColor tint = dark ? hatch.tint_dark : hatch.tint_light;
    QPainterPath area;
    area.setFillRule(Qt::OddEvenFill);
    for (const QPolygonF& ring : rings) {
        area.addPolygon(ring);
        area.closeSubpath();
    }
    painter.save();
    painter.setPen(Qt::NoPen);
    painter.setBrush(tint);
    painter.drawPath(area);
    painter.setBrush(Qt::NoBrush);

    QColor ink = colours.ink;  // paler than outlines, so that the shape of a piece reads before its filling
    constexpr double share = 0.62;
    ink.setRgbF(static_cast<float>(share * ink.redF() + (1 - share) * tint.redF()),
                static_cast<float>(share * ink.greenF() + (1 - share) * tint.greenF()),
                static_cast<float>(share * ink.blueF() + (1 - share) * tint.blueF()));
    // Mirroring changes nothing in a crossed or strewn pattern: those are spaced wider instead.
    const bool mirrors = hatch.lines.size() == 1 && hatch.marks.isEmpty() && std::fmod(hatch.lines[0].angle, 90) != 0;
    const double wider = mirrors ? (turn >= 2 ? 1.6 : 1) : 1 + 0.45 * turn;
    for (const HatchLines& family : hatch.lines) {
        const double angle = turn % 2 == 0 ? family.angle : 180 - family.angle;
        const double radians = angle * 3.14159265358979323846 / 180, unit = pixels_per_paper_mm;
        const QPointF shifted = origin + family.offset * unit * wider * QPointF(std::sin(radians), std::cos(radians));
        painter.setPen(QPen(ink, pen_width(painter, family.width), Qt::SolidLine, Qt::FlatCap));
        const double spacing = family.spacing * unit * wider;
        draw_lines(painter, dashed(hatch_lines(rings, angle, spacing, shifted), family, unit, spacing, shifted));
    }
    for (const HatchMarks& marks : hatch.marks) paint_marks(painter, rings, marks, wider, origin, ink);
    painter.restore();
}

}  // namespace wallfoot
