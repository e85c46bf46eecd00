// SPDX-License-Identifier: GPL-3.0-or-later
#include <QInputDialog>
#include <QLineEdit>
#include <cmath>

#include "core/arrangement/parts.hpp"
#include "core/study/edits.hpp"
#include "ui/paint/section_notes.hpp"
#include "ui/panels/words.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/sheet/sheet_pens.hpp"
#include "ui/window/document.hpp"

// Editing what is there: picking several, moving by points, splitting, measures, dimensions and texts, grid and guides.
namespace wallfoot {

namespace {

constexpr double far_away = 1e6;

double distance(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }

double distance_to(const QLineF& line, QPointF p) {
    const QPointF d = line.p2() - line.p1();
    const double length2 = QPointF::dotProduct(d, d);
    const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(p - line.p1(), d) / length2, 0.0, 1.0) : 0.0;
    return distance(p, line.p1() + t * d);
}

QPolygonF in_mm(const std::vector<Point>& line) {
    QPolygonF shape;
    for (const Point p : line) shape << QPointF(to_mm(p.x), to_mm(p.y));
    return shape;
}

bool lies_in(const std::vector<Point>& line, const QRectF& box) {
    return std::all_of(line.begin(), line.end(), [&](Point p) { return box.contains(QPointF(to_mm(p.x), to_mm(p.y))); });
}

bool touches(const std::vector<Point>& line, bool closed, const QRectF& box) {
    if (closed && in_mm(line).containsPoint(box.center(), Qt::OddEvenFill)) return true;
    const QPolygonF shape = in_mm(line);
    const QLineF sides[] = {{box.topLeft(), box.topRight()}, {box.topRight(), box.bottomRight()}, {box.bottomRight(), box.bottomLeft()}, {box.bottomLeft(), box.topLeft()}};
    for (qsizetype i = 0; i < shape.size(); ++i) {
        if (box.contains(shape[i])) return true;
        if (i == 0 && !closed) continue;
        const QLineF edge(shape[i == 0 ? shape.size() - 1 : i - 1], shape[i]);
        for (const QLineF& side : sides)
            if (edge.intersects(side, nullptr) == QLineF::BoundedIntersection) return true;
    }
    return false;
}

}  // namespace

// ---- taking hold -----------------------------------------------------------------------------------------------------

std::optional<Sheet::Drag> Sheet::note_handle_at(QPointF pixels) const {
    const auto section = shown();
    const auto held = [&](PickedKind kind, const std::string& id, Point at) {
        // One of several that are picked moves them all.
        Picked of{kind, words(id)};
        const bool among = !picked_.more.empty() &&
                           ((picked_.kind == kind && picked_.id == of.id) || std::find(picked_.more.begin(), picked_.more.end(), std::pair(kind, of.id)) != picked_.more.end());
        Drag drag{among ? picked_ : of, at, at, true, false, {}, section, nullptr, {}, {}, among};
        return drag;
    };
    for (const Stretch& stretch : section->stretch) {
        const StretchPlace place = place_of(view_, stretch);
        const QPointF at = view_.to_mm(place.handle);
        if (distance(place.handle, pixels) <= 10 || place.label.contains(pixels)) return held(PickedKind::stretch, stretch.id, {from_mm(at.x()), from_mm(at.y())});
    }
    for (const Dimension& dimension : section->dimensions) {
        const DimensionPlace place = place_of(view_, dimension);
        const QPointF at = view_.to_mm(place.middle);
        if (distance_to(place.line, pixels) <= 4 || place.label.contains(pixels)) return held(PickedKind::dimension, dimension.id, {from_mm(at.x()), from_mm(at.y())});
    }
    for (const Note& note : section->texts)
        if (place_of(view_, note).contains(pixels)) return held(PickedKind::note, note.id, note.at);
    return {};
}

