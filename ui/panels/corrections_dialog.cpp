// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/corrections_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

#include "core/text/number_entry.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum FixingColumn { fixing_layer, fixing_conductivity, fixing_area, fixing_number, fixing_length, fixing_cavity, fixing_columns };

constexpr int filled_in_role = Qt::UserRole, behind_role = Qt::UserRole + 1;

QString fixing_text(double value) { return words(number_text(value, 9)); }

}  // namespace

CorrectionsDialog::CorrectionsDialog(const QString& element, const ElementCorrections& before, std::vector<std::pair<QString, QString>> layers, QWidget* parent)
    : QDialog(parent), before_(before), layers_(std::move(layers)) {
    setWindowTitle(tr("Fixings and air gaps of %1").arg(element));
    auto* rows = new QVBoxLayout(this);
    auto* about = new QLabel(tr("What the drawing does not show of \"%1\": ties or screws through its insulation, and gaps in it. They raise its U for the energy calculation; psi is found with the U of the drawing and stays as it is. Ties across an empty cavity need no correction.").arg(element), this);
    about->setWordWrap(true);
    rows->addWidget(about);
    table_ = new QTableWidget(0, fixing_columns, this);
    table_->setAccessibleName(tr("Fixings"));
    table_->setHorizontalHeaderLabels({tr("Through the layer"), tr("conducts\nW/(m·K)"), tr("section of\none, mm²"), tr("number\nper m²"), tr("length in it, mm\n(empty: all)"), tr("across an\nempty cavity")});
    table_->horizontalHeader()->setSectionResizeMode(fixing_layer, QHeaderView::Stretch);
    table_->setTabKeyNavigation(false);
    table_->setMinimumHeight(fontMetrics().height() * 9);
    rows->addWidget(table_, 1);
    auto* line = new QHBoxLayout;
    auto* add = new QPushButton(tr("&Add fixings"), this);
    auto* remove = new QPushButton(tr("&Remove"), this);
    for (QPushButton* button : {add, remove}) {
        button->setAutoDefault(false);
        line->addWidget(button);
    }
    line->addStretch();
    rows->addLayout(line);
    auto* form = new QFormLayout;
    level_ = new QComboBox(this);
    level_->addItem(tr("not stated"), -1);
    level_->addItem(tr("level 0: no gaps, or small ones that do not matter"), 0);
    level_->addItem(tr("level 1: gaps through the insulation, but no air moves between its two sides"), 1);
    level_->addItem(tr("level 2: gaps through the insulation, and air moves between its two sides"), 2);
    level_layer_ = layer_list(before.air_gap_layer);
    form->addRow(tr("Air &gaps"), level_);
    form->addRow(tr("in the &layer"), level_layer_);
    rows->addLayout(form);
    problem_ = new QLabel(this);
    problem_->setObjectName(QStringLiteral("problem"));
    problem_->setWordWrap(true);
    problem_->setMinimumHeight(fontMetrics().height() * 2);
    rows->addWidget(problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    rows->addWidget(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(table_, &QTableWidget::cellChanged, this, &CorrectionsDialog::refresh);
    connect(level_, &QComboBox::currentIndexChanged, this, &CorrectionsDialog::refresh);
    connect(level_layer_, &QComboBox::currentIndexChanged, this, &CorrectionsDialog::refresh);
    connect(add, &QPushButton::clicked, this, [this] {
        // Stainless steel of 4 mm across, four to the square metre: to be typed over.
        ElementFixings begin;
        begin.conductivity = 17;
        begin.area_mm2 = 12.6;
        begin.per_m2 = 4;
        add_fixings(begin);
    });
    connect(remove, &QPushButton::clicked, this, [this] {
        const int row = table_->currentRow() >= 0 ? table_->currentRow() : table_->rowCount() - 1;
        if (row < 0) return;
        extras_.erase(extras_.begin() + row);
        table_->removeRow(row);
        refresh();
    });
    level_->setCurrentIndex(level_->findData(before.air_gap_level.value_or(-1)));
    for (const ElementFixings& fixings : before.fixings) add_fixings(fixings);
    resize(fontMetrics().averageCharWidth() * 120, fontMetrics().height() * 26);
    add->setFocus();
    refresh();
}

QComboBox* CorrectionsDialog::layer_list(const std::string& chosen) {
    auto* list = new QComboBox(this);
    list->setAccessibleName(tr("Layer"));
    for (const auto& [id, name] : layers_) list->addItem(name, id);
    // One that is no layer any more is told, not changed silently.
    if (!chosen.empty() && list->findData(words(chosen)) < 0) list->addItem(tr("%1 (no layer of it)").arg(words(chosen)), words(chosen));
    list->setCurrentIndex(chosen.empty() ? (list->count() == 1 ? 0 : -1) : list->findData(words(chosen)));
    list->setPlaceholderText(tr("choose"));
    return list;
}

void CorrectionsDialog::add_fixings(const ElementFixings& fixings) {
    filling_ = true;
    const int row = table_->rowCount();
    table_->insertRow(row);
    extras_.push_back(fixings.extra);
    auto* layer = layer_list(fixings.layer);
    table_->setCellWidget(row, fixing_layer, layer);
    connect(layer, &QComboBox::currentIndexChanged, this, &CorrectionsDialog::refresh);
    const auto put = [&](int column, double value, bool stated) {
        const QString text = stated ? fixing_text(value) : QString();
        auto* item = new QTableWidgetItem(text);
        // A cell left as it is keeps the number behind it, with all its digits.
        item->setData(filled_in_role, text);
        item->setData(behind_role, value);
        item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        table_->setItem(row, column, item);
    };
    put(fixing_conductivity, fixings.conductivity, true);
    put(fixing_area, fixings.area_mm2, true);
    put(fixing_number, fixings.per_m2, true);
    put(fixing_length, fixings.length ? to_mm(*fixings.length) : 0, fixings.length.has_value());
    auto* cavity = new QTableWidgetItem;
    cavity->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsUserCheckable);
    cavity->setCheckState(fixings.empty_cavity ? Qt::Checked : Qt::Unchecked);
    table_->setItem(row, fixing_cavity, cavity);
    filling_ = false;
    refresh();
}

QComboBox& CorrectionsDialog::layer_of(int row) { return *qobject_cast<QComboBox*>(table_->cellWidget(row, fixing_layer)); }

ElementCorrections CorrectionsDialog::read(std::vector<Problem>* problems) const {
    const auto complain = [&](int row, int column, const QString& text) {
        if (problems) problems->push_back({row, column, text});
    };
    ElementCorrections entered;
    entered.extra = before_.extra;
    for (int row = 0; row < table_->rowCount(); ++row) {
        const auto number = [&](int column, double least, double most, bool length) -> std::optional<double> {
            const QTableWidgetItem* item = table_->item(row, column);
            const std::string text = item->text().trimmed().toStdString();
            Entry entry = length ? parse_length(text) : parse_number(text);
            if (entry && item->text() == item->data(filled_in_role).toString()) entry.value = item->data(behind_role).toDouble();
            if (!entry) complain(row, column, sentence(entry.problem));
            else if (*entry.value < least || *entry.value > most) complain(row, column, tr("It should be between %1 and %2.").arg(fixing_text(least), fixing_text(most)));
            else return entry.value;
            return std::nullopt;
        };
        ElementFixings fixings;
        fixings.extra = extras_[static_cast<std::size_t>(row)];
        const auto* layer = qobject_cast<QComboBox*>(table_->cellWidget(row, fixing_layer));
        fixings.layer = layer->currentData().toString().toStdString();
        if (fixings.layer.empty()) complain(row, fixing_layer, tr("Choose the layer of insulation that they go through."));
        // The ranges of the file (FORMAT).
        fixings.conductivity = number(fixing_conductivity, 0.001, 1000, false).value_or(0);
        fixings.area_mm2 = number(fixing_area, 0, 1e5, false).value_or(0);
        fixings.per_m2 = number(fixing_number, 0, 1e4, false).value_or(0);
        if (!table_->item(row, fixing_length)->text().trimmed().isEmpty())
            if (const auto length = number(fixing_length, 0, 10'000, true)) fixings.length = from_mm(*length);
        fixings.empty_cavity = table_->item(row, fixing_cavity)->checkState() == Qt::Checked;
        entered.fixings.push_back(std::move(fixings));
    }
    if (const int level = level_->currentData().toInt(); level >= 0) {
        entered.air_gap_level = level;
        entered.air_gap_layer = level_layer_->currentData().toString().toStdString();
        if (entered.air_gap_layer.empty()) complain(-1, -1, tr("Choose the layer of insulation that has the gaps."));
    }
    return entered;
}

void CorrectionsDialog::refresh() {
    if (filling_ || !buttons_) return;
    std::vector<Problem> problems;
    read(&problems);
    const QColor fault = (palette().color(QPalette::Base).lightness() < 128 ? SheetColours::dark() : SheetColours::light()).fault;
    filling_ = true;
    for (int row = 0; row < table_->rowCount(); ++row)
        for (int column = fixing_conductivity; column < fixing_cavity; ++column) {
            auto* item = table_->item(row, column);
            if (!item) continue;
            const auto wrong = std::find_if(problems.begin(), problems.end(), [&](const Problem& of) { return of.row == row && of.column == column; });
            item->setForeground(wrong == problems.end() ? palette().color(QPalette::Text) : fault);
            item->setToolTip(wrong == problems.end() ? QString() : wrong->text);
        }
    filling_ = false;
    level_layer_->setEnabled(level_->currentData().toInt() >= 0);
    QString told;
    if (!problems.empty()) {
        const Problem& first = problems.front();
        QString column = first.column >= 0 ? table_->horizontalHeaderItem(first.column)->text() : QString();
        told = first.row >= 0 ? tr("Row %1, %2: %3").arg(first.row + 1).arg(column.replace(QLatin1Char('\n'), QLatin1Char(' ')), first.text) : first.text;
    }
    problem_->setText(told);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problems.empty());
}

}  // namespace wallfoot
