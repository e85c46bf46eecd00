// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "ui/paint/section_marks.hpp"
#include "ui/panels/words.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

// What lies under the hand: what can be picked there, what can be dragged, and what becomes of the section then.
namespace wallfoot {

namespace {

using Lines = std::vector<const std::vector<Point>*>;

double distance_to_line(QPointF p, QPointF a, QPointF b) {
    const QPointF d = b - a;
    const double length2 = QPointF::dotProduct(d, d);
    const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(p - a, d) / length2, 0.0, 1.0) : 0.0;
    const QPointF off = p - (a + t * d);
    return std::hypot(off.x(), off.y());
}

QString level_id(const LevelMark& mark) { return text_of({mark.kind, mark.side}); }

/// The corners of a membrane with those in `moving` moved.
Path moved_path(const Section& section, const std::string& id, const std::vector<Point>& moving, Micrometres dx, Micrometres dy) {
    const Membrane* membrane = find_membrane(section, id);
    Path path = membrane ? membrane->path : Path{};
    for (Point& p : path)
        if (std::find(moving.begin(), moving.end(), p) != moving.end()) p = {p.x + dx, p.y + dy};
    return path;
}

}  // namespace

// ---- taking hold -----------------------------------------------------------------------------------------------------

std::optional<Sheet::Drag> Sheet::line_handle_at(QPointF pixels, const Lines& lines, bool closed) const {
    std::optional<Drag> found;
    double best = 9;
    for (const auto* line : lines)
        for (const Point p : *line) {
            const QPointF at = view_.to_pixels(p);
            const double d = std::hypot(at.x() - pixels.x(), at.y() - pixels.y());
            if (d > best) continue;
            best = d;
            found = Drag{picked_, p, p, true, false, {p}, shown(), nullptr, {}};
        }
    if (found) return found;
    best = 6;
    for (const auto* line : lines)
        for (std::size_t i = closed ? 0 : 1; i < line->size(); ++i) {
            const Point a = (*line)[i == 0 ? line->size() - 1 : i - 1], b = (*line)[i];
            const double d = distance_to_line(pixels, view_.to_pixels(a), view_.to_pixels(b));
            if (d > best) continue;
            best = d;
            found = Drag{picked_, a, b, false, false, {a, b}, shown(), nullptr, {}};
        }
    return found;
}

std::optional<Sheet::Drag> Sheet::corner_or_edge_at(QPointF pixels) const {
    const auto section = shown();
    const std::string id = picked_.id.toStdString();
    if (!picked_.more.empty()) return {};  // several are moved as a whole
    if (picked_.kind == PickedKind::membrane) {
        const Membrane* membrane = find_membrane(*section, id);
        return membrane ? line_handle_at(pixels, {&membrane->path}, false) : std::nullopt;
    }
    const Piece* piece = picked_.kind == PickedKind::piece ? find_piece(*section, id) : nullptr;
    if (!piece) return {};
    Lines lines{&piece->outline};
    for (const auto& hole : piece->holes) lines.push_back(&hole);
    auto found = line_handle_at(pixels, lines, true);
    if (!found) return found;
    if (!found->corner) found->moving = points_moved_with_edge(*section, found->a, found->b);
    // Taken hold of at the edge of a hole, that hole is meant.
    found->of.hole.reset();
    const auto has = [&](const Outline& line) { return std::find(line.begin(), line.end(), found->a) != line.end() && std::find(line.begin(), line.end(), found->b) != line.end(); };
    for (std::size_t h = 0; h < piece->holes.size() && !has(piece->outline); ++h)
        if (has(piece->holes[h])) found->of.hole = h;
    return found;
}

