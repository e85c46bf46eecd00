// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/dwelling_dialog.hpp"
#include "ui/window/main_window.hpp"
#include "ui/window/recovery.hpp"

// The dwelling beside the study: one at a time, in a window of its own, so that both can be seen.
namespace wallfoot {

DwellingDialog* MainWindow::show_dwelling(const QString& path) {
    bool made = false;
    if (!dwelling_) {
        dwelling_ = new DwellingDialog(
            [this] {
                return document_.has_study() ? StudyInWindow{document_.path(), document_.study(), document_.variant().id, document_.is_clean()} : StudyInWindow{};
            },
            this, recovery_folder() + QStringLiteral("-dwellings"));
        dwelling_->setAttribute(Qt::WA_DeleteOnClose);
        made = true;
    }
    dwelling_->show();
    dwelling_->raise();
    dwelling_->activateWindow();
    if (made && dwelling_->offer_left_behind()) return dwelling_;
    if (!path.isEmpty() && dwelling_->may_leave()) dwelling_->open_file(path);
    return dwelling_;
}

}  // namespace wallfoot
