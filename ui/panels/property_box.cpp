// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/property_box.hpp"

#include <QFormLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QSignalBlocker>

#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

void PropertyBox::act(const QString& text, const Document::SectionEdit& edit) {
    if (filling_ || !document_.has_study()) return;
    settle_typing();
    const auto refusals = document_.edit(text, edit);
    emit told(sentence(refusals));
    if (!refusals.empty()) emit refused();
}

void PropertyBox::settle_typing() {
    for (auto* field : findChildren<QLineEdit*>()) field->setModified(false);
}

void PropertyBox::refuse(const std::string& code) {
    settle_typing();
    emit told(sentence(code));
    emit refused();
}

std::optional<Micrometres> PropertyBox::length_in(const QString& text) {
    const Entry entry = parse_length(text.trimmed().toStdString());
    if (entry) return from_mm(*entry.value);
    refuse(entry.problem);
    return {};
}

QFormLayout* PropertyBox::form_of(QWidget* box) {
    auto* form = new QFormLayout(box);
    form->setContentsMargins(0, 0, 0, 0);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    return form;
}

void PropertyBox::add_row(QFormLayout& form, const QString& label, QWidget* field) {
    form.addRow(label, field);
    field->setAccessibleName(QString(label).remove(QLatin1Char('&')));
}

void show_text(QLineEdit& field, const QString& text) {
    if (field.text() != text && !(field.hasFocus() && field.isModified())) field.setText(text);
}

CornerTable::CornerTable(QWidget* parent) : QTableWidget(0, 2, parent) {
    setHorizontalHeaderLabels({tr("x in mm"), tr("y in mm")});
    horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    setTabKeyNavigation(false);
    const int row = fontMetrics().height() + 6;
    verticalHeader()->setDefaultSectionSize(row);
    setMinimumHeight(5 * row + 6);  // four corners and the head
    connect(this, &QTableWidget::cellChanged, this, [this](int at, int column) {
        if (at >= static_cast<int>(corners_.size())) return;
        const Entry entry = parse_length(item(at, column)->text().toStdString());
        if (!entry) {
            emit refused(sentence(entry.problem));
            return;
        }
        Point to = corners_[static_cast<std::size_t>(at)];
        (column == 0 ? to.x : to.y) = from_mm(*entry.value);
        emit typed(at, to);
    });
}

void CornerTable::show_corners(const std::vector<Point>& corners) {
    const QSignalBlocker quiet(this);
    corners_ = corners;
    setRowCount(static_cast<int>(corners.size()));
    for (int at = 0; at < rowCount(); ++at) {
        const Point p = corners[static_cast<std::size_t>(at)];
        for (int column = 0; column < 2; ++column) {
            auto* cell = item(at, column);
            if (!cell) setItem(at, column, cell = new QTableWidgetItem);
            cell->setText(words(number_text(to_mm(column == 0 ? p.x : p.y))));
            cell->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        }
    }
}

}  // namespace wallfoot
