// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"
#include "ui/sheet/entry_box.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

// Drawing a piece: corners by clicks or typed lengths.
namespace wallfoot {

void Sheet::set_tool(Tool tool) {
    end_drag(false);
    close_entry();
    outline_.reset();
    handle_.reset();
    tool_ = tool;
    if (tool != Tool::pick) {
        outline_.emplace(tool == Tool::polygon ? OutlineTool::Shape::polygon : OutlineTool::Shape::rectangle);
        outline_->hover(hover_);
        emit told(tr("First corner: click, or type x and y."));
        setFocus(Qt::OtherFocusReason);
    } else {
        emit told({});
    }
    update_cursor();
    emit tool_changed(tool_);
    update();
}

void Sheet::outline_step(OutlineTool::Step step) {
    if (step == OutlineTool::Step::closed) {
        finish_outline();
        return;
    }
    if (step == OutlineTool::Step::refused) {
        const std::string problem = outline_->problem();
        emit told(problem.empty() ? tr("There is a corner already, or the size is zero: choose another place.") : sentence(problem));
        return;
    }
    close_entry();
    if (outline_->shape() == OutlineTool::Shape::rectangle) emit told(tr("Opposite corner: click, or type dx and dy (Tab goes on)."));
    else if (outline_->corners().size() < 3) emit told(tr("Next corner: click, or type a length in the direction of the mouse (Tab: angle, dx, dy)."));
    else emit told(tr("Next corner; Enter, double click or a click on the first corner closes the piece. Backspace takes a corner back."));
    update();
}

void Sheet::finish_outline() {
    Piece piece;
    piece.outline = outline_->corners();
    piece.filled_with = material_.toStdString();
    if (const Material* material = document_.study()->find_material(piece.filled_with)) piece.name = material->name;
    std::string id;
    const auto refusals = document_.edit(tr("Draw piece"), [&](const Section& section) {
        Section with = add_piece(section, piece);
        id = with.pieces.back().id;
        return with;
    });
    if (!refusals.empty()) {
        emit told(sentence(refusals));
        return;
    }
    set_tool(Tool::pick);
    set_picked({PickedKind::piece, QString::fromStdString(id)});
}

void Sheet::drop_outline() {
    close_entry();
    if (outline_->drawing()) outline_->reset();
    else set_tool(Tool::pick);
    update();
}

void Sheet::open_entry(const QString& first) {
    const QPointF cursor = outline_->drawing() && !hovering_ ? view_.to_pixels(outline_->corners().back()) : hover_pixels_;
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
    const Point to = outline_->target();
    const auto text = [](Micrometres v) { return QString::fromStdString(number_text(to_mm(v))); };
    if (!outline_->drawing()) {
        entry_->tell(tr("= corner at x %1, y %2 mm").arg(text(to.x), text(to.y)), false);
        return;
    }
    const Point last = outline_->corners().back();
    const double dx = to_mm(to.x - last.x), dy = to_mm(to.y - last.y);
    entry_->tell(tr("= dx %1, dy %2 mm, length %3 mm").arg(text(to.x - last.x), text(to.y - last.y), QString::fromStdString(number_text(std::hypot(dx, dy)))), false);
}

void Sheet::commit_entry() {
    if (!outline_) return;
    if (!outline_->typed()) {
        close_entry();
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        return;
    }
    const auto step = outline_->commit();
    if (step == OutlineTool::Step::refused) tell_entry();
    outline_step(step);
}

}  // namespace wallfoot