/// A mark of a space or of a level, by itself or by its name.
std::optional<Sheet::Drag> Sheet::mark_at(QPointF pixels) const {
    const auto section = shown();
    const auto space = [&](const std::string& id, Point at) { return Drag{{PickedKind::space, words(id), at}, at, at, true, false, {}, section, nullptr, {}}; };
    const auto level = [&](const LevelMark& mark) {
        const Point at{mark.at == Side::left ? section->cut.left : section->cut.right, mark.height};
        return Drag{{PickedKind::level, level_id(mark), {}}, at, at, true, false, {}, section, nullptr, {}};
    };
    for (const Space& candidate : section->spaces)
        for (const Point mark : candidate.at) {
            const QPointF at = view_.to_pixels(mark);
            if (std::hypot(at.x() - pixels.x(), at.y() - pixels.y()) <= 9) return space(candidate.id, mark);
        }
    for (const LevelMark& mark : level_marks(*section)) {
        if (level_mark_rect(view_, *section, mark).contains(pixels)) return level(mark);
        // Once picked, its whole line can be taken hold of.
        if (picked_.kind == PickedKind::level && picked_.id == level_id(mark) && std::abs(view_.to_pixels(Point{0, mark.height}).y() - pixels.y()) <= 4) return level(mark);
    }
    if (lines_key_.section != section || !(lines_key_.view == view_)) return {};
    for (const Named& name : named_) {
        if (!name.where.contains(pixels)) continue;
        return name.level ? level(*name.level) : space(name.space, name.at);
    }
    return {};
}

std::optional<Sheet::Drag> Sheet::handle_at(QPointF pixels) const {
    if (!shown()) return {};
    if (const auto line = corner_or_edge_at(pixels)) return line;
    if (const auto end = dimension_end_at(pixels)) return end;
    if (const auto length = length_handle_at(pixels)) return length;
    if (const auto hidden = hidden_handle_at(pixels)) return hidden;
    if (const auto mark = mark_at(pixels)) return mark;
    const auto note = note_handle_at(pixels);
    return note ? note : underlay_handle_at(pixels);
}

void Sheet::pick_at(QPointF pixels, bool add) {
    const auto section = shown();
    if (!section) return;
    const auto pieces = pieces_at(*section, free_point(view_.to_mm(pixels)));
    std::vector<Picked> under;
    for (const auto& membrane : section->membranes)
        for (std::size_t i = 1; i < membrane.path.size(); ++i)
            if (distance_to_line(pixels, view_.to_pixels(membrane.path[i - 1]), view_.to_pixels(membrane.path[i])) <= 4) {
                under.push_back({PickedKind::membrane, words(membrane.id), {}});
                break;
            }
    for (const auto i : pieces) under.push_back({PickedKind::piece, words(section->pieces[i].id), {}});
    for (const auto& [piece, hole] : holes_at(*section, free_point(view_.to_mm(pixels)))) {
        Picked picked{PickedKind::piece, words(section->pieces[piece].id)};
        picked.hole = hole;
        under.push_back(picked);
    }
    if (const auto underlay = underlay_under(pixels)) under.push_back(*underlay);
    const auto present = std::find_if(under.begin(), under.end(), [&](const Picked& p) { return p.kind == picked_.kind && p.id == picked_.id && p.hole == picked_.hole; });
    if (add) {
        if (!under.empty()) set_picked(toggled(picked_, under.front()));
    } else if (under.empty()) set_picked({});
    else if (present == under.end()) set_picked(under.front());
    else set_picked(*(present + 1 == under.end() ? under.begin() : present + 1));
}

// ---- what dragging does ----------------------------------------------------------------------------------------------

Snapper Sheet::snapper_for(const Drag& drag) {
    if (drag.body) return Snapper(delete_taken(*drag.base, taken_of(drag.of)));
    if (drag.of.kind == PickedKind::piece) return Snapper(*drag.base, drag.moving);
    Section without = *drag.base;
    if (drag.of.kind == PickedKind::membrane) without = delete_membrane(without, drag.of.id.toStdString());
    if (drag.of.kind == PickedKind::level) without = set_level(without, level_of(drag.of.id).kind, level_of(drag.of.id).side, {});
    return Snapper(without);
}

