// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/element_lengths.hpp"

#include <algorithm>
#include <cmath>

#include "ui/paint/clip.hpp"

namespace wallfoot {

namespace {

constexpr double length_away = 14, row_of_lengths = 30, length_ring = 4.5, length_head = 9;  // pixels

bool stands(CutSide side) { return side == CutSide::top || side == CutSide::bottom; }

const std::optional<Point>& reference_in(const Element& element, LengthSystem lengths) { return lengths == LengthSystem::internal ? element.internal_reference : element.external_reference; }
const std::optional<Micrometres>& length_in(const Element& element, LengthSystem lengths) { return lengths == LengthSystem::internal ? element.internal_length : element.external_length; }

/// The elements in question, each once.
std::vector<const Element*> asked(const Findings& findings, LengthSystem lengths, bool every, const std::string& also) {
    std::vector<const Element*> all;
    const Psi* headline = findings.headline_psi();
    const std::vector<TakenOff>* taken = nullptr;
    for (const Psi& psi : findings.psi)
        if (headline && psi.a == headline->a && psi.b == headline->b && psi.lengths == lengths && psi.value) taken = &psi.taken_off;
    for (const Element& element : findings.elements) {
        const bool taken_off = !taken || std::any_of(taken->begin(), taken->end(), [&](const TakenOff& off) { return off.element == element.id; });
        const bool named = (every && taken_off) || element.id == also;
        if (named && length_in(element, lengths)) all.push_back(&element);
    }
    return all;
}

/// Whether the side of the room lies to the left of a wall, above a floor.
bool room_before(const Findings& findings, const Element& element) {
    const auto place = [&](Point p) { return stands(element.side) ? p.x : -p.y; };
    if (element.internal_reference && element.external_reference && place(*element.internal_reference) != place(*element.external_reference))
        return place(*element.internal_reference) < place(*element.external_reference);
    const auto mark = [&](int space) -> std::optional<Point> {
        if (space < 0 || static_cast<std::size_t>(space) >= findings.section->spaces.size()) return std::nullopt;
        const Space& of = findings.section->spaces[static_cast<std::size_t>(space)];
        return of.at.empty() ? std::nullopt : std::optional(of.at.front());
    };
    const auto warm = mark(element.warm_space), cold = mark(element.cold_space);
    return !warm || !cold || place(*warm) <= place(*cold);
}

QString words_of(const Element& element, Micrometres length) {
    std::map<std::string, std::string> args{{"element", element.id}, {"length", number(to_m(length), 3).toStdString()}};
    if (element.U) args["U"] = number(*element.U, 3).toStdString();
    return caption(element.ground ? "length-of-floor" : element.U ? "length-of-element" : "length-without-U", std::move(args));
}

}  // namespace

QRectF ElementLength::label() const {
    QSizeF size = label_size(sheet_font(12), text);
    if (upright) size.transpose();
    return {centre - QPointF(size.width() / 2, size.height() / 2), size};
}

std::vector<ElementLength> element_lengths(const View& view, const Findings& findings, LengthSystem lengths, bool every, const std::string& also, const QRectF& room) {
    std::vector<ElementLength> all;
    if (!findings.section) return all;
    const Rect &cut = findings.section->cut, &frame = findings.arrangement.frame;
    const QRectF shown = QRectF(view.to_pixels(Point{cut.left, cut.top}), view.to_pixels(Point{cut.right, cut.bottom})).normalized();
    int rows[3] = {0, 0, 0};  // left of the section, right of it, above it
    for (const Element* element : asked(findings, lengths, every, also)) {
        const Micrometres length = *length_in(*element, lengths);
        ElementLength drawn;
        drawn.element = element->id;
        drawn.side = element->side;
        drawn.reference = reference_in(*element, lengths);
        drawn.text = words_of(*element, length);
        drawn.upright = stands(element->side);
        const bool last = element->side == CutSide::right || element->side == CutSide::top;
        const Micrometres end = drawn.upright ? (last ? frame.top : frame.bottom) : (last ? frame.right : frame.left);
        const Micrometres begin = last ? end - length : end + length;
        const Micrometres low = drawn.upright ? cut.bottom : cut.left, high = drawn.upright ? cut.top : cut.right;
        const Micrometres from = std::clamp(begin, low, high), to = std::clamp(end, low, high);
        drawn.from_beyond = from != begin;
        drawn.to_beyond = to != end;
        const double half = label_size(sheet_font(12), drawn.text).height() / 2;
        // Beside the section where there is room, inside the picture in any case.
        if (drawn.upright) {
            const bool left = room_before(findings, *element) == (lengths == LengthSystem::internal);
            const double off = length_away + row_of_lengths * rows[left ? 0 : 1]++;
            const double x = left ? std::max(shown.left() - off, room.left() + 2 * half + 6 + (off - length_away)) : std::min(shown.right() + off, room.right() - 2 * half - 6 - (off - length_away));
            drawn.line = QLineF(QPointF(x, view.to_pixels(Point{0, from}).y()), QPointF(x, view.to_pixels(Point{0, to}).y()));
            drawn.centre = drawn.line.center() + QPointF(left ? -half - 3 : half + 3, 0);
            if (drawn.reference) drawn.from_side = QLineF(view.to_pixels(*drawn.reference), drawn.line.p1());
            const double wide = label_size(sheet_font(12), drawn.text).width() / 2 + 2;
            if (room.height() > 2 * wide) drawn.centre.setY(std::clamp(drawn.centre.y(), room.top() + wide, room.bottom() - wide));
        } else {
            const double off = length_away + row_of_lengths * rows[2]++;
            const double y = std::max(shown.top() - off, room.top() + 2 * half + 6 + (off - length_away));
            drawn.line = QLineF(QPointF(view.to_pixels(Point{from, 0}).x(), y), QPointF(view.to_pixels(Point{to, 0}).x(), y));
            drawn.centre = drawn.line.center() + QPointF(0, -half - 3);
            if (drawn.reference) drawn.from_side = QLineF(view.to_pixels(*drawn.reference), drawn.line.p1());
            const double wide = label_size(sheet_font(12), drawn.text).width() / 2 + 2;
            if (room.width() > 2 * wide) drawn.centre.setX(std::clamp(drawn.centre.x(), room.left() + wide, room.right() - wide));
        }
        all.push_back(std::move(drawn));
    }
    return all;
}

void paint_element_lengths(QPainter& painter, const View& view, const std::vector<ElementLength>& lengths, const SheetColours& colours, const std::string& picked) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    for (const ElementLength& drawn : lengths) {
        const bool chosen = drawn.element == picked;
        const QColor ink = chosen ? colours.selection : colours.accent;
        if (drawn.from_side) {
            painter.setPen(QPen(colours.label_back, 3));
            painter.drawLine(*drawn.from_side);
            painter.setPen(QPen(ink, 1, Qt::DashLine));
            painter.drawLine(*drawn.from_side);
        }
        const double length = drawn.line.length();
        const QPointF way = length > 0 ? (drawn.line.p2() - drawn.line.p1()) / length : QPointF(0, -1), across(-way.y(), way.x());
        painter.setPen(QPen(colours.label_back, 5, Qt::SolidLine, Qt::FlatCap));
        painter.drawLine(drawn.line);
        painter.setPen(QPen(ink, chosen ? 2.6 : 1.8, Qt::SolidLine, Qt::FlatCap));
        painter.drawLine(drawn.line);
        // A ring where measuring begins; what runs on beyond the drawing has two strokes instead (ISO 129-1 has both marks of origin and broken-off ends; from memory).
        const auto broken = [&](QPointF at, QPointF onward) {
            painter.setPen(QPen(ink, 1.6));
            for (const double step : {0.0, 5.0}) painter.drawLine(at - step * onward - 5 * across - 3 * onward, at - step * onward + 5 * across + 3 * onward);
        };
        if (drawn.from_beyond) broken(drawn.line.p1(), -way);
        else {
            painter.setPen(QPen(ink, 1.6));
            painter.setBrush(colours.paper);
            painter.drawEllipse(drawn.line.p1(), length_ring, length_ring);
        }
        if (drawn.to_beyond) broken(drawn.line.p2(), way);
        else {
            painter.setPen(Qt::NoPen);
            painter.setBrush(ink);
            painter.drawPolygon(QPolygonF{drawn.line.p2(), drawn.line.p2() - length_head * way + 3.5 * across, drawn.line.p2() - length_head * way - 3.5 * across});
        }
        if (drawn.reference) {  // what can be taken hold of
            const QPointF at = view.to_pixels(*drawn.reference);
            painter.setPen(QPen(ink, 1.6));
            painter.setBrush(colours.paper);
            painter.drawPolygon(QPolygonF{at + QPointF(0, -6), at + QPointF(6, 0), at + QPointF(0, 6), at + QPointF(-6, 0)});
        }
        painter.setBrush(Qt::NoBrush);
        const QSizeF size = label_size(sheet_font(12, chosen), drawn.text);
        painter.save();
        painter.translate(drawn.centre);
        if (drawn.upright) painter.rotate(-90);
        paint_label(painter, QRectF(QPointF(-size.width() / 2, -size.height() / 2), size), drawn.text, sheet_font(12, chosen), colours.ink, colours.label_back);
        painter.restore();
    }
    painter.restore();
}