/// An end of the picked dimension.
std::optional<Sheet::Drag> Sheet::dimension_end_at(QPointF pixels) const {
    const auto section = shown();
    const Dimension* dimension = picked_.kind == PickedKind::dimension && picked_.more.empty() ? find_dimension(*section, picked_.id.toStdString()) : nullptr;
    if (!dimension) return {};
    const double first = distance(view_.to_pixels(dimension->from), pixels), second = distance(view_.to_pixels(dimension->to), pixels);
    if (std::min(first, second) > 9) return {};
    const bool to = second < first;
    const Point at = to ? dimension->to : dimension->from;
    return Drag{picked_, at, at, true, false, {}, section, nullptr, {}, {}, false, to};
}

std::optional<Sheet::Drag> Sheet::body_at(QPointF pixels) {
    const auto section = shown();
    const Taken taken = taken_of(picked_);
    if (!section || taken == Taken{}) return {};
    const Point at = free_point(view_.to_mm(pixels));
    for (const std::size_t i : pieces_at(*section, at))
        if (std::find(taken.pieces.begin(), taken.pieces.end(), section->pieces[i].id) != taken.pieces.end()) {
            // Taken hold of at a corner nearby, so that it comes to lie exactly on another one.
            const Snap snap = snap_at(pixels, {});
            const Point base = snap.kind == SnapKind::corner ? snap.at : at;
            return Drag{picked_, base, base, true, false, {}, section, nullptr, {}, {}, true};
        }
    for (const std::string& id : taken.membranes)
        if (const Membrane* membrane = picked_.more.empty() ? nullptr : find_membrane(*section, id))
            for (std::size_t i = 1; i < membrane->path.size(); ++i)
                if (distance_to({view_.to_pixels(membrane->path[i - 1]), view_.to_pixels(membrane->path[i])}, pixels) <= 5) return Drag{picked_, at, at, true, false, {}, section, nullptr, {}, {}, true};
    return {};
}

std::optional<std::pair<Point, Point>> Sheet::clicked_edge() const {
    if (!clicked_ || clicked_->corner || clicked_->of != picked_ || picked_.kind != PickedKind::piece) return {};
    return std::pair(clicked_->a, clicked_->b);
}

void Sheet::pick_box(QRectF mm, bool touching) {
    const auto section = shown();
    if (!section) return;
    const auto takes = [&](const std::vector<Point>& line, bool closed) { return lies_in(line, mm) || (touching && touches(line, closed, mm)); };
    Taken taken;
    for (auto piece = section->pieces.rbegin(); piece != section->pieces.rend(); ++piece)
        if (takes(piece->outline, true)) taken.pieces.push_back(piece->id);
    for (const Membrane& membrane : section->membranes)
        if (takes(membrane.path, false)) taken.membranes.push_back(membrane.id);
    for (const Dimension& dimension : section->dimensions)
        if (takes({dimension.from, dimension.to}, false)) taken.dimensions.push_back(dimension.id);
    for (const Note& note : section->texts)
        if (takes({note.at}, false)) taken.texts.push_back(note.id);
    set_picked(picked_of(taken));
    update();
}

// ---- tools -----------------------------------------------------------------------------------------------------------

bool Sheet::may_take(Tool tool) {
    if (!document_.has_study()) return true;
    const Taken taken = taken_of(picked_);
    if (tool == Tool::move) return taken != Taken{};
    return (tool != Tool::split && tool != Tool::hole) || !taken.pieces.empty();
}

QString Sheet::needs_piece() const {
    return picked_.hole ? tr("A hole is picked; this needs a piece. Click the piece beside the hole first.") : tr("Pick a piece or more first.");
}

bool Sheet::outline_is_whole() const {
    const std::size_t corners = outline_->corners().size();
    return ((tool_ == Tool::move || tool_ == Tool::split) && corners > 1) || (tool_ == Tool::dimension && corners > 2);
}

