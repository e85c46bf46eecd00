// SPDX-License-Identifier: GPL-3.0-or-later
#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QStackedWidget>

#include "ui/panels/answer_strip.hpp"
#include "ui/panels/file_name.hpp"
#include "ui/panels/words.hpp"
#include "ui/teach/hand_out.hpp"
#include "ui/teach/teach_view.hpp"
#include "ui/window/main_window.hpp"

// Teach: the lessons of the study, shown, set up and handed out.
namespace wallfoot {

void MainWindow::connect_teaching() {
    connect(&document_, &Document::opened, this, [this] {
        if (teach_view_->player().presenting()) teach_view_->player().end_presenting();
        if (shown_->currentWidget() == teach_view_) show_lessons();
    });
    // At once: what is done next must not begin from what was taken back.
    connect(&document_, &Document::changed, this, [this] {
        if (shown_->currentWidget() == teach_view_) show_lessons();
    });
    connect(&worker_, &Worker::idle, this, [this](std::uint64_t asked) { teach_view_->set_told(asked); });
    // With the document as its receiver: a view that hides as the window goes tells nobody.
    connect(teach_view_, &TeachView::changed, &document_, [this](const QString& act, const std::vector<Lesson>& lessons) {
        if (!document_.has_study()) return;
        tell(change_study(act, [&](const Study& study) { return with_lessons(study, lessons); }));
    });
    connect(teach_view_, &TeachView::save_wanted, this, &MainWindow::save_lesson_as);
    connect(&teach_view_->player(), &LessonPlayer::shown_changed, this, [this] {
        if (shown_->currentWidget() == teach_view_) refresh_strip_in_lesson();
    });
    const HandOut* hand_out = &teach_view_->hand_out();
    connect(hand_out, &HandOut::made, this, [this](const QString& path) { emit sheet_->told(tr("The lesson is in %1.").arg(path)); });
    connect(hand_out, &HandOut::stopped, this, [this](const QString& path) { emit sheet_->told(tr("Stopped: %1 is not written.").arg(QFileInfo(path).fileName())); });
    connect(hand_out, &HandOut::failed, this, [this](const QString& path, const QString& why) { QMessageBox::warning(this, tr("Not written"), tr("%1 could not be written.\n\n%2").arg(path, why)); });
}

/// What the answer says while a lesson is shown: that of the variant in the step, and nothing that is still asked.
void MainWindow::refresh_strip_in_lesson() {
    const LessonPlayer& player = teach_view_->player();
    const auto findings = player.shown_findings();
    time_label_->clear();
    if (player.holds_back()) return answer_->show_said(tr("a question first: the answer is told when it is shown"));
    if (!findings || findings->has_fault()) return answer_->show_nothing();
    const QString name = words(findings->variant_name);
    answer_->show_findings(*findings, true, player.tried() ? tr("%1, as tried").arg(name) : name);
}

void MainWindow::show_lessons() {
    if (!document_.has_study()) return;
    const auto study = document_.study();
    std::vector<std::shared_ptr<const Findings>> findings;
    std::vector<QString> refused;
    for (std::size_t v = 0; v < study->variants.size(); ++v) {
        const Variant& variant = study->variants[v];
        findings.push_back(worker_.kept(*study, v));
        refused.emplace_back();
        const auto answer = answers_.find(variant.id);
        if (findings.back() || answer == answers_.end() || answer->second.section != variant.section) continue;
        if (!answer->second.faults.empty()) refused.back() = sentence(answer->second.faults);
        // Of many variants some are not kept. What was told of them holds once all that was asked for has been told.
        else if (at_rest_ && teach_view_->told() == asked_) findings.back() = answer->second.findings;
    }
    teach_view_->show_study(study, document_.active(), std::move(findings), std::move(refused));
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
    if (QFileInfo(path).suffix().toLower() != ending) {  // else the study itself could be written over
        QMessageBox::warning(this, tr("Not written"), tr("The name of what is handed out here ends in .%1.").arg(ending));
        return;
    }
    teach_view_->hand_out().make({document_.study(), teach_view_->lessons()[teach_view_->lesson()], teach_view_->findings()}, what, teach_view_->player().step(), path);
}

}  // namespace wallfoot
