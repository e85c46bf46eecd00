// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/stretch_dialog.hpp"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum Towards { right, left, above, below };

std::optional<Micrometres> length_of(const QLineEdit& field) {
    const Entry entry = parse_length(field.text().trimmed().toStdString());
    return entry ? std::optional(from_mm(*entry.value)) : std::nullopt;
}

}  // namespace

StretchDialog::StretchDialog(Point at, QWidget* parent, const QString& name) : QDialog(parent), offered_(at) {
    setWindowTitle(tr("Stretch"));
    auto* form = new QFormLayout(this);
    auto* head = new QLabel(tr("All that lies beyond a straight line moves away from it, and what the line crosses grows: a cavity, a slab, the insulation. A negative length draws it together."), this);
    head->setWordWrap(true);
    form->addRow(head);
    side_ = new QComboBox(this);
    side_->addItems({tr("what lies to the right of x"), tr("what lies to the left of x"), tr("what lies above y"), tr("what lies below y")});
    at_ = new QLineEdit(this);
    by_ = new QLineEdit(QStringLiteral("10"), this);
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(tr("&Move"), side_);
    form->addRow(tr("&Line at, mm"), at_);
    form->addRow(tr("&By, mm"), by_);
    keep_ = new QCheckBox(tr("&Keep the line as a measure named"), this);
    keep_->setToolTip(tr("It is then in the contents with its length, to be typed or dragged again."));
    name_ = new QLineEdit(name, this);
    name_->setAccessibleName(tr("Name of the measure"));
    form->addRow(keep_, name_);
    form->addRow(problem_);
    form->addRow(buttons_);
    connect(side_, &QComboBox::currentIndexChanged, this, [this] { at_->setText(words(number_text(to_mm(upright() ? offered_.x : offered_.y)))); });
    for (QLineEdit* field : {at_, by_}) connect(field, &QLineEdit::textChanged, this, &StretchDialog::refresh);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    at_->setText(words(number_text(to_mm(offered_.x))));
    by_->selectAll();
    by_->setFocus();
    setMinimumWidth(fontMetrics().averageCharWidth() * 56);
}

bool StretchDialog::upright() const { return side_->currentIndex() == right || side_->currentIndex() == left; }
bool StretchDialog::beyond() const { return side_->currentIndex() == right || side_->currentIndex() == above; }
std::optional<Micrometres> StretchDialog::at() const { return length_of(*at_); }
std::optional<Micrometres> StretchDialog::by() const { return length_of(*by_); }

std::optional<QString> StretchDialog::keep_as() const { return keep_->isChecked() ? std::optional(name_->text().trimmed()) : std::nullopt; }

void StretchDialog::refresh() {
    QString problem;
    for (const QLineEdit* field : {at_, by_})
        if (const Entry entry = parse_length(field->text().trimmed().toStdString()); !entry) problem = sentence(entry.problem);
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot
