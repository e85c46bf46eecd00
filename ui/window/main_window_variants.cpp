// SPDX-License-Identifier: GPL-3.0-or-later
#include <QMenu>

#include "core/study/variants.hpp"
#include "core/study/edits.hpp"
#include "ui/panels/describe_dialog.hpp"
#include "ui/panels/equal_dialog.hpp"
#include "ui/panels/errors_dialog.hpp"
#include "ui/panels/grid_dialog.hpp"
#include "ui/panels/sweep_dialog.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/main_window.hpp"

// What the window does with many variants of one section at once.
namespace wallfoot {

void MainWindow::describe_variant_dialog(std::size_t variant) {
    const Variant& before = document_.study()->variants[variant];
    DescribeDialog dialog(words(before.name), words(before.note), this);
    if (dialog.exec() != QDialog::Accepted || (dialog.name() == words(before.name) && dialog.note() == words(before.note))) return;
    document_.change(tr("Name and note of a variant"), describe_variant(*document_.study(), variant, dialog.name().toStdString(), dialog.note().toStdString()), document_.active());
}

void MainWindow::variant_menu(std::size_t variant, QPoint at) {
    document_.set_active(variant);
    QMenu menu(this);
    for (const char* id : {"variant.rename", "variant.earlier", "variant.later", "variant.duplicate", "variant.remove", "variant.marks"}) menu.addAction(action(QString::fromLatin1(id)));
    menu.exec(at);
}

void MainWindow::move_variant_by(int places) {
    if (!document_.has_study()) return;
    const std::size_t from = document_.active();
    if (places < 0 ? from == 0 : from + 1 == document_.study()->variants.size()) {
        emit sheet_->told(places < 0 ? tr("This variant is the first one already.") : tr("This variant is the last one already."));
        return;
    }
    const std::size_t to = places < 0 ? from - 1 : from + 1;
    document_.change(places < 0 ? tr("Move variant forward") : tr("Move variant back"), move_variant(*document_.study(), from, to), to);
    if (std::min(from, to) == 0) emit sheet_->told(tr("\"%1\" is first now: all others are compared with it.").arg(words(document_.study()->variants.front().name)));
}

void MainWindow::errors_dialog() {
    if (!document_.has_study()) return;
    ErrorsDialog dialog(document_.study(), document_.active(), this);
    if (dialog.exec() != QDialog::Accepted || !dialog.mended()) return;
    document_.change(tr("Mend a usual error"), with_section(*document_.study(), document_.active(), *dialog.mended()), document_.active());
}

void MainWindow::sweep_dialog() {
    if (!document_.has_study()) return;
    // Beside the drawing as it is now; a later edit does not reach it.
    const Picked& picked = sheet_->picked();
    auto* dialog = new SweepDialog(document_.study(), document_.variant().id, picked.kind == PickedKind::piece ? picked.id : QString(), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    dialog->show();
}

void MainWindow::grid_dialog() {
    if (!document_.has_study()) return;
    const Picked& picked = sheet_->picked();
    GridDialog dialog(document_.study(), document_.active(), picked.kind == PickedKind::piece ? picked.id : QString(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    const std::size_t first = document_.study()->variants.size();
    document_.change(tr("Make a grid of variants"), dialog.grid()->study, first);
    emit sheet_->told(tr("%n variant(s) made; the first of them is shown. F12 compares them.", nullptr, static_cast<int>(dialog.grid()->made.size())));
}

void MainWindow::equal_dialog() {
    if (!document_.has_study()) return;
    const Picked& picked = sheet_->picked();
    auto* dialog = new EqualDialog(document_.study(), document_.variant().id, picked.kind == PickedKind::piece ? picked.id : QString(), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    dialog->show();
}

}  // namespace wallfoot