QString Sheet::edit_hint() const {
    const std::size_t corners = outline_->corners().size();
    switch (tool_) {
        case Tool::move: return corners == 0 ? tr("Point to move by: click a corner, or type x and y.") : tr("Where that point goes: click, or type (Tab: dx, dy).");
        case Tool::split: return corners == 0 ? tr("Split: first point of the line; it runs on without end.") : tr("Second point of the line that splits what is picked.");
        case Tool::hole: return corners == 0 ? tr("Hole in the picked piece: first corner, inside it.") : corners < 3 ? tr("Next corner of the hole: click, or type a length.") : QString();
        case Tool::stretch: return corners == 0 ? tr("Measure: draw a line through what is to grow; what lies beyond it will move. First point.")
                                   : corners == 1 ? tr("Next point of the line: upright moves the right side, level what is above; its way can be changed afterwards.")
                                                  : tr("Next point; Enter or double click ends the line.");
        case Tool::dimension: return corners == 0 ? tr("Dimension: first point to measure from.") : corners == 1 ? tr("Second point.") : tr("Where the dimension stands: above or below for the width, beside for the height, between for the straight length. Enter puts it on the points.");
        case Tool::note: return tr("Click where the text begins.");
        default: return {};
    }
}

Dimension Sheet::drawn_dimension(const Outline& corners) const {
    Dimension dimension;
    dimension.from = corners[0];
    dimension.to = corners[1];
    if (corners.size() < 3) return dimension;
    const Point a = corners[0], b = corners[1], at = corners[2];
    const auto [left, right] = std::minmax(a.x, b.x);
    const auto [low, high] = std::minmax(a.y, b.y);
    const bool over = at.x >= left && at.x <= right, beside = at.y >= low && at.y <= high;
    if (a.y == b.y || (over && !beside && a.x != b.x)) dimension.along.assign(1, 'x');
    else if (a.x == b.x || (beside && !over)) dimension.along.assign(1, 'y');
    const double dx = to_mm(b.x - a.x), dy = to_mm(b.y - a.y);
    dimension.offset = dimension.along == "x" ? at.y - a.y : dimension.along == "y" ? at.x - a.x : from_mm((-dy * to_mm(at.x - a.x) + dx * to_mm(at.y - a.y)) / std::hypot(dx, dy));
    return dimension;
}

std::vector<Message> Sheet::commit_stretch() {
    const Outline line = outline_->corners();
    const bool upright = std::abs(line.back().y - line.front().y) >= std::abs(line.back().x - line.front().x);
    const std::string picked = picked_.kind == PickedKind::piece ? picked_.id.toStdString() : "";
    std::string id;
    const auto refusals = document_.edit(tr("Draw measure"), [&](const Section& section) {
        // What it measures: the picked piece, else the topmost one under the line, else the whole section.
        const Piece* piece = find_piece(section, picked);
        const Point middle{(line.front().x + line.back().x) / 2, (line.front().y + line.back().y) / 2};
        const auto under = pieces_at(section, middle);
        if (!piece && !under.empty()) piece = &section.pieces[under.front()];
        Section with = add_stretch(section, stretch_through(section, line, upright ? "right" : "up", piece));
        id = with.stretch.back().id;
        return with;
    });
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked({PickedKind::stretch, QString::fromStdString(id)});
    return {};
}

std::vector<Message> Sheet::commit_note() {
    const Point at = outline_->corners().front();
    bool agreed = false;
    const QString text = QInputDialog::getText(this, tr("Text"), tr("Text on the drawing (\" / \" begins a new line):"), QLineEdit::Normal, {}, &agreed).trimmed().replace(QStringLiteral(" / "), QStringLiteral("\n"));
    if (!agreed) {
        set_tool(Tool::pick);
        return {};
    }
    std::string id;
    const auto refusals = document_.edit(tr("Set text"), [&](const Section& section) {
        Section with = add_note(section, {"", at, text.toStdString(), {}});
        id = with.texts.back().id;
        return with;
    });
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked({PickedKind::note, QString::fromStdString(id)});
    return {};
}

