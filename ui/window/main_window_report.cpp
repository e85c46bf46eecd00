// SPDX-License-Identifier: GPL-3.0-or-later
#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDate>
#include <QFileDialog>
#include <QFileInfo>
#include <QLabel>
#include <QEventLoop>
#include <QMessageBox>
#include <QProgressDialog>
#include <QThread>
#include <algorithm>

#include "core/file/quantities.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "solver/report/short_answer.hpp"
#include "ui/panels/file_name.hpp"
#include "ui/panels/pack_dialog.hpp"
#include "ui/panels/compare_view.hpp"
#include "ui/panels/equal_build_dialog.hpp"
#include "ui/panels/project_dialog.hpp"
#include "ui/panels/quantities_dialog.hpp"
#include "ui/panels/report_view.hpp"
#include "ui/panels/words.hpp"
#include "ui/report/report_batch.hpp"
#include "ui/report/report_command.hpp"
#include "ui/teach/teach_view.hpp"
#include "ui/window/main_window.hpp"

// What stands in the sheet's place: the comparison; the report, which is laid out and saved.
namespace wallfoot {

void MainWindow::show_in_place() {
    if (shown_->currentWidget() == report_view_) show_report();
    if (shown_->currentWidget() == compare_view_) show_comparison();
    if (shown_->currentWidget() == teach_view_) show_lessons();
}

void MainWindow::show_comparison() {
    if (!document_.has_study()) return;
    const auto study = document_.study();
    std::vector<Compared> all;
    for (std::size_t v = 0; v < study->variants.size(); ++v) {
        const Variant& variant = study->variants[v];
        Compared of{variant.id, variant.name, variant.section, worker_.kept(*study, v), {}, study, {}};
        const auto answer = answers_.find(variant.id);
        const bool refused = answer != answers_.end() && !answer->second.faults.empty() && answer->second.section == variant.section;
        if (!of.findings) of.why = refused ? sentence(answer->second.faults) : tr("being worked out…");
        else if (of.findings->has_fault()) {
            of.why = sentence(faults_of(of.findings->messages));
            of.findings.reset();
        }
        all.push_back(std::move(of));
    }
    compare_view_->show_variants(study, std::move(all));
}

/// Every element that meets at the junction in any variant, and those the study gives an area for.
void MainWindow::quantities_dialog() {
    if (!document_.has_study()) return;
    const auto study = document_.study();
    const Quantities given = quantities(*study);
    std::vector<AskedElement> elements;
    const auto ask_for = [&](const std::string& id, const QString& hint) {
        const auto same = std::find_if(elements.begin(), elements.end(), [&](const AskedElement& element) { return element.id == id; });
        if (same == elements.end()) elements.push_back({id, hint});
        else if (!hint.isEmpty() && same->hint.isEmpty()) same->hint = hint;
    };
    for (std::size_t v = 0; v < study->variants.size(); ++v)
        if (const auto findings = worker_.kept(*study, v); findings && findings->headline_psi()) {
            const Psi& psi = *findings->headline_psi();
            for (const Element& element : findings->elements)
                if (element.warm_space == psi.a && element.cold_space == psi.b)
                    ask_for(element.id, element.ground ? tr("floor on the ground") : element.U ? tr("leaves at this side, U %1 W/(m²·K)").arg(*element.U, 0, 'f', 3) : QString());
        }
    for (const auto& [id, area] : given.areas) ask_for(id, {});
    QuantitiesDialog dialog(given, elements, study->used_convention().lengths == LengthSystem::internal ? tr("internal") : tr("external"), this);
    if (dialog.exec() != QDialog::Accepted) return;
    tell(change_study(tr("Whole junction"), [&](const Study& before) { return set_quantities(before, dialog.quantities()); }));
    show_in_place();
}

void MainWindow::equal_build_dialog() {
    if (!document_.has_study()) return;
    const auto all = compare_view_->answered();
    const QString base = compare_view_->base()->currentData().toString();
    if (all.size() < 2 || std::none_of(all.begin(), all.end(), [&](const Compared& of) { return of.key() == base; })) {
        QMessageBox::information(this, tr("Equal wall or floor"), tr("It takes two variants of this study that are worked out; the one compared with must be one of them."));
        return;
    }
    EqualBuildDialog dialog(all, base, this);
    if (dialog.exec() != QDialog::Accepted || !dialog.section()) return;
    // The study may have gone on: the outcome stands behind the variant it was made of, where that is still there.
    const auto study = document_.study();
    const auto of = std::find_if(study->variants.begin(), study->variants.end(), [&](const Variant& variant) { return variant.id == dialog.changed()->id; });
    if (of == study->variants.end()) return;
    const auto index = static_cast<std::size_t>(of - study->variants.begin());
    Study changed = duplicate_variant(*study, index, dialog.outcome_name().toStdString());
    changed.variants[index + 1].section = dialog.section();
    document_.change(tr("Equal wall or floor"), std::move(changed), index + 1);
}

void MainWindow::show_report() {
    if (!document_.has_study()) return report_view_->show_source(nullptr, tr("Open a study, or begin one, to report on it."));
    const auto study = document_.study();
    auto source = std::make_shared<ReportSource>();
    source->study = study;
    source->file = document_.path().isEmpty() ? std::string() : QFileInfo(document_.path()).fileName().toStdString();
    source->date = QDate::currentDate().toString(Qt::ISODate).toStdString();
    for (std::size_t v = 0; v < study->variants.size(); ++v) {
        const auto findings = worker_.kept(*study, v);
        const QString name = words(study->variants[v].name);
        if (!findings) {
            const auto answer = answers_.find(study->variants[v].id);
            const bool refused = answer != answers_.end() && !answer->second.faults.empty() && answer->second.section == study->variants[v].section;
            return report_view_->show_source(nullptr, refused ? tr("No report yet. %1: %2").arg(name, sentence(answer->second.faults)) : tr("%1 is being worked out…").arg(name));
        }
        if (findings->has_fault()) return report_view_->show_source(nullptr, tr("No report yet. %1: %2").arg(name, sentence(faults_of(findings->messages))));
        source->findings.push_back(findings);
    }
    source->office = office_;
    // Painting anew what is there already would only flicker.
    const auto& before = report_view_->source();
    if (before && before->study == source->study && before->findings == source->findings && before->file == source->file && before->date == source->date && before->office == source->office) return;
    report_view_->show_source(std::move(source));
}

/// Makes something on a thread of its own and waits with a sign of it, so that the window stays alive. Throws what the making throws.
QByteArray MainWindow::made_beside(const QString& what, const std::function<QByteArray()>& make) {
    QProgressDialog wait(what, {}, 0, 0, this);
    wait.setWindowModality(Qt::ApplicationModal);
    wait.setMinimumDuration(300);
    wait.setValue(0);
    QByteArray made;
    std::exception_ptr failed;
    const std::unique_ptr<QThread> thread(QThread::create([&] {
        try {
            made = make();
        } catch (...) {
            failed = std::current_exception();
        }
    }));
    QEventLoop loop;
    connect(thread.get(), &QThread::finished, &loop, &QEventLoop::quit);
    thread->start();
    loop.exec();
    thread->wait();
    if (failed) std::rethrow_exception(failed);
    return made;
}

bool MainWindow::save_report(const QString& path) {
    const auto source = report_view_->source();
    if (!source) return false;
    if (!document_.path().isEmpty() && QFileInfo(path).exists() && QFileInfo(path).canonicalFilePath() == QFileInfo(document_.path()).canonicalFilePath()) {
        QMessageBox::warning(this, tr("Report not written"), sentence("report-over-study"));
        return false;
    }
    QString reason;
    try {
        std::vector<Message> notes;
        const QByteArray report = made_beside(tr("Writing the report…"), [&notes, path, source, a3 = report_view_->a3(), brief = report_view_->brief(), errors = report_view_->errors(), known = report_view_->known_errors()] {
            auto whole = std::make_shared<ReportSource>(*source);
            follow_up(*whole);
            whole->errors = errors ? known : std::vector<UsualErrors>{};
            if (brief) add_slopes(*whole);
            else if (errors) add_usual_errors(*whole);
            return rendered_report(path, whole, QByteArray::fromStdString(write_study(*source->study)), a3, brief, &notes);
        });
        write_report_whole(path, report);
        if (!notes.empty()) QMessageBox::information(this, tr("Not all of it had room"), sentence(notes));
        return true;
    } catch (const InputFault& fault) {
        reason = sentence(fault.faults());
    } catch (const std::exception& error) {
        reason = QString::fromUtf8(error.what());
    }
    QMessageBox::warning(this, tr("Report not written"), tr("The report could not be written to\n%1\n\n%2\n\nAn earlier report there is as it was.").arg(path, reason));
    return false;
}

void MainWindow::project_dialog() {
    if (!document_.has_study()) return;
    ProjectDialog dialog(*document_.study(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    change_study(tr("Head of the report"), [&](const Study& study) { return dialog.applied(study); });
}

void MainWindow::copy_answer() {
    const auto source = report_view_->source();
    if (!source) return;
    try {
        const QByteArray answer = made_beside(tr("Working the answer out…"), [source] {
            ReportSource whole = *source;
            follow_up(whole);
            add_slopes(whole);
            return QByteArray::fromStdString(report_text(make_short_answer(whole)));
        });
        QApplication::clipboard()->setText(QString::fromUtf8(answer));
        emit sheet_->told(tr("The answer is copied."));
    } catch (const InputFault& fault) {
        emit sheet_->told(sentence(fault.faults()));
    }
}

void MainWindow::ask_and_save_report() {
    set_activity(Activity::report);
    if (!report_view_->source()) return;
    const QString offered = document_.path().isEmpty() ? QStringLiteral("report.pdf") : QFileInfo(document_.path()).path() + QLatin1Char('/') + QFileInfo(document_.path()).completeBaseName() + QStringLiteral(".pdf");
    QString path = QFileDialog::getSaveFileName(this, tr("Save the report"), offered, tr("PDF with the study attached (*.pdf);;Web page in one file (*.html);;Plain text, for an e-mail (*.txt);;Tables (*.csv);;JSON (*.json)"));
    if (path.isEmpty()) return;
    path = with_ending(this, path, QStringLiteral(".pdf"));
    if (path.isEmpty()) return;
    if (save_report(path)) {
        hint_ = tr("The report is in %1.").arg(path);
        show_cursor(cursor_mm_, cursor_snap_);
    }
}

void MainWindow::ask_and_pack() {
    if (!document_.has_study()) return;
    const QFileInfo own(document_.path());
    QString path = QFileDialog::getSaveFileName(this, tr("Pack for a checker"), document_.path().isEmpty() ? QStringLiteral("pack.zip") : own.path() + QLatin1Char('/') + own.completeBaseName() + QStringLiteral(".zip"), tr("Archive (*.zip)"));
    path = with_ending(this, path, QStringLiteral(".zip"));
    if (path.isEmpty()) return;
    if (QFileInfo(path).suffix().toLower() != QStringLiteral("zip")) {  // else the study itself could be written over
        QMessageBox::warning(this, tr("Not written"), tr("The pack is an archive: its name ends in .zip."));
        return;
    }
    (new PackDialog(document_.study(), path, this))->show();
}

}  // namespace wallfoot
