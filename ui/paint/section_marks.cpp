// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/section_marks.hpp"

#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "ui/paint/clip.hpp"
#include "ui/paint/element_lengths.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/section_notes.hpp"
#include "ui/paint/variant_picture.hpp"

namespace wallfoot {
namespace {

/// Line of a membrane: width in pixels, dashes in widths.
QPen membrane_pen(MembraneKind kind, QColor colour) {
    QPen pen(colour, 2.6, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin);
    switch (kind) {
        case MembraneKind::dpc:
            pen.setWidthF(3.4);
            break;
        case MembraneKind::dpm:
            pen.setDashPattern({7, 1.6});
            break;
        case MembraneKind::tanking:
            pen.setDashPattern({6, 1.6, 1.2, 1.6});
            break;
        case MembraneKind::gas:
            pen.setDashPattern({6, 1.6, 1.2, 1.6, 1.2, 1.6});
            break;
        case MembraneKind::tray:
            pen.setDashPattern({2.4, 1.2});
            break;
    }
    return pen;
}

/// True when one of the lines runs through a label of `size` at `centre`.
bool crossed_by(const QList<QLineF>& lines, QPointF centre, QSizeF size) {
    const QRectF box(centre - QPointF(size.width() / 2, size.height() / 2 + 1), size + QSizeF(0, 2));
    return std::any_of(lines.begin(), lines.end(), [&](const QLineF& line) { return clipped(line, box).has_value(); });
}

/// The side of the section on which a kind of space has its first mark.
Side side_of(const Section& section, SpaceKind kind, Side otherwise) {
    const Micrometres middle = (section.cut.left + section.cut.right) / 2;
    for (const Space& space : section.spaces)
        if (space.kind == kind && !space.at.empty()) return space.at[0].x < middle ? Side::left : Side::right;
    return otherwise;
}

const char* caption_of(LevelKind kind) {
    return kind == LevelKind::floor ? "mark-floor" : kind == LevelKind::ground ? "mark-ground" : "mark-dpc";
}

/// Where a mark begins: at the edge of what is shown of the cut.
double mark_edge(const View& view, const QRectF& shown, Side at) {
    return at == Side::left ? std::max(shown.left(), 4.0) : std::min(shown.right(), view.viewport.width() - 4);
}

/// A height mark: a triangle standing on a short line at the edge of the cut (height marks of building drawings, ISO
/// 129-1).
void paint_level(QPainter& painter, const View& view, const QRectF& shown, const LevelMark& mark, const SheetColours& colours, LabelPlaces& places) {
    const double y = view.to_pixels(Point{0, mark.height}).y();
    if (y < shown.top() || y > shown.bottom()) return;
    const double inward = mark.at == Side::left ? 1 : -1;
    const double edge = mark_edge(view, shown, mark.at);
    QString value = QString::number(std::abs(to_m(mark.height)), 'f', 3);
    value.prepend(mark.height < 0 ? QChar(0x2212) : mark.height > 0 ? QLatin1Char('+') : QChar(0x00B1));
    const QString text = caption(caption_of(mark.kind), {{"height", value.toStdString()}});
    const QFont font = sheet_font(12);
    const QSizeF size = label_size(font, text);
    QList<QPointF> centres;
    for (const double away : {22.0, 60.0, 110.0, 170.0})
        for (const double up : {-1.0, 1.0})
            centres.append({edge + inward * (away + size.width() / 2), y + up * (size.height() / 2 + 2)});
    const QRectF where = places.take_anyway(size, centres);
    const double far = mark.at == Side::left ? where.right() : where.left();
    painter.setPen(QPen(colours.label_back, 3.5, Qt::SolidLine, Qt::FlatCap));
    painter.drawLine(QPointF(edge, y), QPointF(far, y));
    painter.setPen(QPen(colours.ink, 1.4, Qt::SolidLine, Qt::FlatCap));
    painter.drawLine(QPointF(edge, y), QPointF(far, y));
    const double tip = edge + inward * 11;
    painter.setBrush(colours.paper);
    painter.drawPolygon(QPolygonF{QPointF(tip, y), QPointF(tip - 5.5, y - 9), QPointF(tip + 5.5, y - 9)});
    painter.setBrush(Qt::NoBrush);
    places.reserve(QRectF(tip - 6, y - 10, 12, 11));
    places.reserve(QRectF(QPointF(std::min(edge, far), y - 1.5), QSizeF(std::abs(far - edge), 3)));
    paint_label(painter, where, text, font, colours.ink, colours.label_back);
    places.name({.level = mark, .space = {}, .at = {}, .where = where});
}

void paint_spaces(QPainter& painter, const View& view, const Study& study, const Section& section, const QRectF& shown,
                  const SheetColours& colours, LabelPlaces& places) {
    const QFont font = sheet_font(14, true);
    QList<QLineF> edges;
    for (const Piece& piece : section.pieces)
        for (std::size_t i = 0; i < piece.outline.size(); ++i)
            edges.append(QLineF(view.to_pixels(piece.outline[i]), view.to_pixels(piece.outline[(i + 1) % piece.outline.size()])));
    for (const Space& space : section.spaces) {
        QString text = space_name(section, space);
        try {
            text += QStringLiteral("  ") + number(space_temperature(study, space), 2) + QStringLiteral(" °C");
        } catch (const InputFault&) {
            text += QStringLiteral("  ") + caption("mark-no-temperature");
        }
        for (const Point mark : space.at) {
            const QPointF p = view.to_pixels(mark);
            if (!shown.contains(p)) continue;
            const QSizeF size = label_size(font, text);
            const double w = size.width() / 2 + 9, h = size.height() / 2 + 7;
            places.reserve(QRectF(p.x() - 4, p.y() - 4, 8, 8));
            QList<QPointF> centres{p + QPointF(0, h), p - QPointF(0, h), p + QPointF(w, 0), p - QPointF(w, 0),
                                   p + QPointF(w, h), p + QPointF(-w, h), p + QPointF(0, 3 * h)};
            // In the air before across an edge.
            std::stable_partition(centres.begin(), centres.end(), [&](QPointF c) { return !crossed_by(edges, c, size); });
            const QRectF where = places.take_anyway(size, centres);
            painter.setPen(QPen(colours.label_back, 3));
            painter.setBrush(colours.ink);
            painter.drawEllipse(p, 3.5, 3.5);
            painter.setBrush(Qt::NoBrush);
            paint_label(painter, where, text, font, colours.ink, colours.label_back);
            places.name({.level = {}, .space = space.id, .at = mark, .where = where});
        }
    }
}

void paint_membrane_names(QPainter& painter, const View& view, const Section& section, const QRectF& shown,
                          const SheetColours& colours, LabelPlaces& places) {
    const QFont font = sheet_font(11);
    QList<QLineF> lines;  // of all membranes: none may run through a name
    for (const Membrane& membrane : section.membranes)
        for (std::size_t i = 0; i + 1 < membrane.path.size(); ++i)
            lines.append(QLineF(view.to_pixels(membrane.path[i]), view.to_pixels(membrane.path[i + 1])));
    for (const Membrane& membrane : section.membranes) {
        QLineF longest;
        for (std::size_t i = 0; i + 1 < membrane.path.size(); ++i) {
            const auto part =
                clipped(QLineF(view.to_pixels(membrane.path[i]), view.to_pixels(membrane.path[i + 1])), shown);
            if (part && part->length() > longest.length()) longest = *part;
        }
        if (longest.length() < 4) continue;
        const QString text = QString::fromStdString(to_string(membrane.kind));
        const QSizeF size = label_size(font, text);
        QList<QPointF> centres;
        for (const double d : {1.0, -1.0, 2.2, -2.2})
            for (const double t : {0.5, 0.3, 0.7, 0.1, 0.9}) {
                const QPointF p = longest.pointAt(t);
                const bool level = std::abs(longest.dx()) >= std::abs(longest.dy());
                const QPointF c = level ? p + QPointF(0, d * (size.height() / 2 + 3)) : p + QPointF(d * (size.width() / 2 + 4), 0);
                if (!crossed_by(lines, c, size)) centres.append(c);
            }
        if (const auto where = places.take(size, centres))
            paint_label(painter, *where, text, font, colours.membrane, colours.label_back);
    }
}

/// Rings of constant size, numbered as the arrangement's messages from 1; a fault's ring is whole, a caution's broken.
void paint_faults(QPainter& painter, const View& view, const Arrangement& arrangement, const QRectF& bounds,
                  const SheetColours& colours, LabelPlaces& places) {
    int index = 0;
    for (const Message& message : arrangement.messages) {
        ++index;
        if (!message.at || message.severity == Severity::note) continue;
        const QPointF p = view.to_pixels(*message.at);
        if (!bounds.contains(p)) continue;
        const bool fault = message.severity == Severity::fault;
        const QColor colour = fault ? colours.fault : colours.caution;
        QPen pen(colour, 2.2);
        if (!fault) pen.setDashPattern({2.4, 1.4});
        painter.setPen(QPen(colours.label_back, 5));
        painter.drawEllipse(p, 11, 11);
        painter.setPen(pen);
        painter.drawEllipse(p, 11, 11);
        places.reserve(QRectF(p.x() - 12, p.y() - 12, 24, 24));
        const QFont font = sheet_font(12, true);
        const QString text = QString::number(index);
        const QSizeF size = label_size(font, text);
        const double d = 14 + size.width() / 2;
        const QRectF where = places.take_anyway(
            size, {p + QPointF(d, -10), p + QPointF(-d, -10), p + QPointF(d, 12), p + QPointF(-d, 12)});
        paint_label(painter, where, text, font, colour, colours.label_back);
    }
}

}  // namespace

std::vector<LevelMark> level_marks(const Section& section) {
    const Side in = side_of(section, SpaceKind::inside, Side::left);
    const Side out = side_of(section, SpaceKind::outside, in == Side::left ? Side::right : Side::left);
    std::vector<LevelMark> marks;
    for (const LevelKind kind : {LevelKind::floor, LevelKind::ground, LevelKind::dpc}) {
        const Level& level = level_of(section, kind);
        if (level.both) marks.push_back({kind, {}, kind == LevelKind::floor ? in : out, *level.both});
        if (level.left) marks.push_back({kind, Side::left, Side::left, *level.left});
        if (level.right) marks.push_back({kind, Side::right, Side::right, *level.right});
    }
    return marks;
}

QRectF level_mark_rect(const View& view, const Section& section, const LevelMark& mark) {
    constexpr double wide = 24;
    const QRectF shown = cut_in_pixels(view, section) & QRectF(QPointF(0, 0), view.viewport).adjusted(3, 3, -3, -3);
    const double edge = mark_edge(view, shown, mark.at), y = view.to_pixels(Point{0, mark.height}).y();
    return {mark.at == Side::left ? edge : edge - wide, y - 11, wide, 15};
}

void paint_unclaimed_air(QPainter& painter, const View& view, const Arrangement& arrangement, const QRectF& shown,
                         const SheetColours& colours) {
    if (shown.isEmpty()) return;
    Rings rings;
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        const int index = arrangement.triangle_face[t];
        if (index < 0) continue;
        const Face& face = arrangement.faces[static_cast<std::size_t>(index)];
        if (face.kind != FaceKind::air || face.space >= 0) continue;
        QPolygonF ring;
        for (const int v : arrangement.triangles[t])
            ring.append(view.to_pixels(arrangement.vertices[static_cast<std::size_t>(v)]));
        if (const QPolygonF part = clipped(ring, shown); part.size() >= 3) rings.append(part);
    }
    if (rings.isEmpty()) return;
    painter.setPen(QPen(colours.caution, 2.4, Qt::SolidLine, Qt::FlatCap));
    draw_lines(painter, hatch_lines(rings, 60, 16, view.to_pixels(0, 0)));
}

void paint_membrane_lines(QPainter& painter, const View& view, const Section& section, const QRectF& shown,
                          const SheetColours& colours) {
    painter.setBrush(Qt::NoBrush);
    for (const Membrane& membrane : section.membranes) {
        QPainterPath path;
        for (std::size_t i = 0; i + 1 < membrane.path.size(); ++i) {
            const auto part =
                clipped(QLineF(view.to_pixels(membrane.path[i]), view.to_pixels(membrane.path[i + 1])), shown);
            if (!part) continue;
            if (path.isEmpty() || path.currentPosition() != part->p1()) path.moveTo(part->p1());
            path.lineTo(part->p2());
        }
        const QPen pen = membrane_pen(membrane.kind, colours.membrane);
        painter.setPen(QPen(colours.paper, pen.widthF() + 2, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
        painter.drawPath(path);
        painter.setPen(pen);
        painter.drawPath(path);
    }
}

void paint_section_marks(QPainter& painter, const View& view, const Study& study, const Section& section,
                         const Arrangement* arrangement, const SectionLook& look, LabelPlaces& places) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setBrush(Qt::NoBrush);
    const QRectF shown = cut_in_pixels(view, section) & places.bounds();
    const SheetColours colours = look.hatches ? look.colours : SheetColours::light();
    if (arrangement != nullptr && look.faults) paint_faults(painter, view, *arrangement, places.bounds(), colours, places);
    if (look.labels && !shown.isEmpty()) {
        paint_notes(painter, view, section, colours, places);
        paint_hidden(painter, view, section, colours, places);
        paint_spaces(painter, view, study, section, shown, colours, places);
        for (const LevelMark& mark : level_marks(section)) paint_level(painter, view, shown, mark, colours, places);
        paint_membrane_names(painter, view, section, shown, colours, places);
    }
    painter.restore();
}

}  // namespace wallfoot
