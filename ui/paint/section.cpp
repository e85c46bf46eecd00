// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPainterPath>
#include <cmath>
#include <map>
#include <string>

#include "core/arrangement/arrangement.hpp"
#include "ui/paint/clip.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/paint.hpp"
#include "ui/paint/section_marks.hpp"

namespace wallfoot {
namespace {

QPolygonF in_pixels(const View& view, const Outline& outline) {
    QPolygonF ring;
    for (const Point p : outline) ring.append(view.to_pixels(p));
    return ring;
}

/// Pieces as areas in pixels, cut at the cut and a little outside the viewport (so that no coordinate gets huge).
struct Areas {
    QRectF cut, shown;
    QList<Rings> whole, visible;
    QList<QRectF> boxes;  ///< of `whole`
};

Areas areas_of(const View& view, const Section& section) {
    Areas areas;
    areas.cut = QRectF(view.to_pixels({section.cut.left, section.cut.top}),
                       view.to_pixels({section.cut.right, section.cut.bottom}));
    areas.shown = areas.cut & QRectF(QPointF(), view.viewport).adjusted(-40, -40, 40, 40);
    for (const Piece& piece : section.pieces) {
        Rings whole{in_pixels(view, piece.outline)}, visible;
        for (const Outline& hole : piece.holes) whole.append(in_pixels(view, hole));
        if (!areas.shown.isEmpty())
            for (const QPolygonF& ring : whole)
                if (const QPolygonF part = clipped(ring, areas.shown); part.size() >= 3) visible.append(part);
        areas.boxes.append(whole[0].boundingRect().adjusted(-0.5, -0.5, 0.5, 0.5));
        areas.whole.append(whole);
        areas.visible.append(visible);
    }
    return areas;
}

void fill_with(QPainter& painter, const Rings& rings, QColor colour) {
    QPainterPath area;
    area.setFillRule(Qt::OddEvenFill);
    for (const QPolygonF& ring : rings) area.addPolygon(ring), area.closeSubpath();
    painter.setPen(Qt::NoPen);
    painter.setBrush(colour);
    painter.drawPath(area);
    painter.setBrush(Qt::NoBrush);
}

/// An area taken out is crossed from corner to corner, as openings are on building drawings.
void paint_cross(QPainter& painter, const Areas& areas, qsizetype k, QColor ink) {
    const QRectF box = areas.whole[k][0].boundingRect();
    painter.setPen(QPen(ink, 1));
    for (const QLineF& diagonal :
         {QLineF(box.topLeft(), box.bottomRight()), QLineF(box.bottomLeft(), box.topRight())}) {
        for (const QLineF& line : hatch_lines(areas.whole[k], diagonal.angle(), 1e7, box.center()))
            if (const auto part = clipped(line, areas.shown))
                draw_lines(painter, outside_of(*part, areas.whole, areas.boxes, k + 1));
    }
}

void paint_courses(QPainter& painter, const View& view, const Piece& piece, const Areas& areas, qsizetype k,
                   QColor faint) {
    const double step = to_mm(piece.courses->height) * view.pixels_per_mm;
    if (!(step >= 6)) return;
    const QPointF origin = view.to_pixels({0, piece.courses->from});
    painter.setPen(QPen(faint, 0.8));
    QList<QLineF> lines;
    for (const QLineF& line : hatch_lines(areas.visible[k], 0, step, origin))
        lines += outside_of(line, areas.whole, areas.boxes, k + 1);
    draw_lines(painter, lines);
}

/// Outline of a piece as far as nothing later covers it; where the drawing is cut there is no edge.
void paint_outline(QPainter& painter, const Areas& areas, qsizetype k, const QPen& pen) {
    const QRectF& cut = areas.cut;
    const auto on_cut = [&](const QLineF& e) {
        const auto near = [](double a, double b) { return std::abs(a - b) < 1e-6; };
        return (near(e.x1(), e.x2()) && (near(e.x1(), cut.left()) || near(e.x1(), cut.right()))) ||
               (near(e.y1(), e.y2()) && (near(e.y1(), cut.top()) || near(e.y1(), cut.bottom())));
    };
    QList<QLineF> lines;
    for (const QPolygonF& ring : areas.whole[k]) {
        for (qsizetype i = 0; i < ring.size(); ++i) {
            const QLineF edge(ring[i], ring[(i + 1) % ring.size()]);
            if (on_cut(edge)) continue;
            if (const auto part = clipped(edge, areas.shown))
                lines += outside_of(*part, areas.whole, areas.boxes, k + 1);
        }
    }
    painter.setPen(pen);
    draw_lines(painter, lines);
}

/// What lies beyond the cut: borders between unlike faces, faint, and the far end.
void paint_beyond(QPainter& painter, const View& view, const Arrangement& arrangement, const Areas& areas,
                  QColor faint) {
    const QRectF shown = QRectF(QPointF(), view.viewport).adjusted(-40, -40, 40, 40);
    const auto piece = [&](int face) {
        return face < 0 ? -2 : arrangement.faces[static_cast<std::size_t>(face)].piece;
    };
    QList<QLineF> lines;
    for (const ArrangedEdge& edge : arrangement.edges) {
        if (piece(edge.left) == piece(edge.right)) continue;
        const QLineF line(view.to_pixels(arrangement.vertices[static_cast<std::size_t>(edge.from)]),
                          view.to_pixels(arrangement.vertices[static_cast<std::size_t>(edge.to)]));
        const auto part = clipped(line, shown);
        if (!part) continue;
        const QRectF& c = areas.cut;
        const QPolygonF ring{c.topLeft(), c.topRight(), c.bottomRight(), c.bottomLeft()};
        lines += outside_of(*part, {{ring}}, {c.adjusted(-0.5, -0.5, 0.5, 0.5)}, 0);
    }
    painter.setPen(QPen(faint, 0.9));
    draw_lines(painter, lines);
}

void paint_cut(QPainter& painter, const Areas& areas, QColor faint) {
    QPen pen(faint, 0.9);
    pen.setDashPattern({12, 4, 2, 4});  // long chain line: ISO 128-2 type 04
    painter.setPen(pen);
    const QRectF& c = areas.cut;
    QList<QLineF> lines;
    for (const QLineF& side : {QLineF(c.topLeft(), c.topRight()), QLineF(c.topRight(), c.bottomRight()),
                               QLineF(c.bottomLeft(), c.bottomRight()), QLineF(c.topLeft(), c.bottomLeft())})
        if (const auto part = clipped(side, areas.shown)) lines.append(*part);
    draw_lines(painter, lines);
}

}  // namespace

void paint_section_body(QPainter& painter, const View& view, const Study& study, const Section& section,
                        const Arrangement* arrangement, const SectionLook& look, const std::map<std::string, int>* given_turns) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setBrush(Qt::NoBrush);
    const Areas areas = areas_of(view, section);
    // Over a heat map lines are dark with a light rim on any sheet.
    const SheetColours colours = look.hatches ? look.colours : SheetColours::light();
    const auto turns = given_turns ? *given_turns : hatch_turns(study, section);
    const QPointF origin = view.to_pixels(0, 0);
    // Bolder over a heat map, where isotherms are thin lines too.
    const QPen pen(colours.ink, look.hatches ? 1.2 : 2.0, Qt::SolidLine, Qt::RoundCap);
    for (qsizetype k = 0; k < areas.visible.size(); ++k) {
        if (areas.visible[k].isEmpty()) continue;
        const Piece& piece = section.pieces[static_cast<std::size_t>(k)];
        if (look.hatches) {
            const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
            if (material != nullptr)
                paint_hatch(painter, areas.visible[k], hatch_of(material->kind), turns.at(material->id), origin,
                            colours);
            else
                fill_with(painter, areas.visible[k], colours.paper);
        }
        if (piece.fill == Fill::cutout) paint_cross(painter, areas, k, look.colours.faint);
        if (piece.courses && look.hatches) paint_courses(painter, view, piece, areas, k, colours.faint);
    }
    for (qsizetype k = 0; k < areas.visible.size(); ++k)
        if (!areas.visible[k].isEmpty()) paint_outline(painter, areas, k, pen);
    if (look.beyond && arrangement != nullptr) paint_beyond(painter, view, *arrangement, areas, look.colours.faint);
    paint_cut(painter, areas, look.colours.faint);
    if (arrangement != nullptr) paint_unclaimed_air(painter, view, *arrangement, areas.shown, colours);
    paint_membrane_lines(painter, view, section, areas.shown, colours);
    painter.restore();
}

std::map<std::string, int> hatch_turns(const Study& study, const Section& section) {
    std::map<std::string, int> turns;
    std::map<MaterialKind, int> met;
    for (const Piece& piece : section.pieces) {
        const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
        if (material != nullptr && !turns.contains(material->id)) turns[material->id] = met[material->kind]++ % 4;
    }
    return turns;
}

void paint_section(QPainter& painter, const View& view, const Study& study, const Section& section,
                   const Arrangement* arrangement, const SectionLook& look) {
    paint_section_body(painter, view, study, section, arrangement, look);
    LabelPlaces places(QRectF(QPointF(), view.viewport).adjusted(3, 3, -3, -3));
    paint_section_marks(painter, view, study, section, arrangement, look, places);
}

}  // namespace wallfoot
