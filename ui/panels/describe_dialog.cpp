// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/describe_dialog.hpp"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>

namespace wallfoot {

DescribeDialog::DescribeDialog(const QString& name, const QString& note, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Name and note of the variant"));
    auto* form = new QFormLayout(this);
    name_ = new QLineEdit(name, this);
    name_->selectAll();
    form->addRow(tr("&Name"), name_);
    note_ = new QPlainTextEdit(note, this);
    note_->setTabChangesFocus(true);
    note_->setPlaceholderText(tr("What this variant is for, what was assumed, who asked for it. Stands in the comparison and in the report."));
    form->addRow(tr("No&te"), note_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(name_, &QLineEdit::textChanged, this, [this, buttons] { buttons->button(QDialogButtonBox::Ok)->setEnabled(!this->name().isEmpty()); });
    resize(fontMetrics().averageCharWidth() * 70, fontMetrics().height() * 14);
}

QString DescribeDialog::name() const { return name_->text().trimmed(); }
QString DescribeDialog::note() const { return note_->toPlainText().trimmed(); }

}  // namespace wallfoot
