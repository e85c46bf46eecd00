// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/numbers_dialog.hpp"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

Entry read(const QLineEdit& edit, bool length) {
    const std::string text = edit.text().trimmed().toStdString();
    return length ? parse_length(text) : parse_number(text);
}

}  // namespace

NumbersDialog::NumbersDialog(const QString& title, const QString& about, const std::vector<Field>& fields, QWidget* parent) : QDialog(parent), fields_(fields) {
    setWindowTitle(title);
    auto* form = new QFormLayout(this);
    auto* head = new QLabel(about, this);
    head->setWordWrap(true);
    form->addRow(head);
    for (const Field& field : fields_) {
        auto* edit = new QLineEdit(field.first, this);
        edit->setAccessibleName(QString(field.label).remove(QLatin1Char('&')));
        form->addRow(field.label, edit);
        connect(edit, &QLineEdit::textChanged, this, &NumbersDialog::refresh);
        edits_.push_back(edit);
    }
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(problem_);
    form->addRow(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    edits_.front()->selectAll();
    edits_.front()->setFocus();
    setMinimumWidth(fontMetrics().averageCharWidth() * 56);
}

std::vector<double> NumbersDialog::values() const {
    std::vector<double> values;
    for (std::size_t i = 0; i < edits_.size(); ++i) values.push_back(read(*edits_[i], fields_[i].length).value.value_or(0));
    return values;
}

void NumbersDialog::refresh() {
    QString problem;
    for (std::size_t i = edits_.size(); i-- > 0;)
        if (const Entry entry = read(*edits_[i], fields_[i].length); !entry) problem = sentence(entry.problem);
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot
