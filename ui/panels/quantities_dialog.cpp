// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/quantities_dialog.hpp"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QString shown_quantity(const std::optional<double>& value) { return value ? words(number_text(*value)) : QString(); }

/// What is wrong with a field, "" for none; an empty one is sound.
QString problem_of(const QLineEdit& field) {
    if (field.text().trimmed().isEmpty()) return {};
    const Entry entry = parse_number(field.text().trimmed().toStdString());
    if (!entry) return sentence(entry.problem);
    return *entry.value < 0 || *entry.value > most_quantity ? QObject::tr("A length or an area is 0 or more.") : QString();
}

std::optional<double> quantity_in(const QLineEdit& field) {
    return field.text().trimmed().isEmpty() ? std::nullopt : parse_number(field.text().trimmed().toStdString()).value;
}

}  // namespace

QuantitiesDialog::QuantitiesDialog(const Quantities& given, const std::vector<AskedElement>& elements, const QString& lengths, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("The junction in the whole building"));
    auto* form = new QFormLayout(this);
    auto* head = new QLabel(tr("How long the junction is in the building, and how large the elements that meet at it. The comparison then adds up U times area and psi times length. Measure by %1 dimensions, as psi is here. What is left empty is not taken as zero: the table says what is missing.").arg(lengths), this);
    head->setWordWrap(true);
    form->addRow(head);
    const auto add = [&](const QString& text, const std::optional<double>& value, const QString& hint) {
        auto* field = new QLineEdit(shown_quantity(value), this);
        field->setPlaceholderText(tr("not given"));
        field->setToolTip(hint);
        form->addRow(text, field);
        connect(field, &QLineEdit::textChanged, this, &QuantitiesDialog::refresh);
        return field;
    };
    junction_ = add(tr("&Length of the junction, m"), given.junction, {});
    for (const AskedElement& element : elements) {
        const auto known = given.areas.find(element.id);
        areas_.emplace_back(element.id, add(tr("Area of %1, m²").arg(words(element.id)) + (element.hint.isEmpty() ? QString() : QStringLiteral("  (%1)").arg(element.hint)), known == given.areas.end() ? std::nullopt : std::optional(known->second), element.hint));
    }
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    form->addRow(problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    junction_->setFocus();
    setMinimumWidth(fontMetrics().averageCharWidth() * 70);
    refresh();
}

Quantities QuantitiesDialog::quantities() const {
    Quantities entered{quantity_in(*junction_), {}};
    for (const auto& [element, field] : areas_)
        if (const auto area = quantity_in(*field)) entered.areas[element] = *area;
    return entered;
}

void QuantitiesDialog::refresh() {
    QString problem = problem_of(*junction_);
    for (const auto& [element, field] : areas_)
        if (problem.isEmpty()) problem = problem_of(*field);
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot
