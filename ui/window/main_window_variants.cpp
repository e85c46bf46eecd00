// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/equal_dialog.hpp"
#include "ui/panels/grid_dialog.hpp"
#include "ui/panels/sweep_dialog.hpp"
#include "ui/window/main_window.hpp"

// What the window does with many variants of one section at once.
namespace wallfoot {

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
