// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/project_dialog.hpp"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QVBoxLayout>

#include "ui/panels/words.hpp"

namespace wallfoot {

ProjectDialog::ProjectDialog(const Study& study, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Head of the report"));
    auto* rows = new QVBoxLayout(this);
    auto* form = new QFormLayout;
    const Project project = study.project.value_or(Project{});
    title_ = new QLineEdit(words(study.title), this);
    form->addRow(tr("&Title"), title_);
    question_ = new QPlainTextEdit(words(study.notes), this);
    question_->setPlaceholderText(tr("What was asked, in a sentence or two: it stands above the answer."));
    question_->setTabChangesFocus(true);
    question_->setFixedHeight(fontMetrics().height() * 5);
    form->addRow(tr("&Question"), question_);
    const std::pair<QString, std::string Project::*> fields[] = {
        {tr("&Enquiry number"), &Project::enquiry}, {tr("&Project"), &Project::name}, {tr("P&lot"), &Project::plot}, {tr("&Junction"), &Project::junction},
        {tr("&Drawing"), &Project::drawing}, {tr("&Revision"), &Project::revision}, {tr("&Author"), &Project::author}, {tr("&Checker"), &Project::checker},
        {tr("Date of the &study"), &Project::date}, {tr("C&ontact"), &Project::contact}};
    for (const auto& [label, field] : fields) {
        auto* edit = new QLineEdit(words(project.*field), this);
        QString name = label;
        edit->setAccessibleName(name.remove(QLatin1Char('&')));
        form->addRow(label, edit);
        fields_.emplace_back(field, edit);
    }
    rows->addLayout(form);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    rows->addWidget(buttons);
    setMinimumWidth(fontMetrics().averageCharWidth() * 76);
}

Study ProjectDialog::applied(const Study& study) const {
    Study changed = study;
    changed.title = title_->text().trimmed().toStdString();
    changed.notes = question_->toPlainText().trimmed().toStdString();
    Project project = study.project.value_or(Project{});
    for (const auto& [field, edit] : fields_) project.*field = edit->text().trimmed().toStdString();
    changed.project = project == Project{} ? std::nullopt : std::optional(std::move(project));
    return changed;
}

}  // namespace wallfoot