std::vector<Message> Sheet::commit_edit_tool() {
    if (tool_ == Tool::stretch) return commit_stretch();
    if (tool_ == Tool::note) return commit_note();
    const Outline corners = outline_->corners();
    const Picked picked = picked_;
    const Taken taken = taken_of(picked);
    // What was picked may have gone while the tool was in hand.
    if (!may_take(tool_)) return {Message{Severity::fault, "edit-needs-piece", {}, {}, {}}};
    std::vector<Message> refusals;
    Picked after = picked;
    if (tool_ == Tool::move) {
        refusals = document_.edit(tr("Move by points"), [&](const Section& s) { return move_taken(s, taken, corners[1].x - corners[0].x, corners[1].y - corners[0].y); });
    } else if (tool_ == Tool::split) {
        refusals = document_.edit(tr("Split"), [&](const Section& section) {
            Section result = section;
            std::optional<InputFault> missed;
            int parted = 0;
            for (const std::string& id : taken.pieces) {
                try {
                    result = split_piece(result, id, corners[0], corners[1]);
                    ++parted;
                } catch (const InputFault& fault) {
                    missed = fault;
                }
            }
            if (parted == 0 && missed) throw *missed;
            return result;
        });
    } else if (tool_ == Tool::hole) {
        refusals = document_.edit(tr("Cut hole"), [&](const Section& s) { return add_hole(s, taken.pieces.front(), corners); });
    } else {
        std::string id;
        refusals = document_.edit(tr("Draw dimension"), [&](const Section& section) {
            Section with = add_dimension(section, drawn_dimension(corners));
            id = with.dimensions.back().id;
            return with;
        });
        after = {PickedKind::dimension, QString::fromStdString(id)};
    }
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked(after);
    return {};
}

// ---- grid and guides -------------------------------------------------------------------------------------------------

void Sheet::set_grid(std::optional<double> step_mm) {
    grid_mm_ = step_mm;
    update();
}

void Sheet::set_guides(std::vector<Guide> guides) {
    guides_ = std::move(guides);
    snapper_.reset();
    update();
}

// ---- painting --------------------------------------------------------------------------------------------------------

void Sheet::paint_grid(QPainter& painter) {
    const SheetColours colours = this->colours();
    QColor faint = colours.faint;
    faint.setAlphaF(0.35F);
    painter.setPen(thin(faint));
    if (grid_mm_) {
        // Too fine a grid is shown by every fifth, tenth … line; all of it holds the cursor.
        double step = *grid_mm_;
        for (int i = 0; step * view_.pixels_per_mm < 9; ++i) step *= i % 2 ? 2 : 5;
        const QPointF low = view_.to_mm(QPointF(0, height())), high = view_.to_mm(QPointF(width(), 0));
        for (double x = std::ceil(low.x() / step) * step; x <= high.x(); x += step) {
            const double at = std::round(view_.to_pixels(x, 0).x()) + 0.5;
            painter.drawLine(QPointF(at, 0), QPointF(at, height()));
        }
        for (double y = std::ceil(low.y() / step) * step; y <= high.y(); y += step) {
            const double at = std::round(view_.to_pixels(0, y).y()) + 0.5;
            painter.drawLine(QPointF(0, at), QPointF(width(), at));
        }
    }
    painter.setPen(thin(colours.accent, 1, Qt::DotLine));
    for (const Guide& guide : guides_) {
        const QPointF at = view_.to_pixels(Point{guide.at, guide.at});
        if (guide.upright) painter.drawLine(QPointF(at.x(), 0), QPointF(at.x(), height()));
        else painter.drawLine(QPointF(0, at.y()), QPointF(width(), at.y()));
    }
}

void Sheet::paint_measures(QPainter& painter) {
    const SheetColours colours = this->colours();
    for (const Stretch& stretch : shown()->stretch)
        paint_stretch(painter, place_of(view_, stretch), colours, picked_.kind == PickedKind::stretch && picked_.id == words(stretch.id));
    if (!boxing_ || !box_from_) return;
    QColor fill = colours.accent;
    fill.setAlphaF(0.1F);
    painter.setPen(thin(colours.accent, 1, Qt::DashLine));
    painter.setBrush(fill);
    painter.drawRect(QRectF(*box_from_, hover_pixels_).normalized());
}

