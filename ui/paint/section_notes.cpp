// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/section_notes.hpp"

#include <algorithm>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

constexpr double stroke = 5, over = 5, gap = 4;  // pixels: half an end stroke, what lines run over, gap at the points

QString shown_length(double mm) { return QString::fromStdString(number_text(mm, mm < 100 ? 1 : 0)); }

void paint_handle(QPainter& painter, QPointF at, QPointF way) {
    const QPointF side(-way.y(), way.x());
    painter.drawPolygon(QPolygonF{at + 9 * way, at + 6 * side, at - 9 * way, at - 6 * side});
}

}  // namespace

DimensionPlace place_of(const View& view, const Dimension& dimension) {
    const auto [from, to] = dimension_line(dimension);
    const QPointF p = view.to_pixels(from.x, from.y), q = view.to_pixels(to.x, to.y);
    DimensionPlace place;
    place.line = QLineF(p, q);
    const auto side = [](QPointF begin, QPointF end) {
        const QLineF whole(begin, end);
        if (whole.length() < gap + 1) return QLineF(end, end);
        const QPointF way = (end - begin) / whole.length();
        return QLineF(begin + gap * way, end + over * way);
    };
    place.from_side = side(view.to_pixels(dimension.from), p);
    place.to_side = side(view.to_pixels(dimension.to), q);
    place.text = QString::fromStdString(dimension_words(dimension));
    const QSizeF size = label_size(sheet_font(12), place.text);
    place.middle = (p + q) / 2;
    // Beside the line: above a lying one, to its left when it stands; outside its end where there is no room between.
    const bool standing = std::abs(q.y() - p.y()) > std::abs(q.x() - p.x());
    const bool room = place.line.length() > (standing ? size.height() : size.width()) + 4;
    QPointF centre = place.middle + (standing ? QPointF(-size.width() / 2 - 4, 0) : QPointF(0, -size.height() / 2 - 2));
    if (!room && !standing) centre = QPointF(std::max(p.x(), q.x()) + size.width() / 2 + 8, place.middle.y() - size.height() / 2 - 2);
    place.label = QRectF(centre - QPointF(size.width() / 2, size.height() / 2), size);
    return place;
}

QRectF place_of(const View& view, const Note& note) {
    QSizeF size;
    for (const QString& line : QString::fromStdString(note.text).split(QLatin1Char('\n'))) {
        const QSizeF one = label_size(sheet_font(12), line);
        size = QSizeF(std::max(size.width(), one.width()), size.height() + one.height());
    }
    const double first = label_size(sheet_font(12), QStringLiteral("x")).height();
    return QRectF(view.to_pixels(note.at) - QPointF(0, first), size);
}

StretchPlace place_of(const View& view, const Stretch& stretch) {
    StretchPlace place;
    for (const Point p : stretch.line) place.line << view.to_pixels(p);
    place.way = stretch.moves == "left" ? QPointF(-1, 0) : stretch.moves == "up" ? QPointF(0, -1) : stretch.moves == "down" ? QPointF(0, 1) : QPointF(1, 0);
    const QPointF middle = (place.line.front() + place.line.back()) / 2;
    place.handle = middle;
    place.text = QStringLiteral("%1 %2").arg(QString::fromStdString(stretch.name.empty() ? stretch.id : stretch.name), shown_length(to_mm(stretch_length(stretch))));
    const QSizeF size = label_size(sheet_font(12), place.text);
    place.label = QRectF(middle + QPointF(12, -size.height() - 10), size);
    return place;
}

