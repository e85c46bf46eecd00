// SPDX-License-Identifier: GPL-3.0-or-later
// What keeps work from being lost: copies after a crash, and one window per study file.
#include <QFileInfo>
#include <QLockFile>
#include <QMessageBox>
#include <QPushButton>

#include "ui/panels/recovery_dialog.hpp"
#include "ui/window/main_window.hpp"
#include "ui/window/recovery.hpp"

namespace wallfoot {

namespace {

QString absolute(const QString& path) { return QFileInfo(path).absoluteFilePath(); }

}  // namespace

bool MainWindow::offer_recovery() {
    for (;;) {
        const auto left = recovery_->left_behind();
        if (left.empty()) return false;
        RecoveryDialog dialog(left, this);
        const int choice = dialog.exec();
        if (choice == RecoveryDialog::later || dialog.marked() < 0) return false;
        const auto& marked = left[static_cast<std::size_t>(dialog.marked())];
        if (choice == RecoveryDialog::discard) {
            if (QMessageBox::question(this, tr("Discard"), tr("This is the only copy of those changes. Discard it?")) == QMessageBox::Yes) Recovery::forget(marked);
            continue;
        }
        if (recover(marked)) return true;
        return false;
    }
}

bool MainWindow::recover(const Recovery::LeftBehind& left) {
    QString holder, path = left.study_path;
    auto lock = path.isEmpty() ? nullptr : lock_study(path, &holder);
    if (!holder.isEmpty()) path.clear();  // open elsewhere: it goes on under another name
    // The crash may have cut the newest one short.
    std::vector<Message> faults;
    for (const QString& copy : left.copies)
        if (faults = document_.recover(copy, path); faults.empty()) break;
    if (!faults.empty()) {
        show_faults_dialog(left.copies.first(), faults);
        return false;
    }
    file_lock_ = std::move(lock);
    recovery_->keep_now([left] { Recovery::forget(left); });
    hint_ = tr("Unsaved work of %1 is open again; save it to keep it.").arg(QLocale().toString(left.written, QLocale::ShortFormat));
    show_cursor(cursor_mm_, cursor_snap_);
    return true;
}

bool MainWindow::holds_lock_of(const QString& path) const {
    return file_lock_ && !document_.path().isEmpty() && absolute(path) == absolute(document_.path());
}

bool MainWindow::may_open(const QString& path, std::unique_ptr<QLockFile>* lock, bool* as_copy) {
    QString holder;
    *lock = lock_study(path, &holder);
    *as_copy = !holder.isEmpty();
    if (holder.isEmpty()) return true;
    QMessageBox question(QMessageBox::Question, tr("Open elsewhere"),
                         tr("%1 is open in another window (%2). If both save it, one loses its changes.").arg(QFileInfo(path).fileName(), holder), QMessageBox::Cancel, this);
    auto* copy = question.addButton(tr("Open a &copy"), QMessageBox::AcceptRole);
    question.setInformativeText(tr("A copy has no name until you save it under another one. If nobody has it open any more, as after a crash of another computer, delete that lock beside it."));
    question.exec();
    return question.clickedButton() == copy;
}

bool MainWindow::may_save(const QString& path, std::unique_ptr<QLockFile>* lock) {
    QString holder;
    *lock = lock_study(path, &holder);
    if (holder.isEmpty()) return true;
    QMessageBox::warning(this, tr("Not saved"), tr("%1 is open in another window (%2). Save this study under another name; nothing is lost.").arg(QFileInfo(path).fileName(), holder));
    return false;
}

}  // namespace wallfoot
