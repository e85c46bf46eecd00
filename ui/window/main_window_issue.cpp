// SPDX-License-Identifier: GPL-3.0-or-later
#include <QFileInfo>
#include <QMessageBox>
#include <QSettings>

#include "solver/record/record.hpp"
#include "ui/panels/office_dialog.hpp"
#include "ui/panels/records_dialog.hpp"
#include "ui/panels/report_view.hpp"
#include "ui/panels/reports_dialog.hpp"
#include "ui/window/main_window.hpp"

// What leaves the house under a name: the user's template, reports of many studies, results that are issued.
namespace wallfoot {

void MainWindow::office_dialog() {
    QString trouble;
    const auto kept = kept_office(&trouble);
    OfficeDialog dialog(kept ? *kept : OfficeTemplate{}, this);
    if (!trouble.isEmpty()) QMessageBox::warning(this, tr("Template of the reports"), tr("The template that was kept cannot be used: %1").arg(trouble));
    if (dialog.exec() != QDialog::Accepted) return;
    const OfficeTemplate office = dialog.office();
    if (const QString why = keep_office(office); !why.isEmpty()) {
        QMessageBox::warning(this, tr("Template of the reports"), tr("The template could not be kept: %1").arg(why));
        return;
    }
    office_ = office.empty() ? nullptr : std::make_shared<const OfficeTemplate>(office);
    show_in_place();
}

void MainWindow::reports_dialog() {
    const QString folder = document_.path().isEmpty() ? QSettings().value(QStringLiteral("folder")).toString() : QFileInfo(document_.path()).absolutePath();
    (new ReportsDialog(folder, office_, this))->show();
}

void MainWindow::issue_dialog() {
    if (!document_.has_study()) return;
    IssueDialog dialog(document_.study(), this);
    if (dialog.exec() != QDialog::Accepted || dialog.record().empty()) return;
    // Nothing could be changed meanwhile; still it is added to the study as it is now.
    tell(change_study(tr("Issue"), [&](const Study& study) { return with_issued(study, dialog.record()); }));
    hint_ = tr("The results are issued. Save the study: the record is kept in its file.");
    show_cursor(cursor_mm_, cursor_snap_);
}

void MainWindow::records_dialog() {
    if (!document_.has_study()) return;
    RecordsDialog dialog(document_.study(), this);
    dialog.exec();
}

}  // namespace wallfoot