void paint_dimension(QPainter& painter, const DimensionPlace& place, QColor ink, QColor back) {
    painter.setPen(QPen(ink, 1));
    for (const QLineF& line : {place.from_side, place.to_side})
        if (line.length() > 0) painter.drawLine(line);
    if (place.line.length() > 0) {
        const QPointF way = (place.line.p2() - place.line.p1()) / place.line.length();
        painter.drawLine(place.line.p1() - over * way, place.line.p2() + over * way);
        // Oblique strokes at 45°, one of the ends ISO 129-1 allows.
        const QPointF slope = stroke * QPointF(way.x() + way.y(), way.y() - way.x()) / std::sqrt(2.0) * 1.4;
        painter.setPen(QPen(ink, 2));
        for (const QPointF end : {place.line.p1(), place.line.p2()}) painter.drawLine(end - slope, end + slope);
    }
    paint_label(painter, place.label, place.text, sheet_font(12), ink, back);
}

void paint_notes(QPainter& painter, const View& view, const Section& section, const SheetColours& colours, LabelPlaces& places) {
    for (const Dimension& dimension : section.dimensions) {
        const DimensionPlace place = place_of(view, dimension);
        paint_dimension(painter, place, colours.ink, colours.label_back);
        places.reserve(place.label);
    }
    for (const Note& note : section.texts) {
        QRectF row = place_of(view, note);
        places.reserve(row);
        for (const QString& line : QString::fromStdString(note.text).split(QLatin1Char('\n'))) {
            row.setSize(label_size(sheet_font(12), line));
            paint_label(painter, row, line, sheet_font(12), colours.ink, colours.label_back);
            row.translate(0, row.height());
        }
    }
}

void paint_stretch(QPainter& painter, const StretchPlace& place, const SheetColours& colours, bool picked) {
    QPen pen(picked ? colours.selection : colours.accent, picked ? 2.5 : 1.4);
    pen.setDashPattern({10, 3, 1.5, 3});
    painter.setPen(pen);
    painter.setBrush(Qt::NoBrush);
    painter.drawPolyline(place.line);
    painter.setPen(QPen(pen.color(), 1.5));
    painter.setBrush(colours.paper);
    paint_handle(painter, place.handle, place.way);
    // An arrow on the side that moves.
    const QPointF tip = place.handle + 22 * place.way, side(-place.way.y(), place.way.x());
    painter.drawLine(place.handle + 9 * place.way, tip);
    painter.drawPolyline(QPolygonF{tip - 6 * place.way + 4 * side, tip, tip - 6 * place.way - 4 * side});
    paint_label(painter, place.label, place.text, sheet_font(12, picked), colours.ink, colours.label_back);
}

void paint_cut_blocks(QPainter& painter, const View& view, const Piece& piece, const SheetColours& colours) {
    if (!piece.courses || piece.courses->height <= 0) return;
    const auto [low, high] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point a, Point b) { return a.y < b.y; });
    const auto [left, right] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point a, Point b) { return a.x < b.x; });
    const Micrometres step = piece.courses->height, from = piece.courses->from;
    const auto above = [&](Micrometres y) { return ((y - from) % step + step) % step; };  // of the course line below y
    const Micrometres foot = (step - above(low->y)) % step, head = above(high->y);
    const Micrometres middle = (left->x + right->x) / 2;
    const auto tell = [&](Micrometres height, Micrometres y0, Micrometres y1) {
        if (height == 0 || height >= high->y - low->y) return;
        const QPointF a = view.to_pixels(Point{left->x, y0}), b = view.to_pixels(Point{right->x, y1});
        painter.setPen(QPen(colours.caution, 1));
        painter.drawLine(a, b);
        painter.drawLine(QPointF(a.x(), b.y()), QPointF(b.x(), a.y()));
        const QString text = caption("courses-cut", {{"height", length_text(to_mm(height))}});
        const QSizeF size = label_size(sheet_font(12), text);
        const QPointF centre = view.to_pixels(Point{middle, (y0 + y1) / 2});
        paint_label(painter, QRectF(centre - QPointF(size.width() / 2, size.height() / 2), size), text, sheet_font(12), colours.ink, colours.label_back);
    };
    tell(foot, low->y, low->y + foot);
    tell(head, high->y - head, high->y);
}

}  // namespace wallfoot