void Sheet::paint_several(QPainter& painter) {
    const SheetColours colours = this->colours();
    const auto section = shown();
    const Taken taken = taken_of(picked_);
    painter.setPen(thin(colours.selection, 2.5));
    painter.setBrush(Qt::NoBrush);
    for (const std::string& id : taken.pieces)
        if (const Piece* piece = find_piece(*section, id)) {
            painter.drawPolygon(polygon(view_, piece->outline));
            for (const Outline& hole : piece->holes) painter.drawPolygon(polygon(view_, hole));
        }
    for (const std::string& id : taken.membranes)
        if (const Membrane* membrane = find_membrane(*section, id)) painter.drawPolyline(polygon(view_, membrane->path));
    for (const std::string& id : taken.dimensions)
        if (const Dimension* dimension = find_dimension(*section, id)) paint_dimension(painter, place_of(view_, *dimension), colours.selection, colours.label_back);
    if (const Dimension* alone = picked_.more.empty() && !taken.dimensions.empty() && tool_ == Tool::pick ? find_dimension(*section, taken.dimensions.front()) : nullptr) paint_dimension_ends(painter, *alone);
    painter.setPen(thin(colours.selection, 1.5));
    painter.setBrush(Qt::NoBrush);
    for (const std::string& id : taken.texts)
        if (const Note* note = find_note(*section, id)) painter.drawRoundedRect(place_of(view_, *note).adjusted(-2, -2, 2, 2), 3, 3);
}

void Sheet::paint_dimension_ends(QPainter& painter, const Dimension& dimension) {
    const SheetColours colours = this->colours();
    painter.setPen(thin(colours.selection, 1.5));
    painter.setBrush(colours.paper);
    for (const Point end : {dimension.from, dimension.to}) painter.drawRect(QRectF(view_.to_pixels(end) - QPointF(4, 4), QSizeF(8, 8)));
    const auto& hot = drag_ ? drag_ : handle_;
    if (!hot || !hot->end || hot->of != picked_) return;
    painter.setPen(thin(colours.accent, 4));
    painter.drawEllipse(view_.to_pixels(*hot->end ? dimension.to : dimension.from), 6, 6);
}

/// What the tool in hand would do with the points there are and the cursor.
void Sheet::paint_edit_preview(QPainter& painter, const Outline& outline) {
    const SheetColours colours = this->colours();
    if (tool_ == Tool::dimension && outline.size() > 1) {
        Outline points = outline;
        if (points.size() > 3) points.resize(3);
        const Dimension dimension = drawn_dimension(points);
        if (dimension_length(dimension) > 0) paint_dimension(painter, place_of(view_, dimension), colours.accent, colours.label_back);
        painter.setPen(thin(colours.accent, 2));
        return;
    }
    if (tool_ == Tool::split && outline.size() == 2 && outline[0] != outline[1]) {
        const QLineF line(view_.to_pixels(outline[0]), view_.to_pixels(outline[1]));
        const QPointF way = (line.p2() - line.p1()) / line.length() * far_away;
        painter.setPen(thin(colours.accent, 1, Qt::DashLine));
        painter.drawLine(line.p1() - way, line.p2() + way);
        painter.setPen(thin(colours.accent, 2));
    }
    painter.drawPolyline(polygon(view_, outline));
    if (tool_ != Tool::move || outline.size() != 2) return;
    const Taken taken = taken_of(picked_);
    painter.setPen(thin(colours.accent, 1.5, Qt::DashLine));
    const QPointF by = view_.to_pixels(outline[1]) - view_.to_pixels(outline[0]);
    for (const std::string& id : taken.pieces)
        if (const Piece* piece = find_piece(*shown(), id)) painter.drawPolygon(polygon(view_, piece->outline).translated(by));
    for (const std::string& id : taken.membranes)
        if (const Membrane* membrane = find_membrane(*shown(), id)) painter.drawPolyline(polygon(view_, membrane->path).translated(by));
}

}  // namespace wallfoot