void paint_hidden_line(QPainter& painter, const View& view, const Path& path, const QRectF& bounds, QColor ink, double width) {
    constexpr double apart = 8, half_stroke = 5;
    painter.setBrush(Qt::NoBrush);
    for (std::size_t i = 1; i < path.size(); ++i) {
        const auto line = clipped(QLineF(view.to_pixels(path[i - 1]), view.to_pixels(path[i])), bounds);
        if (!line || line->length() < 1) continue;
        painter.setPen(QPen(ink, width + 1, Qt::SolidLine, Qt::FlatCap));
        painter.drawLine(*line);
        const QPointF way = (line->p2() - line->p1()) / line->length(), across(-way.y(), way.x());
        painter.setPen(QPen(ink, width, Qt::SolidLine, Qt::FlatCap));
        for (double at = apart / 2; at < line->length(); at += apart) {
            const QPointF middle = line->p1() + at * way;
            painter.drawLine(middle - half_stroke * (way + across), middle + half_stroke * (way + across));
        }
    }
}

void paint_hidden(QPainter& painter, const View& view, const Section& section, const SheetColours& colours, LabelPlaces& places) {
    const QFont font = sheet_font(11);
    for (const HiddenSurface& hidden : section.hidden) {
        if (hidden.path.size() < 2) continue;
        const QRectF bounds = places.bounds().adjusted(-2, -2, 2, 2);
        paint_hidden_line(painter, view, hidden.path, bounds, colours.label_back, 5);
        paint_hidden_line(painter, view, hidden.path, bounds, colours.caution, 2);
        const QString text = caption("mark-hidden", {{"reason", hidden.reason}});
        const QSizeF size = label_size(font, text);
        const QPointF middle = (view.to_pixels(hidden.path.front()) + view.to_pixels(hidden.path.back())) / 2;
        // On a ring around its middle, the nearest places first.
        QList<QPointF> centres;
        for (const double further : {0.0, 16.0, 34.0})
            for (const QPointF way : {QPointF(-1, -1), QPointF(-1, 0), QPointF(1, -1), QPointF(1, 0), QPointF(-1, 1), QPointF(1, 1), QPointF(0, -1), QPointF(0, 1)})
                centres.append(middle + QPointF(way.x() * (size.width() / 2 + 12 + further), way.y() * (size.height() / 2 + 10 + further)));
        if (const auto where = places.take(size, centres))
            paint_label(painter, *where, text, font, colours.ink, colours.label_back);
    }
}

}  // namespace wallfoot
