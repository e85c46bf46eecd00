// SPDX-License-Identifier: GPL-3.0-or-later
#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QSaveFile>
#include <QStackedWidget>

#include "ui/panels/file_name.hpp"
#include "ui/panels/words.hpp"
#include "ui/teach/lesson_files.hpp"
#include "ui/teach/teach_view.hpp"
#include "ui/window/main_window.hpp"

// Teach: the lessons of the study, shown, set up and handed out.
namespace wallfoot {

void MainWindow::connect_teaching() {
    connect(&document_, &Document::opened, this, [this] {
        if (teach_view_->player().presenting()) teach_view_->player().end_presenting();
        if (shown_->currentWidget() == teach_view_) show_lessons();
    });
    connect(teach_view_, &TeachView::changed, this, [this](const QString& act, const std::vector<Lesson>& lessons) {
        if (!document_.has_study()) return;
        tell(change_study(act, [&](const Study& study) { return with_lessons(study, lessons); }));
    });
    connect(teach_view_, &TeachView::save_wanted, this, &MainWindow::save_lesson_as);
}

void MainWindow::show_lessons() {
    if (!document_.has_study()) return;
    const auto study = document_.study();
    std::vector<std::shared_ptr<const Findings>> findings;
    for (std::size_t v = 0; v < study->variants.size(); ++v) findings.push_back(worker_.kept(*study, v));
    teach_view_->show_study(study, document_.active(), std::move(findings));
}

void MainWindow::save_lesson_as(const QString& what) {
    if (!document_.has_study() || teach_view_->lesson() >= teach_view_->lessons().size() || teach_view_->lessons()[teach_view_->lesson()].steps.empty()) {
        emit sheet_->told(sentence("lesson-none"));
        return;
    }
    const QString ending = what.section(QLatin1Char('-'), 0, 0);
    const QString folder = document_.path().isEmpty() ? QString() : QFileInfo(document_.path()).path() + QLatin1Char('/');
    QString path = QFileDialog::getSaveFileName(this, tr("Hand out"), folder + QStringLiteral("lesson.") + ending, QStringLiteral("*.") + ending);
    if (path.isEmpty()) return;
    path = with_ending(this, path, QStringLiteral(".") + ending);
    if (path.isEmpty()) return;
    LessonSource source{document_.study(), teach_view_->lessons()[teach_view_->lesson()], teach_view_->findings()};
    emit sheet_->told(tr("%1 is being made…").arg(QFileInfo(path).fileName()));
    reading_.run([this, path, source, what, ending, step = teach_view_->player().step()]() mutable -> Background::Done {
        QString why;
        try {
            work_out(source);
            const QByteArray bytes = ending == QStringLiteral("html") ? lesson_html(source) : ending == QStringLiteral("pdf") ? lesson_worksheets(source, what.endsWith(QStringLiteral("a3"))) : lesson_step_picture(source, step, ending == QStringLiteral("svg"));
            QSaveFile file(path);
            if (!file.open(QIODevice::WriteOnly) || file.write(bytes) != bytes.size() || !file.commit()) why = file.errorString();
        } catch (const InputFault& fault) {
            why = sentence(fault.faults());
        } catch (const std::exception& error) {
            why = QString::fromUtf8(error.what());
        }
        return [this, path, why] {
            if (why.isEmpty()) emit sheet_->told(tr("The lesson is in %1.").arg(path));
            else QMessageBox::warning(this, tr("Not written"), tr("%1 could not be written.\n\n%2").arg(path, why));
        };
    });
}

}  // namespace wallfoot
