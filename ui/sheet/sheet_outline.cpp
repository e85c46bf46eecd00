// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "core/arrangement/region.hpp"
#include "core/arrangement/way.hpp"
#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"
#include "ui/sheet/entry_box.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

// Drawing what is new: corners by clicks or typed lengths.
namespace wallfoot {

namespace {

OutlineTool::Shape shape_of(Tool tool) {
    switch (tool) {
        case Tool::rectangle: return OutlineTool::Shape::rectangle;
        case Tool::membrane:
        case Tool::layers:
        case Tool::move:
        case Tool::split:
        case Tool::stretch:
        case Tool::hidden:
        case Tool::dimension: return OutlineTool::Shape::line;
        case Tool::note:
        case Tool::space:
        case Tool::fill: return OutlineTool::Shape::point;
        case Tool::level: return OutlineTool::Shape::height;
        default: return OutlineTool::Shape::polygon;
    }
}

}  // namespace

void Sheet::set_tool(Tool tool) {
    drop_asked();
    end_drag(false);
    handle_.reset();
    const bool may = may_take(tool);
    if (!may) tool = Tool::pick;
    tool_ = tool;
    begin_outline();
    if (tool != Tool::pick) setFocus(Qt::OtherFocusReason);
    update_cursor();
    emit tool_changed(tool_);
    if (!may) emit told(needs_piece());
}

/// Begins anew with the tool in hand.
void Sheet::begin_outline() {
    close_entry();
    outline_.reset();
    if (tool_ != Tool::pick) {
        outline_.emplace(shape_of(tool_));
        outline_->hover(hover_);
        if (outline_->shape() == OutlineTool::Shape::line) outline_->set_follow([this](Point from, Point to) { return way(from, to); });
        if (tool_ == Tool::space && next_.space.isEmpty() && next_.space_kind == SpaceKind::unheated) outline_->ask_temperature();
    }
    emit told(hint());
    update();
}

void Sheet::set_next(const Next& next) {
    const bool other_space = next.space != next_.space || next.space_kind != next_.space_kind;
    next_ = next;
    if (tool_ == Tool::space && other_space) begin_outline();
    update();
}

/// What can be done now with the tool in hand.
QString Sheet::hint() const {
    if (!outline_) return {};
    if (const QString own = edit_hint(); !own.isEmpty()) return own;
    const std::size_t corners = outline_->corners().size();
    switch (tool_) {
        case Tool::space:
            return corners > 0 ? tr("Type the temperature of the space in °C; Enter sets it.") : tr("Click into the air of the space, or type x and y. The list above says which space.");
        case Tool::level: return tr("Click at the height of the level, or type it in mm. The list above says which level.");
        case Tool::fill: return tr("Click into a region that no piece covers: a piece fills it to its edges.");
        case Tool::membrane:
            if (corners == 0) return tr("First corner of the membrane: click, or type x and y. The list above says which kind.");
            if (corners == 1) return tr("Next corner: click, or type a length. It follows the edges; with Ctrl it goes straight.");
            return tr("Next corner; Enter or double click ends the membrane. Backspace takes a corner back.");
        case Tool::hidden:
            if (corners == 0) return tr("Hidden surface: first end of the stretch that nobody sees, on the inside surface: click, or type x and y.");
            if (corners == 1) return tr("Its other end: click, or type a length. It follows the edges; with Ctrl it goes straight.");
            return tr("Next corner; Enter or double click ends the stretch, then its reason is asked for. Backspace takes a corner back.");
        case Tool::layers:
            if (corners == 0) return tr("First corner of the line: click, or type x and y. The list above says on which side the layers lie.");
            if (corners == 1) return tr("Next corner: click, or type a length. It follows the edges; with Ctrl it goes straight.");
            return tr("Next corner; Enter or double click lays the layers. Backspace takes a corner back.");
        case Tool::rectangle: return corners == 0 ? tr("First corner: click, or type x and y.") : tr("Opposite corner: click, or type dx and dy (Tab goes on).");
        default: break;
    }
    if (corners == 0) return tr("First corner: click, or type x and y.");
    if (corners < 3) return tr("Next corner: click, or type a length in the direction of the mouse (Tab: angle, dx, dy).");
    return tr("Next corner; Enter, double click or a click on the first corner closes the piece. Backspace takes a corner back.");
}

Path Sheet::way(Point from, Point to) {
    const auto section = shown();
    if (noded_of_ != section) {
        Section drawn = *section;
        drawn.beyond.clear();
        noded_ = arrange(*document_.study(), drawn);
        noded_of_ = section;
    }
    return way_along_edges(*noded_, from, to);
}

void Sheet::outline_step(OutlineTool::Step step) {
    if (step == OutlineTool::Step::closed || (step == OutlineTool::Step::corner_set && outline_is_whole())) {
        finish_outline();
        return;
    }
    if (step == OutlineTool::Step::refused) {
        const std::string problem = outline_->problem();
        emit told(problem.empty() ? tool_ == Tool::space ? hint() : tr("There is a corner already, or the size is zero: choose another place.") : sentence(problem));
        return;
    }
    close_entry();
    emit told(hint());
    update();
    if (tool_ == Tool::space) open_entry({});
}

void Sheet::finish_outline() {
    std::vector<Message> refusals;
    switch (tool_) {
        case Tool::membrane: refusals = commit_membrane(); break;
        case Tool::space: refusals = commit_space(); break;
        case Tool::level: refusals = commit_level(); break;
        case Tool::layers: refusals = commit_layers(); break;
        case Tool::hidden: refusals = commit_hidden(); break;
        case Tool::move:
        case Tool::split:
        case Tool::hole:
        case Tool::stretch:
        case Tool::dimension:
        case Tool::note: refusals = commit_edit_tool(); break;
        case Tool::fill: {
            const Point at = outline_->corners().front();
            try {
                refusals = commit_piece(open_region(*document_.study(), document_.section(), at));
            } catch (const InputFault& fault) {
                refusals = fault.faults();
            }
            break;
        }
        default: {
            Piece piece;
            piece.outline = outline_->corners();
            refusals = commit_piece(std::move(piece));
        }
    }
    if (refusals.empty()) return;
    if (outline_ && outline_->shape() != OutlineTool::Shape::polygon && (outline_->shape() != OutlineTool::Shape::line || outline_is_whole())) {
        close_entry();
        outline_->take_back();
    }
    emit told(sentence(refusals));
    update();
}

std::vector<Message> Sheet::commit_piece(Piece piece) {
    piece.filled_with = next_.material.toStdString();
    if (const Material* material = document_.study()->find_material(piece.filled_with)) piece.name = material->name;
    std::string id;
    const auto refusals = document_.edit(tool_ == Tool::fill ? tr("Fill region") : tr("Draw piece"), [&](const Section& section) {
        Section with = add_piece(section, piece);
        id = with.pieces.back().id;
        return with;
    });
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked({PickedKind::piece, QString::fromStdString(id), {}});
    emit material_used(next_.material);
    return {};
}

std::vector<Message> Sheet::commit_membrane() {
    Membrane membrane;
    membrane.kind = next_.membrane;
    membrane.path = outline_->corners();
    std::string id;
    const auto refusals = document_.edit(tr("Draw membrane"), [&](const Section& section) {
        Section with = add_membrane(section, membrane);
        id = with.membranes.back().id;
        return with;
    });
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked({PickedKind::membrane, QString::fromStdString(id), {}});
    return {};
}

std::vector<Message> Sheet::commit_space() {
    const Point at = outline_->corners().front();
    const auto temperature = outline_->typed_temperature();
    std::string id = next_.space.toStdString();
    const auto refusals = document_.edit(tr("Set space mark"), [&](const Section& section) {
        if (!id.empty()) return add_mark(section, id, at);
        Section with = add_space(section, next_.space_kind, at, temperature);
        id = with.spaces.back().id;
        return with;
    });
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked({PickedKind::space, QString::fromStdString(id), at});
    return {};
}

std::vector<Message> Sheet::commit_level() {
    const Micrometres height = outline_->corners().front().y;
    const LevelName level = next_.level;
    const auto refusals = document_.edit(tr("Set level"), [&](const Section& section) { return set_level(section, level.kind, level.side, height); });
    if (!refusals.empty()) return refusals;
    set_tool(Tool::pick);
    set_picked({PickedKind::level, text_of(level), {}});
    return {};
}

std::vector<Message> Sheet::commit_layers() {
    const std::size_t before = document_.section().pieces.size();
    const auto refusals = document_.edit(tr("Lay layers"), [&](const Section& section) { return add_layers(section, outline_->corners(), next_.layers_on_left, next_.layers); });
    if (!refusals.empty()) return refusals;
    for (const Layer& layer : next_.layers) emit material_used(words(layer.material));
    set_tool(Tool::pick);
    if (const auto& pieces = document_.section().pieces; pieces.size() > before) set_picked({PickedKind::piece, words(pieces[before].id), {}});
    return {};
}

void Sheet::drop_outline() {
    close_entry();
    if (outline_->drawing()) outline_->reset();
    else set_tool(Tool::pick);
    update();
}

void Sheet::open_entry(const QString& first) {
    const bool at_corner = outline_->drawing() && (!hovering_ || tool_ == Tool::space);
    const QPointF cursor = at_corner ? view_.to_pixels(outline_->corners().back()) : hover_pixels_;
    outline_->clear_typed();
    entry_->begin(*outline_, cursor.toPoint(), first);
    tell_entry();
}

void Sheet::close_entry() {
    if (!entry_->isVisible()) return;
    entry_->hide();
    if (outline_) outline_->clear_typed();
    setFocus(Qt::OtherFocusReason);
    update();
}

void Sheet::tell_entry() {
    const std::string problem = outline_->problem();
    if (!problem.empty()) {
        entry_->tell(sentence(problem), true);
        return;
    }
    if (outline_->shape() == OutlineTool::Shape::point && outline_->drawing()) {
        entry_->tell(tr("°C; Enter sets it"), false);
        return;
    }
    const Point to = outline_->target();
    const auto text = [](Micrometres v) { return QString::fromStdString(number_text(to_mm(v))); };
    if (outline_->shape() == OutlineTool::Shape::height) {
        entry_->tell(tr("= height %1 mm").arg(text(to.y)), false);
        return;
    }
    if (!outline_->drawing()) {
        entry_->tell(outline_->shape() == OutlineTool::Shape::point ? tr("= x %1, y %2 mm").arg(text(to.x), text(to.y)) : tr("= corner at x %1, y %2 mm").arg(text(to.x), text(to.y)), false);
        return;
    }
    const Point last = outline_->corners().back();
    const double dx = to_mm(to.x - last.x), dy = to_mm(to.y - last.y);
    entry_->tell(tr("= dx %1, dy %2 mm, length %3 mm").arg(text(to.x - last.x), text(to.y - last.y), QString::fromStdString(number_text(std::hypot(dx, dy)))), false);
}

void Sheet::commit_entry() {
    if (!outline_) return;
    if (!outline_->typed()) {
        if (tool_ == Tool::space && outline_->drawing()) {
            emit told(hint());
            return;
        }
        close_entry();
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        return;
    }
    const auto step = outline_->commit();
    if (step == OutlineTool::Step::refused) tell_entry();
    outline_step(step);
}

}  // namespace wallfoot