Section Sheet::dragged(const Section& base, const Drag& drag, Point to) {
    const std::string id = drag.of.id.toStdString();
    const Micrometres dx = to.x - drag.a.x, dy = to.y - drag.a.y;
    if (drag.body) return move_taken(base, taken_of(drag.of), dx, dy);
    switch (drag.of.kind) {
        case PickedKind::membrane: return set_membrane_path(base, id, moved_path(base, id, drag.moving, dx, dy));
        case PickedKind::space: return move_mark(base, id, drag.a, to);
        case PickedKind::level: return set_level(base, level_of(drag.of.id).kind, level_of(drag.of.id).side, to.y);
        case PickedKind::stretch: {
            const Stretch* stretch = find_stretch(base, id);
            const std::string way = stretch ? stretch->moves : "";
            return set_stretch(base, id, (stretch ? stretch_length(*stretch) : 0) + (way == "left" ? -dx : way == "up" ? dy : way == "down" ? -dy : dx));
        }
        case PickedKind::dimension: {
            if (drag.end) return move_dimension_end(base, id, *drag.end, to);
            const Dimension* found = find_dimension(base, id);
            Dimension dimension;
            dimension.id = id;
            if (found) dimension = *found;
            const double ax = to_mm(dimension.to.x - dimension.from.x), ay = to_mm(dimension.to.y - dimension.from.y), length = std::max(std::hypot(ax, ay), 1e-9);
            dimension.offset += dimension.along == "x" ? dy : dimension.along == "y" ? dx : from_mm((-ay * to_mm(dx) + ax * to_mm(dy)) / length);
            return change_dimension(base, dimension);
        }
        case PickedKind::element: return drag.end ? set_element_reference(base, id, drag.cut, drag.lengths, to) : base;
        case PickedKind::hidden: {
            const HiddenSurface* found = find_hidden(base, id);
            HiddenSurface hidden;
            hidden.id = id;
            if (found) hidden = *found;
            for (Point& p : hidden.path)
                if (std::find(drag.moving.begin(), drag.moving.end(), p) != drag.moving.end()) p = {p.x + dx, p.y + dy};
            return change_hidden(base, hidden);
        }
        case PickedKind::note: return move_taken(base, {.texts = {id}}, dx, dy);
        case PickedKind::underlay: return move_underlay(base, id, dx, dy);
        default: return drag.corner ? move_corner(base, drag.a, to) : move_edge(base, drag.a, drag.b, dx, dy);
    }
}

QString Sheet::name_of_drag(const Drag& drag) {
    if (drag.body) return tr("Move");
    switch (drag.of.kind) {
        case PickedKind::membrane: return drag.corner ? tr("Move corner of the membrane") : tr("Move part of the membrane");
        case PickedKind::space: return tr("Move space mark");
        case PickedKind::level: return tr("Move level");
        case PickedKind::stretch: return tr("Change measure");
        case PickedKind::dimension: return drag.end ? tr("Move end of the dimension") : tr("Move dimension line");
        case PickedKind::note: return tr("Move text");
        case PickedKind::hidden: return tr("Move hidden surface");
        case PickedKind::element: return drag.end ? tr("Move the place that \"%1\" is measured to").arg(drag.of.id) : tr("Drag the diamond: it is the place that \"%1\" is measured to").arg(drag.of.id);
        case PickedKind::underlay: return tr("Move underlay");
        default: return drag.corner ? tr("Move corner") : tr("Move edge");
    }
}

/// A double click: takes the corner out, or makes one on the edge itself, wherever the cursor was exactly.
void Sheet::change_corner_at(const Drag& handle, QPointF pixels, Qt::KeyboardModifiers keys) {
    if (handle.corner) {
        emit told(sentence(document_.edit(tr("Take corner out"), [&](const Section& s) {
            if (handle.of.kind != PickedKind::membrane) return remove_corner(s, handle.a);
            const std::string id = handle.of.id.toStdString();
            Path path = moved_path(s, id, {}, 0, 0);
            std::erase(path, handle.a);
            return set_membrane_path(s, id, path);
        })));
        return;
    }
    const QPointF a(to_mm(handle.a.x), to_mm(handle.a.y)), b(to_mm(handle.b.x), to_mm(handle.b.y));
    const Point wished = snap_at(pixels, keys).at;
    const QPointF w(to_mm(wished.x), to_mm(wished.y));
    const double t = QPointF::dotProduct(w - a, b - a) / QPointF::dotProduct(b - a, b - a);
    const QPointF on = a + std::clamp(t, 0.0, 1.0) * (b - a);
    emit told(sentence(document_.edit(tr("Insert corner"), [&](const Section& s) { return insert_corner(s, {from_mm(on.x()), from_mm(on.y())}); })));
}

}  // namespace wallfoot
