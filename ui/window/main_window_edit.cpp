// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAction>
#include <algorithm>
#include <cmath>

#include "core/arrangement/parts.hpp"
#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/numbers_dialog.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/main_window.hpp"

// What the window does with the pieces that are picked; grid and guides.
namespace wallfoot {

namespace {

/// What is taken, as a rectangle; nothing when it has no corners.
std::optional<Rect> extent_of(const Section& section, const Taken& taken) {
    std::optional<Rect> box;
    const auto take = [&](const std::vector<Point>& points) {
        for (const Point p : points) {
            if (!box) box = Rect{p.x, p.y, p.x, p.y};
            box = Rect{std::min(box->left, p.x), std::min(box->bottom, p.y), std::max(box->right, p.x), std::max(box->top, p.y)};
        }
    };
    for (const auto& id : taken.pieces)
        if (const Piece* piece = find_piece(section, id)) take(piece->outline);
    for (const auto& id : taken.membranes)
        if (const Membrane* membrane = find_membrane(section, id)) take(membrane->path);
    for (const auto& id : taken.dimensions)
        if (const Dimension* dimension = find_dimension(section, id)) take({dimension->from, dimension->to});
    for (const auto& id : taken.texts)
        if (const Note* note = find_note(section, id)) take({note->at});
    return box;
}

QString in_mm(Micrometres length) { return words(number_text(to_mm(length))); }

Micrometres length_of(double mm) { return from_mm(std::clamp(mm, -2 * to_mm(coordinate_limit), 2 * to_mm(coordinate_limit))); }

}  // namespace

void MainWindow::bind_edit_commands() {
    // Ids of another study may name other materials and spaces.
    connect(&document_, &Document::opened, this, [this] { copied_from_.reset(); });
    bind("edit.copy", [this] {
        const Taken taken = taken_of(sheet_->picked());
        if (document_.has_study() && sheet_->picked().hole) emit sheet_->told(sheet_->needs_piece());
        if (!document_.has_study() || taken == Taken{}) return;
        copied_from_ = document_.variant().section;
        copied_ = taken;
        emit sheet_->told(tr("Copied; Ctrl+V pastes it, here or in another variant."));
    });
    bind("edit.paste", [this] { paste(); });
    bind("edit.all_variants", [this] {
        document_.set_edits_all(action(QStringLiteral("edit.all_variants"))->isChecked());
        emit sheet_->told(document_.edits_all() ? tr("Edits now go to all variants.") : tr("Edits go to this variant alone."));
    });
    bind("change.copies", [this] { copy_in_row(); });
    bind("change.rotate", [this] { rotate_picked(); });
    const auto mirror = [this](bool upright) {
        const auto box = document_.has_study() ? extent_of(document_.section(), taken_of(sheet_->picked())) : std::nullopt;
        change_picked(tr("Mirror"), [&](const Section& s, const Taken& taken) {
            // Twice the middle, so that it stays on the grid.
            const Micrometres sum = upright ? box->left + box->right : box->bottom + box->top;
            Section mirrored = mirror_taken(s, taken, upright, sum / 2);
            return sum % 2 == 0 ? mirrored : move_taken(mirrored, taken, upright ? sum % 2 : 0, upright ? 0 : sum % 2);
        });
    };
    bind("change.mirror", [mirror] { mirror(true); });
    bind("change.flip", [mirror] { mirror(false); });
    bind("change.merge", [this] { merge_picked(); });
    bind("change.offset", [this] { offset_edge_dialog(); });
    bind("change.fill_hole", [this] { fill_hole(); });
    bind("change.group", [this] {
        change_picked(tr("Group"), [](const Section& s, const Taken& taken) {
            std::vector<std::string> members = taken.pieces;
            members.insert(members.end(), taken.membranes.begin(), taken.membranes.end());
            return add_group(s, members);
        });
    });
    bind("change.ungroup", [this] {
        change_picked(tr("Ungroup"), [](const Section& s, const Taken& taken) {
            Section result = s;
            for (const auto* ids : {&taken.pieces, &taken.membranes})
                for (const auto& id : *ids)
                    if (const Group* group = group_of(result, id)) result = delete_group(result, std::string(group->id));
            return result;
        });
        // The one that leads stays picked.
        const Picked picked = sheet_->picked();
        sheet_->set_picked({picked.kind, picked.id});
    });
    bind("view.grid", [this] {
        QAction* grid = action(QStringLiteral("view.grid"));
        if (!grid->isChecked()) {
            sheet_->set_grid({});
            return;
        }
        NumbersDialog dialog(tr("Grid"), tr("Lines that hold the cursor when nothing of the drawing is nearer."), {{tr("&Step, mm"), QStringLiteral("25"), true}}, this);
        const bool agreed = dialog.exec() == QDialog::Accepted && dialog.values().front() >= 0.1;
        grid->setChecked(agreed);
        if (agreed) sheet_->set_grid(dialog.values().front());
    });
    bind("view.upright_guide", [this] { add_guide(true); });
    bind("view.level_guide", [this] { add_guide(false); });
    bind("view.no_guides", [this] { sheet_->set_guides({}); });
}

void MainWindow::change_picked(const QString& text, const std::function<Section(const Section&, const Taken&)>& edit, bool pieces) {
    const Taken taken = taken_of(sheet_->picked());
    if (!document_.has_study() || taken == Taken{} || (pieces && taken.pieces.empty())) {
        emit sheet_->told(sheet_->needs_piece());
        return;
    }
    tell(document_.edit(text, [&](const Section& s) { return edit(s, taken); }));
}

void MainWindow::paste() {
    if (!document_.has_study() || !copied_from_) {
        emit sheet_->told(tr("Nothing is copied yet: pick something and press Ctrl+C."));
        return;
    }
    Taken added;
    const auto refusals = document_.edit(tr("Paste"), [&](const Section& s) {
        for (const std::string& id : copied_.pieces) {
            const Piece* piece = find_piece(*copied_from_, id);
            if (piece && piece->fill == Fill::material && !document_.study()->find_material(piece->filled_with))
                throw InputFault(Message{Severity::fault, "unknown-material", {{"material", piece->filled_with}}, {}, {}});
        }
        return paste_taken(s, *copied_from_, copied_, 0, 0, &added);
    });
    tell(refusals);
    if (!refusals.empty()) return;
    sheet_->set_picked(picked_of(added));
    emit sheet_->told(tr("Pasted at its old place and picked: drag it inside, or V moves it by points."));
}

void MainWindow::copy_in_row() {
    const Taken taken = taken_of(sheet_->picked());
    const auto box = document_.has_study() ? extent_of(document_.section(), taken) : std::nullopt;
    if (!box) {
        change_picked({}, {});
        return;
    }
    NumbersDialog dialog(tr("Row of copies"), tr("Copies of what is picked, each the same step further on than the one before."),
                         {{tr("&Number of copies"), QStringLiteral("1"), false}, {tr("&To the right, mm"), in_mm(box->width()), true}, {tr("&Up, mm"), QStringLiteral("0"), true}}, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const auto values = dialog.values();
    const int number = static_cast<int>(std::lround(std::clamp(values[0], 0.0, 1e6)));
    change_picked(tr("Row of copies"), [&](const Section& s, const Taken& t) { return copy_taken(s, t, number, length_of(values[1]), length_of(values[2])); });
}

void MainWindow::rotate_picked() {
    const auto box = document_.has_study() ? extent_of(document_.section(), taken_of(sheet_->picked())) : std::nullopt;
    if (!box) {
        change_picked({}, {});
        return;
    }
    NumbersDialog dialog(tr("Turn"), tr("Turns what is picked about a point, anticlockwise. 90, 180 and 270 degrees are exact."),
                         {{tr("&Degrees"), QStringLiteral("90"), false}, {tr("About &x, mm"), in_mm((box->left + box->right) / 2), true}, {tr("About &y, mm"), in_mm((box->bottom + box->top) / 2), true}}, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const auto values = dialog.values();
    change_picked(tr("Turn"), [&](const Section& s, const Taken& t) { return rotate_taken(s, t, {length_of(values[1]), length_of(values[2])}, values[0]); });
}

void MainWindow::merge_picked() {
    // One piece is left; it is looked up after the act, which lets go of what is picked.
    const Taken before = taken_of(sheet_->picked());
    change_picked(tr("Make one piece"), [](const Section& s, const Taken& t) { return merge_pieces(s, t.pieces); }, true);
    for (const std::string& id : before.pieces)
        if (document_.has_study() && sheet_->picked().kind == PickedKind::nothing && find_piece(document_.section(), id)) sheet_->set_picked({PickedKind::piece, words(id)});
}

void MainWindow::offset_edge_dialog() {
    const auto edge = sheet_->clicked_edge();
    if (!document_.has_study() || !edge) {
        emit sheet_->told(tr("Pick a piece and click one of its edges first."));
        return;
    }
    NumbersDialog dialog(tr("Move edge"), tr("Moves the edge square to itself: outwards, or inwards when negative. What shares it follows."), {{tr("&Outwards, mm"), QStringLiteral("10"), true}}, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const std::string id = sheet_->picked().id.toStdString();
    tell(document_.edit(tr("Move edge"), [&](const Section& s) { return offset_edge(s, id, edge->first, edge->second, length_of(dialog.values().front())); }));
}

void MainWindow::fill_hole() {
    const Picked picked = sheet_->picked();
    const std::string id = picked.id.toStdString();
    const Piece* piece = document_.has_study() && picked.kind == PickedKind::piece && picked.more.empty() ? find_piece(document_.section(), id) : nullptr;
    const std::size_t holes = piece ? piece->holes.size() : 0;
    if (!piece) emit sheet_->told(tr("Pick a piece with a hole first, or click into the hole."));
    else if (holes == 0) emit sheet_->told(tr("\"%1\" has no hole.").arg(name_of(*piece)));
    else if (holes > 1 && !picked.hole) emit sheet_->told(tr("\"%1\" has %2 holes: click into one, or on its edge, and try again.").arg(name_of(*piece)).arg(holes));
    if (holes == 0 || (holes > 1 && !picked.hole)) return;
    const Outline hole = piece->holes[picked.hole.value_or(0)];
    const auto refusals = document_.edit(tr("Fill hole"), [&](const Section& s) {
        // In another variant it may have another place in the list.
        const Piece* there = find_piece(s, id);
        const auto at = there ? std::find(there->holes.begin(), there->holes.end(), hole) - there->holes.begin() : 0;
        return delete_hole(s, id, static_cast<std::size_t>(at));
    });
    if (refusals.empty()) sheet_->set_picked({picked.kind, picked.id});
    emit sheet_->told(refusals.empty() ? tr("The hole is filled; the piece stays.") : sentence(refusals));
}

void MainWindow::add_guide(bool upright) {
    NumbersDialog dialog(upright ? tr("Upright guide") : tr("Level guide"), tr("A line over the sheet that holds the cursor, before the grid and after all that is drawn."),
                         {{upright ? tr("At &x, mm") : tr("At &y, mm"), QStringLiteral("0"), true}}, this);
    if (dialog.exec() != QDialog::Accepted) return;
    auto guides = sheet_->guides();
    guides.push_back({upright, length_of(dialog.values().front())});
    sheet_->set_guides(std::move(guides));
}

}  // namespace wallfoot
